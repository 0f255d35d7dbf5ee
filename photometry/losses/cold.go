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

// A Tube is a kind of light source by how its light depends on the air around it.
type Tube int

// The kinds. The first is a fluorescent lamp of which no more is known, the last is not even known to be fluorescent.
const (
	UnknownTube Tube = iota
	T12
	T8
	T5
	LEDTube
	UnknownSource
)

var tubeNames = []string{"fluorescent", "T12", "T8", "T5", "LED", "unknown source"}

// String returns the kind in words: "T12".
func (t Tube) String() string {
	if t < 0 || int(t) >= len(tubeNames) {
		return fmt.Sprintf("Tube(%d)", int(t))
	}
	return tubeNames[t]
}

// TubeOf returns the kind of a fluorescent lamp by its diameter, m: the nearest of 12, 8 and 5 eighths of an inch; 0 is not known.
func TubeOf(diameter float64) Tube {
	switch eighths := diameter / photometry.Inch * 8; {
	case !(eighths > 0):
		return UnknownTube
	case eighths < 6.5:
		return T5
	case eighths < 10:
		return T8
	}
	return T12
}

// A temperaturePoint is one published figure of light output against ambient temperature. The points do not lie on one curve and must not be joined
// into one that is called published.
type temperaturePoint struct {
	Lamp           string   // T8, T5/HO, "fluorescent, general"
	Tubes          []string // kinds of lamp for which it counts, as Tube.String; empty for all
	Line           string   // points of one source, which belong together: "general rule"
	RatedAtCelsius float64  // NaN where the source speaks of the design ambient only
	AmbientCelsius float64  // NaN likewise
	OffCelsius     float64  // distance from the ambient of rating: below it where AmbientCelsius is given, else the source does not tell the side
	RelativeOutput float64  // 1 at the rating
	Weight         string   // good or weak
	Source         string
}

var temperaturePoints = sync.OnceValue(func() []temperaturePoint {
	rows := table.Load("temperature_points", temperaturePointsCSV, "lamp", "tubes", "line", "rated_at_celsius", "ambient_celsius", "off_celsius",
		"relative_light_output", "weight", "source")
	all := make([]temperaturePoint, len(rows))
	for i, r := range rows {
		all[i] = temperaturePoint{
			Lamp: r.Required("lamp"), Line: r.Required("line"),
			RatedAtCelsius: r.NumberOr("rated_at_celsius", math.NaN()), AmbientCelsius: r.NumberOr("ambient_celsius", math.NaN()),
			OffCelsius: r.Number("off_celsius"), RelativeOutput: r.Number("relative_light_output"), Weight: r.Required("weight"), Source: r.Text("source"),
		}
		if tubes := r.Required("tubes"); tubes != "any" {
			all[i].Tubes = strings.Fields(tubes)
		}
	}
	return all
})

// ratedAt is the ambient at which the lumens of a kind of tube are rated, C: that of the table, for a tube that is not known that of T12 and T8.
func ratedAt(tube Tube) float64 {
	if tube == UnknownTube || tube == UnknownSource {
		tube = T8
	}
	for _, p := range temperaturePoints() {
		if p.OffCelsius == 0 && slices.Contains(p.Tubes, tube.String()) {
			return p.RatedAtCelsius
		}
	}
	return math.NaN()
}

const (
	// OffRating is how far the ambient may be from that of the lamp's rating without a change of light or a warning, C: our choice. Light has its
	// peak near the rating (seen in a public utility library), so it is flat there.
	OffRating = 5
	// The estimate moves its bounds outwards from what the sources say by this share of the light that is lost, for their weakness; on the side of
	// which no source says that it speaks of it, by twice as much upwards. Ours, assumed.
	doubtShare = 0.25
	// leastEstimate is the least that is estimated, however cold: there is no point so far out. Ours, assumed.
	leastEstimate = 0.05
)

// A TemperatureEstimate is what a few published points let one guess of a lamp's light at some ambient. It is our estimate, not a published curve.
type TemperatureEstimate struct {
	Factor    float64 // light over that at the ambient of rating
	Low, High float64 // the doubt
	Beyond    bool    // the ambient is further out than every published point
	Sources   []SourceEstimate
}

