package lm63

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
)

const rounding = 1e-12 // relative, of sums of some thousand terms

// direction gives the parts along the axis, to the right and up of the direction at (H, V), degrees: the definition of the two types,
// written down apart from the code that inverts it.
func direction(kind PhotometricType, h, v float64) (axis, right, up float64) {
	sh, ch := math.Sincos(h * math.Pi / 180)
	sv, cv := math.Sincos(v * math.Pi / 180)
	if kind == TypeA {
		return cv * ch, cv * sh, sv
	}
	return ch * cv, sh, ch * sv
}

func steps(from, to, step float64) []float64 {
	var angles []float64
	for i := range int(math.Round((to-from)/step)) + 1 {
		angles = append(angles, from+float64(i)*step)
	}
	return angles
}

// tabulated makes a file of type B or A from an intensity that is given by the direction or the angles.
func tabulated(kind PhotometricType, horizontal, vertical []float64, intensity func(h, v float64) float64) *File {
	f := &File{Edition: Edition2002, Lamps: 1, LumensPerLamp: -1, Multiplier: 1, Type: kind, Units: Metres, BallastFactor: 1, BallastLampFactor: 1,
		HorizontalDeg: horizontal, VerticalDeg: vertical}
	for _, h := range horizontal {
		var row []float64
		for _, v := range vertical {
			row = append(row, intensity(h, v))
		}
		f.Candela = append(f.Candela, row)
	}
	return f
}

// Our own derivation. An intensity that is linear in the angle λ out of the pole's equator is interpolated without error, so
// that its flux is ∫∫ (a + b |λ|) cos λ dλ dφ = π (2 a + 2 b (π/2 - 1)). λ is V in type A, H in type B.
func TestNativeFluxHasClosedForm(t *testing.T) {
	const a, b = 300.0, 500.0 // cd, cd/rad
	want := math.Pi * (2*a + 2*b*(math.Pi/2-1))
	for _, kind := range []PhotometricType{TypeA, TypeB} {
		for _, horizontal := range [][]float64{steps(0, 90, 30), steps(-90, 90, 22.5)} {
			for _, vertical := range [][]float64{steps(0, 90, 45), steps(-90, 90, 15)} {
				f := tabulated(kind, horizontal, vertical, func(h, v float64) float64 {
					if kind == TypeA {
						h = v
					}
					return a + b*math.Abs(h)*math.Pi/180
				})
				assert.InEpsilon(t, want, f.web().flux(), rounding)
				d := luminaireOf(t, f).Distribution
				// discretisation: 1 degree by 2.5 degrees of type C
				assert.InEpsilon(t, want, d.Flux(), 0.002)
			}
		}
	}
}

func TestUniformWebGivesAHemisphere(t *testing.T) {
	for _, kind := range []PhotometricType{TypeA, TypeB} {
		f := tabulated(kind, []float64{-90, 90}, []float64{0, 90}, func(_, _ float64) float64 { return 7 })
		assert.InEpsilon(t, 14*math.Pi, f.web().flux(), rounding)
		assert.InEpsilon(t, 14*math.Pi, luminaireOf(t, f).Distribution.Flux(), rounding)
	}
}

func luminaireOf(tb testing.TB, f *File) photometry.Luminaire {
	tb.Helper()
	l, err := f.Luminaire()
	require.NoError(tb, err)
	return l
}

// Discretisation: a cosine-squared beam with a slope to the right and upward has the closed form 2π/3 I; the error of its table and of the resampled
// one falls with the square of the tabulated step until the type C grid itself remains.
func TestResampledBeamConverges(t *testing.T) {
	for _, kind := range []PhotometricType{TypeA, TypeB} {
		beam := func(h, v float64) float64 {
			axis, right, up := direction(kind, h, v)
			return 4000 * axis * axis * (1 + 0.2*right + 0.3*up)
		}
		want := 4000 * 2 * math.Pi / 3
		var native, resampled []float64
		for _, step := range []float64{10, 5, 2.5} {
			f := tabulated(kind, steps(-90, 90, step), steps(-90, 90, step), beam)
			native = append(native, math.Abs(f.web().flux()/want-1))
			resampled = append(resampled, math.Abs(luminaireOf(t, f).Distribution.Flux()/want-1))
		}
		t.Logf("type %v: native %.2g, resampled %.2g", kind, native, resampled)
		for i := range 2 {
			assert.InDelta(t, 4, native[i]/native[i+1], 0.1)
		}
		assert.Less(t, resampled[0], 0.006)
		assert.Less(t, resampled[2], 0.0006)
	}
}

