package proposal

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
)

// OfBuilding fills a document from the result of a building, the offer in a language: the whole first, then
// the work, the firm's own words, then each space; in the record its tables, the maps of every grid, and
// what it all rests on. It errs if a picture cannot be drawn.
func OfBuilding(r *whole.Result, part Part, in phrases.Language) (document.Document, error) {
	if part == Record {
		in = phrases.English
	}
	b := r.Building
	c := content{Units: units.Of(b.Whole), In: in, result: r.Whole}
	c.Document = c.blank(b.Whole, b.Title, b.InputsDigest)
	if c.Author == "" {
		c.Author = b.Firm.Name
	}
	if part == Record {
		c.buildingHead(r)
		c.chapter(c.In.Say("verdict"))
		word, sentence := ledger.BuildingAnswer(r)
		c.add(document.Verdict{Word: word, Sentence: typeset.Text(sentence), Mark: marks[r.Standing()]},
			document.Index{})
	} else if err := c.buildingOffer(r); err != nil {
		return document.Document{}, err
	}
	if part == Both {
		c.turn()
	}
	if part != Offer {
		c.buildingRecord(r, part == Both)
	}
	return c.Document, nil
}

// buildingOffer is what the owner of a building reads and signs.
func (c *content) buildingOffer(r *whole.Result) error {
	own := r.Building.Whole.Facts.Offer
	if err := c.letterhead(own.Firm); err != nil {
		return err
	}
	told := buildingCaveats(r)
	c.caveat = told
	c.buildingHead(r)
	c.chapter(c.In.Say("verdict"))
	c.buildingVerdict(r)
	c.spacesTable(r)
	c.caveat = slices.DeleteFunc(slices.Clone(told),
		func(one caveat) bool { return len(spacesOf(r, one.said)) == 1 && len(r.Spaces) > 1 })
	c.pointer()
	c.say(c.In.Say("record.what"))
	c.chapter(c.In.Say("money"))
	if !r.Met() && r.Judged() {
		c.say(c.In.Say("money.qualified.building"))
	}
	c.add(c.savingTable())
	if len(r.Order) > 1 {
		c.say(c.In.Say("money.order"))
	}
	c.chapter(c.In.Say("work"))
	c.takeOff(r, c.takeOffTable(r))
	c.steps(own.Work)
	c.phases(r)
	c.safety(told)
	if err := c.ownWords(own); err != nil {
		return err
	}
	for _, s := range r.Spaces {
		c.space(r, s, told)
	}
	c.result = r.Whole
	return nil
}

// buildingHead tells whose building it is.
func (c *content) buildingHead(r *whole.Result) {
	b, f := r.Building, r.Building.Whole.Facts
	c.add(document.Heading{Level: 1, Text: b.Title})
	var list []document.Fact
	say := func(key, value string) {
		if value != "" {
			list = append(list, document.Fact{Name: c.In.Say(key), Value: typeset.Text(value)})
		}
	}
	say("fact.date", c.day(f.Date))
	say("fact.until", c.day(f.Offer.ValidUntil))
	say("fact.for", f.PreparedFor)
	say("fact.by", f.PreparedBy)
	say("fact.subject", c.In.Say("fact.subject.building"))
	say("fact.building", c.In.Say("fact.building.words", "spaces", c.In.Count(r.Totals.Spaces, "space"),
		"area", c.area(r.Totals.FloorArea),
		"luminaires", c.In.Count(r.Totals.Sides[0].Luminaires, "luminaire")))
	c.add(document.Facts{List: list})
}

