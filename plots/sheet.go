package plots

import (
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/pen"
)

// A Sheet shows several maps of one place, such as existing, proposed and change, in one picture at one scale of length. Maps without
// Change share one colour scale, and so do those with: Levels that are nil are chosen for all of them together. The arrangement is
// the one that draws them largest. The title of each map names its panel.
type Sheet struct {
	Title, Subtitle, Caption string
	Maps                     []Map
}

// Room in a sheet, pt.
const (
	panelGap  vg.Length = 14
	sideWidth vg.Length = 112 // of the text beside a panel
	sideGap   vg.Length = 10
	titleGap  vg.Length = 3 // below the title of a panel

	leastPlan vg.Length = 60 // the longer side of a plan, where the width has room for it

	tallColumn = 6.5 * vg.Inch // a narrow sheet may be this high, however narrow
)

// resolved gives maps of a kind the same levels.
func (s Sheet) resolved() Sheet {
	if len(s.Maps) == 0 {
		panic("plots: a sheet has no maps")
	}
	var light, change [][]float64
	for _, m := range s.Maps {
		if m.Change {
			change = append(change, m.Values)
		} else {
			light = append(light, m.Values)
		}
	}
	maps := make([]Map, len(s.Maps))
	for i, m := range s.Maps {
		switch {
		case m.Levels == nil && m.Change:
			m.Levels = ChangeLevels(m.Imperial, change...)
		case m.Levels == nil:
			m.Levels = Levels(m.Imperial, light...)
		}
		maps[i] = m.resolved()
	}
	s.Maps = maps
	return s
}

// Panel is one of the maps by itself, on the colour scale that it shares with others of its kind.
func (s Sheet) Panel(i int) Map { return s.resolved().Maps[i] }

// scales returns the colour scales of the sheet, one for each kind of map.
func (s Sheet) scales() []scale {
	var scales []scale
	for _, m := range s.Maps {
		next := m.scale()
		known := false
		for i := range scales {
			if scales[i].change == next.change {
				known = true
				scales[i] = scales[i].with(next)
			}
		}
		if !known {
			scales = append(scales, next)
		}
	}
	return scales
}

// An arrangement is how the panels stand.
type arrangement struct {
	columns, rows int
	side          bool // each panel's text is beside it, not around it
	keyInGrid     bool // the colour scales take the last, empty place
	strips        int  // into how many the plans are cut at most
	folds         []folding
	header        []pen.Block
	footer        pen.Block
	axes          axes
	cell          vg.Length // width of a panel
	title         vg.Length // height of a panel's title
	texts         vg.Length // height of a panel without its plan
	below         vg.Length // height of what is below the panels
	scale         vg.Length // pt a metre
	widest        vg.Length // the scale at which the plans take all the width that they have
	planHeight    vg.Length
}

// arrange returns the arrangement that draws the panels largest in the room given.
func (s Sheet) arrange(width, height vg.Length) arrangement {
	var best arrangement
	for _, option := range s.options() {
		if a, ok := s.try(option, width, height); ok && a.betterThan(best) {
			best = a
		}
	}
	return best
}

// options are the arrangements there could be.
func (s Sheet) options() []arrangement {
	var all []arrangement
	strips := 1
	for _, m := range s.Maps {
		strips = max(strips, len(m.foldings()))
	}
	for n := 1; n <= strips; n++ {
		for columns := 1; columns <= len(s.Maps); columns++ {
			all = append(all, arrangement{columns: columns, strips: n}, arrangement{columns: columns, side: true, strips: n},
				arrangement{columns: columns, keyInGrid: true, strips: n})
		}
	}
	return all
}

// equalScale is how many times as large plans are that are as good as equal.
const equalScale = 1.02

// betterThan prefers larger plans, and of plans as good as equal the lower sheet.
func (a arrangement) betterThan(b arrangement) bool {
	return b.columns == 0 || a.scale > equalScale*b.scale || a.scale*equalScale > b.scale && a.height() < b.height()-1
}

