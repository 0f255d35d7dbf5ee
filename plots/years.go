package plots

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry"
	"lampswap/photometry/number"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// Years shows light through the years: the maintained illuminance of each system against time, with the levels that are asked for, and
// where each system first falls below one. The light axis begins at 0.
type Years struct {
	Title, Subtitle, Caption string
	Quantity                 string // name of the light; "" is "Maintained illuminance"
	Courses                  []Course
	Levels                   []Level
	Imperial                 bool // fc on the paper, else lx
}

// A Course is the light of one system over time. A year that is given twice is a step, such as a relamping. Between two points it runs
// straight; a value that is not finite breaks it.
type Course struct {
	Name    string
	Role    Role
	Years   []float64 // ascending
	Values  []float64 // lx
	Unknown string    // why its light is not known; it is not drawn then, and that is said
}

// last returns the last point that can be drawn.
func (c Course) last() (year, value float64, ok bool) {
	for i, v := range slices.Backward(c.Values) {
		if photometry.Finite(v, c.Years[i]) {
			return c.Years[i], v, true
		}
	}
	return 0, 0, false
}

// firstBelow returns when the course first falls below a level, lx; ok is false if it does not. A course that begins below does so at
// its first year.
func (c Course) firstBelow(level float64) (year float64, ok bool) {
	floor := level * (1 - 1e-9)
	before := -1
	for i, v := range c.Values {
		if !photometry.Finite(v, c.Years[i]) {
			before = -1
			continue
		}
		if v < floor {
			if before < 0 {
				return c.Years[i], true
			}
			share := (c.Values[before] - level) / (c.Values[before] - v)
			return c.Years[before] + math.Max(share, 0)*(c.Years[i]-c.Years[before]), true
		}
		before = i
	}
	return 0, false
}

// begins returns the first year that can be drawn.
func (c Course) begins() float64 {
	for i, y := range c.Years {
		if photometry.Finite(y, c.Values[i]) {
			return y
		}
	}
	return 0
}

// pieces returns the course on the paper, broken where a value is missing.
func (c Course) pieces(f chart.Frame, unit float64) [][]vg.Point {
	var pieces [][]vg.Point
	var piece []vg.Point
	for i, v := range c.Values {
		if photometry.Finite(v, c.Years[i]) {
			piece = append(piece, f.At(c.Years[i], v/unit))
			continue
		}
		pieces, piece = append(pieces, piece), nil
	}
	return append(pieces, piece)
}

// years formats a time as it is said.
func years(y float64) string {
	if y >= 0.05 {
		y = math.Round(y*10) / 10
	}
	if y == 1 {
		return "1 year"
	}
	return number.Short(y) + " years"
}

// resolved checks the courses and gives the light its name.
func (y Years) resolved() Years {
	for _, c := range y.Courses {
		if len(c.Years) != len(c.Values) {
			panic("plots: a course's years do not match its values")
		}
	}
	if y.Quantity == "" {
		y.Quantity = "Maintained illuminance"
	}
	y.Levels = finiteLevels(y.Levels)
	y.Courses = slices.Clone(y.Courses)
	for i := range y.Courses {
		if c := &y.Courses[i]; c.Unknown != "" {
			c.Years, c.Values = nil, nil
		}
	}
	return y
}

// sentences says of every course below which levels the light falls, and when.
func (y Years) sentences() []string {
	var sentences []string
	for _, c := range y.Courses {
		end, _, ok := c.last()
		name := pen.Clean(c.Name)
		if c.Unknown != "" {
			sentences = append(sentences, name+" is not known: "+pen.Clean(c.Unknown)+".")
			continue
		}
		if !ok {
			sentences = append(sentences, name+": no values.")
			continue
		}
		var clauses, kept []string
		for _, l := range y.Levels {
			switch year, below := c.firstBelow(l.Value); {
			case !below:
				kept = append(kept, l.amount(y.Imperial))
			case year <= c.begins():
				clauses = append(clauses, "is below "+l.amount(y.Imperial)+" from the start")
			default:
				clauses = append(clauses, "falls below "+l.amount(y.Imperial)+" after "+years(year))
			}
		}
		if len(kept) > 0 {
			kept := "does not fall below " + strings.Join(kept, " or ")
			if end > c.begins() {
				kept += " in the " + years(end-c.begins()) + " shown"
			}
			clauses = append(clauses, kept)
		}
		if len(clauses) > 0 {
			sentences = append(sentences, name+" "+listed(clauses)+".")
		}
	}
	if len(y.Courses) == 0 {
		return []string{"No values."}
	}
	return sentences
}

