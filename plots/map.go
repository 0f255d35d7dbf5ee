package plots

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry/room"
	"lampswap/plots/internal/contour"
)

// A Rect is an upright rectangle in the plane of a map, m.
type Rect struct{ X0, Y0, X1, Y1 float64 }

// A Mark is a luminaire on a plan: the middle of its housing, its length along the lamps and its width, m, and how its lamp axis is
// turned counter-clockwise from +x, rad. Without a length it is drawn as a dot.
type Mark struct{ X, Y, Length, Width, Rotation float64 }

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
	Racks      []Rect // seen from above. White and hatched where the grid has no points inside, only hatched where it has
	NorthDeg   *float64

	Imperial bool      // ft and fc on the white, else m and lx
	Levels   []float64 // limits of the bands, ascending, in the units of the paper; nil chooses by Levels or ChangeLevels
	Change   bool      // values are differences: colours diverge from 0, labels bear signs, lines of loss are dashed
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
		m.Quantity = "Illuminance"
		if m.Change {
			m.Quantity = "Change of illuminance"
		}
	}
	return m
}

func beyond(at []float64) (low, high float64) {
	n := len(at)
	if n == 1 {
		return at[0] - 0.5, at[0] + 0.5
	}
	return at[0] - (at[1]-at[0])/2, at[n-1] + (at[n-1]-at[n-2])/2
}

// Room left around and between the parts of a map, pt.
const (
	tickLength  vg.Length = 2.5
	partGap     vg.Length = 7
	tallestPlan           = 1.15 // of the width: a figure's own height stays on a page
)

// A layout is where the parts of a figure with one map go.
type layout struct {
	header []block
	axes   axes
	notes  []note
	below  vg.Length // height of all that is below the axes
	footer block
}

func (m Map) layout(width vg.Length) layout {
	l := layout{axes: m.axes(), notes: m.notes(), footer: newBlock(smallFont, soft, m.Caption, width)}
	headline := width
	if m.NorthDeg != nil {
		headline -= northSize + 16 // with its letter
	}
	l.header = []block{newBlock(titleFont, ink, m.Title, headline), newBlock(textFont, soft, m.Subtitle, headline)}
	l.below = partGap + m.scale().height() + partGap + notesHeight(l.notes, width)
	if len(l.footer.lines) > 0 {
		l.below += 2 + l.footer.height()
	}
	return l
}

func (l layout) headerHeight() vg.Length {
	if h := l.header[0].height() + l.header[1].height(); h > 0 {
		return h + partGap - 2
	}
	return 4
}

// Height returns the height at which the plan takes the whole width, unless it is taller than broad.
func (m Map) Height(width vg.Length) vg.Length {
	m = m.resolved()
	width -= 2 * margin
	l := m.layout(width)
	e := m.Extent
	plan := (width - l.axes.left - l.axes.right) * vg.Length((e.Y1-e.Y0)/(e.X1-e.X0))
	return l.headerHeight() + min(plan, tallestPlan*width) + l.axes.bottom + l.below + 2*margin
}

// Draw draws the map into the whole of the canvas: title, plan with axes, colour scale, statistics, caption.
func (m Map) Draw(c draw.Canvas) {
	m = m.resolved()
	c = inset(c)
	width, x, y := c.Max.X-c.Min.X, c.Min.X, c.Max.Y
	l := m.layout(width)
	for _, b := range l.header {
		y -= b.draw(c, x, y)
	}
	y = c.Max.Y - l.headerHeight()
	room := vg.Rectangle{Min: vg.Point{X: x + l.axes.left, Y: c.Min.Y + l.below + l.axes.bottom}, Max: vg.Point{X: c.Max.X - l.axes.right, Y: y}}
	v := m.fit(room)
	m.drawPlan(c, v, l.axes.fitted(v))
	if m.NorthDeg != nil {
		drawNorth(c, vg.Point{X: c.Max.X - northSize/2, Y: c.Max.Y - northSize/2}, *m.NorthDeg)
	}
	y = v.frame.Min.Y - l.axes.bottom - partGap
	scale := m.scale()
	bar := m.scaleBar(v)
	bar.draw(c, c.Max.X-bar.length-0.5, y)
	scale.draw(c, x, y, width-bar.length-barGap)
	y -= scale.height() + partGap
	y -= drawNotes(c, l.notes, x, y, width)
	l.footer.draw(c, x, y-2)
}

// Describe says what the map shows and its statistics.
func (m Map) Describe() string {
	m = m.resolved()
	s, u := m.statistics(), illuminanceUnit(m.Imperial).name
	title := m.Title
	if title == "" {
		title = m.Quantity
	}
	if s.Points == 0 {
		return fmt.Sprintf("Map: %s. No points.", title)
	}
	number := m.number()
	return fmt.Sprintf("Map: %s. %s: average %s, minimum %s, maximum %s %s.", title, m.Quantity,
		number(s.Average), number(s.Minimum), number(s.Maximum), u)
}