// buildingVerdict is the answer: which spaces are enough, which not and why, and what the whole draws and
// saves.
func (c *content) buildingVerdict(r *whole.Result) {
	if len(r.Spaces) == 1 && r.Spaces[0].Copies == 1 {
		c.result = r.Spaces[0].Result
		c.verdict()
		c.result = r.Whole
		return
	}
	named := map[string][]string{}
	for _, s := range r.Spaces {
		key, name := "spaces.enough", c.called(s)
		switch {
		case s.Standing() == study.OneMissed && s.Proposed().Outside != nil:
			key = "spaces.unknown"
		case s.Standing() == study.OneMissed:
			key, name = "spaces.dim", c.calledMissing(s)
		case !s.Met() && !s.LightJudged():
			key, name = "spaces.unjudged.missed", c.calledMissing(s)
		case !s.Met():
			key, name = "spaces.power", c.calledMissing(s)
		case !s.LightJudged():
			key = "spaces.unjudged"
		case s.Standing() == study.Qualified:
			key = "spaces.mind"
		}
		named[key] = append(named[key], name)
	}
	sentences := []string{c.countedWords(r)}
	for _, said := range [][2]string{{"spaces.enough", ", "}, {"spaces.mind", ", "}, {"spaces.power", "; "}, {"spaces.dim", "; "},
		{"spaces.unknown", ", "}, {"spaces.unjudged.missed", "; "}, {"spaces.unjudged", ", "}} {
		if names := named[said[0]]; len(names) > 0 {
			sentences = append(sentences, c.In.Say(said[0], "spaces", strings.Join(names, said[1])))
		}
	}
	c.result = r.Whole
	word, _ := ledger.BuildingAnswer(r)
	c.add(document.Verdict{Word: c.In.Of("word.", word),
		Sentence: typeset.Text(strings.Join(sentences, " ")), Mark: marks[r.Standing()]})
	c.say(c.qualified(c.savingWords(), r.Met() || !r.Judged(), "money.missed.building"))
}

// countedWords say in how many spaces, with copies, the proposed lighting is enough, of those that have
// criteria.
func (c *content) countedWords(r *whole.Result) string {
	enough, all, judged := r.Enough(), r.Totals.Spaces, r.LightJudged()
	switch judged {
	case 0:
		return c.In.Say("spaces.counted.none", "all", all)
	case all:
		return c.In.Say("spaces.counted", "all", all, "enough", enough)
	case 1:
		return c.In.Say("spaces.counted.one", "all", all, "enough", enough)
	}
	return c.In.Say("spaces.counted.some", "all", all, "judged", judged, "enough", enough)
}

// called is the name of a space, with its number of copies.
func (c *content) called(s whole.Space) string {
	if s.Copies > 1 {
		return c.In.Say("space.alike", "name", s.Name, "n", s.Copies)
	}
	return s.Name
}

// calledMissing is the name of a space with the criteria that it misses.
func (c *content) calledMissing(s whole.Space) string {
	var missed []string
	c.result = s.Result
	for _, v := range s.Verdicts {
		if !v.Proposed().Met {
			missed = append(missed, c.missedWords(v))
		}
	}
	return c.In.Say("space.misses", "name", c.called(s), "missed", c.In.And(missed))
}

// spacesTable sets the light of the spaces side by side, of one of those alike, with what all of them save.
func (c *content) spacesTable(r *whole.Result) {
	t := document.Table{Caption: c.In.Say("spaces.caption", "unit", c.Illuminance),
		Label:   c.In.Say("spaces.space"),
		Columns: []document.Column{{Name: c.In.Say("takeoff.luminaires")}}}
	for _, side := range r.Whole.Sides {
		t.Columns = append(t.Columns, document.Column{Name: c.In.Say("side." + side.Name)})
	}
	t.Columns = append(t.Columns, document.Column{Name: c.In.Say("criteria.required")},
		document.Column{Name: c.In.Say("spaces.answer"), Share: 1}, document.Column{Name: c.In.Say("spaces.saved")})
	var g document.Group
	for _, s := range r.Spaces {
		g.Rows = append(g.Rows, c.spaceRow(s, len(r.Whole.Sides)))
	}
	t.Groups = []document.Group{g}
	c.add(t)
	c.explain(c.In.Say("explain.plane.plain"))
}

// spaceRow is a space among others: its luminaires, the average light of so many sides, what is required of
// that, what becomes of it, what it saves.
func (c *content) spaceRow(s whole.Space, sides int) document.Row {
	luminaires := strconv.Itoa(s.Existing().Luminaires)
	if after := s.Proposed().Luminaires; after != s.Existing().Luminaires {
		luminaires += " → " + strconv.Itoa(after)
	}
	required, more := c.requiredOf(s)
	row := document.Row{Label: c.called(s), Cells: []document.Cell{{Text: luminaires}}}
	for i := range sides {
		light := "–" // a replacement that this space has not
		if i < len(s.Sides) {
			light = number.Finer(s.Sides[i].Grids[0].Statistics.Average/c.Lux, more)
		}
		row.Cells = append(row.Cells, document.Cell{Text: light})
	}
	return document.Row{Label: row.Label, Cells: append(row.Cells, document.Cell{Text: required},
		document.Cell{Text: c.In.Say("spaces." + answerOf(s)), Alarm: !s.Met()},
		document.Cell{Text: number.Thousands(float64(s.Copies) * s.Energy.SavedKWhPerYear)})}
}

