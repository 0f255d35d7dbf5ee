package main

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"lampswap/plots"
)

// A document is what every writer of a proposal renders: all the words, tables and figures, in reading order. It says nothing of how they
// look, and a writer adds no word of its own.
type document struct {
	Title    string
	Author   string
	Language string    // of the words, "en"
	Date     time.Time // zero where the job has none
	Foot     string    // running foot
	PageOf   [3]string // what stands before, between and after the number of a page and the number of pages
	Contents string    // name of the list of headings
	Blocks   []block
}

// A block is one of heading, prose, verdictBox, facts, bullets, dataTable and figure.
type block interface{ kind() string }

// A heading of level 1 is the document's title; there is one.
type heading struct {
	Level int
	Text  string
}

// A prose is a paragraph of running text; Small is for what goes with a table or a figure.
type prose struct {
	Text  string
	Small bool
}

// A verdictBox is the answer. Good tells how it is coloured; the word says it too.
type verdictBox struct {
	Word, Sentence string
	Good           bool
}

// Facts are names with what they stand for.
type facts struct{ List []fact }

type fact struct{ Name, Value string }

type bullets struct{ Items []string }

// A dataTable has a label in the first column of each row. Groups are parted by their names; a group without a name has no line of its
// own. What is in a group belongs together.
type dataTable struct {
	Caption string
	Label   string // head of the first column
	Columns []column
	Groups  []group
}

// A column of text is broken into lines and takes its Share of the width that numbers leave; a column of numbers is as wide as they are.
type column struct {
	Name  string
	Share float64 // 0 for numbers
}

type group struct {
	Name string
	Rows []tableRow
}

type tableRow struct {
	Label string
	Cells []datum
}

// A datum is one cell of a table; one that alarms says so in its words and is marked.
type datum struct {
	Text  string
	Alarm bool
}

// A figure is one drawing, or several side by side that share a caption.
type figure struct {
	Parts   []plots.Figure
	Caption string
}

// Sheet tells whether the figure is of maps, which take the room that there is.
func (f figure) Sheet() bool {
	return slices.ContainsFunc(f.Parts, func(part plots.Figure) bool {
		_, ok := part.(plots.Sheet)
		return ok
	})
}

func (heading) kind() string    { return "heading" }
func (prose) kind() string      { return "prose" }
func (verdictBox) kind() string { return "answer" }
func (facts) kind() string      { return "facts" }
func (bullets) kind() string    { return "bullets" }
func (dataTable) kind() string  { return "table" }
func (figure) kind() string     { return "figure" }

// tableOf is a ledger as a table.
func tableOf(l ledger, label string) dataTable {
	t := dataTable{Caption: l.Name, Label: label}
	for _, name := range l.Columns {
		t.Columns = append(t.Columns, column{Name: capital(name)})
	}
	for _, s := range l.Sections {
		g := group{Name: typeset(s.Name)}
		for _, r := range s.Rows {
			row := tableRow{Label: capital(typeset(r.Label))}
			for _, c := range r.Cells {
				row.Cells = append(row.Cells, datum{typeset(c.Text), strings.HasSuffix(c.Text, missedMark)})
			}
			for len(row.Cells) < len(t.Columns) {
				row.Cells = append(row.Cells, datum{})
			}
			g.Rows = append(g.Rows, row)
		}
		t.Groups = append(t.Groups, g)
	}
	return t
}

// missedMark ends a requirement that the ledger marks as not met.
const missedMark = "missed"

// paperSigns are the signs of a terminal as paper has them.
var paperSigns = strings.NewReplacer(">=", "≥ ", "<=", "≤ ", "W/ft2", "W/ft²", "W/m2", "W/m²", "lm/ft2", "lm/ft²", " CO2 ", " CO₂ ")

// times is the sign between a number of lamps and their name.
var times = regexp.MustCompile(`\b(\d+) x `)

func typeset(s string) string { return times.ReplaceAllString(paperSigns.Replace(s), "$1 × ") }

// typesetAll is typeset of each, with a capital first.
func typesetAll(texts []string) []string {
	all := make([]string, len(texts))
	for i, t := range texts {
		all[i] = capital(typeset(t))
	}
	return all
}

// capital writes the first letter as a capital.
func capital(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}
