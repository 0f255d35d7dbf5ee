package plots

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"sort"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry"
	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/contour"
	"lampswap/plots/internal/palette"
	"lampswap/plots/internal/pen"
)

// Stations marks on a plan or a rack face where to measure, and with Deviations what was found there: how much the reading differs from
// the prediction. The sign shows in the shape of the mark, point up for more light and point down for less, so that it is read without
// colours too.
type Stations struct {
	Title, Subtitle, Caption string

	Plane      room.Plane // a vertical one has distance along its line across, and height upward
	Extent     Rect       // room or face, m; all 0 is a little more than the stations and luminaires take
	Luminaires []Mark
	Racks      []Rect       // white and hatched
	Hanging    []Rect       // boxes that do not stand on the floor: dashed
	Outline    room.Outline // walls of a room that is no rectangle
	NorthDeg   *float64     // azimuth of true north in the plan, degrees counter-clockwise from +x; nil draws none
	Stations   []Station

	Deviations bool
	Imperial   bool // ft on the paper, else m

	whole Rect // of which the extent is a strip
}

// A Station is a place where light is measured.
type Station struct {
	X, Y      float64  // m
	Name      string   // beside its mark; "" is its number in the list, from 1
	Kind      string   // its part in the survey, such as "inner bay": stations of a kind bear one mark
	Deviation float64  // the reading less the prediction, as a share of the prediction; NaN is no reading
	Outlier   bool     // ringed
	sight     *float64 // azimuth of an arrow from its mark, rad: somebody looks there
}

// resolved names the stations, leaves out those that have no place, and finds the extent.
func (s Stations) resolved() Stations {
	var stations []Station
	for i, at := range s.Stations {
		if at.Name == "" {
			at.Name = number.Exact(float64(i + 1))
		}
		at.Name = pen.Clean(at.Name)
		if photometry.Finite(at.X, at.Y) {
			stations = append(stations, at)
		}
	}
	s.Stations = stations
	if s.Extent == (Rect{}) {
		s.Extent = s.around()
	}
	if !(s.Extent.X1 > s.Extent.X0 && s.Extent.Y1 > s.Extent.Y0) {
		panic("plots: a plan of stations has no extent")
	}
	return s
}

// around returns what stations and luminaires take, and a little more.
func (s Stations) around() Rect {
	const more = 1 // m
	r := Rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	note := func(x, y float64) {
		r = Rect{math.Min(r.X0, x-more), math.Min(r.Y0, y-more), math.Max(r.X1, x+more), math.Max(r.Y1, y+more)}
	}
	for _, at := range s.Stations {
		note(at.X, at.Y)
	}
	for _, l := range s.Luminaires {
		note(l.X, l.Y)
	}
	if r.X0 > r.X1 {
		return Rect{0, 0, 1, 1}
	}
	return r
}

func (s Stations) plan() plan {
	return plan{plane: s.Plane, extent: s.Extent, luminaires: s.Luminaires, racks: s.Racks, hanging: s.Hanging, outline: s.Outline,
		seesInto: func(Rect) bool { return false }, imperial: s.Imperial, whole: s.whole}
}

// foldings returns the ways to draw the plan in strips, which may be cut anywhere.
func (s Stations) foldings() []folding {
	return s.plan().foldings(func(_ bool, at float64) float64 { return at })
}

// strip returns the stations and what else there is in a part of the plan.
func (s Stations) strip(part Rect) Stations {
	p := s.plan().strip(part)
	s.Extent, s.whole, s.Luminaires, s.Racks, s.Hanging = part, p.whole, p.luminaires, p.racks, p.hanging
	if s.whole != (Rect{}) {
		s.Stations = slices.DeleteFunc(slices.Clone(s.Stations), func(at Station) bool { return !p.shows(contour.Point{X: at.X, Y: at.Y}) })
	}
	return s
}

