package job

import (
	"fmt"

	"lampswap/photometry"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/losses"
)

const mostOutputPoints = 100

// outputPoints asks for the light of the lamp's own data sheet over the ambient: [temperature, share of the rated light], in rising order.
func (r *reader) outputPoints(t *tomlfile.Table) []losses.OutputPoint {
	const key = "temperature_points"
	lists, ok := t.NumberLists(key, mostOutputPoints, 2, tomlfile.Between(-100, 250), tomlfile.Any)
	if !ok {
		return nil
	}
	points := make([]losses.OutputPoint, len(lists))
	for i, pair := range lists {
		points[i] = losses.OutputPoint{AmbientCelsius: pair[0], RelativeOutput: pair[1]}
		if r.job.Imperial {
			points[i].AmbientCelsius = photometry.CelsiusFromFahrenheit(pair[0])
		}
	}
	faults := losses.OutputPointFaults(points)
	for _, f := range faults {
		at := key
		if !f.All {
			at = fmt.Sprintf("%s[%d]", key, f.Index)
		}
		t.Fault(at, f.Wrong, f.Want)
	}
	if len(faults) > 0 {
		return nil
	}
	return points
}