// try works out an arrangement from its columns and options; ok is false if these cannot be had.
func (s Sheet) try(a arrangement, width, height vg.Length) (arrangement, bool) {
	n, columns := len(s.Maps), a.columns
	a.rows = (n + columns - 1) / columns
	ok := (columns == 1 || !a.side) && (!a.keyInGrid || columns > 1 && a.rows*columns > n)
	header := width
	if s.Maps[0].NorthDeg != nil {
		header -= northSize + 16
	}
	a.header = chart.Headline(s.Title, s.Subtitle, header)
	a.footer = pen.NewBlock(pen.Small, pen.Soft, s.Caption, width)
	a.cell = (width - panelGap*vg.Length(columns-1)) / vg.Length(columns)
	for i, m := range s.Maps {
		x := m.plan().axes()
		if i == 0 {
			a.axes = x
		}
		a.axes.left, a.axes.right = max(a.axes.left, x.left), max(a.axes.right, x.right)
		ways := m.foldings()
		a.folds = append(a.folds, ways[min(a.strips, len(ways))-1])
		a.title = max(a.title, pen.NewBlock(pen.Panel, pen.Ink, m.Title, a.cell).Height(), pen.LineHeight(pen.Panel))
		for _, n := range m.statisticsNotes() {
			ok = ok && (columns == 1 || n.width() <= a.cell)
		}
	}
	for _, m := range s.Maps {
		a.texts = max(a.texts, a.panelText(m))
	}
	a.texts += a.axes.bottom
	a.below = a.footer.Height() + chart.PartGap
	if !a.keyInGrid {
		a.below += s.keyHeight(width)
	}
	across := a.axes.remaining(a.cell)
	if a.side {
		across = a.axes.remaining(a.cell - sideWidth - sideGap)
	}
	upward := (height-a.headerHeight()-a.below-panelGap*vg.Length(a.rows-1))/vg.Length(a.rows) - a.texts
	a.widest, a.scale = vg.Length(math.Inf(1)), vg.Length(math.Inf(1))
	for _, f := range a.folds {
		a.widest, a.scale = min(a.widest, f.scale(across, vg.Length(math.Inf(1)))), min(a.scale, f.scale(across, upward))
	}
	a.planHeight = a.tallest(a.scale)
	for _, m := range s.Maps {
		ok = ok && (!a.side || sideHeight(m) <= a.planHeight+a.texts)
	}
	ok = ok && (!a.keyInGrid || a.title+titleGap+s.keyColumnHeight(a.cell) <= a.planHeight+a.texts)
	return a, ok
}

// tallest returns the height of the tallest plan at a scale.
func (a arrangement) tallest(scale vg.Length) vg.Length {
	var most vg.Length
	for _, f := range a.folds {
		_, up := f.size(scale)
		most = max(most, up)
	}
	return most
}

// sideHeight returns the height of the text beside a plan.
func sideHeight(m Map) vg.Length {
	return pen.NewBlock(pen.Panel, pen.Ink, m.Title, sideWidth).Height() + 4 + vg.Length(len(m.statisticsNotes()))*pen.LineHeight(pen.Small) +
		pen.NewBlock(pen.Small, pen.Soft, m.Caption, sideWidth).Height()
}

// keyColumnHeight returns the height of drawKeyColumn.
func (s Sheet) keyColumnHeight(width vg.Length) vg.Length {
	h := vg.Length(0)
	for _, scale := range s.scales() {
		h += scale.height() + 1.5*chart.PartGap
	}
	return h + notesHeight(keys(s.Maps...), width) + chart.PartGap + barHeight + 2.5 + pen.Small.Size
}

// panelText returns the height of the text above and below a plan; text beside it needs none.
func (a arrangement) panelText(m Map) vg.Length {
	if a.side {
		return 0
	}
	return a.title + titleGap + notesHeight(m.statisticsNotes(), a.cell) + pen.NewBlock(pen.Small, pen.Soft, m.Caption, a.cell).Height()
}

