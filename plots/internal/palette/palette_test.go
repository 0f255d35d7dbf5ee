package palette

import (
	"fmt"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/plots/internal/pen"
)

// Neighbours must differ by this much. A difference of about 2 is just seen by an attentive eye, ΔE of CIE 1976; that figure is from
// memory, unverified. Print and bad paper halve it, so we ask for twice and more.
const (
	leastLightness = 5.0 // in grey
	leastColour    = 5.0
)

// palettes are all that a figure can ask for.
func palettes() map[string][]color.NRGBA {
	all := map[string][]color.NRGBA{}
	for n := 1; n <= MostBands; n++ {
		all[fmt.Sprintf("light %d", n)] = Light(n)
		for losses := range n + 1 {
			all[fmt.Sprintf("change %d of %d", losses, n)] = Change(losses, n-losses)
		}
	}
	return all
}

func TestNeighbouringBandsDiffer(t *testing.T) {
	least := map[string]float64{}
	for name, colours := range palettes() {
		for i := 1; i < len(colours); i++ {
			a, b := colours[i-1], colours[i]
			differences := map[string]float64{"all cones": Difference(trichromat(a), trichromat(b))}
			for eye, see := range Deuteranopes {
				differences[eye] = Difference(see(a), see(b))
			}
			for eye, d := range differences {
				assert.GreaterOrEqual(t, d, leastColour, "%s: bands %d and %d to %s", name, i-1, i, eye)
			}
			differences["grey"] = math.Abs(Lightness(a) - Lightness(b))
			assert.GreaterOrEqual(t, differences["grey"], leastLightness, "%s: bands %d and %d in grey", name, i-1, i)
			for eye, d := range differences {
				if known, ok := least[eye]; !ok || d < known {
					least[eye] = d
				}
			}
		}
	}
	t.Logf("least difference of neighbours: %v", least)
}

func TestLightGetsLighter(t *testing.T) {
	for n := 2; n <= MostBands; n++ {
		colours := Light(n)
		for i := 1; i < n; i++ {
			assert.Greater(t, Lightness(colours[i]), Lightness(colours[i-1]))
		}
	}
}

func TestSignsDiffer(t *testing.T) {
	for losses := 1; losses < MostBands; losses++ {
		colours := Change(losses, MostBands-losses)
		for i, c := range colours {
			sign, what := 1.0, "gain is amber"
			if i < losses {
				sign, what = -1, "loss is blue"
			}
			assert.Greater(t, sign*trichromat(c)[2], 5.0, what)
			for eye, see := range Deuteranopes {
				assert.Greater(t, sign*see(c)[2], 5.0, "%s to %s", what, eye)
			}
		}
	}
}

// TestLabelsAreLegible asks for the ratio of large text and graphics: 3 to 1. Source: W3C, Web Content Accessibility Guidelines 2.1,
// 1.4.3 and 1.4.11.
func TestLabelsAreLegible(t *testing.T) {
	least := math.Inf(1)
	for name, colours := range palettes() {
		for i := 1; i < len(colours); i++ {
			text := InkOn(colours[i-1], colours[i])
			c := math.Min(Contrast(text, colours[i-1]), Contrast(text, colours[i]))
			assert.GreaterOrEqual(t, c, 3.0, "%s: label between bands %d and %d", name, i-1, i)
			least = math.Min(least, c)
		}
	}
	t.Logf("least contrast of a label: %.2f", least)
}

// TestEyes holds the simulations against what they must do, so that the tests above can fail.
func TestEyes(t *testing.T) {
	assert.InDelta(t, 100, Lightness(color.White), 1e-9)
	assert.InDelta(t, 0, Lightness(color.Black), 1e-9)
	assert.InDelta(t, 53.585, Lightness(color.Gray{128}), 0.01, "sRGB 128; from memory, unverified")
	assert.InDelta(t, 21, Contrast(color.White, color.Black), 1e-9)
	red, green := color.NRGBA{0xd0, 0x50, 0x40, 0xff}, color.NRGBA{0x70, 0x80, 0x30, 0xff}
	assert.Greater(t, Difference(trichromat(red), trichromat(green)), 60.0)
	require.NotEmpty(t, Deuteranopes)
	for eye, see := range Deuteranopes {
		for _, v := range []uint8{0, 77, 255} {
			grey := color.NRGBA{v, v, v, 0xff}
			assert.InDelta(t, 0, Difference(trichromat(grey), see(grey)), 0.05, "grey stays grey to %s", eye)
		}
		assert.Less(t, Difference(see(red), see(green)), 25.0, "red and green come together to %s", eye)
		assert.InDelta(t, Lightness(pen.Blue), see(pen.Blue)[0], 8, "blue keeps about its lightness to %s", eye)
	}
}

// TestMiddleFromOthers holds the solution against the coefficients that the source of the cones prints (.9513092, .04866992).
func TestMiddleFromOthers(t *testing.T) {
	long, short := middleFromOthers()
	assert.InDelta(t, 0.9513092, long, 1e-6, "print of the cones")
	assert.InDelta(t, 0.04866992, short, 1e-6, "print of the cones")
	blue := color.NRGBA{B: 0xff, A: 0xff}
	assert.InDelta(t, 0, Difference(trichromat(blue), vienot(blue)), 0.05, "the blue primary looks the same")
	for i := range 3 {
		unit := [3]float64{}
		unit[i] = 1
		for k, x := range times(light, times(cones, unit)) {
			assert.InDelta(t, unit[k], x, 1e-5, "print: the matrices undo each other")
		}
	}
}

// trichromat returns a colour as the standard observer sees it.
func trichromat(c color.NRGBA) Seen { return seen(linear(c.R), linear(c.G), linear(c.B)) }
