package plots

import (
	"fmt"
	"image/color"
	"math"
	"sort"

	"gonum.org/v1/plot/vg"

	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/palette"
	"lampswap/plots/internal/pen"
)

// A scale gives each band its colour. levels[i] and levels[i+1] bound colours[i]; what lies beyond the ends takes the outer colours.
type scale struct {
	name, unit   string
	levels       []float64
	colours      []color.NRGBA
	change       bool
	below, above bool // there are values beyond the ends
	reach        *reach
}

// A reach is the least and the greatest value that a scale is for.
type reach struct{ least, most float64 }

func (m Map) scale() scale {
	s := scale{name: m.Quantity, unit: illuminanceUnit(m.Imperial).name, levels: m.Levels, change: m.Change}
	n := max(len(s.levels)-1, 0)
	if m.Change {
		losses := min(sort.Search(len(s.levels), func(i int) bool { return s.levels[i] >= 0 }), n)
		s.colours = palette.Change(losses, n-losses)
	} else {
		s.colours = palette.Light(n)
	}
	if n == 0 {
		return s
	}
	if st := m.summary; st.Points > 0 {
		slack := 1e-9 * math.Max(math.Abs(st.Maximum), math.Abs(st.Minimum))
		s.below, s.above = st.Minimum < s.levels[0]-slack, st.Maximum > s.levels[n]+slack
		s.reach = &reach{st.Minimum + slack, st.Maximum - slack}
	}
	return s
}

// with returns the scale for the values of another of its kind too.
func (s scale) with(o scale) scale {
	s.below, s.above = s.below || o.below, s.above || o.above
	switch {
	case s.reach == nil:
		s.reach = o.reach
	case o.reach != nil:
		s.reach = &reach{min(s.reach.least, o.reach.least), max(s.reach.most, o.reach.most)}
	}
	return s
}

// reached returns the scale without the bands at its ends that no value reaches; all of it where it is not told of any.
func (s scale) reached() scale {
	if s.reach == nil {
		return s
	}
	first, last := 0, len(s.colours)
	for first < last-1 && s.levels[first+1] <= s.reach.least {
		first++
	}
	for last > first+1 && s.levels[last-1] >= s.reach.most {
		last--
	}
	s.levels, s.colours = s.levels[first:min(last+1, len(s.levels))], s.colours[first:last]
	return s
}

func (s scale) label(level float64) string {
	if s.change {
		return number.SignedExact(level)
	}
	return number.Exact(level)
}

func (s scale) title() string { return s.name + " (" + s.unit + ")" }

const (
	barHeight  vg.Length = 8
	bandWidth  vg.Length = 40 // of one band at most
	longestBar vg.Length = 90 // of the scale of length
	pointWidth vg.Length = 7  // of the end that stands for what lies beyond
)

// height is the same for every scale: a scale of length may stand beside it.
func (s scale) height() vg.Length {
	return pen.LineHeight(pen.Small) + barHeight + 2.5 + pen.Small.Size
}

