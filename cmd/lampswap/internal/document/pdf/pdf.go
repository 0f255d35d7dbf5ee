// Package pdf renders a document as PDF: it lays blocks out in boxes, spreads the boxes over pages, then draws them.
package pdf

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/plots"
)

// Room around the text of a page, pt.
const (
	sideMargin   = 54.0
	topMargin    = 58.0
	bottomMargin = 58.0
)

// A writer lays a document out in boxes, spreads them over pages, then draws them.
type writer struct {
	pdf    *fpdf.Fpdf
	paper  document.Paper
	d      document.Document
	boxes  []box
	fresh  bool        // the next box begins a page
	rather bool        // it does if the page before is filled
	tables int         // that are laid out
	at     int         // the block that is laid out
	links  map[int]int // to headings, by their blocks
	pageOf map[int]int // of headings
}

// led are the kinds of blocks that the paragraph before leads up to: both stand on one page.
var led = []string{"figure", "table", "answer"}

// Write renders a document as PDF. The bytes depend on nothing but the document and the paper.
func Write(d document.Document, p document.Paper) ([]byte, error) {
	doc, err := opened(p)
	if err != nil {
		return nil, err
	}
	doc.SetTitle(d.Title, true)
	if d.Author != "" {
		doc.SetAuthor(d.Author, true)
	}
	doc.SetLang(d.Language)
	doc.SetProducer("lampswap", true)
	doc.SetCreator(d.Source.Program, false)
	doc.SetKeywords(d.Source.Inputs, false)
	day := d.Date
	if day.IsZero() {
		day = time.Unix(0, 0).UTC() // taken out below
	}
	doc.SetCreationDate(day)
	doc.SetModificationDate(day)
	w := writer{pdf: doc, paper: p, d: d}
	pages := w.pages()
	w.pageOf = map[int]int{}
	for i, page := range pages {
		for _, b := range page {
			if b.opens != noHeading {
				w.pageOf[b.block] = i + 1
			}
		}
	}
	for i, page := range pages {
		doc.AddPage()
		w.furniture(i+1, len(pages))
		for _, b := range page {
			b.draw(topMargin+b.y, b.height)
		}
	}
	var content bytes.Buffer
	if err := doc.Output(&content); err != nil {
		return nil, fmt.Errorf("write the PDF: %w", err)
	}
	if d.Date.IsZero() {
		return plots.Undated(content.Bytes()), nil
	}
	return content.Bytes(), nil
}

// opened is an empty PDF with our fonts.
func opened(p document.Paper) (*fpdf.Fpdf, error) {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: p.Width, Ht: p.Height}})
	doc.SetCatalogSort(true)
	doc.SetMargins(0, 0, 0)
	doc.SetCellMargin(0)
	doc.SetAutoPageBreak(false, 0)
	return doc, addFonts(doc)
}

// pages lays the document out and spreads it over pages.
func (w *writer) pages() [][]placedBox {
	for i, b := range w.d.Blocks {
		w.at = i
		w.block(b)
		if b.Kind() == "prose" && i+1 < len(w.d.Blocks) && slices.Contains(led, w.d.Blocks[i+1].Kind()) {
			w.boxes[len(w.boxes)-1].keep = true
		}
	}
	return spread(w.boxes, w.textHeight())
}

// textHeight is the height of the text of a page, pt.
func (w *writer) textHeight() float64 { return w.paper.Height - topMargin - bottomMargin }

// Pages are those that Write writes.
func Pages(d document.Document, p document.Paper) ([]Page, error) {
	doc, err := opened(p)
	if err != nil {
		return nil, err
	}
	w := writer{pdf: doc, paper: p, d: d}
	laid := append(w.pages(), nil)
	var all []Page
	for i, page := range laid[:len(laid)-1] {
		all = append(all, pageOf(page, laid[i+1], w.textHeight()))
	}
	return all, nil
}

func (w *writer) width() float64 { return w.paper.Width - 2*sideMargin }

func (w *writer) add(b box) {
	b.fresh, b.rather = w.fresh, w.rather
	w.fresh, w.rather = false, false
	w.boxes = append(w.boxes, b)
}

