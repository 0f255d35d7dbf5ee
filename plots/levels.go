package plots

import (
	"math"

	"lampswap/photometry"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/palette"
)

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
	step := chart.RoundUp(math.Max((most-least)/palette.MostBands, size/100))
	for {
		first, last := math.Floor(least/step+1e-9), math.Ceil(most/step-1e-9)
		if last <= first {
			last = first + 1
		}
		if n := int(last - first); n <= palette.MostBands {
			levels := make([]float64, n+1)
			for i := range levels {
				levels[i] = chart.Multiple(first+float64(i), step)
			}
			return levels
		}
		step = chart.RoundUp(step * 1.01)
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
