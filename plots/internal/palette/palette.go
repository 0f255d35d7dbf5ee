// Package palette gives colours to bands: equal steps of CIE L* that remain apart in grey and without green cones, which its tests
// simulate.
package palette

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/palette/moreland"

	"lampswap/plots/internal/pen"
)

// MostBands is how many bands a map may have before their colours come too close in grey.
const MostBands = 9

// Controls of the maps, dark to light. Each ramp rises evenly in CIE L* and changes from blue to yellow, or from one hue to white:
// differences that remain without red or green cones and in grey.
var (
	lightRamp = newRamp(0x2c4a78, 0x44718f, 0x6f9a96, 0xa9bd93, 0xe0d99b, 0xfffbe6)
	gainRamp  = newRamp(0x7a4208, 0xa9660f, 0xd0922f, 0xebc177, 0xfbf2da)
	lossRamp  = newRamp(0x1f4677, 0x3f6fa3, 0x74a0cb, 0xaecbe6, 0xdfebf6)
)

// Lightness of the bands, CIE L*. Bands are widestStep apart if there are few of them, so that few bands are all light.
const (
	lightestBand, darkestBand = 96.5, 32.0
	lightestGain, darkestGain = 95.0, 50.0
	lightestLoss, darkestLoss = 87.0, 43.0
	widestStep                = 9.0 // of illuminance
	widestChange              = 7.0
)

// A ramp finds the colour of a lightness.
type ramp struct {
	colours palette.ColorMap
}

func newRamp(controls ...uint32) ramp {
	colours := make([]color.Color, len(controls))
	for i, c := range controls {
		colours[i] = color.NRGBA{uint8(c >> 16), uint8(c >> 8), uint8(c), 0xff}
	}
	m, err := moreland.NewLuminance(colours)
	if err != nil {
		panic("plots: the controls of a ramp do not rise in luminance")
	}
	m.SetMin(Lightness(colours[0]))
	m.SetMax(Lightness(colours[len(colours)-1]))
	return ramp{m}
}

func (r ramp) at(lightness float64) color.NRGBA {
	c, err := r.colours.At(math.Min(math.Max(lightness, r.colours.Min()), r.colours.Max()))
	if err != nil {
		panic("plots: a lightness is not a number")
	}
	return color.NRGBAModel.Convert(c).(color.NRGBA)
}

// Light returns the colours of n bands of illuminance, dim to bright.
func Light(n int) []color.NRGBA {
	colours := make([]color.NRGBA, n)
	step := bandStep(n, lightestBand, darkestBand, widestStep)
	for i := range colours {
		colours[i] = lightRamp.at(lightestBand - step*float64(n-1-i))
	}
	return colours
}

// Change returns the colours of bands of loss below 0 and of bands of gain above. Both arms take equal steps away from 0, and
// the arm of losses starts darker, so that it differs from that of gains in grey too.
func Change(losses, gains int) []color.NRGBA {
	colours := make([]color.NRGBA, losses+gains)
	n := max(losses, gains)
	step := bandStep(n, lightestLoss, darkestLoss, widestChange)
	for i := range losses {
		colours[i] = lossRamp.at(lightestLoss - step*float64(losses-1-i))
	}
	step = bandStep(n, lightestGain, darkestGain, widestChange)
	for i := range gains {
		colours[losses+i] = gainRamp.at(lightestGain - step*float64(i))
	}
	return colours
}

func bandStep(n int, lightest, darkest, widest float64) float64 {
	return math.Min(widest, (lightest-darkest)/float64(max(n-1, 1)))
}

// InkOn returns the ink for lines and text on two neighbouring colours.
func InkOn(a, b color.Color) color.NRGBA {
	dark := math.Min(Contrast(pen.Ink, a), Contrast(pen.Ink, b))
	if light := math.Min(Contrast(pen.White, a), Contrast(pen.White, b)); light > dark {
		return pen.White
	}
	return pen.Ink
}
