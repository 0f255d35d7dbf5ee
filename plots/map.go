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

	"lampswap/photometry/room"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/contour"
	"lampswap/plots/internal/palette"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// A Rect is an upright rectangle in the plane of a map, m.
type Rect struct{ X0, Y0, X1, Y1 float64 }

// A Mark is a luminaire on a plan. A housing is drawn to scale and turned with its lamps; one that is nearly square has a line along them.
type Mark struct {
	X, Y     float64 // middle of the housing, m
	Length   float64 // along the lamps, m; 0 draws a dot
	Width    float64 // m
	Rotation float64 // of the lamp axis, counter-clockwise from +x, rad
	Failed   bool    // gives no light: crossed out
	Sided    bool    // sends its light to one side of the lamps: a point on the housing shows towards its 90-degree plane
}

// A Map shows illuminance over a plan or a rack face as bands of colour between round levels, with the lines between them labelled.
type Map struct {
	Title    string
	Subtitle string
	Caption  string // below the statistics, which the map writes itself
	Quantity string // name of the colour scale; "" is "Illuminance", or "Change of illuminance"

	Plane  room.Plane // a vertical one has distance along its line across, and height upward
	X, Y   []float64  // positions of the columns and rows of the grid, m, ascending
	Values []float64  // lx, row by row from Y[0]; NaN is no point. With Change: proposed less existing
	Extent Rect       // room or face, m; all 0 is half a cell beyond the grid

	Luminaires []Mark
	Racks      []Rect       // seen from above. White and hatched where the grid has no points inside, only hatched where it has
	Hanging    []Rect       // boxes that do not stand on the floor: dashed
	Outline    room.Outline // walls of a room that is no rectangle; nil where all of the extent is in the room
	NorthDeg   *float64     // azimuth of true north in the plan, degrees counter-clockwise from +x; nil draws no arrow

	Imperial bool      // ft and fc on the white, else m and lx
	Levels   []float64 // limits of the bands, ascending, in the units of the paper; nil chooses by Levels or ChangeLevels
	Required float64   // lx; its line is bold, and what lies below it hatched; 0 is none, as with Change
	Of       string    // of which statistic that is required, such as "the average": points may well lie below it then
	Words    Words     // in another language
	Change   bool      // values are differences: colours diverge from 0, labels bear signs, lines of loss are dashed

	summary room.Statistics // of the values, in the units of the paper: resolved works it out, which what is drawn asks for many times
}

// NewMap returns a map of values, lx, on a grid.
func NewMap(grid room.Grid, values []float64) Map {
	x, y := grid.Coordinates()
	return Map{Plane: grid.Plane, X: x, Y: y, Values: values, Extent: Rect{
		x[0] - grid.StepX/2, y[0] - grid.StepY/2, x[len(x)-1] + grid.StepX/2, y[len(y)-1] + grid.StepY/2}}
}

// Difference returns after less before, point by point, lx: the values of a map with Change. It panics if the lengths differ.
func Difference(before, after []float64) []float64 {
	if len(before) != len(after) {
		panic("plots: grids of different size have no difference")
	}
	change := make([]float64, len(after))
	for i := range change {
		change[i] = after[i] - before[i]
	}
	return change
}

// resolved checks the map's shape and fills in what was left to it.
func (m Map) resolved() Map {
	if len(m.X) == 0 || len(m.Y) == 0 || len(m.Values) != len(m.X)*len(m.Y) {
		panic("plots: a map's values do not match its columns and rows")
	}
	for _, v := range m.Values {
		if math.IsInf(v, 0) {
			panic("plots: a map's value is infinite")
		}
	}
	if m.Extent == (Rect{}) {
		m.Extent.X0, m.Extent.X1 = beyond(m.X)
		m.Extent.Y0, m.Extent.Y1 = beyond(m.Y)
	}
	if !(m.Extent.X1 > m.Extent.X0 && m.Extent.Y1 > m.Extent.Y0) {
		panic("plots: a map has no extent")
	}
	switch {
	case m.Levels == nil && m.Change:
		m.Levels = ChangeLevels(m.Imperial, m.Values)
	case m.Levels == nil:
		m.Levels = Levels(m.Imperial, m.Values)
	}
	if m.Quantity == "" {
		m.Quantity = m.Words.of("Illuminance")
		if m.Change {
			m.Quantity = "Change of illuminance"
		}
	}
	m.summary = m.statistics()
	return m
}

