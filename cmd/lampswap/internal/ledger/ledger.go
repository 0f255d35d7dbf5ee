// Package ledger tells an answer in tables and sentences: before and after, the ways compared, the options, what readings prove. All
// writers take their rows and words from here; its own shows them in a terminal.
package ledger

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/currency"
	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
)

// A Ledger is a table of the answer: sections of rows, a column a system. Every writer (terminal, CSV, spreadsheet, proposal) shows the
// same ones.
type Ledger struct {
	Name     string
	Named    bool     // its rows are called as the job calls them
	Columns  []string // of the values, the first column of labels left out
	Currency string   // of the amounts in it, three letters; "" if it is not known, or there are several
	Sections []Section
}

// A Section is rows below a name.
type Section struct {
	Name string
	Rows []Row
}

// A Row is one quantity; it may have fewer cells than there are columns.
type Row struct {
	Label string
	Cells []Cell
}

// A Cell is what a reader sees and, where it is a number, its value in the units of its row.
type Cell struct {
	Text  string
	Value float64 // NaN where the cell is a word
}

// IsMoney tells whether a cell is an amount in the currency of its ledger.
func (l Ledger) IsMoney(c Cell) bool {
	return l.Currency != "" && !math.IsNaN(c.Value) && c.Text == currency.Amount(l.Currency, c.Value)
}

// Word is a cell that is no number.
func Word(text string) Cell { return Cell{text, math.NaN()} }

// BeforeAfter is the spine of every answer: a row a quantity, columns existing, proposed, change, required.
func BeforeAfter(r *study.Result) Ledger {
	b := builder{Units: units.Of(r.Job), result: r}
	b.equipment()
	b.losses()
	if len(r.Job.Racks) == 0 {
		b.lumenMethod("Lumen method")
	}
	for i := range r.Existing.Grids {
		b.grid(i)
	}
	b.comfort()
	if len(r.Job.Racks) > 0 { // an average of another room than this: below the light that is
		b.lumenMethod("Lumen method, no racks")
	}
	b.energy()
	return Ledger{Name: "Before and after", Currency: b.Currency, Columns: []string{"existing", "proposed", "change", required}, Sections: b.sections}
}

// required heads the column of what the criteria require.
const required = "required"

// A builder gathers the sections of the before-and-after ledger.
type builder struct {
	units.Units
	result   *study.Result
	sections []Section
}

func (b *builder) section(name string) { b.sections = append(b.sections, Section{Name: name}) }

func (b *builder) add(label string, cells ...Cell) {
	last := &b.sections[len(b.sections)-1]
	last.Rows = append(last.Rows, Row{label, cells})
}

// row shows a quantity with its relative change. The values are in the units shown.
func (b *builder) row(label string, existing, proposed float64, format func(float64) string, required ...string) {
	change := Word(units.Percent(existing, proposed))
	if change.Text != "" {
		change.Value = proposed/existing - 1
	}
	b.add(label, Cell{format(existing), existing}, Cell{format(proposed), proposed}, change, Word(strings.Join(required, " ")))
}

// plain shows a quantity whose change says nothing.
func (b *builder) plain(label string, existing, proposed Cell, change ...Cell) {
	b.add(label, append([]Cell{existing, proposed}, change...)...)
}

func count(n int) Cell { return Cell{fmt.Sprint(n), float64(n)} }

func (b *builder) equipment() {
	e, p := b.result.Existing, b.result.Proposed
	if !b.manyKinds() {
		b.section("One luminaire")
		b.plain("lamps", Word(Lamps(b.result.Job.Existing)), Word(Lamps(b.result.Job.Proposed)))
		b.row("initial lamp lumens, lm", e.LampLumensEach, p.LampLumensEach, units.Thousands)
		b.row("luminaire efficiency", e.Efficiency, p.Efficiency, units.Decimals(3))
		b.row("input watts, W", e.InputWattsEach, p.InputWattsEach, units.Decimals(0))
	}
	b.section("All luminaires")
	b.plain("number", count(e.Luminaires), count(p.Luminaires))
	load := "connected load, kW"
	if !b.result.Job.OneKind() {
		load = "load as found, and set, kW"
		if e.Failed > 0 {
			b.plain("  of these give no light", count(e.Failed), count(p.Failed))
		}
	}
	b.row(load, b.result.Energy.ExistingKW, b.result.Energy.ProposedKW, units.Decimals(2))
	if e.Failed > 0 {
		b.row("  with every luminaire lit, kW", b.result.Energy.AllLitKW, b.result.Energy.ProposedKW, units.Decimals(2))
	}
	b.row("power density, "+b.Power, e.PowerDensity/b.PerArea, p.PowerDensity/b.PerArea, b.finer(levels.WholeRoom, levels.PowerDensity), b.required(levels.WholeRoom, levels.PowerDensity)...)
}

