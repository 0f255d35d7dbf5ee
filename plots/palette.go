package plots

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/palette/moreland"
)

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
	m.SetMin(lightness(colours[0]))
	m.SetMax(lightness(colours[len(colours)-1]))
	return ramp{m}
}

func (r ramp) at(lightness float64) color.NRGBA {
	c, err := r.colours.At(math.Min(math.Max(lightness, r.colours.Min()), r.colours.Max()))
	if err != nil {
		panic("plots: a lightness is not a number")
	}
	return color.NRGBAModel.Convert(c).(color.NRGBA)
}

// lightColours returns the colours of n bands of illuminance, dim to bright.
func lightColours(n int) []color.NRGBA {
	colours := make([]color.NRGBA, n)
	step := bandStep(n, lightestBand, darkestBand, widestStep)
	for i := range colours {
		colours[i] = lightRamp.at(lightestBand - step*float64(n-1-i))
	}
	return colours
}

// changeColours returns the colours of bands of loss below 0 and of bands of gain above. Both arms take equal steps away from 0, and
// the arm of losses starts darker, so that it differs from that of gains in grey too.
func changeColours(losses, gains int) []color.NRGBA {
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

// luminance returns the relative luminance of an sRGB colour, 0 to 1. Source: IEC 61966-2-1 (sRGB).
func luminance(c color.Color) float64 {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	return 0.2126*linear(n.R) + 0.7152*linear(n.G) + 0.0722*linear(n.B)
}

func linear(v uint8) float64 {
	x := float64(v) / 255
	if x <= 0.04045 {
		return x / 12.92
	}
	return math.Pow((x+0.055)/1.055, 2.4)
}

// lightness returns CIE L*, 0 to 100. Source: CIE 15, colorimetry.
func lightness(c color.Color) float64 {
	y := luminance(c)
	if y <= 216.0/24389 {
		return y * 24389 / 27
	}
	return 116*math.Cbrt(y) - 16
}

// contrast returns the contrast ratio of two colours, 1 to 21. Source: W3C, Web Content Accessibility Guidelines 2.1, "contrast ratio".
func contrast(a, b color.Color) float64 {
	x, y := luminance(a), luminance(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

// inkOn returns the ink for lines and text on two neighbouring colours.
func inkOn(a, b color.Color) color.NRGBA {
	dark := math.Min(contrast(ink, a), contrast(ink, b))
	if light := math.Min(contrast(white, a), contrast(white, b)); light > dark {
		return white
	}
	return ink
}
