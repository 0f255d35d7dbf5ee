package proposal

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/codes"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

var marks = map[study.Standing]document.Mark{study.Unjudged: document.None, study.AllMet: document.Good,
	study.OneMissed: document.Bad,
	study.Qualified: document.Open}

// verdict is the answer for whoever pays: the word, the light, what becomes of the criteria, and what must
// not be missed.
func (c *content) verdict() {
	word, _ := ledger.Answer(c.result)
	sentences := append([]string{c.lightWords(), c.outcomeWords()}, append(c.comfortWords(), c.minds()...)...)
	c.add(document.Verdict{Word: c.In.Of("word.", word),
		Sentence: typeset.Text(strings.Join(sentences, " ")), Mark: marks[c.result.Standing()]})
}

// lightWords say how much light there is, beside what there was.
func (c *content) lightWords() string {
	r := c.result
	before, after := r.Existing().Grids[0].Statistics.Average, r.Proposed().Grids[0].Statistics.Average
	key := "light"
	if r.Proposed().Outside != nil {
		key = "light.unknown"
	}
	return c.In.Say(key, "after", r.Job.Light(after), "compared", c.compared(before, after),
		"before", r.Job.Light(before))
}

// compared says how much light there is after against before, lx, in front of the latter.
func (c *content) compared(before, after float64) string {
	words := wording.Compared(before, after)
	percent, less := strings.CutSuffix(words, " percent less than")
	if less {
		return c.In.Say("compared.less", "percent", percent)
	}
	if percent, more := strings.CutSuffix(words, " percent more than"); more {
		return c.In.Say("compared.more", "percent", percent)
	}
	return c.In.Of("compared.", words)
}

// outcomeWords say whether the light is enough.
func (c *content) outcomeWords() string {
	r := c.result
	outcome, missed := r.Outcome()
	key := "outcome." + string(outcome)
	if outcome == study.Unasked && len(missed) > 0 {
		return c.In.Say(key) + " " + c.In.Say("outcome.power.alone", "missed", c.allMissed(missed))
	}
	if r.Darker() && (outcome == study.Greedy || outcome == study.Enough) {
		key += ".darker"
	}
	if outcome == study.Enough && len(c.comfortWords()) > 0 {
		key += ".light"
	}
	if len(missed) == 0 {
		return c.In.Say(key)
	}
	return c.In.Say(key, "missed", c.allMissed(missed))
}

func (c *content) allMissed(of []study.Verdict) string {
	var all []string
	for _, v := range of {
		all = append(all, c.missedWords(v))
	}
	return c.In.And(all)
}

// missedWords say what a criterion requires and what the proposed lighting reaches instead.
func (c *content) missedWords(v study.Verdict) string {
	more := v.Criterion.Finer(c.result.Job.Imperial, v.Proposed().Value)
	with := []any{"name", c.name(v.Criterion), "limit", c.limit(v.Criterion),
		"required", c.quantity(v.Criterion, v.RequiredIn(false), more)}
	switch {
	case v.Proposed().Why != "":
		return c.In.Say("missed.unknown", append(with, "why", c.why(v.Proposed().Why))...)
	case math.IsNaN(v.Proposed().Value):
		return c.In.Say("missed.dark", with...)
	}
	return c.In.Say("missed", append(with, "reached", c.quantity(v.Criterion, v.Proposed().Value, more))...)
}

func (c *content) limit(v levels.Criterion) string {
	if v.AtLeast {
		return c.In.Say("limit.least")
	}
	return c.In.Say("limit.most")
}

// quantity is what a criterion is about in the job's unit.
func (c *content) quantity(v levels.Criterion, x float64, more int) string {
	text := wording.Quantity(c.result.Job, v, x, more)
	if number, density := strings.CutSuffix(text, " "+c.Power); density {
		return number + " " + c.In.Say("unit."+c.Power)
	}
	return text
}

// comfortWords say which criteria of glare and color are missed, and of which that is not known.
func (c *content) comfortWords() []string {
	missed, open := c.result.Uncomfortable()
	var all []string
	if len(missed) > 0 {
		all = append(all, c.In.Say("comfort.missed", "missed", c.allMissed(missed)))
	}
	if len(open) > 0 {
		all = append(all, c.In.Say("comfort.unknown", "missed", c.allMissed(open)))
	}
	return all
}

// minds are what a reader of the verdict must not miss.
func (c *content) minds() []string {
	r := c.result
	var all []string
	say := func(key string, with ...any) { all = append(all, c.In.Say(key, with...)) }
	if r.Existing().Outside != nil {
		say("mind.existing")
	}
	if light, money := r.Slips(); len(light)+len(money) > 0 {
		say("mind.slip", "caveat", c.caveats(func(said string) bool { return strings.Contains(said, slip) }))
	}
	all = append(all, c.failedMind()...)
	glare := func(v study.Verdict) bool { return v.Statistic == levels.Glare }
	if r.Existing().Failed > 0 && slices.ContainsFunc(r.Verdicts, glare) {
		say("mind.dark")
	}
	for _, o := range r.Outages() {
		say("mind.outage."+o.Name, "share", fmt.Sprintf("%.3g", 100*o.Factor), "lit", r.Job.Light(o.AllLit))
		if o.Name == "existing" {
			say("mind.repair.part", "compared", c.compared(o.AllLit, r.Proposed().Grids[0].Statistics.Average))
		}
	}
	if e := r.OnEstimate(); e != nil {
		percent := func(share float64) string { return number.Fixed(100*share, 0) }
		say("mind.estimate", "factor", percent(e.Factor), "low", percent(e.Low), "high", percent(e.High))
	}
	if late := c.late(); len(late) > 0 {
		say("mind.years", "years", number.Fixed(r.Years[1].Horizon, 0), "late", strings.Join(late, "; "))
	}
	for _, n := range r.Bans() {
		say("mind.ban", "state", n.State, "when", c.when(n), "lamps", c.In.And(r.BannedLamps()))
	}
	return all
}