// unnamed says which labels have no room.
func (s Stations) unnamed(views []view) string {
	var said []string
	for _, v := range views {
		if _, left := s.strip(v.extent).labels(v); left != "" && !slices.Contains(said, left) {
			said = append(said, left)
		}
	}
	return strings.Join(said, " ")
}

// kinds returns the kinds in the order in which they first occur, and how many stations are of each.
func (s Stations) kinds() (kinds []string, counts map[string]int) {
	counts = map[string]int{}
	for _, at := range s.Stations {
		if counts[at.Kind] == 0 {
			kinds = append(kinds, at.Kind)
		}
		counts[at.Kind]++
	}
	return kinds, counts
}

// glyph returns the mark of a station.
func (s Stations) glyph(at Station, kinds []string) stationGlyph {
	if !s.Deviations {
		return kindGlyphs[slices.Index(kinds, at.Kind)%len(kindGlyphs)]
	}
	switch d := rounded(at.Deviation); {
	case !photometry.Finite(d):
		return crossGlyph
	case d > 0:
		return upGlyph
	case d < 0:
		return downGlyph
	}
	return discGlyph
}

// rounded returns a deviation as it is shown, percent.
func rounded(deviation float64) float64 { return math.Round(100 * deviation) }

// deviations returns what can be shown, percent.
func (s Stations) deviations() []float64 {
	var all []float64
	for _, at := range s.Stations {
		if photometry.Finite(at.Deviation) {
			all = append(all, 100*at.Deviation)
		}
	}
	return all
}

// scale gives the deviations their colours.
func (s Stations) scale() scale {
	low, high := 0.0, 0.0
	for _, d := range s.deviations() {
		low, high = math.Min(low, d), math.Max(high, d)
	}
	levels := cover(low, high)
	n := len(levels) - 1
	losses := min(sort.Search(len(levels), func(i int) bool { return levels[i] >= 0 }), n)
	return scale{name: "Measured less predicted", unit: "%", levels: levels, colours: palette.Change(losses, n-losses), change: true}
}

// colour returns the colour of a mark.
func (s Stations) colour(at Station, bands scale) color.Color {
	if !s.Deviations || !photometry.Finite(at.Deviation) {
		return pen.Ink
	}
	i := sort.SearchFloat64s(bands.levels, 100*at.Deviation) - 1
	return bands.colours[min(max(i, 0), len(bands.colours)-1)]
}

// texts returns what is written around the plan; left says which labels had no room.
func (s Stations) texts(width vg.Length, left string) chart.Texts {
	notes := s.sentences()
	if left != "" {
		notes = append(notes, left)
	}
	t := chart.NewTexts(width, s.Title, s.Subtitle, s.Caption, s.samples(), notes...)
	if s.NorthDeg != nil {
		t.Header = chart.Headline(s.Title, s.Subtitle, width-northSize-16)
		t.Least = northSize + 4
	}
	return t
}

// samples are the marks that occur.
func (s Stations) samples() []chart.Sample {
	var samples []chart.Sample
	add := func(g stationGlyph, r vg.Length, text string) {
		samples = append(samples, chart.Sample{Width: 2 * signRadius, Text: text, Draw: func(c vg.Canvas, m vg.Point) { g.draw(c, m, r, pen.Ink) }})
	}
	kinds, counts := s.kinds()
	if s.Deviations {
		seen := map[stationGlyph]bool{}
		ringed := false
		for _, at := range s.Stations {
			seen[s.glyph(at, kinds)] = true
			ringed = ringed || at.Outlier
		}
		for _, k := range []struct {
			glyph stationGlyph
			text  string
		}{{upGlyph, "more light than predicted"}, {downGlyph, "less"}, {discGlyph, "as predicted"}, {crossGlyph, "no reading"}} {
			if seen[k.glyph] {
				add(k.glyph, signRadius, k.text)
			}
		}
		if ringed {
			ring := func(c vg.Canvas, m vg.Point) { drawRing(c, m, 0.8*ringRadius) }
			samples = append(samples, chart.Sample{Width: 2 * ringRadius, Text: "outlier", Draw: ring})
		}
	} else {
		for i, k := range kinds {
			text := "station"
			if k != "" {
				text = k
			}
			add(kindGlyphs[i%len(kindGlyphs)], stationRadius, fmt.Sprintf("%s (%d)", text, counts[k]))
		}
	}
	for _, n := range keys(Map{Luminaires: s.Luminaires, Racks: s.Racks, Hanging: s.Hanging}) {
		mark := func(c vg.Canvas, m vg.Point) { drawGlyph(c, n.glyph, m) }
		samples = append(samples, chart.Sample{Width: 1.8 * glyphSize, Text: strings.ToLower(n.text), Draw: mark})
	}
	return samples
}