func beyond(at []float64) (low, high float64) {
	n := len(at)
	if n == 1 {
		return at[0] - 0.5, at[0] + 0.5
	}
	return at[0] - (at[1]-at[0])/2, at[n-1] + (at[n-1]-at[n-2])/2
}

// tickLength is how long the ticks of axes are, pt.
const tickLength vg.Length = 2.5

// tallestPlan is how tall a plan may be, as a share of its width: a figure's own height stays on a page.
const tallestPlan = 1.15

// leastShare is how much smaller than at its own height what a figure shows may be drawn.
const leastShare = 0.6

// A layout is where the parts of a figure with one map go.
type layout struct {
	header []pen.Block
	axes   axes
	notes  []note
	below  vg.Length // height of all that is below the axes
	footer pen.Block
}

func (m Map) layout(width vg.Length) layout {
	l := layout{axes: m.plan().axes(), notes: m.notes(), footer: pen.NewBlock(pen.Small, pen.Soft, m.Caption, width)}
	header := width
	if m.NorthDeg != nil {
		header -= northSize + 16 // with its letter
	}
	l.header = chart.Headline(m.Title, m.Subtitle, header)
	l.below = chart.PartGap + m.scale().height() + chart.PartGap + notesHeight(l.notes, width)
	if len(l.footer.Lines) > 0 {
		l.below += 2 + l.footer.Height()
	}
	return l
}

func (l layout) headerHeight() vg.Length {
	if h := l.header[0].Height() + l.header[1].Height(); h > 0 {
		return h + chart.PartGap - 2
	}
	return 4
}

// Height returns the height at which the plan takes the whole width, unless it is taller than broad.
func (m Map) Height(width vg.Length) vg.Length {
	m = m.resolved()
	width -= 2 * pen.Margin
	l := m.layout(width)
	f, scale := best(m.foldings(), l.axes.remaining(width), max(tallestPlan*width, narrowestPlan))
	_, plan := f.size(scale)
	return l.headerHeight() + plan + l.axes.bottom + l.below + 2*pen.Margin
}

// LeastHeight leaves the plan leastShare of what it is at the map's own height.
func (m Map) LeastHeight(width vg.Length) vg.Length {
	l := m.resolved().layout(width - 2*pen.Margin)
	fixed := l.headerHeight() + l.axes.bottom + l.below + 2*pen.Margin
	return fixed + leastShare*(m.Height(width)-fixed)
}

// Draw draws the map into the whole of the canvas: title, plan with axes, colour scale, statistics, caption.
func (m Map) Draw(c draw.Canvas) {
	m = m.resolved()
	c = pen.Inset(pen.AtLeast(c, m.LeastHeight(c.Max.X-c.Min.X)))
	width, x, y := c.Max.X-c.Min.X, c.Min.X, c.Max.Y
	l := m.layout(width)
	for _, b := range l.header {
		y -= b.Draw(c, x, y)
	}
	y = c.Max.Y - l.headerHeight()
	room := l.axes.remaining(width)
	f, pt := best(m.foldings(), room, y-c.Min.Y-l.below-l.axes.bottom)
	across, up := f.size(pt)
	views := f.views(pt, x+l.axes.left+(room-across)/2, y)
	m.drawPlan(c, views)
	if m.NorthDeg != nil {
		drawNorth(c, vg.Point{X: c.Max.X - northSize/2, Y: c.Max.Y - northSize/2}, *m.NorthDeg)
	}
	y -= up + l.axes.bottom + chart.PartGap
	scale := m.scale()
	bar := m.plan().scaleBar(views[0])
	bar.draw(c, c.Max.X-bar.length-0.5, y)
	scale.draw(c, x, y, width-bar.length-barGap)
	y -= scale.height() + chart.PartGap
	y -= drawNotes(c, l.notes, x, y, width)
	l.footer.Draw(c, x, y-2)
}