// slip is in every caveat that tells of what may be a slip of the job.
const slip = "a slip, perhaps: "

// failedMind says how much of the change is only that luminaires are lit again that had failed.
func (c *content) failedMind() []string {
	r := c.result
	failed := r.Failed()
	if failed == 0 {
		return nil
	}
	before, after := r.Existing().AllLit, r.Proposed().Grids[0].Statistics.Average
	all := []string{c.In.Say("mind.failed", "failed", failed, "all", r.Existing().Luminaires,
		"lit", r.Job.Light(before))}
	key := "mind.repair.none"
	switch {
	case r.Repairs():
		return append(all, c.In.Say("mind.repair"))
	case r.LitAgain():
		key = "mind.repair.part"
	}
	return append(all, c.In.Say(key, "compared", c.compared(before, after)))
}

// late tells of criteria that are met at first, and not in all years.
func (c *content) late() []string {
	r := c.result
	var all []string
	for _, b := range r.NotInAllYears() {
		more := b.Criterion.Finer(r.Job.Imperial, b.Least)
		span := c.In.Say("span.months", "n", number.Fixed(12*b.Years, 0))
		if b.Years >= 2 {
			span = c.In.Say("span.years", "n", number.Fixed(b.Years, 1))
		}
		all = append(all, c.In.Say("mind.late", "name", c.name(b.Criterion),
			"required", c.quantity(b.Criterion, b.Criterion.RequiredIn(false), more),
			"span", span, "least", c.quantity(b.Criterion, b.Least, more)))
	}
	return all
}

// when says from when a notice holds, as far as known, as seen from the job's day.
func (c *content) when(n codes.Notice) string {
	on, from := c.result.Job.Facts.Date, c.In.Date(n.From.Year, n.From.Month, n.From.Day)
	switch {
	case !n.From.Known():
		return c.In.Say("when.unknown")
	case !on.IsZero() && n.Status(on) == codes.InForce:
		return c.In.Say("when.since", "date", from)
	}
	return c.In.Say("when.from", "date", from)
}

// criteria sets what is required against what is reached.
func (c *content) criteria() {
	r := c.result
	if len(r.Verdicts) == 0 {
		return
	}
	t := document.Table{Caption: c.In.Say("criteria.caption"), Label: c.In.Say("criteria.label"),
		Columns: append([]document.Column{{Name: c.In.Say("criteria.of"), Share: 1}, {Name: c.In.Say("criteria.required")}}, c.sideColumns(r.Sides)...)}
	g := document.Group{}
	for _, v := range r.Verdicts {
		required := map[bool]string{true: "≥ ", false: "≤ "}[v.AtLeast] + c.quantity(v.Criterion,
			v.RequiredIn(false), v.Finer(r.Job.Imperial))
		cells := []document.Cell{{Text: c.criterionWords(v.Criterion)}, {Text: typeset.Text(required)}}
		for _, by := range v.By {
			cells = append(cells, c.reached(v, by))
		}
		g.Rows = append(g.Rows, document.Row{Label: c.name(v.Criterion), Cells: cells})
	}
	t.Groups = []document.Group{g}
	c.add(t)
	c.say(strings.Join(c.explained(), " "))
}

// sideColumns are columns by the names of systems.
func (c *content) sideColumns(sides []lighting.Side) []document.Column {
	var all []document.Column
	for _, side := range sides {
		all = append(all, document.Column{Name: c.In.Say("side." + side.Name)})
	}
	return all
}

// explained are the words of the criteria of which not everybody knows what they mean.
func (c *content) explained() []string {
	var all []string
	for _, of := range []struct {
		key string
		is  func(v study.Verdict) bool
	}{
		{"explain.ratio", func(v study.Verdict) bool { return v.Statistic.Ratio() }},
		{"explain.power", func(v study.Verdict) bool { return v.Statistic == levels.PowerDensity }},
		{"explain.glare", func(v study.Verdict) bool { return v.Statistic == levels.Glare }},
		{"explain.color", func(v study.Verdict) bool { return v.Statistic == levels.ColorRendering }},
		{"explain.emergency", func(v study.Verdict) bool { return strings.HasSuffix(v.Grid, onEmergency) }},
	} {
		if slices.ContainsFunc(c.result.Verdicts, of.is) {
			all = append(all, c.In.Say(of.key))
		}
	}
	return all
}

func (c *content) reached(v study.Verdict, by study.Reached) document.Cell {
	shown := number.Finer(c.Statistic(v.Statistic, by.Value), v.Finer(c.result.Job.Imperial))
	why := c.why(by.Why)
	switch {
	case why != "" && by.Met:
		return document.Cell{Text: c.In.Say("reached.met.why", "why", why)}
	case why != "":
		return document.Cell{Text: c.In.Say("reached.unknown.why", "why", why), Alarm: true}
	case by.Met:
		return document.Cell{Text: c.In.Say("reached.met", "value", shown)}
	case v.Met(by.Value): // by the numbers
		return document.Cell{Text: c.In.Say("reached.unknown", "value", shown), Alarm: true}
	}
	return document.Cell{Text: c.In.Say("reached.missed", "value", shown), Alarm: true}
}

// age says how old lamps are taken to be when light is judged.
func (c *content) age() string {
	switch basis := c.result.Job.Upkeep.JudgedAt; basis.At {
	case losses.End:
		return c.In.Say("age.end")
	case losses.AtHours:
		return c.In.Say("age.hours", "hours", number.Thousands(basis.Hours))
	case losses.MidLife:
	}
	return c.In.Say("age.mid")
}
