// Package document is what a proposal consists of, whatever renders it: words, tables and figures in reading order, with the colours
// and the papers that its writers share.
package document

import (
	"slices"
	"strings"
	"time"

	"lampswap/plots"
)

// A Document is what every writer of a proposal renders: all the words, tables and figures, in reading order. It says nothing of how they
// look, and a writer adds no word of its own.
type Document struct {
	Title    string
	Author   string
	Language string    // of the words, "en"
	Date     time.Time // zero where the job has none
	Foot     string    // running foot
	Source   plots.Source
	PageOf   [3]string // what stands before, between and after the number of a page and the number of pages
	Contents string    // name of the list of headings
	Blocks   []Block
}

// A Block is one of Heading, Prose, Verdict, Facts, Blanks, Bullets, Rich, Letterhead, Index, Fresh, Tongue, Table, Figure and Picture.
type Block interface {
	// Kind is what a template chooses by.
	Kind() string
}

// A Heading of level 1 is the document's title; there is one.
type Heading struct {
	Level int
	Text  string
}

// A Prose is a paragraph of running text; Small is for what goes with a table or a figure.
type Prose struct {
	Text  string
	Small bool
}

// A Verdict is the answer. Its mark tells how it is coloured and which sign it has; the word says it too.
type Verdict struct {
	Word, Sentence string
	Mark           Mark
}

// A Mark is one of the four ways in which an answer is shown.
type Mark string

// Of a verdict that is met, is missed, is met but for something that must be minded, or that is none.
const (
	Good Mark = "good"
	Bad  Mark = "bad"
	Open Mark = "open"
	None Mark = "none"
)

// Strokes are the lines of a mark's sign in a circle of radius 1 about the origin, y downward: a tick, a cross, an exclamation mark, a dash.
func (m Mark) Strokes() [][][2]float64 {
	switch m {
	case Good:
		return [][][2]float64{{{-0.45, 0.02}, {-0.12, 0.38}, {0.48, -0.36}}}
	case Bad:
		return [][][2]float64{{{-0.38, -0.38}, {0.38, 0.38}}, {{-0.38, 0.38}, {0.38, -0.38}}}
	case Open:
		return [][][2]float64{{{0, -0.52}, {0, 0.14}}, {{0, 0.48}, {0, 0.52}}}
	case None:
	}
	return [][][2]float64{{{-0.42, 0}, {0.42, 0}}}
}

// Facts are names with what they stand for.
type Facts struct{ List []Fact }

// A Fact is a name with what it stands for.
type Fact struct{ Name, Value string }

// Blanks are names with a line to write on behind each, for a hand on site.
type Blanks struct{ Names []string }

// Bullets are the items of a list, with numbers from First on; 0 is none.
type Bullets struct {
	Items []string
	First int
}

// A Rich is text of somebody's own with emphasis: paragraphs and lists.
type Rich struct{ Parts []RichPart }

// A RichPart is a paragraph, which has one item, or a list.
type RichPart struct {
	List, Ordered bool
	Items         [][]Run
}

// A Run is a piece of text that looks the same; Emphasis and Strong are those of its author.
type Run struct {
	Text             string
	Emphasis, Strong bool
}

// A Letterhead is who a document is from: a picture, which has no size where there is none, with a name and lines.
type Letterhead struct {
	Logo  Picture
	Name  string
	Lines []string
}

// An Index is the list of chapters with the pages on which they begin. A page of HTML has one of its own.
type Index struct{}

// A Fresh begins a page: always, or where the page before is filled well enough.
type Fresh struct{ IfFilled bool }

// A Tongue tells that the chapters behind it are in another language.
type Tongue struct{ Language string }

// A Table has a label in the first column of each row. Groups are parted by their names; a group without a name has no line of its
// own. What is in a group belongs together.
type Table struct {
	Caption string
	Label   string // head of the first column
	Columns []Column
	Groups  []Group
	Write   bool // rows are tall enough for a hand to write into their empty cells
}

// A Column of text is broken into lines and takes its Share of the width that numbers leave; a column of numbers is as wide as they are.
type Column struct {
	Name  string
	Share float64 // 0 for numbers
}

// A Group is rows of a table that belong together.
type Group struct {
	Name string
	Rows []Row
}

// A Row is a label with a cell for every column.
type Row struct {
	Label string
	Cells []Cell
}

// A Cell is one cell of a table; one that alarms says so in its words and is marked.
type Cell struct {
	Text  string
	Alarm bool
}

// A Figure is one drawing, or several side by side that share a caption.
type Figure struct {
	Parts   []plots.Figure
	Caption string
}

// A Picture is a photograph.
type Picture struct {
	JPEG          []byte
	Width, Height int // pixels
	Caption       string
}

// Sheet tells whether the figure is of maps, which take the room that there is.
func (f Figure) Sheet() bool {
	return slices.ContainsFunc(f.Parts, func(part plots.Figure) bool {
		_, ok := part.(plots.Sheet)
		return ok
	})
}

// Kind implements Block.
func (Heading) Kind() string { return "heading" }

// Kind implements Block.
func (Prose) Kind() string { return "prose" }

// Kind implements Block.
func (Verdict) Kind() string { return "answer" }

// Kind implements Block.
func (Facts) Kind() string { return "facts" }

// Kind implements Block.
func (Blanks) Kind() string { return "blanks" }

// Kind implements Block.
func (Bullets) Kind() string { return "bullets" }

// Kind implements Block.
func (Rich) Kind() string { return "rich" }

// Kind implements Block.
func (Letterhead) Kind() string { return "letterhead" }

// Kind implements Block.
func (Index) Kind() string { return "index" }

// Kind implements Block.
func (Fresh) Kind() string { return "fresh" }

// Kind implements Block.
func (Tongue) Kind() string { return "tongue" }

// Kind implements Block.
func (Table) Kind() string { return "table" }

// Kind implements Block.
func (Figure) Kind() string { return "figure" }

// Kind implements Block.
func (Picture) Kind() string { return "picture" }

// Span is how many columns a table has with its labels.
func (t Table) Span() int { return len(t.Columns) + 1 }

// Grouped tells whether its groups have names.
func (t Table) Grouped() bool {
	return slices.ContainsFunc(t.Groups, func(g Group) bool { return g.Name != "" })
}

// Classes are those of a cell in the style sheet.
func (t Table) Classes(column int, d Cell) string {
	var all []string
	if t.Columns[column].Share == 0 {
		all = append(all, "number")
	}
	if d.Alarm {
		all = append(all, "alarm")
	}
	return strings.Join(all, " ")
}