func drawRing(c vg.Canvas, at vg.Point, radius vg.Length) {
	pen.Outline(c, pen.White, 2.6, pen.Circle(at, radius)...)
	pen.Outline(c, pen.Ink, 1.1, pen.Circle(at, radius)...)
}

// sentences give the mean deviation, the ends and the outliers.
func (s Stations) sentences() []string {
	if len(s.Stations) == 0 {
		return []string{"No stations."}
	}
	if !s.Deviations {
		return nil
	}
	deviations := s.deviations()
	if len(deviations) == 0 {
		return []string{"No readings."}
	}
	sum := 0.0
	low, high := -1, -1
	var outliers []string
	for i, at := range s.Stations {
		if at.Outlier {
			outliers = append(outliers, at.Name)
		}
		if !photometry.Finite(at.Deviation) {
			continue
		}
		sum += 100 * at.Deviation
		if low < 0 || at.Deviation < s.Stations[low].Deviation {
			low = i
		}
		if high < 0 || at.Deviation > s.Stations[high].Deviation {
			high = i
		}
	}
	end := func(i int) string {
		return fmt.Sprintf("%s %% at station %s", number.SignedExact(rounded(s.Stations[i].Deviation)), s.Stations[i].Name)
	}
	sentences := []string{fmt.Sprintf("Mean of the deviations %s %%; lowest %s, highest %s.",
		number.SignedReading(sum/float64(len(deviations))), end(low), end(high))}
	if len(outliers) > 0 {
		sentences = append(sentences, "Outliers: "+strings.Join(outliers, ", ")+".")
	}
	return sentences
}

// keyHeight is the height of the row with the scale bar and the colours.
func (s Stations) keyHeight() vg.Length {
	if s.coloured() {
		return chart.PartGap + s.scale().height()
	}
	return chart.PartGap + s.scale().height() - pen.LineHeight(pen.Small) // the scale bar alone
}

// coloured tells whether there are colours to explain.
func (s Stations) coloured() bool { return s.Deviations && len(s.deviations()) > 0 }

// Height returns the height at which the plan takes the whole width, unless it is taller than broad.
func (s Stations) Height(width vg.Length) vg.Length {
	s = s.resolved()
	width -= 2 * pen.Margin
	a := s.plan().axes()
	f, scale := best(s.foldings(), a.remaining(width), max(tallestPlan*width, narrowestPlan))
	_, white := f.size(scale)
	return s.texts(width, s.unnamed(f.views(scale, 0, white))).Height() + white + a.bottom + s.keyHeight() + 2*pen.Margin
}

// LeastHeight leaves the plan leastShare of what it is at the figure's own height, or less where that leaves more labels without room.
func (s Stations) LeastHeight(width vg.Length) vg.Length {
	s = s.resolved()
	inner := width - 2*pen.Margin
	f, scale := best(s.foldings(), s.plan().axes().remaining(inner), max(tallestPlan*inner, narrowestPlan))
	_, white := f.size(scale)
	return s.Height(width) - (1-leastShare)*white
}

