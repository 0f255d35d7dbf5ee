package palette

import (
	"image/color"
	"math"
)

// Luminance returns the relative luminance of an sRGB colour, 0 to 1. Source: IEC 61966-2-1 (sRGB).
func Luminance(c color.Color) float64 {
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

// Lightness returns CIE L*, 0 to 100: all that remains of a colour on a printer without colours. Source: CIE 15, colorimetry.
func Lightness(c color.Color) float64 {
	y := Luminance(c)
	if y <= 216.0/24389 {
		return y * 24389 / 27
	}
	return 116*math.Cbrt(y) - 16
}

// Contrast returns the contrast ratio of two colours, 1 to 21. Source: W3C, Web Content Accessibility Guidelines 2.1, "contrast ratio".
func Contrast(a, b color.Color) float64 {
	x, y := Luminance(a), Luminance(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

// A Seen is a colour as an eye sees it: CIE L*, a*, b* under D65. Source: CIE 15 (colorimetry), IEC 61966-2-1 (sRGB).
type Seen [3]float64

// Difference returns the colour difference ΔE of CIE 1976.
func Difference(a, b Seen) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

func seen(r, g, b float64) Seen {
	r, g, b = within(r), within(g), within(b)
	f := func(t float64) float64 {
		if t <= 216.0/24389 {
			return (t*24389/27 + 16) / 116
		}
		return math.Cbrt(t)
	}
	x := f((0.4124*r + 0.3576*g + 0.1805*b) / 0.9505)
	y := f(0.2126*r + 0.7152*g + 0.0722*b)
	z := f((0.0193*r + 0.1192*g + 0.9505*b) / 1.0890)
	return Seen{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

func within(x float64) float64 { return math.Min(math.Max(x, 0), 1) }

// Deuteranopes are two published simulations of an eye without green cones: one says what the other may hide.
var Deuteranopes = map[string]func(color.NRGBA) Seen{"Machado 2009": machado, "Viénot 1999": vienot}

// machado is the matrix for linear RGB of G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A physiologically-based model for
// simulation of color vision deficiency, 2009: deuteranomaly of severity 1.0; from memory, unverified. Its rows sum to 1, so that grey
// stays grey.
func machado(c color.NRGBA) Seen {
	r, g, b := linear(c.R), linear(c.G), linear(c.B)
	return seen(0.367322*r+0.860646*g-0.227968*b, 0.280085*r+0.672501*g+0.047413*b, -0.011820*r+0.042940*g+0.968881*b)
}

// What the long, middle and short cones catch of linear sRGB, by Hunt, Pointer and Estévez, and its inverse. Source: the npm package
// @bjornlu/colorblind 1.0.3, second-hand.
var (
	cones = [3][3]float64{{0.31399022, 0.63951294, 0.04649755}, {0.15537241, 0.75789446, 0.08670142}, {0.01775239, 0.10944209, 0.87256922}}
	light = [3][3]float64{{5.47221206, -4.6419601, 0.16963708}, {-1.1252419, 2.29317094, -0.1678952}, {0.02980165, -0.19318073, 1.16364789}}
)

// vienot puts what the lost cones would have caught in terms of the two others, such that white and the blue primary look the same as
// to everybody. Source of the construction: F. Viénot, H. Brettel, J. D. Mollon, Digital video colourmaps for checking the legibility
// of displays by dichromats, 1999; from memory, unverified.
func vienot(c color.NRGBA) Seen {
	lms := times(cones, [3]float64{linear(c.R), linear(c.G), linear(c.B)})
	long, short := middleFromOthers()
	lms[1] = long*lms[0] + short*lms[2]
	rgb := times(light, lms)
	return seen(rgb[0], rgb[1], rgb[2])
}

// middleFromOthers solves M = long L + short S for white and for blue.
func middleFromOthers() (long, short float64) {
	white, blue := times(cones, [3]float64{1, 1, 1}), times(cones, [3]float64{0, 0, 1})
	determinant := white[0]*blue[2] - blue[0]*white[2]
	return (white[1]*blue[2] - blue[1]*white[2]) / determinant, (white[0]*blue[1] - blue[0]*white[1]) / determinant
}

func times(m [3][3]float64, v [3]float64) [3]float64 {
	var out [3]float64
	for i, row := range m {
		out[i] = row[0]*v[0] + row[1]*v[1] + row[2]*v[2]
	}
	return out
}
