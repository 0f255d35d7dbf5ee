package main

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry/catalog"
	"lampswap/photometry/levels"
	"lampswap/photometry/study"
)

// proposalOf fills a document from a result; others may be nil.
func proposalOf(r *study.Result, others *study.Options) document {
	f := r.Job.Facts
	c := content{view: viewOf(r), result: r, document: document{
		Title: r.Job.Title, Author: f.PreparedBy, Language: "en", Date: f.Date, PageOf: [3]string{"Page ", " of ", ""}, Contents: "Contents",
	}}
	c.cover()
	c.ledger()
	c.maps()
	c.luminaires()
	c.years()
	c.otherLamps(others)
	c.money()
	c.doubt()
	c.levels()
	c.basis()
	c.sources()
	c.cautions()
	c.method()
	return c.document
}

// A content gathers the blocks of a proposal.
type content struct {
	view
	document
	result  *study.Result
	figures int
}

func (c *content) add(b ...block) { c.Blocks = append(c.Blocks, b...) }

func (c *content) chapter(title string) { c.add(heading{2, title}) }

func (c *content) part(title string) { c.add(heading{3, title}) }

func (c *content) say(text string) {
	if text != "" {
		c.add(prose{Text: typeset(text)})
	}
}

func (c *content) list(items []string) {
	if len(items) > 0 {
		c.add(bullets{typesetAll(items)})
	}
}

// show adds a figure with its number before the caption.
func (c *content) show(f figure) {
	c.figures++
	f.Caption = fmt.Sprintf("Figure %d. %s", c.figures, typeset(f.Caption))
	c.add(f)
}

// cover tells whose job it is, the answer, and what the answer is about.
func (c *content) cover() {
	r, f := c.result, c.result.Job.Facts
	c.add(heading{1, r.Job.Title})
	var list []fact
	say := func(name, value string) {
		if value != "" {
			list = append(list, fact{name, value})
		}
	}
	if !f.Date.IsZero() {
		date := f.Date.Format("2 January 2006")
		say("Date", date)
		c.Foot = date
	}
	say("Prepared for", f.PreparedFor)
	say("Prepared by", f.PreparedBy)
	say("Subject", "Light before and after the swap of lamps: is it still enough?")
	say("Room", fmt.Sprintf("%s by %s %s, %s %s high; light is asked for %s %s above the floor",
		c.long(r.Job.Room.Length), c.long(r.Job.Room.Width), c.length,
		c.long(r.Job.Room.Height), c.length, c.long(r.Job.Room.WorkPlane), c.length))
	say("Use", fmt.Sprintf("%s hours a year", thousands(r.Job.Upkeep.HoursPerYear)))
	c.add(facts{list})
	word, sentence := answerOf(r)
	c.add(heading{2, "The answer"}, verdictBox{word, typeset(sentence), r.Met()})
	c.say(c.swapWords())
	c.say(c.savingWords())
	c.criteria()
}

// long writes a length, m, in the job's unit.
func (c *content) long(m float64) string { return fmt.Sprintf("%.4g", math.Round(m/c.meter*100)/100) }