// furniture is what stands on every page: the title above the text from the second page on, date and page below.
func (w *writer) furniture(page, pages int) {
	left, right := sideMargin, w.paper.Width-sideMargin
	if page > 1 {
		title := w.fitted(furnitureType, w.d.Title, right-left)
		w.text(furnitureType, document.Light.Soft, left, topMargin-24, title)
		w.rule(topMargin-17, document.Light.Rule)
	}
	base := w.paper.Height - bottomMargin + 26
	w.rule(base-13, document.Light.Rule)
	w.text(furnitureType, document.Light.Soft, left, base, w.d.Foot)
	number := fmt.Sprintf("%s%d%s%d%s", w.d.PageOf[0], page, w.d.PageOf[1], pages, w.d.PageOf[2])
	w.text(furnitureType, document.Light.Soft, right-w.wide(furnitureType, number), base, number)
}

// block lays one block out.
func (w *writer) block(b document.Block) {
	switch b := b.(type) {
	case document.Heading:
		w.heading(b)
	case document.Prose:
		w.paragraph(b)
	case document.Verdict:
		w.answer(b)
	case document.Facts:
		w.facts(b)
	case document.Blanks:
		w.blanks(b)
	case document.Bullets:
		w.bullets(b)
	case document.Rich:
		w.rich(b)
	case document.Letterhead:
		w.letterhead(b)
	case document.Index:
		w.index()
	case document.Fresh:
		w.fresh, w.rather = !b.IfFilled && len(w.boxes) > 0, b.IfFilled
	case document.Tongue: // a PDF of ours has one language
	case document.Table:
		w.table(b)
	case document.Figure:
		w.figure(b)
	case document.Picture:
		w.picture(b)
	default:
		panic("proposal: no such block: " + b.Kind())
	}
}

func (w *writer) heading(h document.Heading) {
	style := headingTypes[h.Level-1]
	lines := w.wrapMost(style, h.Text, w.width(), mostHeading)
	opens, at := map[int]headingOf{2: chapter, 3: part}[h.Level], w.at
	w.add(box{before: style.before, height: float64(len(lines))*style.leading + style.after, keep: true, opens: opens, block: at, draw: func(y, _ float64) {
		if link, ok := w.links[at]; ok {
			w.pdf.SetLink(link, y-style.leading, -1)
		}
		w.pdf.Bookmark(plots.Clean(h.Text), h.Level-1, y)
		if h.Level == 2 {
			w.rule(y-5, document.Light.Ink)
		}
		w.lines(style, document.Light.Ink, sideMargin, y, lines)
	}})
}

// flow lays lines of text out that may be parted between pages, but for the first two and the last two.
func (w *writer) flow(style typeStyle, ink document.RGB, x, before float64, lines []string) {
	for i, line := range lines {
		b := box{height: style.leading, keep: i == 0 && len(lines) > 1 || i == len(lines)-2, draw: func(y, _ float64) {
			w.lines(style, ink, x, y, []string{line})
		}}
		if i == 0 {
			b.before = before
		}
		w.add(b)
	}
}

func (w *writer) paragraph(p document.Prose) {
	style, ink := bodyType, document.Light.Ink
	if p.Small {
		style, ink = smallType, document.Light.Soft
	}
	w.flow(style, ink, sideMargin, paragraphGap, w.wrap(style, p.Text, min(w.width(), measure)))
}

// answer is a box of the verdict's colour, its word large.
func (w *writer) answer(a document.Verdict) {
	const pad, bar = 11.0, 4.0
	ink, tint := document.Light.Of(a.Mark)
	lines := w.wrap(leadType, a.Sentence, w.width()-2*pad-bar)
	ground := func(y, height float64) {
		w.fill(sideMargin, y, w.width(), height, tint)
		w.fill(sideMargin, y, bar, height, ink)
	}
	radius := answerType.size / 2
	word := w.wrap(answerType, a.Word, w.width()-2*pad-bar-3*radius)
	head := pad + float64(len(word))*answerType.leading
	w.add(box{before: 4, height: head, keep: true, draw: func(y, _ float64) {
		ground(y, head)
		w.sign(a.Mark, ink, sideMargin+bar+pad+radius, y+pad-3+answerType.leading/2, radius)
		w.lines(answerType, ink, sideMargin+bar+pad+3*radius, y+pad-3, word)
	}})
	for len(lines) > 0 { // a page at most, which only the longest of sentences fill
		n := min(len(lines), linesOfAPage)
		part, height := lines[:n], float64(n)*leadType.leading
		lines = lines[n:]
		if len(lines) == 0 {
			height += pad - 2
		}
		w.add(box{height: height, draw: func(y, _ float64) {
			ground(y, height)
			w.lines(leadType, document.Light.Ink, sideMargin+bar+pad, y-3, part)
		}})
	}
}

