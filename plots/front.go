package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry"
	"lampswap/photometry/number"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// Front shows the trade between power and light: each option is a mark at its watts and its light, filled if it meets every criterion
// and hollow if it misses one. The step line is the front of those that meet every criterion, or of all if none does: no other has more
// light for less power than those on it.
type Front struct {
	Title, Subtitle, Caption string
	Quantity                 string // name of the light; "" is "Maintained average"
	Options                  []Option
	Levels                   []Level
	PerArea                  bool // power is W/m2, shown as W/ft2 if imperial; else W of a luminaire
	Imperial                 bool // fc on the paper, else lx
}

// An Option is one system that could be fitted.
type Option struct {
	Name  string
	Role  Role    // Existing and Proposed are marked by name
	Power float64 // W of a luminaire, or W/m2
	Light float64 // lx
	Meets bool    // every criterion
}

// onFront returns the places in the list of the options on the front, least power first: those to which no other has at least the light for
// at most the power. Of equal ones the first counts.
func onFront(options []Option) []int {
	var order []int
	for i, o := range options {
		if photometry.Finite(o.Power, o.Light) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(options[a].Power, options[b].Power), cmp.Compare(options[b].Light, options[a].Light))
	})
	var best []int
	most := math.Inf(-1)
	for _, i := range order {
		if options[i].Light > most {
			best, most = append(best, i), options[i].Light
		}
	}
	return best
}

// front returns the places of the options on the front: of those that meet every criterion, or of all if none does.
func (o Front) front() []int {
	var meets []Option
	var places []int
	for i, p := range o.Options {
		if p.Meets {
			meets, places = append(meets, p), append(places, i)
		}
	}
	best := onFront(meets)
	if len(best) == 0 {
		return onFront(o.Options)
	}
	for k, i := range best {
		best[k] = places[i]
	}
	return best
}

// anyMeets tells whether the front is of options that meet every criterion.
func (o Front) anyMeets() bool {
	return slices.ContainsFunc(o.Options, func(p Option) bool { return p.Meets && photometry.Finite(p.Power, p.Light) })
}

// resolved gives the light its name.
func (o Front) resolved() Front {
	if o.Quantity == "" {
		o.Quantity = "Maintained average"
	}
	o.Levels = finiteLevels(o.Levels)
	return o
}

// power returns the unit of the axis across, and its name.
func (o Front) power() (name string, u unit) {
	switch {
	case o.PerArea && o.Imperial:
		return "Power density (W/ft²)", unit{"W/ft²", 1 / (photometry.Foot * photometry.Foot)}
	case o.PerArea:
		return "Power density (W/m²)", unit{"W/m²", 1}
	}
	return "Input watts of one luminaire (W)", unit{"W", 1}
}

func (o Front) axes() (across, up chart.Axis) {
	name, w := o.power()
	u := illuminanceUnit(o.Imperial)
	var watts, light []float64
	for _, p := range o.Options {
		if photometry.Finite(p.Power, p.Light) {
			watts, light = append(watts, p.Power/w.size), append(light, p.Light/u.size)
		}
	}
	for _, l := range o.Levels {
		light = append(light, l.Value/u.size)
	}
	return tightAxis(name, watts, 8), tightAxis(pen.Clean(o.Quantity)+" ("+u.name+")", light, 6)
}

// tightAxis returns an axis that is little longer than the values need. It begins at 0 where they come near it.
func tightAxis(name string, values []float64, most int) chart.Axis {
	const around, nearZero = 0.07, 0.15 // of the range, of the largest
	if len(values) == 0 {
		return chart.NewAxis(name, 0, 1, most)
	}
	from, to := slices.Min(values), slices.Max(values)
	room := around * math.Max(to-from, math.Abs(to)/2)
	if room == 0 {
		room = 1
	}
	to += room
	if from -= room; from < nearZero*to {
		from = math.Min(from+room, 0)
	}
	return chart.NewAxis(name, from, to, most).Tight(from, to)
}

