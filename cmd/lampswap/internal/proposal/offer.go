package proposal

import (
	"fmt"
	"math"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
	"lampswap/plots"
)

// offer is what an owner reads and signs: the answer, what it saves and costs, what is done, and the firm's own words.
func (c *content) offer() error {
	own := c.result.Job.Facts.Offer
	if err := c.letterhead(own.Firm); err != nil {
		return err
	}
	c.add(document.Heading{Level: 1, Text: c.result.Job.Title}, document.Facts{List: c.facts(own)})
	c.answer()
	c.lightAtAGlance()
	c.criteria()
	c.pointer()
	c.saving()
	c.work(own)
	return c.ownWords(own)
}

// ownWords are what the firm says itself.
func (c *content) ownWords(own job.Offer) error {
	if own.Notes != "" {
		c.chapter("Notes")
		c.add(notesOf(own.Notes)...)
	}
	if err := c.photos(own.Photos); err != nil {
		return err
	}
	c.terms(own)
	return nil
}

func (c *content) letterhead(f job.Firm) error {
	if f.Name == "" {
		return nil
	}
	l := document.Letterhead{Name: f.Name, Lines: f.Address}
	for _, line := range []struct{ before, text string }{{"", f.Phone}, {"", f.Email}, {"License ", f.License}} {
		if line.text != "" {
			l.Lines = append(l.Lines, line.before+line.text)
		}
	}
	if f.LogoContent != nil {
		var err error
		if l.Logo, err = document.PictureOf(f.LogoContent, f.Name); err != nil {
			return fmt.Errorf("%s %w", f.Logo, err)
		}
	}
	c.add(l)
	return nil
}

// facts are whose job it is and what it is about.
func (c *content) facts(own job.Offer) []document.Fact {
	r, f := c.result, c.result.Job.Facts
	var list []document.Fact
	say := func(name, value string) {
		if value != "" {
			list = append(list, document.Fact{Name: name, Value: value})
		}
	}
	if !f.Date.IsZero() {
		say("Date", f.Date.Format(dayWords))
	}
	if !own.ValidUntil.IsZero() {
		say("Valid until", own.ValidUntil.Format(dayWords))
	}
	say("Prepared for", f.PreparedFor)
	say("Prepared by", f.PreparedBy)
	say("Room", c.roomWords())
	if s := r.Job.Space; s != nil {
		say("Kind of space", s.Label())
	}
	hours := fmt.Sprintf("%s hours a year", units.Thousands(r.Job.Upkeep.HoursPerYear))
	if ledger.OwnHours(r.Job) {
		hours += ", but for groups with hours of their own"
	}
	say("Use", hours)
	return list
}

const dayWords = "2 January 2006"

// answer is the verdict with what it is about.
func (c *content) answer() {
	word, sentence := ledger.Answer(c.result)
	c.add(document.Heading{Level: 2, Text: "The verdict"}, document.Verdict{Word: word, Sentence: typeset.Text(sentence), Mark: marks[c.result.Standing()]})
	c.say(c.swapWords())
	c.say(c.savingWords())
	c.list(c.result.FailedWords())
	c.list(c.result.OutageWords())
}

// caveatsAt says where the record tells so many caveats, the first of them as the number after so many others.
func caveatsAt(after, n int) string {
	if n == 1 {
		return fmt.Sprintf("caveat %d of the record", after+1)
	}
	return fmt.Sprintf("caveats %d to %d of the record", after+1, after+n)
}

// pointer says where the caveats of the answer are told, the gravest first.
func (c *content) pointer() {
	switch n := len(study.Weighed(c.result.Warnings)); n {
	case 0:
	case 1:
		c.say("Before trusting this, read " + caveatsAt(0, n) + ".")
	default:
		c.say("Before trusting this, read " + caveatsAt(0, n) + ", the gravest first.")
	}
}

// lightAtAGlance is the light as bars and as two small maps, and what its unit is.
func (c *content) lightAtAGlance() {
	sheet := c.sheet(0)
	for i := range 2 {
		sheet.Maps[i].Required, sheet.Maps[i].Of = 0, "" // the bars and the captions tell; the maps of the record are large enough for hatching
	}
	c.show(document.Figure{Parts: []plots.Figure{figures.Bars(c.result), sheet.Panel(0), sheet.Panel(1)},
		Caption: "Maintained light on the work plane: its average against what is required, and where it falls, seen from above."})
	unit := "A footcandle, fc, is how brightly a square foot is lit that gets one lumen, about the light of a candle a foot away"
	if !c.result.Job.Imperial {
		unit = "A lux, lx, is how brightly a square meter is lit that gets one lumen"
	}
	c.say(unit + ". Maintained is what is left when lamps have aged and dirt has settled.")
}

// amount is money with the sign or the letters of its currency.
func (c *content) amount(x float64) string {
	text := c.Money(math.Abs(x))
	if x < 0 {
		return "less " + text
	}
	return text
}