// Lamps are those in one luminaire of a system: 2 x F96T12.
func Lamps(s job.System) string { return s.LampWords() }

// Fittings say of each system what its lamps and ballasts are, for whoever buys or looks for them.
func Fittings(r *study.Result) []string {
	var all []string
	for _, side := range r.Kinds() {
		from := side.From
		if from.Lamp == nil {
			continue
		}
		text := fmt.Sprintf("%s: %s, %s", side.Name, Lamps(*from), from.Lamp.Words())
		if feed := Feed(from); feed != "" {
			text += "; " + feed
		}
		all = append(all, text)
	}
	return all
}

// Feed says what the lamps of a system burn on: is-normal ballast; "" where nothing is known of it.
func Feed(from *job.System) string {
	switch b := from.Ballast; {
	case b != nil && b.Kind == catalog.KindNone:
		return "no ballast, line voltage at the sockets"
	case b != nil && b.Count > 1:
		return fmt.Sprintf("%d %s ballasts (%s)", b.Count, b.Kind, b.Set())
	case b != nil:
		return b.Kind + " ballast"
	case from.Lamp != nil && from.Lamp.LEDType == catalog.OnDriver:
		return "external driver"
	}
	return ""
}

// manyKinds tells that a system has luminaires of several kinds, of which there is no one lamp or loss.
func (b *builder) manyKinds() bool { return manyKinds(b.result) }

func manyKinds(r *study.Result) bool { return r.Existing.Parts != nil || r.Proposed.Parts != nil }

// losses shows the light loss factors, of each group by itself where there are several.
func (b *builder) losses() {
	sides := b.result.Sides()
	if !b.manyKinds() {
		b.section("Light loss factors")
		b.lossesOf(&sides[0], &sides[1])
		return
	}
	for _, name := range b.result.Job.Groups {
		if e, p := find(sides[0], name), find(sides[1], name); e != nil || p != nil { // else it hangs in the replacement alone
			b.section("Light loss factors, " + name)
			b.lossesOf(e, p)
		}
	}
}

// find returns the luminaires of a group; nil where it has none in the system.
func find(side lighting.Side, group string) *lighting.Side {
	for _, kind := range side.Kinds() {
		if kind.From.Group == group {
			return &kind
		}
	}
	return nil
}

// lossesOf shows those of two systems, one of which may have no such luminaires.
func (b *builder) lossesOf(e, p *lighting.Side) {
	there := cmp.Or(e, p)
	before, after := there.Losses.List(), there.Losses.List()
	totalBefore, totalAfter := math.NaN(), math.NaN()
	for i := range before {
		before[i].Value, before[i].From = math.NaN(), ""
	}
	copy(after, before)
	if e != nil {
		before, totalBefore = e.Losses.List(), e.Losses.Total()
	}
	if p != nil {
		after, totalAfter = p.Losses.List(), p.Losses.Total()
	}
	for i := range before {
		name := strings.ReplaceAll(before[i].Key, "_", " ")
		b.row(name, before[i].Value, after[i].Value, units.Decimals(3))
		cells := b.sections[len(b.sections)-1].Rows[i].Cells
		for k, from := range []string{before[i].From, after[i].From} {
			if from != "" {
				cells[k].Text += fmt.Sprintf(" %.1s", from)
			}
		}
	}
	b.row("total", totalBefore, totalAfter, func(x float64) string {
		if math.IsNaN(x) {
			return units.Decimals(3)(x)
		}
		return fmt.Sprintf("%.3f  ", x)
	})
}

func (b *builder) lumenMethod(name string) {
	e, p := b.result.Existing.LumenMethod, b.result.Proposed.LumenMethod
	b.section(name + ", " + b.Illuminance)
	if b.manyKinds() {
		b.groupAverages()
		b.row("maintained average, in all", e.MaintainedAverage/b.Lux, p.MaintainedAverage/b.Lux, photometry.Digits)
		return
	}
	b.row("room cavity ratio", e.RoomCavityRatio, p.RoomCavityRatio, units.Decimals(2))
	b.row("coefficient of utilization", e.CoefficientOfUtilization, p.CoefficientOfUtilization, units.Decimals(3))
	b.row("initial average", e.InitialAverage/b.Lux, p.InitialAverage/b.Lux, photometry.Digits)
	b.row("maintained average", e.MaintainedAverage/b.Lux, p.MaintainedAverage/b.Lux, photometry.Digits)
	b.plain("spacing over criterion, along", ratioOf(e.SpacingToHeightAlong, e.SpacingCriterionAlong), ratioOf(p.SpacingToHeightAlong, p.SpacingCriterionAlong))
	b.plain("spacing over criterion, across", ratioOf(e.SpacingToHeightAcross, e.SpacingCriterionAcross), ratioOf(p.SpacingToHeightAcross, p.SpacingCriterionAcross))
}