// Describe says what the map shows and its statistics.
func (m Map) Describe() string {
	m = m.resolved()
	title := m.Title
	if title == "" {
		title = m.Quantity
	}
	said := make([]string, 0, 3)
	for _, n := range m.statisticsNotes() {
		said = append(said, strings.ToLower(n.text[:1])+n.text[1:])
	}
	described := fmt.Sprintf(m.Words.of("Map: %s. %s: %s."), title, m.Quantity, strings.Join(said, ", "))
	if m.Caption != "" {
		described += " " + m.Caption
	}
	return described
}

// shown returns the values in the units of the paper.
func (m Map) shown() []float64 {
	values, size := make([]float64, len(m.Values)), illuminanceUnit(m.Imperial).size
	for i, v := range m.Values {
		values[i] = v / size
	}
	return values
}

func (m Map) statistics() room.Statistics { return room.Summarize(m.shown()) }

// plan returns the place that the map shows.
func (m Map) plan() plan {
	return plan{plane: m.Plane, extent: m.Extent, luminaires: m.Luminaires, racks: m.Racks, hanging: m.Hanging, outline: m.Outline,
		seesInto: m.seesInto, imperial: m.Imperial, words: m.Words}
}

// foldings returns the ways to draw the map in strips, cut between cells.
func (m Map) foldings() []folding {
	return m.plan().foldings(func(upright bool, at float64) float64 {
		centres := m.X
		if upright {
			centres = m.Y
		}
		i := sort.SearchFloat64s(centres, at) // the edge between this and the one before is the nearest
		if i == 0 || i == len(centres) {
			return at
		}
		return (centres[i-1] + centres[i]) / 2
	})
}

func (m Map) seesInto(r Rect) bool {
	for i, v := range m.Values {
		x, y := m.X[i%len(m.X)], m.Y[i/len(m.X)]
		if !math.IsNaN(v) && x > r.X0 && x < r.X1 && y > r.Y0 && y < r.Y1 {
			return true
		}
	}
	return false
}

// An extreme is the place of the least or the greatest value.
type extreme struct {
	glyph glyph
	at    contour.Point
	ok    bool
}

// extremes returns the first places of the least and the greatest value. Values that differ by rounding count as equal, so that the
// same one of several mirrored places is marked on every machine.
func (m Map) extremes() (least, most extreme) {
	least.glyph, most.glyph = minimumGlyph, maximumGlyph
	s := room.Summarize(m.Values)
	if s.Points == 0 {
		return least, most
	}
	slack := 1e-9 * math.Max(math.Abs(s.Minimum), math.Abs(s.Maximum))
	if s.Maximum-s.Minimum <= slack {
		return least, most
	}
	for i, v := range m.Values {
		at := contour.Point{X: m.X[i%len(m.X)], Y: m.Y[i/len(m.X)]}
		if !least.ok && v <= s.Minimum+slack {
			least.at, least.ok = at, true
		}
		if !most.ok && v >= s.Maximum-slack {
			most.at, most.ok = at, true
		}
	}
	return least, most
}

// marks returns those of the extremes that lie in what the plan shows.
func (m Map) marks(p plan) []extreme {
	least, most := m.extremes()
	return slices.DeleteFunc([]extreme{least, most}, func(e extreme) bool { return !e.ok || !p.shows(e.at) })
}

// drawPlan draws what is inside the frames, strip by strip, and the frames with their axes.
func (m Map) drawPlan(c draw.Canvas, views []view) {
	all := contour.New(m.X, m.Y, m.shown(), contour.Rect(m.Extent), m.plan().opaque(), m.parts(views[0]))
	for i, v := range views {
		p := m.plan().strip(v.extent)
		m.drawStrip(c, v, p, all.Part(contour.Rect(v.extent)))
		p.stripAxes(i, len(views)).fitted(v).draw(c, v)
	}
}

