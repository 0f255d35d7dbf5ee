package job

import (
	"strings"

	"lampswap/photometry/codes"
)

// Touches are the things of a system that a dated rule may be about: its lamps, its ballasts as they are, and ballasts that are bought.
func (s *System) Touches(bought bool) []codes.Touch {
	if s.Lamp == nil || s.Lamp.LED || !s.Lamp.Known() {
		return nil
	}
	all := []codes.Touch{codes.LinearFluorescent}
	if s.Lamp.T12() {
		all = append(all, codes.T12Lamp)
	}
	if s.Lamp.Series700() {
		all = append(all, codes.T8Series700)
	}
	if bought {
		all = append(all, codes.FluorescentBallast)
	}
	if s.Ballast != nil && strings.Contains(s.Ballast.Kind, "magnetic") {
		all = append(all, codes.MagneticBallast)
	}
	return all
}
