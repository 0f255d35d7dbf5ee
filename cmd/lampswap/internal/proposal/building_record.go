package proposal

import (
	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/job"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
	"lampswap/plots"
)

// table shows a ledger with a caption, if it has a row.
func (c *content) table(l ledger.Ledger, label, caption string) {
	if len(l.Sections) == 0 {
		return
	}
	t := TableOf(l, label)
	t.Caption = typeset.Text(caption)
	c.add(t)
}

// buildingRecord is all that the answer of a building rests on.
func (c *content) buildingRecord(r *whole.Result, first bool) {
	if first {
		c.chapter("The verdict in full")
		_, sentence := ledger.BuildingAnswer(r)
		c.say(sentence)
	}
	c.buildingTables(r)
	c.buildingMoney(r)
	c.buildingTakeOff(r)
	for _, s := range r.Spaces {
		c.spaceRecord(s)
	}
	c.result = r.Whole
	c.buildingBasis(r)
}

// buildingTables are the spaces side by side in full.
func (c *content) buildingTables(r *whole.Result) {
	c.table(ledger.SpacesLight(r), "Space",
		"The spaces, one of those alike: maintained light on the work plane, "+c.Illuminance+".")
	c.table(ledger.SpacesPower(r), "Space",
		"The spaces with their copies: load as found and as set, kW, and the power density of all luminaires lit, "+c.Power+".")
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
		c.list(wording.Ratio(r.Whole))
	}
	if l := ledger.ByPayback(r); len(l.Sections) > 0 {
		c.part("If the budget ends")
		c.say("Each row is a space with all above it: what they cost and save together, and what the building's lighting " +
			"draws then. " + ledger.PaybackWords)
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

// buildingTakeOff is what hangs where, what is to be bought and what to be disposed of.
func (c *content) buildingTakeOff(r *whole.Result) {
	c.chapter("Schedule and take-off")
	c.table(ledger.Schedule(r), "Space", "Luminaires by kind and space, before and after.")
	c.table(ledger.TakeOff(r), "Kind", "What comes in and what goes out.")
	c.list(wording.TakeOff(r))
}

// spaceRecord is one space: its answer in full, its groups of luminaires, its maps.
func (c *content) spaceRecord(s whole.Space) {
	c.result = s.Result
	c.chapter("In full: " + c.called(s))
	_, sentence := ledger.Answer(s.Result)
	c.say(sentence)
	c.list(wording.Failed(s.Result))
	groups := TableOf(ledger.GroupsOf(s), "Group")
	groups.Caption = "The groups of luminaires, before and after, of one such space."
	for _, k := range []int{0, 3} { // the kind, and hours with what a control saves of them
		groups.Columns[k].Share = 1
	}
	c.add(groups)
	for i, g := range s.Existing().Grids {
		c.show(document.Figure{Parts: []plots.Figure{c.sheet(i)}, Caption: s.Name + ". " + c.mapCaption(g)})
	}
}

// buildingBasis is what it all rests on.
func (c *content) buildingBasis(r *whole.Result) {
	c.chapter("What it rests on")
	c.say("Light is maintained light: what is left when dirt has settled and lamps have aged. It is worked out point by " +
		"point for each space by itself, and by the lumen method beside it.")
	if told := buildingCaveats(r); len(told) > 0 {
		var warnings []string
		for _, one := range told {
			warnings = append(warnings, one.said)
		}
		c.part("What to know before trusting it")
		c.number(warnings)
	}
	for _, n := range ledger.BuildingNotes(r) {
		switch n.Heading {
		case ledger.TakeOffHeading, ledger.MissedHeading, ledger.MindHeading, "Emissions avoided",
			"How the ratio counts", "How the order by payback counts", "Phases",
			"Defaults that were used", "Warnings": // told elsewhere
			continue
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
			all = append(all, job.Default{Key: wording.Of(d.Key, d.Spaces), Value: d.Value, Reason: d.Reason})
		}
		c.add(defaultsTable(all))
	}
}