// draw draws the colour bar with its name above and the limits of the bands below it.
func (s scale) draw(c vg.Canvas, x, top, width vg.Length) {
	s = s.reached()
	n := len(s.colours)
	if n == 0 {
		return
	}
	pen.Write(c, pen.Small, pen.Soft, vg.Point{X: x, Y: top - pen.CapHeight(pen.Small) - 1}, pen.Left, s.title())
	high := top - pen.LineHeight(pen.Small)
	low := high - barHeight
	first, last := pen.Width(pen.Small, s.label(s.levels[0]))/2, pen.Width(pen.Small, s.label(s.levels[n]))/2
	end := last
	if s.above {
		end = max(last, pointWidth)
	}
	x0 := x
	if s.below {
		x0 += max(first, pointWidth)
	}
	step := func() vg.Length { return min(bandWidth, (width-(x0-x)-end)/vg.Length(n)) }
	flush := !s.below && 2*first+last+3 < step() // the first level starts where the bar does
	if !s.below && !flush {
		x0 += first
	}
	band := step()
	at := func(i int) vg.Length { return x0 + vg.Length(i)*band }
	for i := n - 1; i >= 0; i-- {
		pen.Fill(c, s.colours[i], pen.Corners(vg.Rectangle{Min: vg.Point{X: x0, Y: low}, Max: vg.Point{X: at(i + 1), Y: high}})...)
	}
	frame := []vg.Point{{X: x0, Y: low}, {X: at(n), Y: low}}
	middle := (low + high) / 2
	if s.above {
		tip := vg.Point{X: at(n) + pointWidth, Y: middle}
		pen.Fill(c, s.colours[n-1], vg.Point{X: at(n) - 0.2, Y: low}, tip, vg.Point{X: at(n) - 0.2, Y: high})
		frame = append(frame, tip)
	}
	frame = append(frame, vg.Point{X: at(n), Y: high}, vg.Point{X: x0, Y: high})
	if s.below {
		tip := vg.Point{X: x0 - pointWidth, Y: middle}
		pen.Fill(c, s.colours[0], vg.Point{X: x0 + 0.2, Y: high}, tip, vg.Point{X: x0 + 0.2, Y: low})
		frame = append(frame, tip)
	}
	pen.Outline(c, pen.Ink, pen.Thin, frame...)
	s.drawLimits(c, at, low, high, flush)
}

// drawLimits draws the lines between bands and their levels: all, every second, or every fifth, as there is room; 0 always.
func (s scale) drawLimits(c vg.Canvas, at func(int) vg.Length, low, high vg.Length, flush bool) {
	n := len(s.colours)
	var widest vg.Length
	zero := 0
	for i, level := range s.levels {
		widest = max(widest, pen.Width(pen.Small, s.label(level)))
		if level == 0 {
			zero = i
		}
	}
	every := 1
	for _, every = range []int{1, 2, 5, n} {
		if vg.Length(every)*(at(1)-at(0)) > widest+3 {
			break
		}
	}
	for i := range n + 1 {
		if i > 0 && i < n {
			pen.Stroke(c, s.inkAt(i), pen.Hairline, nil, vg.Point{X: at(i), Y: low}, vg.Point{X: at(i), Y: high})
		}
		if (i-zero)%every != 0 {
			continue
		}
		align := pen.Centre
		if i == 0 && flush {
			align = pen.Left
		}
		pen.Write(c, pen.Small, pen.Soft, vg.Point{X: at(i), Y: low - 2.5 - pen.CapHeight(pen.Small)}, align, s.label(s.levels[i]))
	}
}

// A note is a glyph and what it means, or a number and what it is.
type note struct {
	glyph glyph
	text  string
}

// notes returns the statistics and the meaning of the marks.
func (m Map) notes() []note {
	notes := m.statisticsNotes()
	return append(notes, keys(m)...)
}

// keys returns the meaning of the marks on maps.
func keys(maps ...Map) []note {
	var bars, dots, failed, racks, hanging, values bool
	var words Words // of the maps, which share them
	for _, m := range maps {
		words = m.Words
		for _, l := range m.Luminaires {
			bars, dots, failed = bars || l.Length > 0, dots || l.Length == 0, failed || l.Failed
		}
		racks, hanging = racks || len(m.Racks) > 0, hanging || len(m.Hanging) > 0
		values = values || len(m.Values) > 0 && m.sparse()
	}
	var notes []note
	switch {
	case bars:
		notes = append(notes, note{luminaireGlyph, words.of("Luminaire")})
	case dots:
		notes = append(notes, note{dotGlyph, words.of("Luminaire")})
	}
	if failed {
		notes = append(notes, note{failedGlyph, words.of("Gives no light")})
	}
	if racks {
		notes = append(notes, note{rackGlyph, words.of("Rack")})
	}
	if hanging {
		notes = append(notes, note{hangingGlyph, words.of("Box that hangs")})
	}
	if values {
		notes = append(notes, note{valueGlyph, words.of("Value at a point")})
	}
	return append(notes, requiredNotes(maps)...)
}

