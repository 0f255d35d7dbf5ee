package losses

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"lampswap/photometry"
	"lampswap/photometry/internal/table"
)

//go:embed temperature_points.csv
var temperaturePointsCSV string

// A TemperaturePoint is one published figure of light output against ambient temperature. The points do not lie on one curve and must not be joined
// into one that is called published.
type TemperaturePoint struct {
	Lamp           string  // T8, T5/HO, "fluorescent, general"
	RatedAtCelsius float64 // NaN where the source speaks of the design ambient only
	AmbientCelsius float64 // NaN likewise
	OffCelsius     float64 // distance from the ambient of rating
	RelativeOutput float64 // 1 at the rating
	Weight         string  // good or weak
	Source         string
}

var temperaturePoints = sync.OnceValue(func() []TemperaturePoint {
	rows := table.Load("temperature_points", temperaturePointsCSV, "lamp", "rated_at_celsius", "ambient_celsius", "off_celsius",
		"relative_light_output", "weight", "source")
	all := make([]TemperaturePoint, len(rows))
	for i, r := range rows {
		all[i] = TemperaturePoint{
			Lamp: r.Required("lamp"), RatedAtCelsius: r.NumberOr("rated_at_celsius", math.NaN()), AmbientCelsius: r.NumberOr("ambient_celsius", math.NaN()),
			OffCelsius: r.Number("off_celsius"), RelativeOutput: r.Number("relative_light_output"), Weight: r.Required("weight"), Source: r.Text("source"),
		}
	}
	return all
})

// TemperaturePoints returns the published points.
func TemperaturePoints() []TemperaturePoint { return slices.Clone(temperaturePoints()) }

// offRating is how far the ambient may be from that of the lamp's rating without a warning, C: our choice.
const offRating = 5

// TemperatureAdvice returns the temperature factor, which stays 1 as no published curve was found, and a warning ("" for none): if the ambient is more than 5 C off
// the ambient at which the lamp is rated, or below the least ambient of the lamp. NaN is a temperature that is not known; give NaN
// for the rating of an LED tube, whose light hardly depends on it.
func TemperatureAdvice(ratedAtC, ambientC, leastAmbientC float64) (factor Factor, warning string) {
	factor = Factor{1, FromDefault, "no published curve of light against temperature was found: no change is counted"}
	var parts []string
	if ambientC < leastAmbientC {
		parts = append(parts, fmt.Sprintf("ambient %s is below the least for this lamp, %s: it may not start or may flicker", degrees(ambientC), degrees(leastAmbientC)))
	}
	if off := ambientC - ratedAtC; math.Abs(off) > offRating {
		parts = append(parts, fmt.Sprintf("ambient %s is %.0f C %s the ambient at which the lamp's lumens are rated, %s, and no loss is counted for it: "+
			"give losses.temperature from the lamp's data sheet. Public figures, not a curve: %s",
			degrees(ambientC), math.Abs(off), side(off), degrees(ratedAtC), pointsInWords(ratedAtC)))
	}
	return factor, strings.Join(parts, "; ")
}

func side(off float64) string {
	if off < 0 {
		return "below"
	}
	return "above"
}

func degrees(c float64) string {
	return fmt.Sprintf("%.0f C (%.0f F)", c, photometry.FahrenheitFromCelsius(c))
}

// pointsInWords quotes the points for lamps in general and, of those for one kind, the ones rated at the same ambient.
func pointsInWords(ratedAtC float64) string {
	var words []string
	for _, p := range temperaturePoints() {
		if p.OffCelsius == 0 || !math.IsNaN(p.RatedAtCelsius) && p.RatedAtCelsius != ratedAtC {
			continue
		}
		at := fmt.Sprintf("%g C off", p.OffCelsius)
		if !math.IsNaN(p.AmbientCelsius) {
			at = "at " + degrees(p.AmbientCelsius)
		}
		words = append(words, fmt.Sprintf("%.2f %s (%s; %s source: %s)", p.RelativeOutput, at, p.Lamp, p.Weight, p.Source))
	}
	return strings.Join(words, ", ")
}
