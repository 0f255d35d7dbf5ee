package job

import (
	"fmt"

	"lampswap/photometry/number"
)

// LampWords are the lamps in one luminaire of one kind: "2 x F96T12".
func (s *System) LampWords() string {
	switch {
	case s.Luminaire.Absolute:
		return "as a whole"
	case s.Lamp != nil:
		return fmt.Sprintf("%d x %s", s.Lamps, s.Lamp.Name)
	}
	return fmt.Sprintf("%d x %s lm", s.Lamps, number.Thousands(s.LampLumens))
}

// KindName is what luminaires of one kind are called: their name in the job, or their lamps and fixture.
func (s *System) KindName() string {
	if s.Kind != "" {
		return s.Kind
	}
	if s.Section != nil {
		return s.LampWords() + " in " + s.Section.Name
	}
	return s.LampWords() + " in " + s.Photometry
}
