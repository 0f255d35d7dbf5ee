package pdf

import (
	"bytes"
	"fmt"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/plots"
)

// A word is one of a line with how it is set and where it stands.
type word struct {
	text  string
	style typeStyle
	x     float64 // from the beginning of the line, pt
}

// rich lays out paragraphs and lists of somebody's own; what is emphasized is bold, as there is no other face.
func (w *writer) rich(r document.Rich) {
	const indent = 16.0
	for _, part := range r.Parts {
		for i, item := range part.Items {
			x, before, sign := 0.0, paragraphGap, ""
			switch {
			case part.Ordered:
				x, sign = indent, fmt.Sprintf("%d.", i+1)
			case part.List:
				x, sign = indent, "•"
			}
			if part.List && i > 0 {
				before = 2.5
			}
			w.words(w.broken(item, min(w.width(), measure)-x), sideMargin+x, before, sign)
		}
	}
}

// words lays lines out as flow does, with a sign before the first.
func (w *writer) words(lines [][]word, x, before float64, sign string) {
	for i, line := range lines {
		b := box{height: bodyType.leading, keep: i == 0 && len(lines) > 1 || i == len(lines)-2}
		if i == 0 {
			b.before = before
		}
		b.draw = func(y, _ float64) {
			if i == 0 && sign != "" {
				w.text(bodyType, document.Light.Soft, sideMargin+1, y+bodyType.size, sign)
			}
			for _, word := range line {
				w.lines(word.style, document.Light.Ink, x+word.x, y, []string{word.text})
			}
		}
		w.add(b)
	}
}

// broken breaks runs into lines of at most a width, at their spaces; a word that is longer is cut.
func (w *writer) broken(runs []document.Run, width float64) [][]word {
	var lines [][]word
	var line []word
	at, spaced := 0.0, false
	put := func(text string, style typeStyle) {
		gap := 0.0
		if spaced && at > 0 {
			gap = w.wide(style, " ")
		}
		for {
			wide := w.wide(style, text)
			if at > 0 && at+gap+wide > width {
				lines, line, at, gap = append(lines, line), nil, 0, 0
			}
			head, rest := plots.Cut(text, width, w.measure(style))
			line, at = append(line, word{head, style, at + gap}), at+gap+w.wide(style, head)
			if rest == "" {
				return
			}
			text = rest
		}
	}
	for _, run := range runs {
		style := bodyType
		if run.Strong || run.Emphasis {
			style = strongType
		}
		text := plots.Clean(run.Text)
		spaced = spaced || strings.HasPrefix(text, " ")
		for i, each := range wordsOf(text) {
			spaced = spaced || i > 0
			put(each, style)
			spaced = false
		}
		spaced = spaced || strings.HasSuffix(text, " ")
	}
	if line == nil {
		return lines
	}
	return append(lines, line)
}

// letterhead is who the document is from: the name with its lines on the left, the picture on the right.
func (w *writer) letterhead(l document.Letterhead) {
	const widest, tallest = 150.0, 54.0
	picture := 0.0
	width, height := 0.0, 0.0
	name := fmt.Sprintf("picture %d", len(w.boxes))
	options := fpdf.ImageOptions{ImageType: "JPG"}
	if l.Logo.Width > 0 {
		by := min(widest/float64(l.Logo.Width), tallest/float64(l.Logo.Height))
		width, height = by*float64(l.Logo.Width), by*float64(l.Logo.Height)
		picture = width + 14
		w.pdf.RegisterImageOptionsReader(name, options, bytes.NewReader(l.Logo.JPEG))
	}
	head := headingTypes[2]
	room := w.width() - picture
	names := w.wrapMost(head, l.Name, room, 2)
	var lines []string
	for _, line := range l.Lines {
		lines = append(lines, w.wrapMost(smallType, line, room, 2)...)
	}
	text := float64(len(names))*head.leading + float64(len(lines))*smallType.leading
	w.add(box{height: max(text, height) + 16, draw: func(y, drawn float64) {
		if width > 0 {
			w.pdf.ImageOptions(name, w.paper.Width-sideMargin-width, y, width, height, false, options, 0, "")
		}
		w.lines(head, document.Light.Ink, sideMargin, y, names)
		w.lines(smallType, document.Light.Soft, sideMargin, y+float64(len(names))*head.leading, lines)
		w.rule(y+drawn-8, document.Light.Rule)
	}})
}
