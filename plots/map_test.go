package plots

import (
	"bytes"
	"image/color"
	"image/png"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/plots/internal/contour"
	"lampswap/plots/internal/palette"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

func drawOn(c vg.CanvasSizer) draw.Canvas { return draw.New(c) }

// onePiece returns the view of a plan that is not cut.
func onePiece(p plan, room vg.Rectangle) view {
	f := p.folded(1, false, nil)
	scale := f.scale(room.Size().X, room.Size().Y)
	across, _ := f.size(scale)
	return f.views(scale, room.Min.X+(room.Size().X-across)/2, room.Max.Y)[0]
}

// placed lays out a map at letter width and returns where everything went.
func placed(m Map) (Map, view, place.Labeller) {
	m = m.resolved()
	v := onePiece(m.plan(), vg.Rectangle{Max: vg.Point{X: 440, Y: 600}})
	l := place.Labeller{Frame: v.frame, Font: pen.Tiny, Gap: 2.4, Taken: m.plan().obstacles(v, m.marks(m.plan())...)}
	s := m.scale()
	surface := contour.New(m.X, m.Y, m.shown(), contour.Rect(m.Extent), m.plan().opaque(), m.parts(v))
	l.Tracks = s.drawBands(newLedger(440, 600), v, surface)
	l.Place(func(band int) string { return s.label(s.levels[band]) })
	return m, v, l
}

func TestLabelsMeetNothing(t *testing.T) {
	for name, f := range figures(t) {
		m, ok := f.(Map)
		if !ok {
			continue
		}
		t.Run(name, func(t *testing.T) {
			m, v, l := placed(m)
			checkLabels(t, m, v, l)
			if name != "map-blank" && name != "map-even" && name != "map-gallery" { // the last is drawn in one piece here, too thin for labels
				assert.NotEmpty(t, l.Labels)
			}
		})
	}
}

// fataler is what *testing.T and *rapid.T share.
type fataler interface {
	Fatalf(format string, args ...any)
}

func checkLabels(t fataler, m Map, v view, l place.Labeller) {
	for i, a := range l.Labels {
		for _, b := range l.Labels[i+1:] {
			if a.Box.Overlaps(b.Box) {
				t.Fatalf("labels %s and %s overlap", a.Text, b.Text)
			}
		}
		for _, mark := range m.plan().obstacles(v) {
			if a.Box.Overlaps(mark) {
				t.Fatalf("label %s lies on a luminaire or a rack", a.Text)
			}
		}
		for _, p := range a.Box.Corners() {
			if !inside(v.frame, p) {
				t.Fatalf("label %s reaches out of the frame", a.Text)
			}
		}
		for _, track := range l.Tracks {
			for _, piece := range track.Pieces() {
				for k := 1; k < len(piece); k++ {
					if a.Box.CrossedBy(piece[k-1], piece[k]) {
						t.Fatalf("a line runs through label %s", a.Text)
					}
				}
			}
		}
	}
}

func inside(r vg.Rectangle, p vg.Point) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

func TestLabelsMeetNothingOnAnyMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(t, "n")
		x, y := make([]float64, n), make([]float64, n)
		for i := range n {
			x[i], y[i] = float64(i)*3, float64(i)*2
		}
		values := rapid.SliceOfN(rapid.Float64Range(0, 500), n*n, n*n).Draw(t, "values")
		m := Map{X: x, Y: y, Values: values}
		for range rapid.IntRange(0, 5).Draw(t, "luminaires") {
			m.Luminaires = append(m.Luminaires, Mark{X: rapid.Float64Range(0, 15).Draw(t, "x"), Y: rapid.Float64Range(0, 10).Draw(t, "y"), Length: 2.4, Width: 0.1,
				Rotation: rapid.Float64Range(0, 3).Draw(t, "rotation"), Sided: rapid.Bool().Draw(t, "sided")})
		}
		m, v, l := placed(m)
		checkLabels(t, m, v, l)
	})
}

// TestLabelSitsOnItsLine looks at a plane, whose contours are straight and whose levels are known.
func TestLabelSitsOnItsLine(t *testing.T) {
	grid := room.HorizontalGrid("floor", room.Vec{}, room.Vec{X: 20, Y: 10}, 0, 1)
	x, y := grid.Coordinates()
	values := make([]float64, len(x)*len(y))
	for k := range values {
		values[k] = 100 + 5*x[k%len(x)] + 5*y[k/len(x)]
	}
	_, v, l := placed(NewMap(grid, values))
	require.NotEmpty(t, l.Labels)
	for _, label := range l.Labels {
		assert.InDelta(t, -math.Pi/4, label.Box.Angle, 1e-6, "turned with its line, and readable")
		at := func(c, origin vg.Length) float64 { return float64((c - origin) / v.scale) }
		value := 100 + 5*at(label.Box.Centre.X, v.frame.Min.X) + 5*at(label.Box.Centre.Y, v.frame.Min.Y)
		assert.Equal(t, label.Text, number.Exact(math.Round(value)))
		assert.InDelta(t, math.Round(value), value, 0.02, "discretisation")
	}
}