// drawStrip draws a part of the map: bands, lines and their labels, and what stands and hangs there.
func (m Map) drawStrip(c draw.Canvas, v view, p plan, f contour.Surface) {
	scale := m.scale()
	marks := m.marks(p)
	l := place.Labeller{Frame: v.frame, Font: pen.Tiny, Gap: 2.4, Taken: p.obstacles(v, marks...)}
	if m.Change {
		l.Font, l.Gap = pen.TinyBold, 4
	}
	required, asked := m.required()
	l.Tracks = scale.drawBands(c, v, f)
	if asked {
		l.Tracks, l.Foremost = m.drawBelow(c, v, f, scale, l.Tracks), requiredBand
	}
	l.Place(func(band int) string {
		if band == requiredBand {
			return scale.label(required)
		}
		return scale.label(scale.levels[band])
	})
	scale.drawLines(c, l.Tracks, required)
	p.drawRacks(c, v)
	for _, t := range l.Labels {
		pen.WriteTurned(c, l.Font, scale.inkOf(t.Band, required), t.Box.Centre, t.Box.Angle, t.Text)
	}
	p.drawLuminaires(c, v)
	for _, e := range marks {
		drawGlyph(c, e.glyph, v.within(e.at))
	}
	if m.sparse() {
		m.drawValues(c, v, l)
	}
	p.drawWalls(c, v)
}

// parts returns into how many parts to cut a cell for contours that look round on the white: no longer than 2.5 pt, if that is not
// more than what can be drawn in a moment.
func (m Map) parts(v view) int {
	const longest, mostParts, mostQuads = 2.5, 16, 400_000
	nx, ny := len(m.X), len(m.Y)
	cell := math.Max((m.Extent.X1-m.Extent.X0)/float64(nx), (m.Extent.Y1-m.Extent.Y0)/float64(ny)) * float64(v.scale)
	half := int(math.Ceil(cell / 2 / longest))
	for half > 1 && 4*half*half*nx*ny > mostQuads {
		half--
	}
	return 2 * max(1, min(half, mostParts/2))
}

// drawBands paints the bands over each other, each on top of the one below it in light, so that no seam can open between them. It
// returns the lines that bound them.
func (s scale) drawBands(c vg.Canvas, v view, f contour.Surface) []*place.Track {
	tolerance := 0.04 / float64(v.scale) // 0.04 pt cannot be seen
	var tracks []*place.Track
	for i, colour := range s.colours {
		level := math.Inf(-1) // the lowest band is the whole map
		if i > 0 {
			level = s.levels[i]
		}
		r := f.Above(level)
		var path vg.Path
		for _, points := range r.Outlines(tolerance) {
			path = append(path, pen.Polygon(v.all(points), true)...)
		}
		if len(path) == 0 {
			continue
		}
		c.SetColor(colour)
		c.Fill(path)
		if i == 0 {
			continue
		}
		for _, l := range r.Lines(tolerance) {
			tracks = append(tracks, place.NewTrack(v.all(l.Points), l.Closed, i))
		}
	}
	return tracks
}

func (s scale) drawLines(c vg.Canvas, tracks []*place.Track, required float64) {
	for _, t := range tracks {
		if t.Band == requiredBand {
			for _, piece := range t.Pieces() {
				pen.Stroke(c, s.inkOf(t.Band, required), requiredWidth, nil, piece...)
			}
			continue
		}
		width, dashes := pen.Thin, []vg.Length(nil)
		switch level := s.levels[t.Band]; {
		case s.change && level == 0:
			width = 2 * pen.Thin
		case s.change && level < 0:
			dashes = []vg.Length{3, 1.6}
		}
		for _, piece := range t.Pieces() {
			pen.Stroke(c, s.inkAt(t.Band), width, dashes, piece...)
		}
	}
}

// inkAt returns the ink of the line below a band, and of its label.
func (s scale) inkAt(band int) color.NRGBA { return palette.InkOn(s.colours[band-1], s.colours[band]) }
