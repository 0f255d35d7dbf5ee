package plots

import (
	"image/color"
	"math"
	"sort"

	"gonum.org/v1/plot/vg"

	"lampswap/photometry/room"
)

// A scale gives each band its colour. levels[i] and levels[i+1] bound colours[i]; what lies beyond the ends takes the outer colours.
type scale struct {
	name, unit   string
	levels       []float64
	colours      []color.NRGBA
	change       bool
	below, above bool // there are values beyond the ends
}

func (m Map) scale() scale {
	s := scale{name: m.Quantity, unit: illuminanceUnit(m.Imperial).name, levels: m.Levels, change: m.Change}
	n := max(len(s.levels)-1, 0)
	if m.Change {
		losses := min(sort.Search(len(s.levels), func(i int) bool { return s.levels[i] >= 0 }), n)
		s.colours = changeColours(losses, n-losses)
	} else {
		s.colours = lightColours(n)
	}
	if n == 0 {
		return s
	}
	if st := m.statistics(); st.Points > 0 {
		slack := 1e-9 * math.Max(math.Abs(st.Maximum), math.Abs(st.Minimum))
		s.below, s.above = st.Minimum < s.levels[0]-slack, st.Maximum > s.levels[n]+slack
	}
	return s
}

func (s scale) label(level float64) string {
	if s.change {
		return signed(level)
	}
	return exact(level)
}

const (
	barHeight  vg.Length = 8
	bandWidth  vg.Length = 40 // of one band at most
	longestBar vg.Length = 90 // of the scale of length
	pointWidth vg.Length = 7  // of the end that stands for what lies beyond
)

// height is the same for every scale: a scale of length may stand beside it.
func (s scale) height() vg.Length {
	return lineHeight(smallFont) + barHeight + 2.5 + smallFont.Size
}

// draw draws the colour bar with its name above and the limits of the bands below it.
func (s scale) draw(c vg.Canvas, x, top, width vg.Length) {
	n := len(s.colours)
	if n == 0 {
		return
	}
	write(c, smallFont, soft, vg.Point{X: x, Y: top - capHeight(smallFont) - 1}, left, s.name+" ("+s.unit+")")
	high := top - lineHeight(smallFont)
	low := high - barHeight
	first, last := textWidth(smallFont, s.label(s.levels[0]))/2, textWidth(smallFont, s.label(s.levels[n]))/2
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
		fill(c, s.colours[i], corners(vg.Rectangle{Min: vg.Point{X: x0, Y: low}, Max: vg.Point{X: at(i + 1), Y: high}})...)
	}
	frame := []vg.Point{{X: x0, Y: low}, {X: at(n), Y: low}}
	middle := (low + high) / 2
	if s.above {
		tip := vg.Point{X: at(n) + pointWidth, Y: middle}
		fill(c, s.colours[n-1], vg.Point{X: at(n) - 0.2, Y: low}, tip, vg.Point{X: at(n) - 0.2, Y: high})
		frame = append(frame, tip)
	}
	frame = append(frame, vg.Point{X: at(n), Y: high}, vg.Point{X: x0, Y: high})
	if s.below {
		tip := vg.Point{X: x0 - pointWidth, Y: middle}
		fill(c, s.colours[0], vg.Point{X: x0 + 0.2, Y: high}, tip, vg.Point{X: x0 + 0.2, Y: low})
		frame = append(frame, tip)
	}
	outline(c, ink, thin, frame...)
	s.drawLimits(c, at, low, high, flush)
}

// drawLimits draws the lines between bands and their levels: all, every second, or every fifth, as there is room; 0 always.
func (s scale) drawLimits(c vg.Canvas, at func(int) vg.Length, low, high vg.Length, flush bool) {
	n := len(s.colours)
	var widest vg.Length
	zero := 0
	for i, level := range s.levels {
		widest = max(widest, textWidth(smallFont, s.label(level)))
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
			stroke(c, s.inkAt(i), hairline, nil, vg.Point{X: at(i), Y: low}, vg.Point{X: at(i), Y: high})
		}
		if (i-zero)%every != 0 {
			continue
		}
		align := centre
		if i == 0 && flush {
			align = left
		}
		write(c, smallFont, soft, vg.Point{X: at(i), Y: low - 2.5 - capHeight(smallFont)}, align, s.label(s.levels[i]))
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
	var bars, dots, racks bool
	for _, m := range maps {
		for _, l := range m.Luminaires {
			bars, dots = bars || l.Length > 0, dots || l.Length == 0
		}
		racks = racks || len(m.Racks) > 0
	}
	var notes []note
	switch {
	case bars:
		notes = append(notes, note{luminaireGlyph, "Luminaire"})
	case dots:
		notes = append(notes, note{dotGlyph, "Luminaire"})
	}
	if racks {
		notes = append(notes, note{rackGlyph, "Rack"})
	}
	return notes
}