func TestPlanKeepsItsProportions(t *testing.T) {
	for _, size := range [][2]float64{{120, 60}, {400, 40}, {80, 80}, {40, 160}} {
		m := warehouse(size[0], size[1], 4, 2, 2, 1000).resolved()
		v := onePiece(m.plan(), vg.Rectangle{Max: vg.Point{X: 440, Y: 500}})
		s := v.frame.Size()
		assert.InDelta(t, size[0]/size[1], float64(s.X/s.Y), 1e-9, "rounding")
		assert.InDelta(t, float64(v.scale), float64(s.X)/(size[0]*ft), 1e-9, "rounding")
	}
}

// TestInkReachesTheWalls looks at pixels: a map of one light is one colour from wall to wall, white only where a rack or no cell is.
func TestInkReachesTheWalls(t *testing.T) {
	m := warehouse(60, 40, 2, 2, 2, 1000, Rect{20 * ft, 14 * ft, 41 * ft, 23 * ft})
	m.Luminaires = nil
	for i, v := range m.Values {
		if !math.IsNaN(v) {
			m.Values[i] = 300
		}
	}
	m.Levels, m.Racks = []float64{20, 30}, nil
	img, at := rendered(t, m)
	colour := palette.Light(1)[0]
	for _, p := range [][2]float64{{0.5, 0.5}, {59.5, 0.5}, {0.5, 39.5}, {59.5, 39.5}, {30, 0.5}, {10, 20}} {
		assert.Equal(t, colour, img(at(p[0], p[1])), "at %v", p)
	}
	assert.Equal(t, pen.White, img(at(30, 18)), "no points: blank")

	m.Racks = []Rect{{20 * ft, 14 * ft, 41 * ft, 23 * ft}}
	img, at = rendered(t, m)
	for x := 19.0; x < 43; x += 0.25 {
		for _, y := range []float64{13.7, 23.3} { // beside the rack, within the cell that has no point
			assert.Equal(t, colour, img(at(x, y)), "at %v, %v", x, y)
		}
	}
}

// rendered returns the pixels of a map and how to find a place, ft, in them.
func rendered(t *testing.T, m Map) (pixel func(x, y int) color.NRGBA, at func(x, y float64) (int, int)) {
	t.Helper()
	const width = 6 * vg.Inch
	height := m.Height(width)
	img, err := png.Decode(bytes.NewReader(written(t, m, "png", width, height)))
	require.NoError(t, err)
	r := m.resolved()
	l := r.layout(width - 2*pen.Margin)
	v := onePiece(r.plan(), vg.Rectangle{Min: vg.Point{X: pen.Margin + l.axes.left, Y: pen.Margin + l.below + l.axes.bottom},
		Max: vg.Point{X: width - pen.Margin - l.axes.right, Y: height - pen.Margin - l.headerHeight()}})
	pixel = func(x, y int) color.NRGBA { return color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA) }
	at = func(x, y float64) (int, int) {
		p := v.at(contour.Point{X: x * ft, Y: y * ft})
		return int(p.X.Dots(PixelsPerInch)), int((height - p.Y).Dots(PixelsPerInch))
	}
	return pixel, at
}

func TestExtremesIgnoreRounding(t *testing.T) {
	m := Map{X: []float64{1, 2, 3}, Y: []float64{1, 2}, Values: []float64{5, 9, 7, 5 - 1e-14, 9 + 1e-14, math.NaN()}}
	least, most := m.extremes()
	assert.Equal(t, contour.Point{X: 1, Y: 1}, least.at)
	assert.Equal(t, contour.Point{X: 2, Y: 1}, most.at)
	m.Values = []float64{4, 4, 4, 4, 4, 4}
	least, most = m.extremes()
	assert.False(t, least.ok || most.ok, "even light has no darkest place")
}

func TestRackIsSeenThroughWhereThereArePoints(t *testing.T) {
	rack := Rect{20 * ft, 14 * ft, 40 * ft, 23 * ft}
	m := warehouse(60, 40, 2, 2, 2, 1000, rack)
	assert.Len(t, m.plan().opaque(), 1)
	above := warehouse(60, 40, 2, 2, 2, 1000)
	above.Racks = []Rect{rack}
	assert.Empty(t, above.plan().opaque())
}

// What is outside the room is white, whatever was interpolated there, and the legend has what hangs.
func TestOutsideOfAnOutline(t *testing.T) {
	m := outlined()
	outside := m.plan().outside()
	require.Len(t, outside, 2)
	assert.Equal(t, Rect{0, 0, 40 * ft, 25 * ft}, outside[0])
	assert.InDelta(t, 90*ft, outside[1].X0, 1e-12)
	assert.Len(t, m.plan().opaque(), 3, "the rack and both corners; points see the floor below the mezzanine")
	part := m
	part.Extent = Rect{30 * ft, 10 * ft, 80 * ft, 50 * ft}
	assert.Equal(t, []Rect{{30 * ft, 10 * ft, 40 * ft, 25 * ft}}, part.plan().outside())
	assert.Empty(t, warehouse(60, 40, 2, 2, 2, 1000).plan().outside())
	assert.Contains(t, recordFigure(m, 6.5*vg.Inch).texts, "Box that hangs")
}

