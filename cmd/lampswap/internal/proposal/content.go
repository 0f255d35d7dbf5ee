package proposal

import (
	"fmt"
	"math"
	"strings"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/number"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// A Part of a proposal.
type Part string

// The offer is what an owner reads and signs; the record is all that it rests on; both are one document.
const (
	Both   Part = "both"
	Offer  Part = "offer"
	Record Part = "record"
)

// Parts are those that may be asked for.
var Parts = []Part{Both, Offer, Record}

// Of fills a document from a result, the offer in a language; with other lamps and ballasts where they were
// worked out. It errs if a picture of the job cannot be drawn.
func Of(r *study.Result, others []*options.Options, part Part, in phrases.Language) (document.Document,
	error) {
	if part == Record {
		in = phrases.English
	}
	c := content{Units: units.Of(r.Job), In: in, result: r, caveat: numbered(0, wording.Weighed(r))}
	c.Document = c.blank(r.Job, r.Job.Title, r.Job.InputsDigest)
	if part == Record {
		c.cover()
	} else if err := c.offer(); err != nil {
		return document.Document{}, err
	}
	if part == Both {
		c.turn()
	}
	if part != Offer {
		c.record(others, part == Both)
	}
	return c.Document, nil
}

// blank is a document about a job without a block.
func (c *content) blank(j *job.Job, title, digest string) document.Document {
	return document.Document{Title: title, Author: j.Facts.PreparedBy, Language: string(c.In),
		Date: j.Facts.Date, Foot: c.day(j.Facts.Date),
		PageOf:   [3]string{c.In.Say("page.before"), c.In.Say("page.between"), ""},
		Contents: c.In.Say("page.contents"), Source: figures.SourceOf(origin.Of(digest))}
}

// turn goes over from the offer to the record, which is in English.
func (c *content) turn() {
	c.add(document.Fresh{})
	c.chapter(c.In.Say("record.title"))
	c.say(c.In.Say("record.about"))
	c.add(document.Index{})
	c.In = phrases.English
	c.add(document.Tongue{Language: string(c.In)})
}

// record is all that the answer rests on; after an offer it begins with the verdict in full.
func (c *content) record(others []*options.Options, first bool) {
	if first {
		c.chapter("The verdict in full")
		_, sentence := ledger.Answer(c.result)
		c.say(sentence)
		c.list(wording.Failed(c.result))
		c.list(wording.Outages(c.result))
	}
	c.ledger()
	c.fittings()
	c.maps()
	c.luminaires()
	c.comfort()
	c.years()
	for _, o := range others {
		c.otherLamps(o)
	}
	c.money()
	c.doubt()
	c.levels()
	c.basis()
	c.sources()
	c.cautions()
	c.method()
}

// A content gathers the blocks of a proposal.
type content struct {
	units.Units
	document.Document
	In      phrases.Language // of the offer
	result  *study.Result
	caveat  []caveat // of the record, about what is being told
	figures int
	told    int // caveats of the record that have their number
}

func (c *content) add(b ...document.Block) { c.Blocks = append(c.Blocks, b...) }

func (c *content) chapter(title string) { c.add(document.Heading{Level: 2, Text: title}) }

func (c *content) part(title string) { c.add(document.Heading{Level: 3, Text: title}) }

func (c *content) say(text string) {
	if text != "" {
		c.add(document.Prose{Text: typeset.Text(text)})
	}
}

func (c *content) list(items []string) {
	if len(items) > 0 {
		c.add(document.Bullets{Items: typeset.All(items)})
	}
}

// number lists items with the numbers by which the offer points to them.
func (c *content) number(items []string) {
	if len(items) > 0 {
		c.add(document.Bullets{Items: typeset.All(items), First: c.told + 1})
		c.told += len(items)
	}
}

// show adds a figure with its number before the caption.
func (c *content) show(f document.Figure) {
	c.figures++
	f.Caption = c.In.Say("figure", "n", c.figures, "caption", typeset.Text(f.Caption))
	c.add(f)
}

// cover tells whose job it is, the answer, and what the answer is about.
func (c *content) cover() {
	c.add(document.Heading{Level: 1, Text: c.result.Job.Title}, document.Facts{List: c.facts(job.Offer{})})
	word, sentence := ledger.Answer(c.result)
	c.chapter(c.In.Say("verdict"))
	c.add(document.Verdict{Word: word, Sentence: typeset.Text(sentence), Mark: marks[c.result.Standing()]})
	c.say(c.swapWords())
	c.say(c.qualified(c.savingWords(), c.result.Met(), "money.missed"))
	c.list(wording.Failed(c.result))
	c.list(wording.Outages(c.result))
	c.criteria()
	c.add(document.Index{})
}

func (c *content) roomWords() string {
	room, unit := c.result.Job.Room, c.In.Say("unit."+c.Length)
	extent := []any{"length", c.long(room.Length), "width", c.long(room.Width), "unit", unit}
	words := c.In.Say("fact.extent", extent...)
	if room.Outline != nil {
		words = c.In.Say("fact.extent.outline", append(extent, "area", c.area(room.Area()))...)
	}
	return c.In.Say("fact.room.words", "extent", words, "height", c.long(room.Height), "plane",
		c.long(room.WorkPlane), "unit", unit)
}

// area writes an area, m2, in the job's unit.
func (c *content) area(m2 float64) string {
	return number.Thousands(m2/(c.Meter*c.Meter)) + " " + c.In.Say("unit."+c.Length+"2")
}

// long writes a length, m, in the job's unit.
func (c *content) long(m float64) string { return fmt.Sprintf("%.4g", math.Round(m/c.Meter*100)/100) }

func (c *content) ledger() {
	c.chapter("Before and after")
	methods := "It is worked out by two methods, as an average by the lumen method and point by point."
	if len(c.result.Job.Racks) > 0 {
		methods = "It is worked out point by point. The lumen method, further down, sees no racks: it is the average of the empty room, and proves nothing of this one."
	}
	c.say("Light is maintained light: what is left when dirt has settled and lamps have aged, " + wording.JudgedAt(c.result) +
		"; single days can be darker. " + methods + " Behind a loss factor, t is from a table, j from the job file, d a default, e an estimate.")
	if l := ledger.Groups(c.result); len(l.Sections) > 0 {
		t := TableOf(l, "Group")
		t.Caption = "The groups of luminaires, what they draw as found and as set, and for how long they burn"
		c.add(t)
	}
	t := TableOf(ledger.BeforeAfter(c.result), "Quantity")
	t.Caption = "Existing and proposed lighting"
	c.add(t)
}

// TableOf is a ledger as a table.
func TableOf(l ledger.Ledger, label string) document.Table {
	t := document.Table{Caption: l.Name, Label: label}
	for _, name := range l.Columns {
		t.Columns = append(t.Columns, document.Column{Name: typeset.Capital(typeset.Text(name))})
	}
	for _, s := range l.Sections {
		g := document.Group{Name: typeset.Text(s.Name)}
		for _, r := range s.Rows {
			row := document.Row{Label: typeset.Text(r.Label)}
			if !l.Named {
				row.Label = typeset.Capital(row.Label)
			}
			for _, c := range r.Cells {
				row.Cells = append(row.Cells, document.Cell{Text: typeset.Text(c.Text),
					Alarm: strings.HasSuffix(c.Text, ledger.MissedMark)})
			}
			for len(row.Cells) < len(t.Columns) {
				row.Cells = append(row.Cells, document.Cell{})
			}
			g.Rows = append(g.Rows, row)
		}
		t.Groups = append(t.Groups, g)
	}
	return t
}