func (a arrangement) headerHeight() vg.Length {
	if h := a.header[0].Height() + a.header[1].Height(); h > 0 {
		return h + chart.PartGap
	}
	return 4
}

func (a arrangement) height() vg.Length {
	return a.headerHeight() + vg.Length(a.rows)*(a.texts+a.planHeight) + panelGap*vg.Length(a.rows-1) + a.below
}

// Height returns the height that the best arrangement fills.
func (s Sheet) Height(width vg.Length) vg.Length { return s.resolved().height(width) }

func (s Sheet) height(width vg.Length) vg.Length {
	own := s.arrange(width-2*pen.Margin, max(1.4*width, tallColumn)).height() + 2*pen.Margin
	return max(own, s.leastHeight(width)) // long texts may leave the plans no room
}

// LeastHeight returns the least height at which some arrangement draws the plans at leastShare of the scale of the sheet's own, and no
// smaller than leastPlan.
func (s Sheet) LeastHeight(width vg.Length) vg.Length { return s.resolved().leastHeight(width) }

func (s Sheet) leastHeight(width vg.Length) vg.Length {
	width -= 2 * pen.Margin
	var longest vg.Length
	for _, m := range s.Maps {
		longest = max(longest, vg.Length(m.Extent.X1-m.Extent.X0), vg.Length(m.Extent.Y1-m.Extent.Y0))
	}
	column, _ := s.try(arrangement{columns: 1, strips: 1}, width, vg.Length(math.Inf(1)))
	scale := max(leastShare*s.arrange(width, max(1.4*(width+2*pen.Margin), tallColumn)).scale, min(leastPlan/longest, column.widest))
	lowest := vg.Length(math.Inf(1))
	for _, option := range s.options() {
		a, _ := s.try(option, width, vg.Length(math.Inf(1)))
		if a.widest*equalScale < scale { // one as good as equal may be drawn in its place
			continue
		}
		a.planHeight = a.tallest(min(scale, a.widest))
		if height := a.height(); height < lowest {
			if _, ok := s.try(option, width, height); ok {
				lowest = height
			}
		}
	}
	return lowest + 2*pen.Margin
}

// HeightWithin returns the height that the best arrangement for a given height fills of it.
func (s Sheet) HeightWithin(width, most vg.Length) vg.Length {
	s = s.resolved()
	most = max(min(most, s.height(width)), s.leastHeight(width))
	return min(s.arrange(width-2*pen.Margin, most-2*pen.Margin).height()+2*pen.Margin, most)
}

// Draw draws the sheet into the whole of the canvas.
func (s Sheet) Draw(c draw.Canvas) {
	s = s.resolved()
	c = pen.Inset(pen.AtLeast(c, s.leastHeight(c.Max.X-c.Min.X)))
	size := c.Max.Sub(c.Min)
	a := s.arrange(size.X, size.Y)
	y := c.Max.Y
	for _, b := range a.header {
		y -= b.Draw(c, c.Min.X, y)
	}
	if north := s.Maps[0].NorthDeg; north != nil {
		drawNorth(c, vg.Point{X: c.Max.X - northSize/2, Y: c.Max.Y - northSize/2}, *north)
	}
	top := c.Max.Y - a.headerHeight()
	place := func(i int) (x, y vg.Length) {
		return c.Min.X + vg.Length(i%a.columns)*(a.cell+panelGap), top - vg.Length(i/a.columns)*(a.texts+a.planHeight+panelGap)
	}
	var v view
	for i, m := range s.Maps {
		x, y := place(i)
		v = s.drawPanel(c, m, a, a.folds[i], x, y)
	}
	if a.keyInGrid {
		x, y := place(len(s.Maps))
		s.drawKeyColumn(c, v, x, y-a.title-titleGap, a.cell)
	}
	_, y = place((a.rows - 1) * a.columns)
	y -= a.texts + a.planHeight + chart.PartGap
	if !a.keyInGrid {
		y -= s.drawKeyRow(c, v, c.Min.X, y, size.X)
	}
	a.footer.Draw(c, c.Min.X, y)
}