// The frame: the axis at nadir, "up" at C = 0, "right" at C = 270, whatever the type.
func TestResampledDirections(t *testing.T) {
	for _, kind := range []PhotometricType{TypeA, TypeB} {
		f := tabulated(kind, steps(-90, 90, 1), steps(-90, 90, 1), func(h, v float64) float64 {
			axis, right, up := direction(kind, h, v)
			return 100 * (1 + 0.5*axis + 0.2*right + 0.3*up)
		})
		d := luminaireOf(t, f).Distribution
		rapid.Check(t, func(t *rapid.T) {
			p, v := rapid.IntRange(0, 144).Draw(t, "plane"), rapid.IntRange(0, 89).Draw(t, "vertical")
			c, g := d.HorizontalAngles()[p], d.VerticalAngles()[v]
			want := 100 * (1 + 0.5*math.Cos(g) + 0.3*math.Sin(g)*math.Cos(c) - 0.2*math.Sin(g)*math.Sin(c))
			// discretisation: 1/8 of the square of 1 degree times the second derivatives, which near a pole are those of the other angle
			if got := d.Candela(p, v); math.Abs(got-want) > 100*2*(math.Pi/180)*(math.Pi/180)/8 {
				t.Fatalf("C %v γ %v: %v cd, want %v", c, g, got, want)
			}
		})
	}
}

func TestMirroredWebs(t *testing.T) {
	beam := func(kind PhotometricType) func(h, v float64) float64 {
		return func(h, v float64) float64 { axis, _, up := direction(kind, h, v); return 1000*axis + 200*up*up }
	}
	for _, kind := range []PhotometricType{TypeA, TypeB} {
		full := tabulated(kind, steps(-90, 90, 10), steps(-90, 90, 10), beam(kind))
		half := tabulated(kind, steps(0, 90, 10), steps(-90, 90, 10), beam(kind))
		quarter := tabulated(kind, steps(0, 90, 10), steps(0, 90, 10), beam(kind))
		want := luminaireOf(t, full).Distribution
		assert.False(t, want.QuadrantSymmetric())
		for _, f := range []*File{half, quarter} {
			got := luminaireOf(t, f).Distribution
			assert.InEpsilon(t, want.Flux(), got.Flux(), rounding)
			for c := range 360 {
				assert.InEpsilon(t, want.Intensity(float64(c), 0.5), got.Intensity(float64(c), 0.5), 1e-9)
			}
		}
		assert.True(t, luminaireOf(t, quarter).Distribution.QuadrantSymmetric())
	}
}

func TestNarrowBeamIsWarnedOf(t *testing.T) {
	for _, c := range []struct {
		spread float64
		warned bool
	}{{10, false}, {0.6, true}} {
		f := tabulated(TypeB, []float64{-90, -c.spread, 0, c.spread, 90}, []float64{-90, -c.spread, 0, c.spread, 90}, func(h, v float64) float64 {
			if h == 0 && v == 0 {
				return 1e6
			}
			return 0
		})
		again := reread(t, f)
		assert.Equal(t, c.warned, strings.Contains(strings.Join(again.Warnings, "\n"), "the beam is narrow for it"), again.Warnings)
	}
}

func TestFineTablesAreResampledFiner(t *testing.T) {
	for _, c := range []struct {
		step float64
		rows int
	}{{5, 91}, {1, 91}, {0.5, 181}, {0.25, 361}} {
		f := tabulated(TypeB, append([]float64{-90}, append(steps(-1, 1, c.step), 90)...), []float64{-90, 0, 90}, func(_, _ float64) float64 { return 1 })
		if c.step == 5 {
			f = tabulated(TypeB, steps(-90, 90, 5), []float64{-90, 0, 90}, func(_, _ float64) float64 { return 1 })
		}
		assert.Len(t, luminaireOf(t, f).Distribution.VerticalAngles(), c.rows)
	}
}
