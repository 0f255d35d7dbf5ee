package realised

import (
	"math"
)

// Alike is how far watts may be off the promised before they explain anything of the light, our choice: meters of power and lists of ballasts.
const Alike = 0.05

// Drawn is what luminaires of a space draw by what was read over what the job has, of the groups whose watts were read; NaN where none were.
func (r *Result) Drawn(space, system string) float64 {
	read, promised := 0.0, 0.0
	for _, g := range r.Groups {
		u := g.Proposed
		if system == "existing" {
			u = g.Existing
		}
		if g.Space == space && u.WattsRead {
			read += float64(u.ReadNumber) * u.ReadWatts
			promised += float64(u.Number) * u.Watts
		}
	}
	if promised == 0 {
		return math.NaN()
	}
	return read / promised
}