// listed joins clauses as they are said.
func listed(clauses []string) string {
	last := len(clauses) - 1
	if last == 0 {
		return clauses[0]
	}
	return strings.Join(clauses[:last], ", ") + " and " + clauses[last]
}

// axes returns the axes of time and of light.
func (y Years) axes() (across, up chart.Axis) {
	u := illuminanceUnit(y.Imperial)
	from, to, most := math.Inf(1), math.Inf(-1), 0.0
	for _, c := range y.Courses {
		for i, v := range c.Values {
			if photometry.Finite(v, c.Years[i]) {
				from, to, most = math.Min(from, c.Years[i]), math.Max(to, c.Years[i]), math.Max(most, v/u.size)
			}
		}
	}
	for _, l := range y.Levels {
		most = math.Max(most, l.Value/u.size*1.04) // room for its label
	}
	switch {
	case from > to: // no point
		from, to = 0, 1
	case from == to:
		from, to = math.Min(from, 0), from+1
	}
	if most == 0 {
		most = 1
	}
	across = chart.NewAxis("Years", from, to, 10).Tight(from, to)
	return across, chart.NewAxis(pen.Clean(y.Quantity)+" ("+u.name+")", 0, most, 6).Tight(0, 1.04*most)
}

// Room for the names at the ends of the curves: names longer than this are in a key below.
const (
	endGap       vg.Length = 6
	mostEndShare vg.Length = 0.3 // of the width
	mostEndLines           = 3
)

// Height of a chart of curves, pt.
const tallestChart, leastChart vg.Length = 320, 100

// ends returns the names of the courses to be written at their ends, and how wide they are; ok is false if they are too long for that.
func (y Years) ends(width vg.Length) (blocks []pen.Block, widest vg.Length, ok bool) {
	limit := mostEndShare * width
	for _, c := range y.Courses {
		for word := range strings.FieldsSeq(pen.Clean(c.Name)) {
			if pen.Width(pen.Small, word) > limit {
				return nil, 0, false
			}
		}
		b := pen.NewBlock(pen.Small, pen.Ink, c.Name, limit)
		if len(b.Lines) > mostEndLines {
			return nil, 0, false
		}
		for _, line := range b.Lines {
			widest = max(widest, pen.Width(pen.Small, line))
		}
		blocks = append(blocks, b)
	}
	return blocks, widest, true
}

// roles returns the roles in the order of the courses.
func (y Years) roles() []Role {
	roles := make([]Role, len(y.Courses))
	for i, c := range y.Courses {
		roles[i] = c.Role
	}
	return roles
}

func (y Years) texts(width vg.Length) chart.Texts {
	var samples []chart.Sample
	if _, _, direct := y.ends(width); !direct {
		for i, l := range lines(y.roles()) {
			samples = append(samples, chart.LineSample(l, y.Courses[i].Name))
		}
	}
	notes := append(y.sentences(), longNames(y.Levels, y.Imperial, width)...)
	return chart.NewTexts(width, y.Title, y.Subtitle, y.Caption, samples, notes...)
}

// chartHeight is the height of the frame of a chart of curves.
func chartHeight(width vg.Length) vg.Length { return min(max(0.46*width, leastChart), tallestChart) }

// Height returns the height at which the chart is about half as tall as broad.
func (y Years) Height(width vg.Length) vg.Length {
	y = y.resolved()
	width -= 2 * pen.Margin
	across, up := y.axes()
	return y.texts(width).Height() + chart.Around(across, up, width) + chartHeight(width) + 2*pen.Margin
}

// LeastHeight leaves the curves leastShare of their height.
func (y Years) LeastHeight(width vg.Length) vg.Length {
	return y.Height(width) - (1-leastShare)*chartHeight(width-2*pen.Margin)
}