// A SourceEstimate is what one source gives, and between which of its points.
type SourceEstimate struct {
	Value                float64
	Name, Weight, Source string
	Near, Far            OffPoint // from 1 at the edge of the flat top on
	Beyond               bool     // Far is its last point, and its line is carried on
}

// An OffPoint is a point of a source: light at a distance from the rating.
type OffPoint struct{ Output, OffCelsius, AmbientCelsius float64 } // the last NaN where the source does not tell the side

// EstimateTemperature returns the estimate for a kind of tube at an ambient, C; ok is false where none is made: within 5 C of the
// rating, for LED tubes, or where a temperature is NaN.
//
//	light of one source = straight lines from 1 at 5 C off the rating through that source's points, the last line carried on
//	Factor              = that of the good source for this kind of tube; where there is none, the middle between lowest and highest of the weak ones
//	Low, High           = lowest and highest source, a quarter of the loss further out (upwards half of it above the rating)
//
// The sources conflict, which makes the doubt wide. In the cold a closed fixture, which is warmer inside, has 1 for its High.
func EstimateTemperature(tube Tube, ratedAtC, ambientC float64, enclosed bool) (estimate TemperatureEstimate, ok bool) {
	off := ambientC - ratedAtC
	if tube == LEDTube || !(math.Abs(off) > OffRating) {
		return TemperatureEstimate{}, false
	}
	cold := off < 0
	e := TemperatureEstimate{Low: 1, High: 0, Beyond: true}
	good := math.NaN()
	for _, line := range outputLines(tube, ratedAtC, cold) {
		by := line.at(math.Abs(off))
		e.Low, e.High = min(e.Low, by.Value), max(e.High, by.Value)
		e.Beyond = e.Beyond && by.Beyond
		e.Sources = append(e.Sources, by)
		if line.weight == "good" {
			good = by.Value
		}
	}
	e.Factor = (e.Low + e.High) / 2
	if !math.IsNaN(good) {
		e.Factor = good
	}
	e.Factor = max(e.Factor, leastEstimate)
	wider := doubtShare * (1 - e.Factor)
	e.Low = max(min(e.Low, e.Factor)-wider, 0)
	if !cold {
		wider *= 2
	}
	e.High = min(max(e.High, e.Factor)+wider, 1)
	if cold && enclosed {
		e.High = 1
	}
	return e, true
}

// An outputLine is what one source says: light over distance from the rating, from the edge of the flat top on.
type outputLine struct {
	name, weight, source string
	points               []OffPoint
}

// outputLines gathers the points by source, for the tubes they count for and the side of the rating.
func outputLines(tube Tube, ratedAtC float64, cold bool) []outputLine {
	var lines []outputLine
	for _, p := range temperaturePoints() {
		unknown := (tube == UnknownTube || tube == UnknownSource) && p.RatedAtCelsius == ratedAtC
		fits := len(p.Tubes) == 0 || slices.Contains(p.Tubes, tube.String()) || unknown
		sided := !math.IsNaN(p.AmbientCelsius)
		if p.OffCelsius == 0 || !fits || sided && !cold {
			continue
		}
		i := slices.IndexFunc(lines, func(l outputLine) bool { return l.name == p.Line })
		if i < 0 {
			i = len(lines)
			lines = append(lines, outputLine{p.Line, p.Weight, p.Source, []OffPoint{{1, OffRating, math.NaN()}}})
		}
		lines[i].points = append(lines[i].points, OffPoint{p.RelativeOutput, p.OffCelsius, p.AmbientCelsius})
	}
	return lines
}

// at returns the light at a distance of more than OffRating, C, not below 0.
func (l outputLine) at(off float64) SourceEstimate {
	last := len(l.points) - 1
	i := 1
	for i < last && off > l.points[i].OffCelsius {
		i++
	}
	a, b := l.points[i-1], l.points[i]
	slope := (b.Output - a.Output) / (b.OffCelsius - a.OffCelsius)
	return SourceEstimate{max(a.Output+slope*(off-a.OffCelsius), 0), l.name, l.weight, l.source, a, b, off > l.points[last].OffCelsius}
}