// requiredOf is what is required of a space's average on the work plane, how many other criteria it has,
// and with how many digits more than usual it is shown, so that what decides is seen.
func (c *content) requiredOf(s whole.Space) (words string, more int) {
	least, others := 0.0, len(s.Verdicts)
	for _, v := range s.Verdicts {
		if v.Statistic != levels.Average || v.Grid != s.Existing().Grids[0].Name || !v.AtLeast {
			continue
		}
		if least == 0 {
			others--
		}
		least, more = max(least, v.RequiredIn(false)), max(more, v.Finer(s.Space.Job.Imperial))
	}
	switch required := number.Finer(least/c.Lux, more); {
	case least == 0 && others == 0:
		return "–", more
	case least == 0:
		return c.In.Say("spaces.others", "n", others), more
	case others > 0:
		return c.In.Say("spaces.more", "required", "≥ "+required, "n", others), more
	default:
		return "≥ " + required, more
	}
}

// phases is what is done when, with what it costs and saves by then.
func (c *content) phases(r *whole.Result) {
	if len(r.Stages) < 2 { // the first is how the building stands now
		return
	}
	t := document.Table{Caption: c.In.Say("phases.caption"), Label: c.In.Say("phases.phase"),
		Columns: []document.Column{
			{Name: c.In.Say("steps.when"), Share: 0.5}, {Name: c.In.Say("phases.done"), Share: 1}}}
	priced := !math.IsNaN(r.Stages[len(r.Stages)-1].CostSoFar)
	if priced {
		t.Columns = append(t.Columns, document.Column{Name: c.In.Say("phases.cost")},
			document.Column{Name: c.In.Say("phases.saved")})
	}
	var g document.Group
	for _, stage := range r.Stages[1:] {
		name := stage.Name
		if n, counted := strings.CutPrefix(name, "phase "); counted {
			name = c.In.Say("phases.name", "n", n)
		}
		row := document.Row{Label: typeset.Capital(name),
			Cells: []document.Cell{{Text: c.day(stage.Date)}, {Text: strings.Join(stage.Spaces, ", ")}}}
		if priced {
			row.Cells = append(row.Cells, document.Cell{Text: c.amount(stage.CostSoFar)},
				document.Cell{Text: c.Money(stage.SavingSoFar)})
		}
		g.Rows = append(g.Rows, row)
	}
	t.Groups = []document.Group{g}
	c.add(t)
}

// answerOf is what becomes of a space's criteria, in a word of the phrases.
func answerOf(s whole.Space) string {
	switch standing := s.Standing(); {
	case s.Proposed().Outside != nil:
		return "answer.unknown"
	case !s.Met():
		return "answer.missed"
	case standing == study.Unjudged:
		return "answer.unjudged"
	case standing == study.Qualified:
		return "answer.mind"
	}
	return "answer.met"
}

// buildingCaveats are the warnings of a building with the numbers that its record gives them.
func buildingCaveats(r *whole.Result) []caveat {
	return numbered(0, wording.WeighedShared(wording.BuildingWarnings(r)))
}

// spacesOf are the spaces that a caveat names at its end; none where it is of the building, or of all.
func spacesOf(r *whole.Result, told string) []string {
	for _, w := range wording.BuildingWarnings(r) {
		if len(w.Spaces) > 0 && strings.HasSuffix(told, wording.Of("", w.Spaces)) {
			return w.Spaces
		}
	}
	return nil
}

// space is one space for its owner: its answer, what is required, its light, and where its caveats stand.
func (c *content) space(r *whole.Result, s whole.Space, told []caveat) {
	c.result = s.Result
	c.caveat = slices.DeleteFunc(slices.Clone(told), func(one caveat) bool {
		of := spacesOf(r, one.said)
		return len(of) == 0 && len(r.Spaces) > 1 || len(of) > 0 && !slices.Contains(of, s.Name)
	})
	c.add(document.Fresh{IfFilled: true})
	c.chapter(c.In.Say("space.title", "name", c.called(s)))
	c.say(c.roomWords() + ".")
	c.verdict()
	c.list(c.savingMinds())
	c.glanceFigure()
	c.criteria()
	c.pointer()
}