// Draw draws the plan into the whole of the canvas.
func (s Stations) Draw(c draw.Canvas) {
	s = s.resolved()
	c = pen.Inset(pen.AtLeast(c, s.LeastHeight(c.Max.X-c.Min.X)))
	width := c.Max.X - c.Min.X
	a := s.plan().axes()
	var t chart.Texts
	var views []view
	var up vg.Length
	left := ""
	for range 2 { // which labels have room depends on the plan, and the plan on the note about those that have none
		t = s.texts(width, left)
		room := vg.Rectangle{Min: vg.Point{X: c.Min.X + a.left, Y: c.Min.Y + t.Below() + s.keyHeight() + a.bottom},
			Max: vg.Point{X: c.Min.X + a.left + a.remaining(width), Y: c.Max.Y - t.Above()}}
		f, scale := best(s.foldings(), room.Size().X, room.Size().Y)
		var across vg.Length
		across, up = f.size(scale)
		views = f.views(scale, room.Min.X+(room.Size().X-across)/2, room.Max.Y)
		left = s.unnamed(views)
	}
	t = s.texts(width, left)
	room := c.Rectangle
	bottom := c.Max.Y - t.Above() - up - a.bottom
	room.Min.Y = bottom - s.keyHeight() - t.Below()
	t.Draw(c, room)
	if s.NorthDeg != nil {
		drawNorth(c, vg.Point{X: c.Max.X - northSize/2, Y: c.Max.Y - northSize/2}, *s.NorthDeg)
	}
	kinds, _ := s.kinds()
	for i, v := range views {
		s.strip(v.extent).drawPlan(c, v, s.scale(), kinds)
		s.plan().strip(v.extent).stripAxes(i, len(views)).fitted(v).draw(c, v)
	}
	y := bottom - chart.PartGap
	bar := s.plan().scaleBar(views[0])
	if s.coloured() {
		bar.draw(c, c.Max.X-bar.length-0.5, y)
		s.scale().draw(c, c.Min.X, y, width-bar.length-barGap)
	} else {
		bar.draw(c, c.Min.X+0.5, y+pen.LineHeight(pen.Small))
	}
}

// drawPlan draws racks, luminaires, marks and labels; bands and kinds are those of all strips.
func (s Stations) drawPlan(c draw.Canvas, v view, bands scale, kinds []string) {
	s.plan().drawRacks(c, v)
	s.plan().drawLuminaires(c, v)
	radius := s.radius()
	for _, at := range s.Stations {
		p := v.at(contour.Point{X: at.X, Y: at.Y})
		if s.Deviations && at.Outlier {
			drawRing(c, p, ringRadius)
		}
		if at.sight != nil {
			drawSight(c, p, *at.sight)
		}
		s.glyph(at, kinds).draw(c, p, radius, s.colour(at, bands))
	}
	s.plan().drawWalls(c, v)
	labels, _ := s.labels(v)
	for _, l := range labels {
		if l.lead != nil {
			pen.Stroke(c, pen.White, 2, nil, l.lead...)
			pen.Stroke(c, pen.Ink, pen.Thin, nil, l.lead...)
		}
	}
	for _, l := range labels {
		pen.Fill(c, pen.White, l.box.Grown(0.5).Corners()...)
	}
	for _, l := range labels {
		pen.Write(c, pen.Tiny, pen.Ink, vg.Point{X: l.box.Centre.X, Y: l.box.Centre.Y - l.box.Height/2}, pen.Centre, l.text)
	}
}

func (s Stations) radius() vg.Length {
	if s.Deviations {
		return signRadius
	}
	return stationRadius
}

// Describe counts the stations of each kind, or gives the deviations.
func (s Stations) Describe() string {
	s = s.resolved()
	if s.Deviations {
		return opening("Plan", s.Title, "readings against prediction") + " " + strings.Join(s.sentences(), " ")
	}
	kinds, counts := s.kinds()
	var parts []string
	for _, k := range kinds {
		if k != "" {
			parts = append(parts, fmt.Sprintf("%d %s", counts[k], k))
		}
	}
	of := ""
	if len(parts) > 0 {
		of = ": " + strings.Join(parts, ", ")
	}
	return fmt.Sprintf("%s %d stations%s.", opening("Plan", s.Title, "where to measure"), len(s.Stations), of)
}
