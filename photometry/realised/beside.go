package realised

import (
	"fmt"
	"math"
)

// alike is how far watts may be off the promised before they explain anything of the light, our choice: meters of power and lists of ballasts.
const alike = 0.05

// Beside says what the watts that were read of a space's luminaires in a system tell of the light that was read there: ratio is measured over predicted,
// standard its standard uncertainty. "" where there is nothing to explain, or no watts were read.
func (r *Result) Beside(space, system string, ratio, standard float64) string {
	watts := r.drawn(space, system)
	if math.IsNaN(watts) || !(math.Abs(ratio-1) > 2*standard) {
		return ""
	}
	both := fmt.Sprintf("The light is %.0f percent of the prediction, and the luminaires draw %.0f percent of the watts that the job has", 100*ratio, 100*watts)
	switch {
	case ratio < 1 && watts < 1-alike:
		part := "a part of that is explained by it"
		if 1-watts >= (1-ratio)/2 {
			part = "that explains most of it"
		}
		return both + ": " + part + ", as by lamps that are out or dimmed, or by a ballast of a lower factor."
	case ratio < 1:
		return both + ": lamps that are out or dimmed do not explain it; dirt, darker surfaces, older lamps or other luminaires might."
	case watts > 1+alike:
		return both + ": more or stronger lamps than the job's explain that."
	default:
		return both + ": lamps of more lumens a watt than the job's, cleaner or lighter surfaces might explain that."
	}
}

// drawn is what luminaires of a space draw by what was read over what the job has, of the groups whose watts were read; NaN where none were.
func (r *Result) drawn(space, system string) float64 {
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