// groupAverages shows what each group gives by the lumen method.
func (b *builder) groupAverages() {
	sides := b.result.Sides()
	of := func(side lighting.Side, group string) float64 {
		if kind := find(side, group); kind != nil {
			return kind.LumenMethod.MaintainedAverage / b.Lux
		}
		return math.NaN()
	}
	for _, name := range b.result.Job.Groups {
		b.row("  "+name, of(sides[0], name), of(sides[1], name), photometry.Digits)
	}
}

func ratioOf(spacing, criterion float64) Cell {
	return Word(units.Decimals(2)(spacing) + " / " + units.Decimals(2)(criterion))
}

func (b *builder) grid(i int) {
	e, p := b.result.Existing.Grids[i], b.result.Proposed.Grids[i]
	b.section(fmt.Sprintf("Point by point, %s, %s", e.Label(), b.Illuminance))
	show := func(label string, which levels.Statistic, before, after float64) {
		b.row(label, before, after, b.finer(e.Name, which), b.required(e.Name, which)...)
	}
	before, after := e.Statistics, p.Statistics
	show("average", levels.Average, before.Average/b.Lux, after.Average/b.Lux)
	if i == 0 && b.result.Existing.Failed > 0 {
		b.row("  with every luminaire lit", b.result.Existing.AllLit/b.Lux, b.result.Proposed.AllLit/b.Lux, photometry.Digits)
	}
	show("minimum", levels.Minimum, before.Minimum/b.Lux, after.Minimum/b.Lux)
	show("maximum", levels.Maximum, before.Maximum/b.Lux, after.Maximum/b.Lux)
	show("average to minimum", levels.AverageToMinimum, before.AverageToMinimum, after.AverageToMinimum)
	show("maximum to minimum", levels.MaximumToMinimum, before.MaximumToMinimum, after.MaximumToMinimum)
	if e.Quantity() == room.Cylindrical {
		b.row("cylindrical/horizontal ratio", e.Modeling.Ratio(), p.Modeling.Ratio(), units.Decimals(2))
	}
}

// comfort shows glare, that of the observer who has most of it and of each that the job names, and the color of the lamps where a criterion is about it.
func (b *builder) comfort() {
	r := b.result
	if len(r.Job.Observers) > 0 {
		b.section("Glare (UGR)")
		who := fmt.Sprintf("most of %d observers by rule", len(r.Job.Observers))
		if r.Job.ObserversNamed {
			who = fmt.Sprintf("most of %d observers", len(r.Job.Observers))
		}
		e, whyE := r.Existing.Glare()
		p, whyP := r.Proposed.Glare()
		b.rating(who, e, whyE, p, whyP, b.required(levels.Observers, levels.Glare)...)
		for i, o := range r.Job.Observers {
			if r.Job.ObserversNamed && len(r.Job.Observers) > 1 {
				e, whyE := r.Existing.Observers[i].Rating()
				p, whyP := r.Proposed.Observers[i].Rating()
				b.rating("  "+o.Name, e, whyE, p, whyP)
			}
		}
	}
	if required := b.required(levels.WholeRoom, levels.ColorRendering); len(required) > 0 {
		b.section("Color")
		b.plain("least color rendering index", index(r.Existing.ColorRendering), index(r.Proposed.ColorRendering), Word(""), Word(strings.Join(required, " ")))
	}
}

// rating shows a rating before and after. A difference is what counts of a logarithm, and not its percents.
func (b *builder) rating(label string, e float64, whyE glare.Reason, p float64, whyP glare.Reason, required ...string) {
	finer := b.finer(levels.Observers, levels.Glare)
	cell := func(x float64, why glare.Reason) Cell {
		switch {
		case why == glare.NothingSeen:
			return Word("none seen")
		case why != glare.Rated:
			return Word("not known")
		}
		return Cell{finer(x), x}
	}
	change := Word("")
	if d := p - e; !math.IsNaN(d) {
		change = Word(photometry.Signed(d, 1))
	}
	b.add(label, cell(e, whyE), cell(p, whyP), change, Word(strings.Join(required, " ")))
}

// index is a color rendering index, which may not be known.
func index(x float64) Cell {
	if math.IsNaN(x) {
		return Word("not known")
	}
	return Cell{units.Decimals(0)(x), x}
}

// finer writes values of a statistic with the digits in which what decides about the criteria is seen.
func (b *builder) finer(grid string, which levels.Statistic) func(float64) string {
	more := 0
	for _, v := range b.result.Verdicts {
		if v.Grid == grid && v.Statistic == which {
			more = max(more, v.Criterion.Finer(b.result.Job.Imperial, v.Existing, v.Proposed))
		}
	}
	return func(x float64) string { return photometry.Finer(x, more) }
}

