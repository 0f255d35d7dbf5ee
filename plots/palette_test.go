package plots

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// lab is a colour in CIELAB under D65. Source: CIE 15 (colorimetry), IEC 61966-2-1 (sRGB).
func lab(c color.NRGBA) [3]float64 { return labOf(linear(c.R), linear(c.G), linear(c.B)) }

func labOf(r, g, b float64) [3]float64 {
	f := func(t float64) float64 {
		if t <= 216.0/24389 {
			return (t*24389/27 + 16) / 116
		}
		return math.Cbrt(t)
	}
	x := f((0.4124*r + 0.3576*g + 0.1805*b) / 0.9505)
	y := f(0.2126*r + 0.7152*g + 0.0722*b)
	z := f((0.0193*r + 0.1192*g + 0.9505*b) / 1.0890)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// deuteranope is how a colour looks without the green cones. Source: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A
// physiologically-based model for simulation of color vision deficiency, 2009, deuteranomaly of severity 1.0, in linear RGB; from
// memory, unverified. Its rows sum to 1, so that grey stays grey.
func deuteranope(c color.NRGBA) [3]float64 {
	r, g, b := linear(c.R), linear(c.G), linear(c.B)
	in := func(x float64) float64 { return math.Min(math.Max(x, 0), 1) }
	return labOf(in(0.367322*r+0.860646*g-0.227968*b), in(0.280085*r+0.672501*g+0.047413*b), in(-0.011820*r+0.042940*g+0.968881*b))
}

// difference is the colour difference ΔE of CIE 1976.
func difference(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// Neighbours must differ by this much. A difference of about 2 is just seen by an attentive eye, ΔE of CIE 1976; that figure is from
// memory, unverified. Print and bad paper halve it, so we ask for twice and more.
const (
	leastLightness = 5.0 // in grey
	leastColour    = 5.0
)

// palettes are all that a map can ask for.
func palettes() map[string][]color.NRGBA {
	all := map[string][]color.NRGBA{}
	for n := 1; n <= mostBands; n++ {
		all["light "+exact(float64(n))] = lightColours(n)
		for losses := range n + 1 {
			all["change "+exact(float64(losses))+" of "+exact(float64(n))] = changeColours(losses, n-losses)
		}
	}
	return all
}

func TestNeighbouringBandsDiffer(t *testing.T) {
	least, leastSeen := math.Inf(1), math.Inf(1)
	for name, colours := range palettes() {
		for i := 1; i < len(colours); i++ {
			a, b := colours[i-1], colours[i]
			grey := math.Abs(lightness(a) - lightness(b))
			seen := difference(deuteranope(a), deuteranope(b))
			assert.GreaterOrEqual(t, grey, leastLightness, "%s: bands %d and %d in grey", name, i-1, i)
			assert.GreaterOrEqual(t, seen, leastColour, "%s: bands %d and %d without green cones", name, i-1, i)
			assert.GreaterOrEqual(t, difference(lab(a), lab(b)), leastColour, "%s: bands %d and %d", name, i-1, i)
			least, leastSeen = math.Min(least, grey), math.Min(leastSeen, seen)
		}
	}
	t.Logf("least difference of neighbours: L* %.2f in grey, ΔE %.2f without green cones", least, leastSeen)
}

func TestLightGetsLighter(t *testing.T) {
	for n := 2; n <= mostBands; n++ {
		colours := lightColours(n)
		for i := 1; i < n; i++ {
			assert.Greater(t, lightness(colours[i]), lightness(colours[i-1]))
		}
	}
}

func TestSignsDiffer(t *testing.T) {
	for losses := 1; losses < mostBands; losses++ {
		colours := changeColours(losses, mostBands-losses)
		for i := range losses {
			assert.Less(t, lab(colours[i])[2], -5.0, "loss is blue")
			assert.Less(t, deuteranope(colours[i])[2], -5.0, "loss is blue without green cones")
		}
		for _, c := range colours[losses:] {
			assert.Greater(t, lab(c)[2], 5.0, "gain is amber")
			assert.Greater(t, deuteranope(c)[2], 5.0, "gain is amber without green cones")
		}
	}
}

// TestLabelsAreLegible asks for the ratio of large text and graphics: 3 to 1. Source: W3C, Web Content Accessibility Guidelines 2.1,
// 1.4.3 and 1.4.11.
func TestLabelsAreLegible(t *testing.T) {
	least := math.Inf(1)
	for name, colours := range palettes() {
		for i := 1; i < len(colours); i++ {
			text := inkOn(colours[i-1], colours[i])
			c := math.Min(contrast(text, colours[i-1]), contrast(text, colours[i]))
			assert.GreaterOrEqual(t, c, 3.0, "%s: label between bands %d and %d", name, i-1, i)
			least = math.Min(least, c)
		}
	}
	t.Logf("least contrast of a label: %.2f", least)
}

func TestCurvesDifferInGrey(t *testing.T) {
	for i, a := range curves {
		for _, b := range curves[i+1:] {
			assert.NotEqual(t, a.dashes, b.dashes)
			assert.Greater(t, difference(deuteranope(a.color), deuteranope(b.color)), 15.0)
		}
		assert.Greater(t, contrast(a.color, white), 3.0)
	}
}

// TestEyes holds the simulations against what they must do, so that the tests above can fail.
func TestEyes(t *testing.T) {
	assert.InDelta(t, 100, lightness(color.White), 1e-9)
	assert.InDelta(t, 0, lightness(color.Black), 1e-9)
	assert.InDelta(t, 53.585, lightness(color.Gray{128}), 0.01, "sRGB 128; from memory, unverified")
	assert.InDelta(t, 21, contrast(color.White, color.Black), 1e-9)
	for _, v := range []uint8{0, 77, 255} {
		grey := color.NRGBA{v, v, v, 0xff}
		assert.InDelta(t, 0, difference(lab(grey), deuteranope(grey)), 0.05, "grey stays grey")
	}
	red, green := color.NRGBA{0xd0, 0x50, 0x40, 0xff}, color.NRGBA{0x70, 0x80, 0x30, 0xff}
	assert.Greater(t, difference(lab(red), lab(green)), 60.0)
	assert.Less(t, difference(deuteranope(red), deuteranope(green)), 25.0, "red and green come together")
}