// swapWords tells what hangs there now and what takes its place.
func (c *content) swapWords() string {
	r := c.result
	existing := systemWords(&r.Job.Existing, &r.Existing)
	text := fmt.Sprintf("Now there are %d luminaires, each with %s. The swap leaves %s", r.Existing.Luminaires, existing, c.placesWords())
	if r.Replacement != nil {
		text += fmt.Sprintf(" New fixtures in their place are compared too: %d luminaires, each with %s.", r.Replacement.Luminaires,
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
	return fmt.Sprintf("%d luminaires, each with %s.", r.Proposed.Luminaires, proposed)
}

// systemWords is what one luminaire of a system has: 2 x F96T12, ballast magnetic, 158 W.
func systemWords(from systemSource, s *study.System) string {
	lamps := lampsOf(*from)
	if from.Luminaire.Absolute {
		lamps = "its own light source"
	}
	feed := fmt.Sprintf("ballast factor %.3g", from.BallastFactor)
	switch b := from.Ballast; {
	case from.Luminaire.Absolute:
		return fmt.Sprintf("%s, %.0f W", lamps, s.InputWattsEach)
	case b != nil && b.Kind == catalog.KindNone:
		feed = "no ballast"
	case b != nil && b.Count > 1:
		feed = fmt.Sprintf("%d ballasts %s", b.Count, b.Kind)
	case b != nil:
		feed = "ballast " + b.Kind
	}
	return fmt.Sprintf("%s, %s, %.0f W", lamps, feed, s.InputWattsEach)
}

// savingWords tells what the swap does to the energy and what that is worth.
func (c *content) savingWords() string {
	e := c.result.Energy
	saved := math.Round(e.SavedKWhPerYear)
	if saved == 0 {
		return "It draws as much energy as before."
	}
	text := fmt.Sprintf("It saves %s kWh a year, %.0f percent of what the lights draw", thousands(saved), 100*e.SavedShare)
	if saved < 0 {
		return fmt.Sprintf("It draws %s kWh a year MORE, %.0f percent.", thousands(-saved), -100*e.SavedShare)
	}
	if e.SavingPerYear != nil {
		text += fmt.Sprintf(", and %s a year in money", thousands(*e.SavingPerYear))
	}
	if e.NetCost != nil {
		text += fmt.Sprintf("; it costs %s, rebate deducted", thousands(*e.NetCost))
		if e.SimplePaybackYears != nil {
			text += fmt.Sprintf(", which the saving repays in %.1f years", *e.SimplePaybackYears)
		}
	}
	return text + "."
}

// criteria sets what is asked against what is reached.
func (c *content) criteria() {
	r := c.result
	if len(r.Verdicts) == 0 {
		return
	}
	t := dataTable{Caption: "What is asked, and what is reached", Label: "Asked by",
		Columns: []column{{"Of what", 1}, {Name: "Asked"}, {Name: "Existing"}, {Name: "Proposed"}}}
	if r.Replacement != nil {
		t.Columns = append(t.Columns, column{Name: "Replacement"})
	}
	g := group{}
	for _, v := range r.Verdicts {
		required := map[bool]string{true: "≥ ", false: "≤ "}[v.AtLeast] + study.Digits(v.RequiredIn(r.Job.Imperial)) + " " +
			"" + unitOfStatistic(c.view, v.Statistic)
		cells := []datum{{Text: criterionWords(v.Criterion)}, {Text: typeset(required)}, c.reached(v, v.Existing, v.ExistingMet),
			c.reached(v, v.Proposed, v.ProposedMet)}
		if r.Replacement != nil {
			cells = append(cells, c.reached(v, v.Replacement, v.ReplacementMet))
		}
		g.Rows = append(g.Rows, tableRow{v.Name, cells})
	}
	t.Groups = []group{g}
	c.add(t)
}

// criterionWords says which number of what is tested.
func criterionWords(v levels.Criterion) string {
	return capital(strings.ReplaceAll(v.Statistic.String(), "_", " ")) + " of " + v.Grid
}

func (c *content) reached(v study.Verdict, value float64, met bool) datum {
	shown := study.Digits(float64(c.statistic(v.Statistic, value)))
	if met {
		return datum{Text: shown + ", met"}
	}
	return datum{Text: shown + ", " + missedMark, Alarm: true}
}

func (c *content) ledger() {
	c.chapter("Before and after")
	c.say("Light is maintained light: what is left when lamps have aged and dirt has settled. It is worked out by two methods, as " +
		"an average by the lumen method and " +
		"point by point. Behind a loss factor, t is from a table, j from the job file, d a default, e an estimate.")
	t := tableOf(beforeAfter(c.result), "Quantity")
	t.Caption = "The lighting before and after the swap"
	c.add(t)
}