func (m Map) statisticsNotes() []note {
	s, unit := m.summary, illuminanceUnit(m.Imperial).name
	if m.Change && s.Points > 0 {
		return changeNotes(s, unit)
	}
	return statisticsNotes(s, unit, m.Words)
}

// changeNotes says of a change what is lost and gained, not its minimum.
func changeNotes(s room.Statistics, unit string) []note {
	least, most := "Least gain ", "Largest gain "
	if s.Minimum < 0 {
		least = "Largest loss "
	}
	if s.Maximum < 0 {
		most = "Least loss "
	}
	amount := func(x float64) string { return number.Reading(math.Abs(x)) + " " + unit }
	return []note{
		{noGlyph, "Average " + number.SignedReading(s.Average) + " " + unit},
		{minimumGlyph, least + amount(s.Minimum)},
		{maximumGlyph, most + amount(s.Maximum)},
	}
}

func statisticsNotes(s room.Statistics, unit string, words Words) []note {
	if s.Points == 0 {
		return []note{{noGlyph, words.of("No points")}}
	}
	return []note{
		{noGlyph, fmt.Sprintf(words.of("Average %s %s"), number.Reading(s.Average), unit)},
		{minimumGlyph, fmt.Sprintf(words.of("Minimum %s %s"), number.Reading(s.Minimum), unit)},
		{maximumGlyph, fmt.Sprintf(words.of("Maximum %s %s"), number.Reading(s.Maximum), unit)},
	}
}

const glyphRoom vg.Length = 3

func (n note) width() vg.Length {
	w := pen.Width(pen.Small, n.text)
	switch n.glyph {
	case noGlyph:
		return w
	case minimumGlyph, maximumGlyph, dotGlyph:
		return w + glyphSize + glyphRoom
	case valueGlyph:
		return w + 2*valueDot + glyphRoom
	case luminaireGlyph, failedGlyph, rackGlyph, hangingGlyph, belowGlyph:
	}
	return w + 1.8*glyphSize + glyphRoom
}

func (n note) draw(c vg.Canvas, x, base vg.Length) {
	if n.glyph != noGlyph {
		w := n.width() - pen.Width(pen.Small, n.text) - glyphRoom
		drawGlyph(c, n.glyph, vg.Point{X: x + w/2, Y: base + pen.CapHeight(pen.Small)/2})
		x += w + glyphRoom
	}
	pen.Write(c, pen.Small, pen.Ink, vg.Point{X: x, Y: base}, pen.Left, n.text)
}

// flow breaks notes into lines of at most the width.
func flow(notes []note, width vg.Length) [][]note {
	var lines [][]note
	var used vg.Length
	for _, n := range notes {
		w := n.width()
		if len(lines) == 0 || used+chart.NoteGap+w > width {
			lines, used = append(lines, nil), -chart.NoteGap
		}
		lines[len(lines)-1] = append(lines[len(lines)-1], n)
		used += chart.NoteGap + w
	}
	return lines
}

func notesHeight(notes []note, width vg.Length) vg.Length {
	return vg.Length(len(flow(notes, width))) * pen.LineHeight(pen.Small)
}

// drawNotes draws the notes downward from a top left corner and returns the height that they took.
func drawNotes(c vg.Canvas, notes []note, x, top, width vg.Length) vg.Length {
	base := top - pen.Small.Size
	for _, line := range flow(notes, width) {
		at := x
		for _, n := range line {
			n.draw(c, at, base)
			at += n.width() + chart.NoteGap
		}
		base -= pen.LineHeight(pen.Small)
	}
	return notesHeight(notes, width)
}

// Bands are the levels of a map, in its unit, and the colours between them: colours[i] from levels[i] to levels[i+1].
func (m Map) Bands() (levels []float64, colours []color.NRGBA) {
	s := m.scale()
	return s.levels, s.colours
}