func (m Map) statisticsNotes() []note {
	return statisticsNotes(m.statistics(), m.number(), illuminanceUnit(m.Imperial).name)
}

func statisticsNotes(s room.Statistics, number func(float64) string, unit string) []note {
	if s.Points == 0 {
		return []note{{noGlyph, "No points"}}
	}
	return []note{
		{noGlyph, "Average " + number(s.Average) + " " + unit},
		{minimumGlyph, "Minimum " + number(s.Minimum) + " " + unit},
		{maximumGlyph, "Maximum " + number(s.Maximum) + " " + unit},
	}
}

const noteGap, glyphRoom vg.Length = 15, 3

func (n note) width() vg.Length {
	w := textWidth(smallFont, n.text)
	switch n.glyph {
	case noGlyph:
		return w
	case minimumGlyph, maximumGlyph, dotGlyph:
		return w + glyphSize + glyphRoom
	case luminaireGlyph, rackGlyph:
	}
	return w + 1.8*glyphSize + glyphRoom
}

func (n note) draw(c vg.Canvas, x, base vg.Length) {
	if n.glyph != noGlyph {
		w := n.width() - textWidth(smallFont, n.text) - glyphRoom
		drawGlyph(c, n.glyph, vg.Point{X: x + w/2, Y: base + capHeight(smallFont)/2})
		x += w + glyphRoom
	}
	write(c, smallFont, ink, vg.Point{X: x, Y: base}, left, n.text)
}

// flow breaks notes into lines of at most the width.
func flow(notes []note, width vg.Length) [][]note {
	var lines [][]note
	var used vg.Length
	for _, n := range notes {
		w := n.width()
		if len(lines) == 0 || used+noteGap+w > width {
			lines, used = append(lines, nil), -noteGap
		}
		lines[len(lines)-1] = append(lines[len(lines)-1], n)
		used += noteGap + w
	}
	return lines
}

func notesHeight(notes []note, width vg.Length) vg.Length {
	return vg.Length(len(flow(notes, width))) * lineHeight(smallFont)
}

// drawNotes draws the notes downward from a top left corner and returns the height that they took.
func drawNotes(c vg.Canvas, notes []note, x, top, width vg.Length) vg.Length {
	base := top - smallFont.Size
	for _, line := range flow(notes, width) {
		at := x
		for _, n := range line {
			n.draw(c, at, base)
			at += n.width() + noteGap
		}
		base -= lineHeight(smallFont)
	}
	return notesHeight(notes, width)
}

// barGap is the room beside a scale bar.
const barGap vg.Length = 18

// A scaleBar is a round length to scale.
type scaleBar struct {
	length vg.Length
	text   string
}

func (m Map) scaleBar(v view) scaleBar {
	u := lengthUnit(m.Imperial)
	long := roundDown(float64(longestBar/v.scale) / u.size)
	return scaleBar{v.scale * vg.Length(long*u.size), exact(long) + " " + u.name}
}

// draw draws the bar in line with the colour bar of a scale that has the same top.
func (b scaleBar) draw(c vg.Canvas, x, top vg.Length) {
	const half vg.Length = 1.5 // of its thickness
	y := top - lineHeight(smallFont) - barHeight/2
	part := func(from, to vg.Length) []vg.Point {
		return corners(vg.Rectangle{Min: vg.Point{X: x + from, Y: y - half}, Max: vg.Point{X: x + to, Y: y + half}})
	}
	fill(c, ink, part(0, b.length/2)...)
	fill(c, white, part(b.length/2, b.length)...)
	outline(c, ink, thin, part(0, b.length)...)
	base := top - lineHeight(smallFont) - barHeight - 2.5 - capHeight(smallFont)
	write(c, smallFont, soft, vg.Point{X: x + b.length/2, Y: base}, centre, b.text)
}

// roundDown returns the greatest of 1, 2 or 5 times a power of ten that is not above x, x > 0.
func roundDown(x float64) float64 {
	return 1 / roundUp(1/x)
}

const northSize vg.Length = 20

// drawNorth draws an arrow that points north, its azimuth in degrees counter-clockwise from +x.
func drawNorth(c vg.Canvas, at vg.Point, azimuthDeg float64) {
	angle := azimuthDeg * math.Pi / 180
	radius := northSize/2 - 0.5
	outline(c, faint, hairline, circle(at, radius)...)
	tip := onCircle(at, radius, angle)
	tail := onCircle(at, 0.35*radius, angle+math.Pi)
	fill(c, ink, tip, onCircle(at, 0.75*radius, angle+0.78*math.Pi), tail)
	half := []vg.Point{tip, onCircle(at, 0.75*radius, angle-0.78*math.Pi), tail}
	fill(c, white, half...)
	outline(c, ink, hairline, half...)
	write(c, contourFont, soft, vg.Point{X: at.X - radius - 2.5, Y: at.Y - capHeight(contourFont)/2}, right, "N")
}
