package room

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What boxes leave of a line, none of them grazed, is at every place of it but the ends of shadows the
// product of what those let through that hide it.
func TestVisibilityIsTheProductOverBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vec := func(name string) Vec {
			from := rapid.Float64Range(0, 4)
			return Vec{from.Draw(t, name+" x"), from.Draw(t, name+" y"), from.Draw(t, name+" z")}
		}
		p, a, b := vec("eye"), vec("from"), vec("to")
		var boxes []Obstruction
		for range rapid.IntRange(1, 4).Draw(t, "boxes") {
			low, passes := vec(
				"low",
			).Add(
				Vec{0.013, 0.017, 0.019},
			), rapid.SampledFrom(
				[]float64{0, 0.3, 2},
			).Draw(
				t,
				"passes",
			)
			boxes = append(
				boxes,
				Obstruction{Box{low, low.Add(Vec{0.1, 0.1, 0.1}).Add(vec("size").Scale(0.5))}, passes},
			)
		}
		var v Visibility
		for range 2 { // used again
			v.Look(p, a, b, boxes)
		}
		merged := Visibility{Stretches: append([]Stretch(nil), v.Stretches...)}
		merged.Merge()
		at := func(v *Visibility, x float64) (passes float64, edge bool) {
			for _, s := range v.Stretches {
				if x > s.From && x < s.To {
					passes = s.Passes
				}
			}
			for i := range boxes {
				if from, to, ok := boxes[i].Shadow(p, a, b); ok {
					edge = edge || abs(x-from) < 1e-6 || abs(x-to) < 1e-6
				}
			}
			return passes, edge
		}
		for i := range 40 {
			x := (float64(i) + 0.5) / 40
			want := 1.0
			for k := range boxes {
				if boxes[k].Hides(p, a.Add(b.Sub(a).Scale(x))) {
					want *= boxes[k].Passes
				}
			}
			got, edge := at(&v, x)
			again, _ := at(&merged, x)
			if edge {
				continue
			}
			require.InDelta(t, want, got, 1e-12, "at %v of %v", x, v.Stretches)
			require.InDelta(t, want, again, 1e-12, "at %v of %v", x, merged.Stretches)
		}
	})
}

func abs(x float64) float64 { return max(x, -x) }
