package proposal

import (
	"fmt"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
	"lampswap/plots"
)

// OfBuilding fills a document from the result of a building: the whole first, then the schedule, the firm's own words, then each space with its
// maps. It errs if a picture cannot be drawn.
func OfBuilding(r *whole.Result) (document.Document, error) {
	b := r.Building
	f := b.Whole.Facts
	c := content{Units: units.Of(b.Whole), result: r.Whole, Document: document.Document{
		Title: b.Title, Author: f.PreparedBy, Language: "en", Date: f.Date, PageOf: [3]string{"Page ", " of ", ""}, Contents: "Contents",
		Source: figures.SourceOf(origin.Of(b.InputsDigest)),
	}}
	if c.Author == "" {
		c.Author = b.Firm.Name
	}
	if err := c.letterhead(f.Offer.Firm); err != nil {
		return document.Document{}, err
	}
	c.buildingCover(r)
	c.buildingMoney(r)
	c.takeOff(r)
	c.steps(f.Offer.Work)
	if err := c.ownWords(f.Offer); err != nil {
		return document.Document{}, err
	}
	for _, s := range r.Spaces {
		c.space(r, s)
	}
	c.result = r.Whole
	c.add(document.Fresh{})
	c.buildingBasis(r)
	return c.Document, nil
}

// buildingCover tells whose building it is, the answer, and the spaces.
func (c *content) buildingCover(r *whole.Result) {
	b, f := r.Building, r.Building.Whole.Facts
	c.add(document.Heading{Level: 1, Text: b.Title})
	var list []document.Fact
	say := func(name, value string) {
		if value != "" {
			list = append(list, document.Fact{Name: name, Value: value})
		}
	}
	if !f.Date.IsZero() {
		date := f.Date.Format(dayWords)
		say("Date", date)
		c.Foot = date
	}
	say("Prepared for", f.PreparedFor)
	say("Prepared by", f.PreparedBy)
	if !f.Offer.ValidUntil.IsZero() {
		say("Valid until", f.Offer.ValidUntil.Format(dayWords))
	}
	say("Subject", "Light before and after the lamp swap, in every space: is it enough?")
	say("Building", fmt.Sprintf("%s, %s %s2 of floor, %s", typeset.Count(r.Totals.Spaces, "space"), units.Thousands(r.Totals.FloorArea/(c.Meter*c.Meter)), c.Length,
		typeset.Count(r.Totals.Sides[0].Luminaires, "luminaire")))
	for i := range list {
		list[i].Value = typeset.Text(list[i].Value)
	}
	c.add(document.Facts{List: list})
	word, sentence := ledger.BuildingAnswer(r)
	c.add(document.Heading{Level: 2, Text: "The verdict"}, document.Verdict{Word: word, Sentence: typeset.Text(sentence), Mark: marks[r.Standing()]})
	c.table(ledger.SpacesLight(r), "Space", "The spaces, one of those alike: maintained light on the work plane, "+c.Illuminance+". A space with something to mind tells it on its page.")
	c.table(ledger.SpacesPower(r), "Space", "The spaces with their copies: load as found and as set, kW, and the power density of all luminaires lit, "+c.Power+".")
	c.add(document.Index{})
}

// table shows a ledger with a caption, if it has a row.
func (c *content) table(l ledger.Ledger, label, caption string) {
	if len(l.Sections) == 0 {
		return
	}
	t := TableOf(l, label)
	t.Caption = typeset.Text(caption)
	c.add(t)
}

// buildingMoney is what the whole draws, costs and saves, and which spaces repay soonest.
func (c *content) buildingMoney(r *whole.Result) {
	c.chapter("The building as a whole")
	c.table(ledger.WholeBuilding(r), "Quantity", "All spaces with their copies.")
	if r.Whole.LifeCycle != nil {
		c.table(ledger.WholeWays(r), "Quantity", "The systems compared.")
		if f, ok := cashFigure(r.Whole); ok {
			c.show(f)
		}
		c.list(r.Whole.LifeCycle.Words())
	}
	if l := ledger.ByPayback(r); len(l.Sections) > 0 {
		c.part("If the budget ends")
		c.say("Each row is a space with all above it: what they cost and save together, and what the building's lighting draws then. " + ledger.PaybackWords)
		c.table(l, "Space", "Spaces in the order of their payback.")
	}
	if l := ledger.Phases(r); len(l.Sections) > 0 {
		c.part("Phases")
		c.table(l, "Phase", "The building now and after each phase.")
		c.list(ledger.PhaseWords(r))
	}
	if spared := ledger.Spared(r.Whole); len(spared) > 0 {
		c.part("Emissions avoided")
		c.list(spared)
	}
}