func (m Map) number() func(float64) string {
	if m.Change {
		return signedReading
	}
	return reading
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

// A view maps the plane to the white, alike in both directions.
type view struct {
	extent Rect
	frame  vg.Rectangle
	scale  vg.Length // pt a metre
}

// fit returns the largest view of the extent that fits the room, at its top and in the middle across.
func (m Map) fit(room vg.Rectangle) view {
	e := m.Extent
	w, h := vg.Length(e.X1-e.X0), vg.Length(e.Y1-e.Y0)
	size := room.Size()
	scale := max(min(size.X/w, size.Y/h), 0)
	v := view{extent: e, scale: scale}
	v.frame.Min = vg.Point{X: room.Min.X + (size.X-scale*w)/2, Y: room.Max.Y - scale*h}
	v.frame.Max = vg.Point{X: v.frame.Min.X + scale*w, Y: room.Max.Y}
	return v
}

func (v view) at(p contour.Point) vg.Point {
	return vg.Point{X: v.frame.Min.X + v.scale*vg.Length(p.X-v.extent.X0), Y: v.frame.Min.Y + v.scale*vg.Length(p.Y-v.extent.Y0)}
}

// within returns the place of a glyph: on the point, but inside the frame.
func (v view) within(p contour.Point) vg.Point {
	const room = glyphSize/2 + 1.5
	at := v.at(p)
	return vg.Point{X: max(min(at.X, v.frame.Max.X-room), v.frame.Min.X+room), Y: max(min(at.Y, v.frame.Max.Y-room), v.frame.Min.Y+room)}
}

func (v view) all(points []contour.Point) []vg.Point {
	onPaper := make([]vg.Point, len(points))
	for i, p := range points {
		onPaper[i] = v.at(p)
	}
	return onPaper
}

func (v view) rect(r Rect) vg.Rectangle {
	return vg.Rectangle{Min: v.at(contour.Point{X: r.X0, Y: r.Y0}), Max: v.at(contour.Point{X: r.X1, Y: r.Y1})}
}

// drawPlan draws what is inside the frame, and the frame with its axes.
func (m Map) drawPlan(c draw.Canvas, v view, a axes) {
	f := contour.New(m.X, m.Y, m.shown(), contour.Rect(m.Extent), m.opaqueRacks(), m.parts(v))
	scale := m.scale()
	least, most := m.extremes()
	l := labeller{frame: v.frame, font: contourFont, gap: 2.4, taken: m.obstacles(v, least, most)}
	if m.Change {
		l.font, l.gap = changeFont, 4
	}
	l.tracks = scale.drawBands(c, v, f)
	l.place(func(band int) string { return scale.label(scale.levels[band]) })
	scale.drawLines(c, l.tracks)
	m.drawRacks(c, v)
	for _, t := range l.labels {
		writeTurned(c, l.font, scale.inkAt(t.band), t.box.centre, t.box.angle, t.text)
	}
	m.drawLuminaires(c, v)
	for _, e := range []extreme{least, most} {
		if e.ok {
			drawGlyph(c, e.glyph, v.within(e.at))
		}
	}
	outline(c, ink, medium, corners(v.frame)...)
	a.draw(c, v)
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
func (s scale) drawBands(c vg.Canvas, v view, f contour.Surface) []*track {
	tolerance := 0.04 / float64(v.scale) // 0.04 pt cannot be seen
	var tracks []*track
	for i, colour := range s.colours {
		level := math.Inf(-1) // the lowest band is the whole map
		if i > 0 {
			level = s.levels[i]
		}
		r := f.Above(level)
		var path vg.Path
		for _, points := range r.Outlines(tolerance) {
			path = append(path, polygonPath(v.all(points), true)...)
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
			tracks = append(tracks, newTrack(v.all(l.Points), l.Closed, i))
		}
	}
	return tracks
}

func (s scale) drawLines(c vg.Canvas, tracks []*track) {
	for _, t := range tracks {
		width, dashes := thin, []vg.Length(nil)
		switch level := s.levels[t.band]; {
		case s.change && level == 0:
			width = 2 * thin
		case s.change && level < 0:
			dashes = []vg.Length{3, 1.6}
		}
		for _, piece := range t.pieces() {
			stroke(c, s.inkAt(t.band), width, dashes, piece...)
		}
	}
}

// inkAt returns the ink of the line below a band, and of its label.
func (s scale) inkAt(band int) color.NRGBA { return inkOn(s.colours[band-1], s.colours[band]) }