// sign draws a mark: white on a disc of the verdict's ink.
func (w *writer) sign(m document.Mark, ink document.RGB, x, y, radius float64) {
	w.pdf.SetFillColor(int(ink.R), int(ink.G), int(ink.B))
	w.pdf.Circle(x, y, radius, "F")
	w.pdf.SetDrawColor(255, 255, 255)
	w.pdf.SetLineWidth(0.26 * radius)
	w.pdf.SetLineCapStyle("round")
	for _, stroke := range m.Strokes() {
		for i := 1; i < len(stroke); i++ {
			a, b := stroke[i-1], stroke[i]
			w.pdf.Line(x+radius*a[0], y+radius*a[1], x+radius*b[0], y+radius*b[1])
		}
	}
}

func (w *writer) facts(f document.Facts) {
	const gap = 14.0
	names := 0.0
	for _, item := range f.List {
		names = max(names, w.wide(strongType, item.Name))
	}
	for i, item := range f.List {
		lines := w.wrapMost(bodyType, item.Value, w.width()-names-gap, mostHeading)
		b := box{height: float64(len(lines))*bodyType.leading + 1.5, keep: true, draw: func(y, _ float64) {
			w.lines(strongType, document.Light.Ink, sideMargin, y, []string{item.Name})
			w.lines(bodyType, document.Light.Ink, sideMargin+names+gap, y, lines)
		}}
		if i == 0 {
			b.before = 4
		}
		w.add(b)
	}
}

// blanks are names in two columns, each with a line behind it.
func (w *writer) blanks(b document.Blanks) {
	const gap, lead, least = 18.0, 4.0, 60.0
	half := (w.width() - gap) / 2
	for i := 0; i < len(b.Names); i += 2 {
		pair := b.Names[i:min(i+2, len(b.Names))]
		w.add(box{height: writingRow, keep: i+2 < len(b.Names), draw: func(y, _ float64) {
			base := y + writingRow - 4
			for k, name := range pair {
				x := sideMargin + float64(k)*(half+gap)
				name = w.fitted(bodyType, name, half-least)
				w.text(bodyType, document.Light.Ink, x, base, name)
				w.fill(x+w.wide(bodyType, name)+lead, base+1.5, half-w.wide(bodyType, name)-lead, 0.5, document.Light.Soft)
			}
		}})
	}
}

// index is the chapters that follow in two columns, each with its page and a link to it.
func (w *writer) index() {
	const gap = 24.0
	w.links = map[int]int{}
	var chapters []int // by their blocks
	for i, b := range w.d.Blocks[w.at:] {
		if h, ok := b.(document.Heading); ok && h.Level == 2 {
			chapters = append(chapters, w.at+i)
			w.links[w.at+i] = w.pdf.AddLink()
		}
	}
	w.flow(strongType, document.Light.Ink, sideMargin, paragraphGap, []string{w.d.Contents})
	w.boxes[len(w.boxes)-1].keep = true
	half, rows := (w.width()-gap)/2, (len(chapters)+1)/2
	for row := range rows {
		w.add(box{height: bodyType.leading, keep: row+1 < rows, draw: func(y, _ float64) {
			for column, k := range []int{row, rows + row} {
				if k >= len(chapters) {
					break
				}
				h, ok := w.d.Blocks[chapters[k]].(document.Heading)
				if !ok {
					continue
				}
				x, page := sideMargin+float64(column)*(half+gap), fmt.Sprint(w.pageOf[chapters[k]])
				room := half - w.wide(bodyType, page) - 6
				w.lines(bodyType, document.Light.Ink, x, y, []string{w.fitted(bodyType, h.Text, room)})
				w.lines(bodyType, document.Light.Soft, x+half-w.wide(bodyType, page), y, []string{page})
				w.pdf.Link(x, y, half, bodyType.leading, w.links[chapters[k]])
			}
		}})
	}
}