// takeOff is what hangs where, what is to be bought and what to be disposed of.
func (c *content) takeOff(r *whole.Result) {
	c.chapter("Schedule and take-off")
	c.table(ledger.Schedule(r), "Space", "Luminaires by kind and space, before and after.")
	c.table(ledger.TakeOff(r), "Kind", "What comes in and what goes out.")
	c.list(r.TakeOffWords())
}

// space is one space: its answer, what is required, its luminaires, its maps.
func (c *content) space(r *whole.Result, s whole.Space) {
	c.result = s.Result
	title := s.Name
	if s.Copies > 1 {
		title += fmt.Sprintf(" (%d alike)", s.Copies)
	}
	c.add(document.Fresh{IfFilled: true})
	c.chapter("Space: " + title)
	room := s.Space.Job.Room
	c.say(fmt.Sprintf("%s by %s %s, %s %s high; work plane %s %s above the floor.", c.long(room.Length), c.long(room.Width), c.Length, c.long(room.Height), c.Length,
		c.long(room.WorkPlane), c.Length))
	word, sentence := ledger.Answer(s.Result)
	c.add(document.Verdict{Word: word, Sentence: typeset.Text(sentence), Mark: marks[s.Standing()]})
	c.list(s.FailedWords())
	c.criteria()
	groups := TableOf(ledger.GroupsOf(s), "Group")
	groups.Caption = "The groups of luminaires, before and after, of one such space."
	for _, k := range []int{0, 3} { // the kind, and hours with what a control saves of them
		groups.Columns[k].Share = 1
	}
	c.add(groups)
	var own []string
	for _, w := range r.Warnings() {
		if len(w.Spaces) == 1 && w.Spaces[0] == s.Name {
			own = append(own, w.Text)
		}
	}
	c.list(study.Weighed(own))
	for i, g := range s.Existing.Grids {
		c.show(document.Figure{Parts: []plots.Figure{c.sheet(i)}, Caption: s.Name + ". " + c.mapCaption(g)})
	}
}

// buildingBasis is what it all rests on.
func (c *content) buildingBasis(r *whole.Result) {
	c.chapter("What it rests on")
	c.say("Light is maintained light: what is left when dirt has settled and lamps have aged. It is worked out point by point for each space by itself, and by the lumen method beside it.")
	for _, n := range ledger.BuildingNotes(r) {
		switch n.Heading {
		case ledger.TakeOffHeading, ledger.MissedHeading, ledger.MindHeading, "Emissions avoided", "How the ratio counts", "How the order by payback counts", "Phases":
			continue // told above
		case "Defaults that were used", "Warnings":
			continue // told below
		}
		c.part(n.Heading)
		if n.Heading == "Cautions" {
			c.number(n.Items)
			continue
		}
		c.list(n.Items)
	}
	if defaults := r.Defaults(); len(defaults) > 0 {
		c.part("Defaults that were used, since the building does not say")
		var all []job.Default
		for _, d := range defaults {
			said := whole.Said{Text: d.Key, Spaces: d.Spaces}
			all = append(all, job.Default{Key: said.Shown(), Value: d.Value, Reason: d.Reason})
		}
		c.add(defaultsTable(all))
	}
	var shared []string // those of one space stand on its page
	for _, w := range r.Warnings() {
		if len(w.Spaces) != 1 || len(r.Spaces) == 1 {
			shared = append(shared, w.Shown())
		}
	}
	if len(shared) > 0 {
		c.part("Warnings")
		c.number(study.Weighed(shared))
	}
}