func TestTextOfAMap(t *testing.T) {
	m := warehouse(120, 60, 2, 6, 12, 1100, fourRacks()...)
	m.Title = "Existing"
	texts := recordFigure(m, 6.5*vg.Inch).texts
	for _, want := range []string{"Existing", "x (ft)", "y (ft)", "120", "60", "Illuminance (fc)", "Luminaire", "Rack", "20 ft"} {
		assert.Contains(t, texts, want)
	}
	s := m.resolved().statistics()
	assert.Contains(t, texts, "Average "+number.Reading(s.Average)+" fc")
	assert.Contains(t, texts, "Minimum "+number.Reading(s.Minimum)+" fc")
	assert.Contains(t, texts, "Maximum "+number.Reading(s.Maximum)+" fc")

	m = rackFace(t)
	m.Imperial, m.Change = false, true
	texts = recordFigure(m, 6.5*vg.Inch).texts
	for _, want := range []string{"along (m)", "height (m)", "Change of illuminance (lx)", "+100", "0"} {
		assert.Contains(t, texts, want)
	}
	assert.Contains(t, recordFigure(figures(t)["map-blank"], 4*vg.Inch).texts, "No points")
}

func TestScaleShowsWhatLiesBeyond(t *testing.T) {
	m := Map{X: []float64{1, 2}, Y: []float64{1}, Values: []float64{5, 50}, Levels: []float64{10, 20, 30}}.resolved()
	s := m.scale()
	assert.True(t, s.below && s.above)
	m.Levels = []float64{0, 50}
	s = m.scale()
	assert.False(t, s.below || s.above)
}

func TestFootcandlesAreOnThePaperOnly(t *testing.T) {
	m := Map{X: []float64{0.5}, Y: []float64{0.5}, Values: []float64{20 * photometry.Footcandle}, Imperial: true}.resolved()
	assert.InDelta(t, 20, m.statistics().Average, 1e-12, "rounding")
}

func TestMapPanics(t *testing.T) {
	assert.Panics(t, func() { Map{X: []float64{1}, Y: []float64{1}}.Height(100) })
	assert.Panics(t, func() { Map{X: []float64{1}, Y: []float64{1}, Values: []float64{math.Inf(1)}}.Height(100) })
	assert.Panics(t, func() { Difference([]float64{1}, nil) })
	assert.Panics(t, func() { Sheet{}.Height(100) })
}

func TestSheet(t *testing.T) {
	for name, want := range map[string][2]int{"wide": {1, 3}, "square": {2, 2}, "long": {1, 3}, "tall": {3, 1}} {
		s := figures(t)["sheet-"+name].(Sheet).resolved()
		a := s.arrange(460, 640)
		assert.Equal(t, want, [2]int{a.columns, a.rows}, name)
		assert.Equal(t, s.Maps[0].Levels, s.Maps[1].Levels, "one scale of light")
		assert.Contains(t, s.Maps[2].Levels, 0.0)
		assert.Len(t, s.scales(), 2)
	}
}

func TestSheetSharesLevelsOfAllItsMaps(t *testing.T) {
	one := func(values ...float64) Map { return Map{X: []float64{1, 2}, Y: []float64{1}, Values: values} }
	s := Sheet{Maps: []Map{one(10, 20), one(30, 80)}}.resolved()
	assert.Equal(t, []float64{10, 20, 30, 40, 50, 60, 70, 80}, s.Maps[0].Levels)
	assert.Equal(t, s.Maps[0].Levels, s.Maps[1].Levels)
}

func BenchmarkSheetPDF(b *testing.B) {
	s := beforeAfter(warehouse(120, 60, 2, 6, 12, 1100))
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(new(bytes.Buffer), s, "pdf", 6.5*vg.Inch, 9*vg.Inch); err != nil {
			b.Fatal(err)
		}
	}
}

// A sheet that is given less height than its own says how much of it it fills, and fills that.
func TestSheetFillsTheHeightItSays(t *testing.T) {
	for name, f := range figures(t) {
		s, ok := f.(Sheet)
		if !ok {
			continue
		}
		const width = 7 * vg.Inch
		own := s.Height(width)
		assert.InDelta(t, float64(own), float64(s.HeightWithin(width, 2*own)), 1e-9, name)
		for _, share := range []vg.Length{0.9, 0.7, 0.55} {
			most := max(share*own, s.LeastHeight(width))
			height := s.HeightWithin(width, most)
			assert.LessOrEqual(t, height, most+1e-9, name)
			l := newLedger(width, height)
			s.Draw(drawOn(l))
			assert.Less(t, l.ink.Min.Y, vg.Length(16), "%s at %v: no blank space below", name, height)
			assert.GreaterOrEqual(t, l.ink.Min.Y, vg.Length(0), "%s at %v", name, height)
		}
	}
}