// keyed returns the options on the front that are named, least power first: those that stand well apart in a figure of that width, and no
// more than it has room for; the brightest always.
func (o Front) keyed(width vg.Length) []int {
	const each, fewest, most, near, wider = 48, 4, 12, 14.0, 1.2 // pt
	best := o.front()
	across, up := o.axes()
	f := chart.Frame{Rectangle: vg.Rectangle{Max: vg.Point{X: width, Y: o.frameHeight(width)}}, X: across, Y: up}
	for apart := near; ; apart *= wider {
		var named []int
		for k, i := range best {
			far := func(n int) bool { return place.Distance(o.at(f, o.Options[n]), o.at(f, o.Options[i])) >= apart }
			for k == len(best)-1 && len(named) > 1 && !far(named[len(named)-1]) { // the brightest pushes its neighbours out
				named = named[:len(named)-1]
			}
			if len(named) == 0 || k == len(best)-1 || far(named[len(named)-1]) {
				named = append(named, i)
			}
		}
		if len(named) <= max(fewest, min(most, int(width/each))) {
			return named
		}
	}
}

// says returns the numbers of an option.
func (o Front) says(i int) string {
	_, w := o.power()
	u := illuminanceUnit(o.Imperial)
	p := o.Options[i]
	power := number.Short(p.Power / w.size)
	if o.PerArea { // as the ledgers write it
		power = fmt.Sprintf("%.2f", p.Power/w.size)
	}
	return fmt.Sprintf("%s %s, %s %s", power, w.name, number.Reading(p.Light/u.size), u.name)
}

// entry returns an option as a line of the key.
func (o Front) entry(i int) string {
	return strings.TrimSpace(pen.Clean(o.Options[i].Name)+": "+o.says(i)) + "."
}

// numberWidth has room for two digits.
const numberWidth vg.Length = 9

// numbers are the samples of the numbered options: the number is the sample.
func (o Front) numbers(width vg.Length) []chart.Sample {
	var samples []chart.Sample
	for k, i := range o.keyed(width) {
		samples = append(samples, chart.Sample{Width: numberWidth, Text: o.entry(i), Draw: func(c vg.Canvas, m vg.Point) {
			at := vg.Point{X: m.X + numberWidth/2, Y: m.Y - pen.CapHeight(pen.Small)/2}
			pen.Write(c, pen.SmallBold, pen.Ink, at, pen.Right, number.Exact(float64(k+1)))
		}})
	}
	return samples
}

// marks are the samples of the marks that occur.
func (o Front) marks() []chart.Sample {
	var meets, misses bool
	var samples []chart.Sample
	for _, p := range o.Options {
		if photometry.Finite(p.Power, p.Light) {
			meets, misses = meets || p.Meets, misses || !p.Meets
		}
	}
	add := func(text string, p Option) {
		samples = append(samples, chart.Sample{Width: 2 * roleRadius, Text: text, Draw: func(c vg.Canvas, m vg.Point) { drawOption(c, m, p, optionRadius) }})
	}
	if meets {
		add("meets every criterion", Option{Meets: true})
	}
	if misses {
		add("misses one or more", Option{})
	}
	if len(o.front()) > 1 {
		text := "most light for the power"
		if misses && meets {
			text += " of those that meet"
		}
		samples = append(samples, chart.LineSample(frontLine, text))
	}
	return samples
}

// frontLine is how the front is drawn.
var frontLine = pen.Line{Color: pen.Slate, Width: pen.Medium}

func (o Front) texts(width vg.Length, direct bool) chart.Texts {
	samples := o.marks()
	if len(samples) == 0 {
		return chart.NewTexts(width, o.Title, o.Subtitle, o.Caption, nil, "No options.")
	}
	notes := longNames(o.Levels, o.Imperial, width)
	switch n := len(o.front()) - len(o.keyed(width)); {
	case n == 1:
		notes = append(notes, "1 more on the line is not named.")
	case n > 1:
		notes = append(notes, fmt.Sprintf("%d more on the line are not named.", n))
	}
	if !o.anyMeets() {
		notes = append(notes, "No option meets every criterion.")
	}
	t := chart.NewTexts(width, o.Title, o.Subtitle, o.Caption, samples, notes...)
	if !direct {
		t.List = o.numbers(width)
	}
	return t
}