// saving is what the swap saves and costs, line by line.
func (c *content) saving() {
	e := c.result.Energy
	t := document.Table{Caption: "What it saves, and what it costs", Label: "Item", Columns: []document.Column{{Name: "Amount"}}}
	var saved, cost document.Group
	row := func(g *document.Group, label, amount string) {
		g.Rows = append(g.Rows, document.Row{Label: typeset.Text(label), Cells: []document.Cell{{Text: amount}}})
	}
	row(&saved, "Energy before, a year", units.Thousands(e.ExistingKWhPerYear)+" kWh")
	row(&saved, "Energy after, a year", units.Thousands(e.ProposedKWhPerYear)+" kWh")
	if e.SavingPerYear != nil {
		row(&saved, "Saved a year, in money", c.amount(*e.SavingPerYear))
	}
	costs := c.result.Job.Proposed.Costs
	for _, line := range costs.Lines {
		row(&cost, typeset.Capital(line.Text), c.amount(line.Amount))
	}
	if costs.InstalledCost != nil {
		row(&cost, "The work, installed", c.amount(*costs.InstalledCost))
	}
	if costs.Rebate != nil {
		row(&cost, "Rebate", c.amount(-*costs.Rebate))
	}
	for _, paid := range e.Rebates {
		row(&cost, fmt.Sprintf("Rebate for %s %s", units.Thousands(paid.Units), rebateUnits[paid.Per]), c.amount(-paid.Paid))
	}
	if e.NetCost != nil && (costs.Rebate != nil || len(e.Rebates) > 0) {
		row(&cost, "Cost less rebates", c.amount(*e.NetCost))
	}
	if e.SimplePaybackYears != nil {
		row(&cost, "Repaid by the saving in", photometry.Fixed(*e.SimplePaybackYears, 1)+" years")
	}
	saved.Name, cost.Name = "Saving", "Cost"
	t.Groups = []document.Group{saved}
	if len(cost.Rows) > 0 {
		t.Groups = append(t.Groups, cost)
	}
	c.chapter("What it saves and costs")
	if !c.result.Met() {
		c.say("A criterion is missed, as the verdict says: this is what the swap saves as proposed, not what a swap saves that is bright enough.")
	}
	c.add(t)
}

var rebateUnits = map[string]string{"lamp": "lamps", "luminaire": "luminaires", "kwh": "kWh saved a year", "kw": "kW saved"}

// work is what is bought, taken out and done.
func (c *content) work(own job.Offer) {
	counted := whole.Alone(c.result)
	takeOff := ledger.TakeOff(counted)
	if len(takeOff.Sections)+len(own.Work) == 0 {
		return
	}
	c.chapter("The work")
	if len(takeOff.Sections) > 0 {
		c.table(takeOff, "Kind", "What comes in and what goes out.")
		c.list(counted.TakeOffWords())
	}
	c.steps(own.Work)
	c.say("A licensed electrician does the work, with circuits locked out and tested dead, and takes care of lamps that hold mercury and ballasts that may hold PCB. " +
		"The cautions in full are " + caveatsAt(len(study.Weighed(c.result.Warnings)), len(c.result.Cautions)) + "; local codes and the authority having jurisdiction decide.")
}

// steps is the schedule of the work.
func (c *content) steps(work []job.Step) {
	if len(work) == 0 {
		return
	}
	t := document.Table{Caption: "Schedule of the work", Label: "Step", Columns: []document.Column{{Name: "When", Share: 0.3}}}
	var g document.Group
	for _, step := range work {
		g.Rows = append(g.Rows, document.Row{Label: step.What, Cells: []document.Cell{{Text: step.When}}})
	}
	t.Groups = []document.Group{g}
	c.add(t)
}

func (c *content) photos(all []job.Photo) error {
	if len(all) == 0 {
		return nil
	}
	c.chapter("Photographs")
	for _, p := range all {
		picture, err := document.PictureOf(p.Content, p.Caption)
		if err != nil {
			return fmt.Errorf("%s %w", p.File, err)
		}
		c.add(picture)
	}
	return nil
}

// terms are the firm's warranty, for how long it offers, and lines to accept on.
func (c *content) terms(own job.Offer) {
	if len(own.Warranty) > 0 {
		c.chapter("Warranty")
		c.add(document.Bullets{Items: own.Warranty})
	}
	if !own.Acceptance {
		return
	}
	c.chapter("Acceptance")
	words := "The work as described here is accepted"
	if !own.ValidUntil.IsZero() {
		words += ", if signed by " + own.ValidUntil.Format(dayWords)
	}
	c.say(words + ".")
	c.add(document.Blanks{Names: []string{"For the owner, name", "For the firm, name", "Signature", "Signature", "Date", "Date"}})
}