func (w *writer) bullets(l document.Bullets) {
	indent := 11.0
	if l.First > 0 {
		indent = 6 + w.wide(bodyType, fmt.Sprintf("%d.", l.First+len(l.Items)-1))
	}
	for i, item := range l.Items {
		lines := w.wrap(bodyType, item, min(w.width(), measure)-indent)
		first := len(w.boxes)
		before := 2.5
		if i == 0 {
			before = paragraphGap
		}
		w.flow(bodyType, document.Light.Ink, sideMargin+indent, before, lines)
		if len(l.Items) <= shortList && i < len(l.Items)-1 {
			w.boxes[len(w.boxes)-1].keep = true
		}
		draw := w.boxes[first].draw
		w.boxes[first].draw = func(y, height float64) {
			sign := "•"
			if l.First > 0 {
				sign = fmt.Sprintf("%d.", l.First+i)
			}
			w.text(bodyType, document.Light.Soft, sideMargin+1, y+bodyType.size, sign)
			draw(y, height)
		}
	}
}

// figure puts its drawings side by side, the caption below.
func (w *writer) figure(f document.Figure) {
	const gap, own = 12.0, 4.0 // own: a drawing's own margin, which hangs over the edge of the text
	n := float64(len(f.Parts))
	each := (w.width() + 2*own - gap*(n-1)) / n
	if n > 1 {
		each = min(each, widestPart)
	}
	most := w.paper.Height - topMargin - bottomMargin
	caption := w.wrapMost(smallType, f.Caption, w.width(), mostCaption)
	below := float64(len(caption))*smallType.leading + 6
	least, share := 0.0, leastFigure
	for _, part := range f.Parts {
		least = max(least, float64(part.LeastHeight(plotLength(each))))
	}
	if f.Sheet() {
		share = leastSheet
	}
	filled := func(most float64) float64 {
		tallest := 0.0
		for _, part := range f.Parts {
			tallest = max(tallest, heightWithin(part, each, most))
		}
		return tallest
	}
	shrunk := min((most-below-headingRoom)/least, 1) // texts that take more than a page are drawn smaller, with all else
	least *= shrunk
	height := min(filled(max(most-below-headingRoom, least)), most-below-headingRoom)
	least = min(max(least, share*height), height)
	known := map[float64]float64{} // of heights that were asked for
	fit := func(most float64) float64 {
		most = math.Floor(most - below)
		if known[most] == 0 {
			known[most] = filled(most)
		}
		return known[most] + below
	}
	w.add(box{before: 8, height: height + below, least: least + below, fit: fit, float: true, draw: func(y, room float64) {
		drawn := room - below
		for i, part := range f.Parts {
			x := sideMargin - own + float64(i)*(each+gap)
			w.pdf.RawWriteStr("/Figure BMC") // marked as what it is, for readers that ask
			w.shrunk(shrunk, x, y, func() { plots.DrawPDF(w.pdf, part, x, y, each, heightWithin(part, each, drawn/shrunk)) })
			w.pdf.RawWriteStr("EMC")
		}
		w.lines(smallType, document.Light.Soft, sideMargin, y+drawn+2, caption)
	}})
}

// picture is a photograph, as wide as half the text or as tall as a third of a page, with its caption below.
func (w *writer) picture(p document.Picture) {
	const widest, tallest = 0.5, 0.3
	caption := w.wrapMost(smallType, p.Caption, w.width(), mostCaption)
	width := widest * w.width()
	height := width * float64(p.Height) / float64(p.Width)
	if most := tallest * w.paper.Height; height > most {
		width, height = width*most/height, most
	}
	name := fmt.Sprintf("picture %d", len(w.boxes))
	options := fpdf.ImageOptions{ImageType: "JPG"}
	w.pdf.RegisterImageOptionsReader(name, options, bytes.NewReader(p.JPEG))
	w.add(box{before: 8, height: height + 4 + float64(len(caption))*smallType.leading, float: true, draw: func(y, _ float64) {
		w.pdf.ImageOptions(name, sideMargin, y, width, height, false, options, 0, "")
		w.lines(smallType, document.Light.Soft, sideMargin, y+height+2, caption)
	}})
}

// shrunk draws smaller, about a point that stays where it is.
func (w *writer) shrunk(by, x, y float64, draw func()) {
	if by == 1 {
		draw()
		return
	}
	w.pdf.TransformBegin()
	w.pdf.TransformScaleXY(100*by, x, y)
	draw()
	w.pdf.TransformEnd()
}

// heightWithin is the height that a drawing of that width fills of one that it is given, pt.
func heightWithin(part plots.Figure, width, most float64) float64 {
	if sheet, ok := part.(plots.Sheet); ok { // whose arrangement depends on the height
		return float64(sheet.HeightWithin(plotLength(width), plotLength(most)))
	}
	return min(float64(part.Height(plotLength(width))), most)
}
