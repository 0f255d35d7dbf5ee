package plots

import (
	"math"
	"strconv"
	"strings"

	"lampswap/photometry"
)

const minus = '−' // U+2212

// mostBands is how many bands a map may have before their colours come too close in grey.
const mostBands = 9

// Levels returns round contour levels, ascending, fc if imperial, else lx, that cover all the values of all the grids, lx, in at most
// nine bands of equal step: the first level is at or below the least value, the last at or above the greatest. Maps that are to be
// compared share one such list. NaN values do not count; without any value there is no level.
func Levels(imperial bool, grids ...[]float64) []float64 {
	least, most, ok := bounds(imperial, grids)
	if !ok {
		return nil
	}
	return cover(least, most)
}

// ChangeLevels is Levels for maps of a change: 0 is always one of the levels, so that no band holds both gain and loss.
func ChangeLevels(imperial bool, grids ...[]float64) []float64 {
	least, most, ok := bounds(imperial, grids)
	if !ok {
		return nil
	}
	return cover(math.Min(least, 0), math.Max(most, 0))
}

func bounds(imperial bool, grids [][]float64) (least, most float64, ok bool) {
	least, most = math.Inf(1), math.Inf(-1)
	for _, grid := range grids {
		for _, v := range grid {
			if !math.IsNaN(v) {
				least, most = math.Min(least, v), math.Max(most, v)
			}
		}
	}
	unit := illuminanceUnit(imperial).size
	return least / unit, most / unit, least <= most
}

// cover returns the multiples of the smallest round step that cover the range in at most mostBands bands.
func cover(least, most float64) []float64 {
	size := math.Max(math.Abs(least), math.Abs(most))
	if size == 0 {
		return []float64{0, 1}
	}
	// A range that is rounding, or below a hundredth of what it varies around, is one even light: it gets one or two bands.
	step := roundUp(math.Max((most-least)/mostBands, size/100))
	for {
		first, last := math.Floor(least/step+1e-9), math.Ceil(most/step-1e-9)
		if last <= first {
			last = first + 1
		}
		if n := int(last - first); n <= mostBands {
			levels := make([]float64, n+1)
			for i := range levels {
				levels[i] = multiple(first+float64(i), step)
			}
			return levels
		}
		step = roundUp(step * 1.01)
	}
}

// multiple returns n steps without the rounding error of a step such as 0.1.
func multiple(n, step float64) float64 {
	if step < 1 {
		return n / math.Round(1/step)
	}
	return n * step
}

// roundUp returns the least of 1, 2 or 5 times a power of ten that is not below x, x > 0.
func roundUp(x float64) float64 {
	exponent := math.Floor(math.Log10(x))
	for e := exponent; ; e++ {
		for _, m := range []float64{1, 2, 5} {
			step := m * math.Pow(10, e)
			if e < 0 {
				step = m / math.Pow(10, -e)
			}
			if step >= x*(1-1e-12) {
				return step
			}
		}
	}
}

// A unit is what an axis or a scale is read in: size is how many SI units it is.
type unit struct {
	name string
	size float64
}

func illuminanceUnit(imperial bool) unit {
	if imperial {
		return unit{"fc", photometry.Footcandle}
	}
	return unit{"lx", 1}
}

func lengthUnit(imperial bool) unit {
	if imperial {
		return unit{"ft", photometry.Foot}
	}
	return unit{"m", 1}
}

// exact formats a round number in full.
func exact(x float64) string {
	return group(strconv.FormatFloat(x, 'f', -1, 64))
}

// signed formats a round number with its sign.
func signed(x float64) string {
	if x > 0 {
		return "+" + exact(x)
	}
	return exact(x)
}

// reading formats a measured or computed number as it would be read: about three digits.
func reading(x float64) string {
	decimals := 1
	switch a := math.Abs(x); {
	case a >= 99.95:
		decimals = 0
	case a < 0.995 && a > 0:
		decimals = 2
	}
	return group(strconv.FormatFloat(x, 'f', decimals, 64))
}

func signedReading(x float64) string {
	s := reading(x)
	if x > 0 && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}

// group sets thousands apart and the sign in type.
func group(s string) string {
	sign := ""
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		s = rest
		if strings.Trim(s, "0.") != "" {
			sign = string(minus)
		}
	}
	whole, fraction, decimal := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if decimal {
		whole += "." + fraction
	}
	return sign + whole
}

// ticks returns round positions between two ends, ends included where they are round, with at most n intervals.
func ticks(from, to float64, n int) []float64 {
	step := roundUp((to - from) / float64(max(n, 1)))
	var at []float64
	for k := math.Ceil(from/step - 1e-9); k <= to/step+1e-9; k++ {
		at = append(at, multiple(k, step))
	}
	return at
}
