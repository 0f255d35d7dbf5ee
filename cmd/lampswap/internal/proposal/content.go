package proposal

import (
	"fmt"
	"math"
	"strings"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
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

// Of fills a document from a result; with other lamps and ballasts where they were worked out. It errs if a picture of the job cannot be drawn.
func Of(r *study.Result, others []*options.Options, part Part) (document.Document, error) {
	f := r.Job.Facts
	c := content{Units: units.Of(r.Job), result: r, Document: document.Document{
		Title: r.Job.Title, Author: f.PreparedBy, Language: "en", Date: f.Date, PageOf: [3]string{"Page ", " of ", ""}, Contents: "Contents",
		Source: figures.SourceOf(origin.Of(r.Job.InputsDigest)),
	}}
	if !f.Date.IsZero() {
		c.Foot = f.Date.Format(dayWords)
	}
	if part == Record {
		c.cover()
	} else if err := c.offer(); err != nil {
		return document.Document{}, err
	}
	switch part {
	case Offer:
		return c.Document, nil
	case Both:
		c.add(document.Fresh{})
		c.chapter("The record: what the offer rests on")
		c.say("From here on stands all that the answer was worked out from, for whoever checks it: the light and the load in full, assumptions, defaults, " +
			"sources, and how it was computed.")
		c.add(document.Index{})
	case Record:
	}
	c.record(others)
	return c.Document, nil
}

// record is all that the answer rests on.
func (c *content) record(others []*options.Options) {
	c.ledger()
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
	result  *study.Result
	figures int
	caveats int // that have a number
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
		c.add(document.Bullets{Items: typeset.All(items), First: c.caveats + 1})
		c.caveats += len(items)
	}
}

// show adds a figure with its number before the caption.
func (c *content) show(f document.Figure) {
	c.figures++
	f.Caption = fmt.Sprintf("Figure %d. %s", c.figures, typeset.Text(f.Caption))
	c.add(f)
}

// cover tells whose job it is, the answer, and what the answer is about.
func (c *content) cover() {
	c.add(document.Heading{Level: 1, Text: c.result.Job.Title}, document.Facts{List: c.facts(job.Offer{})})
	c.answer()
	c.criteria()
	c.add(document.Index{})
}

func (c *content) roomWords() string {
	room := c.result.Job.Room
	extent := fmt.Sprintf("%s by %s %s", c.long(room.Length), c.long(room.Width), c.Length)
	if room.Outline != nil {
		extent += " over all, " + typeset.Text(ledger.FloorArea(c.result.Job)+" of floor")
	}
	return fmt.Sprintf("%s, %s %s high; work plane %s %s above the floor", extent, c.long(room.Height), c.Length, c.long(room.WorkPlane), c.Length)
}

var marks = map[study.Standing]document.Mark{study.Unjudged: document.None, study.AllMet: document.Good, study.OneMissed: document.Bad, study.Qualified: document.Open}

// long writes a length, m, in the job's unit.
func (c *content) long(m float64) string { return fmt.Sprintf("%.4g", math.Round(m/c.Meter*100)/100) }

// swapWords tells what hangs there now and what takes its place.
func (c *content) swapWords() string {
	r := c.result
	if len(ledger.Groups(r).Sections) > 0 {
		return fmt.Sprintf("Now there %s %s, after the swap %s; the table of groups in the record says which.", map[bool]string{true: "is", false: "are"}[r.Existing.Luminaires == 1],
			typeset.Count(r.Existing.Luminaires, "luminaire"), typeset.Count(r.Proposed.Luminaires, "luminaire"))
	}
	existing := systemWords(&r.Job.Existing, &r.Existing)
	are := map[bool]string{true: "is", false: "are"}[r.Existing.Luminaires == 1]
	text := fmt.Sprintf("Now there %s %s, each with %s. The swap leaves %s", are, typeset.Count(r.Existing.Luminaires, "luminaire"), existing, c.placesWords())
	if r.Replacement != nil {
		text += fmt.Sprintf(" A replacement by new luminaires is compared too: %s, each with %s.", typeset.Count(r.Replacement.Luminaires, "luminaire"),
			systemWords(r.Job.Replacement, r.Replacement))
	}
	return text
}

func (c *content) placesWords() string {
	r := c.result
	proposed := systemWords(&r.Job.Proposed, &r.Proposed)
	if r.Proposed.Luminaires == r.Existing.Luminaires {
		return fmt.Sprintf("as many, each with %s.", proposed)
	}
	return fmt.Sprintf("%s, each with %s.", typeset.Count(r.Proposed.Luminaires, "luminaire"), proposed)
}

// systemWords is what one luminaire of a system has: 2 x F96T12, magnetic ballast, 158 W.
func systemWords(from systemSource, s *lighting.System) string {
	lamps := ledger.Lamps(*from)
	if from.Luminaire.Absolute {
		lamps = "its own light source"
	}
	if from.Luminaire.Absolute {
		return fmt.Sprintf("%s, %.0f W", lamps, s.InputWattsEach)
	}
	if from.Lamp != nil {
		lamps += " (" + from.Lamp.Description + ")"
	}
	feed := ledger.Feed(from)
	if b := from.Ballast; b != nil && b.Count == 1 {
		feed = ballastWords(b.Kind, feed)
	}
	if feed == "" {
		feed = fmt.Sprintf("ballast factor %.3g", from.BallastFactor)
	}
	return fmt.Sprintf("%s, %s, %.0f W", lamps, feed, s.InputWattsEach)
}