// required lists what the criteria require of a statistic, and marks what the proposed system misses.
func (b *builder) required(grid string, which levels.Statistic) []string {
	var all []string
	finer := b.finer(grid, which)
	for _, v := range b.result.Verdicts {
		if v.Grid != grid || v.Statistic != which {
			continue
		}
		limit := map[bool]string{true: ">=", false: "<="}[v.AtLeast] + finer(v.RequiredIn(b.result.Job.Imperial))
		if len(limit) > requiredWidth { // a line of its own for the number, rather than half of it
			limit = limit[:2] + " " + limit[2:]
		}
		mark := ""
		switch {
		case v.ProposedMet:
		case v.ProposedWhy != "":
			mark = " not known"
		default:
			mark = " missed"
		}
		all = append(all, limit+mark)
	}
	return all
}

func (b *builder) energy() {
	e := b.result.Energy
	b.section("Energy")
	b.row("energy a year, kWh", e.ExistingKWhPerYear, e.ProposedKWhPerYear, units.Thousands)
	if b.result.Job.Tariff.PeakPricePerKWh != nil {
		b.row("  of this in the tariff's peak", e.Accounts[0].PeakKWhPerYear, e.Accounts[1].PeakKWhPerYear, units.Thousands)
	}
	if outages := b.result.Outages(); len(outages) > 0 {
		least := map[string]float64{"existing": 1, "proposed": 1}
		for _, o := range outages {
			least[o.Name] = o.LeastKW / o.KW
		}
		b.row("  if lamps out draw nothing", e.ExistingKWhPerYear*least["existing"], e.ProposedKWhPerYear*least["proposed"], units.Thousands)
	}
	sum := func(label string, x *float64, format func(float64) string) {
		if x != nil {
			b.plain(label, Word(""), Cell{format(*x), *x})
		}
	}
	if f := e.HeatingCooling; f != 0 {
		sum("saving of the lights, kWh", &e.LightsSavedKWhPerYear, units.Thousands)
		sum("  with cooling and heating, kWh", &e.SavedKWhPerYear, units.Thousands)
	}
	if parts := given(e.EnergySavingPerYear, e.DemandSavingPerYear, e.UpkeepSavingPerYear); parts > 1 {
		sum("saving a year: energy", e.EnergySavingPerYear, b.Money)
		sum("saving a year: demand", e.DemandSavingPerYear, b.Money)
		sum("saving a year: upkeep", e.UpkeepSavingPerYear, b.Money)
	}
	sum("saving a year, in all", e.SavingPerYear, b.Money)
	b.costs()
	sum("installed cost less rebate", e.NetCost, b.Money)
	sum("simple payback, years", e.SimplePaybackYears, units.Decimals(1))
}

// costs shows what the swap costs line by line, and what each rebate pays, where the job has more than one sum of them.
func (b *builder) costs() {
	c, rebates := b.result.Job.Proposed.Costs, b.result.Energy.Rebates
	if len(c.Lines)+len(rebates) == 0 {
		return
	}
	sum := func(label string, x float64, note string) {
		b.plain(label, Word(""), Cell{b.Money(x), x}, Word(note))
	}
	for _, l := range c.Lines {
		sum("cost: "+l.Text, l.Amount, "")
	}
	if c.InstalledCost != nil {
		sum("installed cost", *c.InstalledCost, "")
	}
	if c.Rebate != nil {
		sum("rebate, as one sum", *c.Rebate, "")
	}
	for _, p := range rebates {
		number, capped := units.Thousands(p.Units), ""
		if p.Per == "kw" {
			number = units.Decimals(2)(p.Units)
		}
		if p.Paid < p.Uncapped {
			capped = "capped"
		}
		what := map[string]string{"lamp": "lamps", "luminaire": "luminaires", "kwh": "kWh", "kw": "kW"}[p.Per]
		sum(fmt.Sprintf("rebate: %s %s at %s", number, what, currency.Rate(b.Currency, p.Amount)), p.Paid, capped)
	}
}

// given counts the amounts that are known.
func given(amounts ...*float64) int {
	n := 0
	for _, a := range amounts {
		if a != nil {
			n++
		}
	}
	return n
}

// MissedMark ends a requirement that the ledger marks as not met.
const MissedMark = "missed"

// OnSite are the cautions for whoever measures.
var OnSite = []string{
	"Measure from the floor; leave luminaires, ladders and panels to qualified persons.",
	"Keep clear of moving trucks and of lifts; agree with the site when the aisles are free, above all in the dark.",
	"Egress lighting on emergency power is tested by those who are responsible for it: never switch it off to measure.",
}