// Height returns the height at which the chart is about half as tall as broad.
func (o Front) Height(width vg.Length) vg.Length {
	o = o.resolved()
	width -= 2 * pen.Margin
	across, up := o.axes()
	return o.texts(width, o.direct(width)).Height() + chart.Around(across, up, width) + o.frameHeight(width) + 2*pen.Margin
}

// LeastHeight leaves the chart leastShare of its height.
func (o Front) LeastHeight(width vg.Length) vg.Length {
	return o.Height(width) - (1-leastShare)*o.frameHeight(width-2*pen.Margin)
}

func (o Front) frameHeight(width vg.Length) vg.Length { return chartHeight(width) * 1.1 }

// direct tells whether the names of the front have room beside their marks at a figure's own height.
func (o Front) direct(width vg.Length) bool {
	across, up := o.axes()
	room := vg.Rectangle{Max: vg.Point{X: width, Y: chart.Around(across, up, width) + o.frameHeight(width)}}
	_, ok := o.labels(chart.Fit(room, across, up), o.ground(chart.Fit(room, across, up)), width, true)
	return ok
}

// at returns the place of an option.
func (o Front) at(f chart.Frame, p Option) vg.Point {
	_, w := o.power()
	return f.At(p.Power/w.size, p.Light/illuminanceUnit(o.Imperial).size)
}

// How far marks reach from their place, pt: of what exists and what is proposed, of the options on the front, and of the others where they
// are many.
const roleRadius, optionRadius, crowdRadius vg.Length = 4.2, 2.3, 1.6

// crowd is how many options make a crowd.
const crowd = 40

// radii returns how far each mark reaches.
func (o Front) radii() []vg.Length {
	all := make([]vg.Length, len(o.Options))
	for i, p := range o.Options {
		switch {
		case p.Role != Alternative:
			all[i] = roleRadius
		case len(o.Options) > crowd:
			all[i] = crowdRadius
		default:
			all[i] = optionRadius
		}
	}
	for _, i := range o.front() {
		all[i] = max(all[i], optionRadius)
	}
	return all
}

// drawOption draws the mark of an option: a circle, or for what exists and what is proposed a diamond.
func drawOption(c vg.Canvas, at vg.Point, p Option, r vg.Length) {
	shape := pen.Circle(at, r)
	if p.Role != Alternative {
		shape = []vg.Point{{X: at.X - r, Y: at.Y}, {X: at.X, Y: at.Y - r}, {X: at.X + r, Y: at.Y}, {X: at.X, Y: at.Y + r}}
	}
	colour := pen.Blue
	if p.Role == Existing {
		colour = pen.Amber
	}
	if p.Meets {
		pen.Fill(c, colour, shape...)
		pen.Outline(c, pen.White, pen.Thin, shape...)
		return
	}
	pen.Fill(c, pen.White, shape...)
	pen.Outline(c, colour, pen.Medium, shape...)
}

// steps returns the front on the paper: to the right and then up, for no light is had between two options.
func (o Front) steps(f chart.Frame) []vg.Point {
	var points []vg.Point
	for _, i := range o.front() {
		at := o.at(f, o.Options[i])
		if n := len(points); n > 0 {
			points = append(points, vg.Point{X: at.X, Y: points[n-1].Y})
		}
		points = append(points, at)
	}
	if n := len(points); n > 0 {
		points = append(points, vg.Point{X: f.Max.X, Y: points[n-1].Y})
	}
	return points
}

// ground returns the paper with all that is drawn on it but the labels.
func (o Front) ground(f chart.Frame) *place.Ground {
	g := &place.Ground{Frame: f.Rectangle}
	radii := o.radii()
	for i, p := range o.Options {
		if photometry.Finite(p.Power, p.Light) {
			g.Take(place.Box{Centre: o.at(f, p), Width: 2 * radii[i], Height: 2 * radii[i]})
		}
	}
	g.TakeLine(o.steps(f)...)
	for _, l := range o.Levels {
		y := f.At(0, l.Value/illuminanceUnit(o.Imperial).size).Y
		g.TakeLine(vg.Point{X: f.Min.X, Y: y}, vg.Point{X: f.Max.X, Y: y})
	}
	return g
}

// An optionLabel is the text beside a mark.
type optionLabel struct {
	text string
	bold bool
	at   vg.Point
	r    vg.Length
	box  place.Box
}