// drawPanel draws one map with its texts, its top left corner at x and top.
func (s Sheet) drawPanel(c draw.Canvas, m Map, a arrangement, f folding, x, top vg.Length) view {
	if !a.side {
		pen.NewBlock(pen.Panel, pen.Ink, m.Title, a.cell).Draw(c, x, top)
		top -= a.title + titleGap
	}
	views := f.views(a.scale, x+a.axes.left, top)
	m.drawPlan(c, views)
	across, up := f.size(a.scale)
	if a.side {
		x += a.axes.left + across + sideGap + a.axes.right - 5
		top -= pen.NewBlock(pen.Panel, pen.Ink, m.Title, sideWidth).Draw(c, x, top+pen.Panel.Size-pen.CapHeight(pen.Panel)) + 2
		for _, n := range m.statisticsNotes() {
			top -= drawNotes(c, []note{n}, x, top, sideWidth)
		}
		pen.NewBlock(pen.Small, pen.Soft, m.Caption, sideWidth).Draw(c, x, top-2)
		return views[0]
	}
	below := top - up - a.axes.bottom
	below -= drawNotes(c, m.statisticsNotes(), x, below, a.cell)
	pen.NewBlock(pen.Small, pen.Soft, m.Caption, a.cell).Draw(c, x, below)
	return views[0]
}

// keysStack tells whether the colour scales have no room beside each other and the scale of length.
func (s Sheet) keysStack(width vg.Length) bool {
	used := longestBar + barGap - panelGap
	for _, scale := range s.scales() {
		used += pen.Width(pen.Small, scale.title()) + panelGap
	}
	return used > width
}

// keyHeight returns the height of drawKeyRow.
func (s Sheet) keyHeight(width vg.Length) vg.Length {
	if s.keysStack(width) {
		return s.keyColumnHeight(width)
	}
	var h vg.Length
	for _, scale := range s.scales() {
		h = max(h, scale.height())
	}
	return h + chart.PartGap + notesHeight(keys(s.Maps...), width)
}

// drawKeyRow draws the colour scales beside each other, the scale of length, and the meaning of the marks; it returns their height.
func (s Sheet) drawKeyRow(c vg.Canvas, v view, x, top, width vg.Length) vg.Length {
	if s.keysStack(width) {
		s.drawKeyColumn(c, v, x, top, width)
		return s.keyHeight(width)
	}
	scales := s.scales()
	bar := s.Maps[0].plan().scaleBar(v)
	bar.draw(c, x+width-bar.length-0.5, top)
	each := (width - bar.length - barGap - panelGap*vg.Length(len(scales)-1)) / vg.Length(len(scales))
	for i, scale := range scales {
		scale.draw(c, x+vg.Length(i)*(each+panelGap), top, each)
	}
	drawNotes(c, keys(s.Maps...), x, top-s.keyHeight(width)+notesHeight(keys(s.Maps...), width)+chart.PartGap/2, width)
	return s.keyHeight(width)
}

// drawKeyColumn draws the same below each other.
func (s Sheet) drawKeyColumn(c vg.Canvas, v view, x, top, width vg.Length) {
	for _, scale := range s.scales() {
		scale.draw(c, x, top, width)
		top -= scale.height() + 1.5*chart.PartGap
	}
	top -= drawNotes(c, keys(s.Maps...), x, top, width) + chart.PartGap
	s.Maps[0].plan().scaleBar(v).draw(c, x+0.5, top+pen.LineHeight(pen.Small))
}

// Describe describes each map in turn.
func (s Sheet) Describe() string {
	var sentences []string
	for _, m := range s.Maps {
		sentences = append(sentences, m.Describe())
	}
	return strings.Join(sentences, " ")
}
