package plots

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"

	"lampswap/plots/internal/contour"
	"lampswap/plots/internal/place"
)

// stationView is the view at letter width.
func stationView(s Stations) (Stations, view) {
	s = s.resolved()
	return s, onePiece(s.plan(), vg.Rectangle{Max: vg.Point{X: 440, Y: 600}})
}

func TestStationLabelsMeetNothing(t *testing.T) {
	for name, f := range charts() {
		s, ok := f.(Stations)
		if !ok {
			continue
		}
		s, v := stationView(s)
		labels, _ := s.labels(v)
		for i, a := range labels {
			for _, b := range labels[i+1:] {
				assert.False(t, a.box.Overlaps(b.box), "%s: %s on %s", name, a.text, b.text)
			}
			for _, at := range s.Stations {
				mark := place.Box{Centre: v.at(contour.Point{X: at.X, Y: at.Y}), Width: 2 * s.reach(at), Height: 2 * s.reach(at)}
				assert.False(t, a.box.Overlaps(mark), "%s: %s on station %s", name, a.text, at.Name)
			}
			for _, p := range a.box.Corners() {
				assert.True(t, inside(v.frame, p), "%s: %s leaves the frame", name, a.text)
			}
		}
	}
}

func TestManyStationsAreNumbered(t *testing.T) {
	s, v := stationView(survey(15, 10))
	labels, left := s.labels(v)
	assert.Len(t, labels, 150, "all at letter width")
	assert.Empty(t, left)
	texts := recordFigure(survey(15, 10), 4*vg.Inch).texts
	assert.Contains(t, texts, "1")
	assert.Contains(t, texts, "150")
	assert.Contains(t, texts, "One station in 2 is named; the others follow in order.")
}

func TestSignShowsInTheShape(t *testing.T) {
	s := Stations{Deviations: true}
	for deviation, want := range map[float64]stationGlyph{0.2: upGlyph, -0.2: downGlyph, 0.004: discGlyph, -0.004: discGlyph, math.Inf(1): crossGlyph} {
		assert.Equal(t, want, s.glyph(Station{Deviation: deviation}, nil), "%v", deviation)
	}
	assert.Equal(t, crossGlyph, s.glyph(Station{Deviation: math.NaN()}, nil))
}

func TestColourOfADeviation(t *testing.T) {
	s := Stations{Deviations: true, Stations: []Station{{Deviation: -0.29}, {Deviation: 0.09}}}
	bands := s.scale()
	assert.Equal(t, []float64{-30, -25, -20, -15, -10, -5, 0, 5, 10}, bands.levels)
	assert.Equal(t, bands.colours[0], s.colour(s.Stations[0], bands))
	assert.Equal(t, bands.colours[7], s.colour(s.Stations[1], bands))
	assert.Equal(t, bands.colours[0], s.colour(Station{Deviation: -5}, bands), "beyond the ends the outer colour")
}

func TestTextOfStations(t *testing.T) {
	texts := recordFigure(survey(9, 5), 6.5*vg.Inch).texts
	for _, want := range []string{"1", "45", "corner (4)", "inner bay (21)", "luminaire", "rack", "x (ft)", "20 ft", "N"} {
		assert.Contains(t, texts, want)
	}
	assert.Equal(t, "Plan: Where to measure. 45 stations: 4 corner, 14 along a wall, 6 end of a row, 21 inner bay.", survey(9, 5).Describe())
	texts = recordFigure(deviations(9, 5), 6.5*vg.Inch).texts
	for _, want := range []string{"−34", "+9", "Outliers: 8.", "Measured less predicted (%)", "more light than predicted", "outlier", "no reading"} {
		assert.Contains(t, texts, want)
	}
	assert.Contains(t, deviations(9, 5).Describe(), "lowest −34 % at station 8")
	assert.Contains(t, recordFigure(charts()["deviations-none"], 4*vg.Inch).texts, "No readings.")
	face := recordFigure(charts()["stations-face"], 4*vg.Inch).texts
	assert.Contains(t, face, "height (m)")
}

func TestStationsPanic(t *testing.T) {
	assert.Panics(t, func() { Stations{Extent: Rect{1, 1, 0, 0}}.Height(300) })
}

// Where marks crowd, names are called out with a line, and the few that have no room even so are named below.
func TestCrowdedStationsAreCalledOut(t *testing.T) {
	s := Stations{Extent: Rect{X1: 40, Y1: 20}}
	for i := range 8 {
		s.Stations = append(s.Stations, Station{X: 20 + 0.8*float64(i), Y: 10, Name: fmt.Sprintf("g12-%d", i+1)})
	}
	s.Stations = append(s.Stations, Station{X: 10, Y: 10, Name: "p1"})
	drawn, v := stationView(s)
	labels, left := drawn.labels(v)
	led := 0
	for _, l := range labels {
		if l.lead != nil {
			led++
		}
	}
	assert.Positive(t, led)
	assert.GreaterOrEqual(t, len(labels), len(s.Stations)-mostUnnamed)
	if len(labels) < len(s.Stations) {
		assert.Contains(t, left, "Without room for a name: ")
	}
}