// font is bold for what is looked for first.
func (l optionLabel) font() font.Font {
	if l.bold {
		return pen.SmallBold
	}
	return pen.Small
}

// labels finds room for the names of what exists and what is proposed, and of the options on the front: by name if direct, else by
// number. ok is false if one has no room.
func (o Front) labels(f chart.Frame, g *place.Ground, width vg.Length, direct bool) (labels []optionLabel, ok bool) {
	ok = true
	radii := o.radii()
	add := func(i int, text string, bold bool, far vg.Length) {
		l := optionLabel{text: text, bold: bold, at: o.at(f, o.Options[i]), r: radii[i]}
		var found bool
		if l.box, found = g.Beside(l.at, l.r, pen.Width(l.font(), text), pen.CapHeight(pen.Small), far); found {
			labels = append(labels, l)
			return
		}
		ok = false
	}
	keyed := o.keyed(width)
	for i, p := range o.Options {
		if !photometry.Finite(p.Power, p.Light) || p.Role == Alternative {
			continue
		}
		text := map[Role]string{Existing: "Existing", Proposed: "Proposed"}[p.Role]
		if k := slices.Index(keyed, i); k >= 0 && !direct {
			text = number.Exact(float64(k+1)) + " " + text
		}
		add(i, text, true, 40)
	}
	for k, i := range keyed {
		p := o.Options[i]
		switch {
		case p.Role != Alternative:
		case direct:
			add(i, pen.Clean(p.Name), false, 20)
		default:
			add(i, number.Exact(float64(k+1)), true, 20)
		}
	}
	return labels, ok
}

// Draw draws the chart into the whole of the canvas.
func (o Front) Draw(c draw.Canvas) {
	o = o.resolved()
	c = pen.Inset(c)
	width := c.Max.X - c.Min.X
	direct := o.direct(width)
	room := o.texts(width, direct).Draw(c, c.Rectangle)
	across, up := o.axes()
	f := chart.Fit(room, across, up)
	f.Draw(c)
	drawLevels(c, f, new(place.Ground), o.Levels, illuminanceUnit(o.Imperial).size)
	frontLine.Draw(c, o.steps(f)...)
	o.drawMarks(c, f)
	g := o.ground(f)
	labels, _ := o.labels(f, g, width, direct)
	labelLevels(c, f, g, o.Levels, o.Imperial, width)
	for _, l := range labels {
		if from, to, ok := place.Leads(l.at, l.r, l.box); ok {
			pen.Stroke(c, pen.Soft, pen.Hairline, nil, from, to)
		}
	}
	for _, l := range labels {
		pen.Fill(c, pen.White, l.box.Grown(0.6).Corners()...)
		pen.Write(c, l.font(), pen.Ink, vg.Point{X: l.box.Centre.X, Y: l.box.Centre.Y - l.box.Height/2}, pen.Centre, l.text)
	}
}

// drawMarks draws the options, what matters most on top.
func (o Front) drawMarks(c vg.Canvas, f chart.Frame) {
	radii := o.radii()
	for _, role := range []Role{Alternative, Existing, Proposed} {
		for _, r := range []vg.Length{crowdRadius, optionRadius, roleRadius} {
			for i, p := range o.Options {
				if p.Role == role && radii[i] == r && photometry.Finite(p.Power, p.Light) {
					drawOption(c, o.at(f, p), p, r)
				}
			}
		}
	}
}

// Describe names the existing and the proposed system and counts the options that meet every criterion.
func (o Front) Describe() string {
	o = o.resolved()
	meets, all := 0, 0
	var named []string
	for i, p := range o.Options {
		if !photometry.Finite(p.Power, p.Light) {
			continue
		}
		all++
		if p.Meets {
			meets++
		}
		switch p.Role {
		case Existing:
			named = append(named, "Existing: "+o.says(i)+".")
		case Proposed:
			named = append(named, "Proposed: "+o.says(i)+".")
		case Alternative:
		}
	}
	sentences := []string{opening("Chart", o.Title, "power against light"), fmt.Sprintf("%d of %d options meet every criterion.", meets, all)}
	return strings.Join(append(sentences, named...), " ")
}