// Draw draws the chart into the whole of the canvas.
func (y Years) Draw(c draw.Canvas) {
	y = y.resolved()
	c = pen.Inset(pen.AtLeast(c, y.LeastHeight(c.Max.X-c.Min.X)))
	width := c.Max.X - c.Min.X
	room := y.texts(width).Draw(c, c.Rectangle)
	across, up := y.axes()
	blocks, side, direct := y.ends(width)
	if direct && len(blocks) > 0 {
		room.Max.X -= side + endGap
	}
	f := chart.Fit(room, across, up)
	f.Draw(c)
	unit := illuminanceUnit(y.Imperial).size
	ground := &place.Ground{Frame: f.Rectangle}
	drawLevels(c, f, ground, y.Levels, unit)
	styles := lines(y.roles())
	for i, course := range y.Courses {
		for _, piece := range course.pieces(f, unit) {
			if len(piece) == 1 {
				pen.Fill(c, styles[i].Color, pen.Circle(piece[0], 2)...)
			}
			styles[i].Draw(c, piece...)
			ground.TakeLine(piece...)
		}
	}
	y.drawFalls(c, f, ground, unit)
	labelLevels(c, f, ground, y.Levels, y.Imperial, width)
	if direct {
		y.drawEnds(c, f, blocks, styles, unit)
	}
}

const fallRadius vg.Length = 2.6

// drawFalls rings the places where a course first falls below a level, with the year beside.
func (y Years) drawFalls(c vg.Canvas, f chart.Frame, g *place.Ground, unit float64) {
	type fall struct {
		at   vg.Point
		year float64
	}
	var falls []fall
	for _, course := range y.Courses {
		for _, l := range y.Levels {
			year, ok := course.firstBelow(l.Value)
			if !ok || year <= course.begins() {
				continue
			}
			at := f.At(year, l.Value/unit)
			falls = append(falls, fall{at, year})
			g.Take(place.Box{Centre: at, Width: 2*fallRadius + 1, Height: 2*fallRadius + 1})
		}
	}
	for _, l := range falls {
		pen.Fill(c, pen.White, pen.Circle(l.at, fallRadius)...)
		pen.Outline(c, pen.Ink, pen.Medium, pen.Circle(l.at, fallRadius)...)
		text := years(l.year)
		b, ok := g.Beside(l.at, fallRadius, pen.Width(pen.Small, text), pen.CapHeight(pen.Small), 20)
		if !ok {
			continue
		}
		if from, to, leads := place.Leads(l.at, fallRadius, b); leads {
			pen.Stroke(c, pen.Soft, pen.Thin, nil, from, to)
		}
		pen.Fill(c, pen.White, b.Grown(0.8).Corners()...)
		pen.Write(c, pen.Small, pen.Ink, vg.Point{X: b.Centre.X, Y: b.Centre.Y - b.Height/2}, pen.Centre, text)
	}
}

// drawEnds writes the names of the courses at their ends, apart from each other.
func (y Years) drawEnds(c vg.Canvas, f chart.Frame, blocks []pen.Block, styles []pen.Line, unit float64) {
	var ends []vg.Point
	var middles, heights []vg.Length
	var shown []int
	for i, course := range y.Courses {
		year, value, ok := course.last()
		if !ok {
			continue
		}
		at := f.At(year, value/unit)
		ends, middles, heights = append(ends, at), append(middles, at.Y), append(heights, blocks[i].Height())
		shown = append(shown, i)
	}
	middles, ok := place.Spread(middles, heights, f.Min.Y-4, f.Max.Y+6)
	if !ok {
		return
	}
	for k, i := range shown {
		x := f.Max.X + endGap
		pen.Stroke(c, styles[i].Color, pen.Thin, nil, ends[k], vg.Point{X: x - 1, Y: middles[k]})
		blocks[i].Draw(c, x, middles[k]+heights[k]/2+0.5*(pen.Small.Size-pen.CapHeight(pen.Small)))
	}
}

// Describe says when each system first falls below each level.
func (y Years) Describe() string {
	y = y.resolved()
	sentences := append([]string{opening("Chart", y.Title, y.Quantity+" through the years")}, y.sentences()...)
	for _, l := range y.Levels {
		if l.Name != "" {
			sentences = append(sentences, l.amount(y.Imperial)+" is "+l.Name+".")
		}
	}
	return strings.Join(sentences, " ")
}