// ballastWords says in full what a ballast's kind in the list says short, such as is-low; other words for it stay.
func ballastWords(kind, words string) string {
	start, light, _ := strings.Cut(kind, "-")
	full := map[string]string{"is": "instant-start ballast", "ps": "programmed-start ballast"}[start]
	if full == "" {
		return words
	}
	if plain, premium := strings.CutPrefix(light, "premium-"); premium {
		full, light = "premium "+full, plain
	}
	return full + ", " + light + " light output"
}

// savingWords tells what the swap does to the energy and what that is worth.
func (c *content) savingWords() string {
	e := c.result.Energy
	saved := math.Round(e.SavedKWhPerYear)
	if saved == 0 {
		return "It draws as much energy as before."
	}
	text := fmt.Sprintf("It saves %s kWh a year, %.0f percent of what the lights draw", units.Thousands(saved), 100*e.SavedShare)
	if e.HeatingCooling != 0 {
		text = fmt.Sprintf("It saves %s kWh a year, cooling and heating counted in; the lights alone %s, %.0f percent of what they draw",
			units.Thousands(saved), units.Thousands(e.LightsSavedKWhPerYear), 100*e.SavedShare)
	}
	if saved < 0 {
		return fmt.Sprintf("It draws %s kWh a year MORE, %.0f percent.", units.Thousands(-saved), -100*e.SavedShare)
	}
	if e.SavingPerYear != nil {
		text += fmt.Sprintf(", and %s a year in money", c.amount(*e.SavingPerYear))
	}
	switch {
	case e.NetCost == nil:
	case *e.NetCost < 0:
		text += fmt.Sprintf("; the rebate is %s more than it costs", c.amount(-*e.NetCost))
	default:
		text += fmt.Sprintf("; it costs %s, rebate deducted", c.amount(*e.NetCost))
		if e.SimplePaybackYears != nil {
			text += fmt.Sprintf(", which the saving repays in %.1f years", *e.SimplePaybackYears)
		}
	}
	return text + "."
}

// criteria sets what is required against what is reached.
func (c *content) criteria() {
	r := c.result
	if len(r.Verdicts) == 0 {
		return
	}
	t := document.Table{Caption: "The criteria, and what is reached", Label: "Criterion",
		Columns: []document.Column{{Name: "Of what", Share: 1}, {Name: "Required"}, {Name: "Existing"}, {Name: "Proposed"}}}
	if r.Replacement != nil {
		t.Columns = append(t.Columns, document.Column{Name: "Replacement"})
	}
	g := document.Group{}
	for _, v := range r.Verdicts {
		required := map[bool]string{true: "≥ ", false: "≤ "}[v.AtLeast] + study.Quantity(r.Job, v.Criterion, v.RequiredIn(false), v.Finer(r.Job.Imperial))
		cells := []document.Cell{{Text: criterionWords(v.Criterion)}, {Text: typeset.Text(required)}, c.reached(v, v.Existing, v.ExistingMet, v.ExistingWhy),
			c.reached(v, v.Proposed, v.ProposedMet, v.ProposedWhy)}
		if r.Replacement != nil {
			cells = append(cells, c.reached(v, v.Replacement, v.ReplacementMet, v.ReplacementWhy))
		}
		g.Rows = append(g.Rows, document.Row{Label: v.Name, Cells: cells})
	}
	t.Groups = []document.Group{g}
	c.add(t)
}

// criterionWords says which number of what is tested.
func criterionWords(v levels.Criterion) string {
	return typeset.Capital(v.Statistic.Words()) + " of " + v.Grid
}

func (c *content) reached(v study.Verdict, value float64, met bool, why string) document.Cell {
	shown := photometry.Finer(c.Statistic(v.Statistic, value), v.Finer(c.result.Job.Imperial))
	switch {
	case why != "" && met:
		return document.Cell{Text: "met: " + why}
	case why != "":
		return document.Cell{Text: "not known: " + why, Alarm: true}
	case met:
		return document.Cell{Text: shown + ", met"}
	case v.Met(value): // by the numbers
		return document.Cell{Text: shown + ", not known", Alarm: true}
	}
	return document.Cell{Text: shown + ", " + ledger.MissedMark, Alarm: true}
}

func (c *content) ledger() {
	c.chapter("Before and after")
	methods := "It is worked out by two methods, as an average by the lumen method and point by point."
	if len(c.result.Job.Racks) > 0 {
		methods = "It is worked out point by point. The lumen method, further down, sees no racks: it is the average of the empty room, and proves nothing of this one."
	}
	c.say("Light is maintained light: what is left when dirt has settled and lamps have aged, " + c.result.JudgedAt() +
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
				row.Cells = append(row.Cells, document.Cell{Text: typeset.Text(c.Text), Alarm: strings.HasSuffix(c.Text, ledger.MissedMark)})
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
