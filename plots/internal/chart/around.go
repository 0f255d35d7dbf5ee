package chart

import (
	"image/color"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"lampswap/plots/internal/pen"
)

// Texts are what is written around a chart: title and subtitle above; samples of the marks, sentences and a caption below.
type Texts struct {
	width   vg.Length
	Least   vg.Length // height above the drawing at least
	Header  []pen.Block
	Samples []Sample
	List    []Sample // below each other, in columns if they are short
	notes   []pen.Block
	footer  pen.Block
}

// NewTexts breaks the texts into lines of at most the width.
func NewTexts(width vg.Length, title, subtitle, caption string, samples []Sample, notes ...string) Texts {
	t := Texts{width: width, Samples: samples, footer: pen.NewBlock(pen.Small, pen.Soft, caption, width)}
	t.Header = Headline(title, subtitle, width)
	for _, n := range notes {
		t.notes = append(t.notes, pen.NewBlock(pen.Small, pen.Ink, n, width))
	}
	return t
}

// Lines of a title and of a subtitle at most, so that a figure keeps its room for what it shows.
const titleLines, subtitleLines = 4, 3

// Headline returns title and subtitle.
func Headline(title, subtitle string, width vg.Length) []pen.Block {
	return []pen.Block{pen.NewBlock(pen.Title, pen.Ink, title, width).Most(titleLines), pen.NewBlock(pen.Text, pen.Soft, subtitle, width).Most(subtitleLines)}
}

// Room between the parts of a figure, pt.
const (
	PartGap    vg.Length = 7
	NoteGap    vg.Length = 15 // between notes in a line
	samplesGap vg.Length = 5
	notesGap   vg.Length = 5
)

// Above returns the height of what is above the chart.
func (t Texts) Above() vg.Length {
	if h := t.Header[0].Height() + t.Header[1].Height(); h > 0 {
		return max(h+PartGap-1, t.Least)
	}
	return max(2, t.Least)
}

// Below returns the height of what is below the chart.
func (t Texts) Below() vg.Length {
	var h vg.Length
	if len(t.Samples) > 0 {
		h += samplesGap + SamplesHeight(t.Samples, t.width)
	}
	if len(t.List) > 0 {
		_, list := listSamples(t.List, t.width)
		h += notesGap + list
	}
	if len(t.notes) > 0 {
		h += notesGap
	}
	for _, n := range t.notes {
		h += n.Height()
	}
	if len(t.footer.Lines) > 0 {
		h += 2 + t.footer.Height()
	}
	return h
}

// Height returns the height of all the texts.
func (t Texts) Height() vg.Length { return t.Above() + t.Below() }

// Draw draws the texts into a rectangle and returns the room that they leave in the middle.
func (t Texts) Draw(c vg.Canvas, r vg.Rectangle) vg.Rectangle {
	y := r.Max.Y
	for _, b := range t.Header {
		y -= b.Draw(c, r.Min.X, y)
	}
	r.Max.Y -= t.Above()
	r.Min.Y += t.Below()
	y = r.Min.Y
	if len(t.Samples) > 0 {
		y -= samplesGap
		placed, h := flowSamples(t.Samples, t.width)
		drawPlaced(c, placed, r.Min.X, y)
		y -= h
	}
	if len(t.List) > 0 {
		y -= notesGap
		placed, h := listSamples(t.List, t.width)
		drawPlaced(c, placed, r.Min.X, y)
		y -= h
	}
	if len(t.notes) > 0 {
		y -= notesGap
	}
	for _, n := range t.notes {
		y -= n.Draw(c, r.Min.X, y)
	}
	t.footer.Draw(c, r.Min.X, y-2)
	return r
}

// A Sample is a mark and what it means.
type Sample struct {
	Width vg.Length // of the mark
	Text  string
	Draw  func(c vg.Canvas, middle vg.Point) // within the width and SampleHeight
}

// SampleHeight is how high a mark in a sample may be, pt.
const SampleHeight vg.Length = 7

// Widths of the marks of lines and of areas, and the gap before the text, pt.
const lineWidth, areaWidth, sampleGap vg.Length = 24, 14, 4

// LineSample is a sample of a line.
func LineSample(l pen.Line, text string) Sample {
	return Sample{lineWidth, text, func(c vg.Canvas, m vg.Point) {
		l.Draw(c, vg.Point{X: m.X - lineWidth/2, Y: m.Y}, vg.Point{X: m.X + lineWidth/2, Y: m.Y})
	}}
}

// BoxSample is a sample of an area, as painted by the function.
func BoxSample(text string, paint func(c vg.Canvas, r vg.Rectangle)) Sample {
	return Sample{areaWidth, text, func(c vg.Canvas, m vg.Point) {
		half := vg.Point{X: areaWidth / 2, Y: SampleHeight / 2}
		paint(c, vg.Rectangle{Min: m.Sub(half), Max: m.Add(half)})
	}}
}

// A placedSample is a sample with its text broken into lines, and where its top left corner is, from that of all.
type placedSample struct {
	Sample
	lines pen.Block
	at    vg.Point
}

// block breaks the text of a sample into lines and returns how wide it is with its mark.
func (s Sample) block(width vg.Length) (pen.Block, vg.Length) {
	b := pen.NewBlock(pen.Small, pen.Ink, s.Text, width-s.Width-sampleGap)
	var w vg.Length
	for _, line := range b.Lines {
		w = max(w, pen.Width(pen.Small, line))
	}
	return b, s.Width + sampleGap + w
}

// flowSamples sets samples beside each other, in lines of at most the width.
func flowSamples(samples []Sample, width vg.Length) (placed []placedSample, height vg.Length) {
	var x, y, tallest vg.Length
	for _, s := range samples {
		b, w := s.block(width)
		if x > 0 && x+w > width {
			x, y, tallest = 0, y+tallest, 0
		}
		placed = append(placed, placedSample{s, b, vg.Point{X: x, Y: -y}})
		x += w + NoteGap
		tallest = max(tallest, b.Height(), pen.LineHeight(pen.Small))
	}
	return placed, y + tallest
}

// listSamples sets samples below each other, in as many columns as the width has room for.
func listSamples(samples []Sample, width vg.Length) (placed []placedSample, height vg.Length) {
	var widest vg.Length
	for _, s := range samples {
		_, w := s.block(width)
		widest = max(widest, w)
	}
	columns := max(1, int((width+NoteGap)/(widest+NoteGap)))
	rows := (len(samples) + columns - 1) / columns
	var x, y vg.Length
	for i, s := range samples {
		if i > 0 && i%rows == 0 {
			x, y = x+widest+NoteGap, 0
		}
		b, _ := s.block(width)
		placed = append(placed, placedSample{s, b, vg.Point{X: x, Y: -y}})
		y += max(b.Height(), pen.LineHeight(pen.Small))
		height = max(height, y)
	}
	return placed, height
}

// SamplesHeight returns the height of samples beside each other, in lines of at most the width.
func SamplesHeight(samples []Sample, width vg.Length) vg.Length {
	_, h := flowSamples(samples, width)
	return h
}

// DrawSamples draws samples beside each other, downward from a top left corner, and returns the height that they took.
func DrawSamples(c vg.Canvas, samples []Sample, x, top, width vg.Length) vg.Length {
	placed, h := flowSamples(samples, width)
	drawPlaced(c, placed, x, top)
	return h
}

func drawPlaced(c vg.Canvas, placed []placedSample, x, top vg.Length) {
	for _, p := range placed {
		at := vg.Point{X: x + p.at.X, Y: top + p.at.Y}
		p.Draw(c, vg.Point{X: at.X + p.Width/2, Y: at.Y - pen.Small.Size + pen.CapHeight(pen.Small)/2})
		p.lines.Draw(c, at.X+p.Width+sampleGap, at.Y)
	}
}

// WriteOver writes a line of text on white, over grid lines.
func WriteOver(c vg.Canvas, f font.Font, ink color.Color, at vg.Point, align float64, text string) {
	w := pen.Width(f, text)
	x := at.X - vg.Length(align)*w
	ground := vg.Rectangle{Min: vg.Point{X: x - 1, Y: at.Y - 1}, Max: vg.Point{X: x + w + 1, Y: at.Y + pen.CapHeight(f) + 1}}
	pen.Fill(c, pen.White, pen.Corners(ground)...)
	pen.Write(c, f, ink, at, align, text)
}
