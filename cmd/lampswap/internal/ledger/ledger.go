// Package ledger tells an answer in tables and sentences: before and after, the ways compared, the options, what readings prove. All
// writers take their rows and words from here; its own shows them in a terminal.
package ledger

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/catalog"
	"lampswap/photometry/currency"
	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
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

// BeforeAfter is the spine of every answer: a row a quantity, columns existing, proposed, change (of the swap), replacement where a job has
// one, required.
func BeforeAfter(r *study.Result) Ledger {
	b := newBuilder(r)
	b.equipment()
	b.losses()
	if len(r.Job.Racks) == 0 {
		b.lumenMethod("Lumen method")
	}
	for i := range r.Existing().Grids {
		b.grid(i)
	}
	b.comfort()
	if len(r.Job.Racks) > 0 { // an average of another room than this: below the light that is
		b.lumenMethod("Lumen method, no racks")
	}
	b.energy()
	return Ledger{Name: "Before and after", Currency: b.Currency, Columns: b.columns(required), Sections: b.sections}
}

// required heads the column of what the criteria require.
const required = "required"

// RequiredOf is what the last cell says the criteria require, marked by what the number in a column makes of it in place of the proposed.
func (r Row) RequiredOf(column int) string {
	if len(r.Cells) <= column+1 || r.Cells[len(r.Cells)-1].Text == "" {
		return ""
	}
	text := r.Cells[len(r.Cells)-1].Text
	for _, m := range marks {
		text = strings.ReplaceAll(text, m, "")
	}
	for _, m := range marks {
		if strings.HasSuffix(r.Cells[column].Text, m) {
			return text + m
		}
	}
	return text
}

// marks are what may stand behind a number or what is required of it.
var marks = []string{" " + MissedMark, " not known"}

// A builder gathers the sections of the before-and-after ledger.
type builder struct {
	units.Units
	result   *study.Result
	sides    []lighting.Side
	sections []Section
}

func newBuilder(r *study.Result) builder {
	return builder{Units: units.Of(r.Job), result: r, sides: r.Sides}
}

// columns are the names of a before-and-after ledger's columns; that of the change stands behind the swap that it is of.
func (b *builder) columns(last string) []string {
	all := []string{"existing", "proposed", "change"}
	if len(b.sides) > 2 {
		all = append(all, b.sides[2].Name)
	}
	return append(all, last)
}

func (b *builder) section(name string) { b.sections = append(b.sections, Section{Name: name}) }

func (b *builder) add(label string, cells ...Cell) {
	last := &b.sections[len(b.sections)-1]
	last.Rows = append(last.Rows, Row{label, cells})
}

// each adds a row with a value of every side, in the units shown, the relative change of the swap, and what is required.
func (b *builder) each(label string, format func(float64) string, value func(s lighting.Side) float64, required ...string) {
	var values []float64
	for _, side := range b.sides {
		values = append(values, value(side))
	}
	b.row(label, format, values, required...)
}

// row shows a quantity of every side with its relative change. The values are in the units shown.
func (b *builder) row(label string, format func(float64) string, values []float64, required ...string) {
	change := Word(number.Percent(values[0], values[1]))
	if change.Text != "" {
		change.Value = values[1]/values[0] - 1
	}
	var cells []Cell
	for _, x := range values {
		cells = append(cells, Cell{format(x), x})
	}
	b.cells(label, cells, change, Word(strings.Join(required, " ")))
}

// plain shows a quantity whose change says nothing.
func (b *builder) plain(label string, value func(s lighting.Side) Cell) {
	var cells []Cell
	for _, side := range b.sides {
		cells = append(cells, value(side))
	}
	b.cells(label, cells, Word(""))
}

// cells adds a row: a cell a side, the change between the first two, and what is required.
func (b *builder) cells(label string, sides []Cell, change Cell, required ...Cell) {
	all := append(slices.Clone(sides[:2]), change)
	b.add(label, append(append(all, sides[2:]...), required...)...)
}

func count(n int) Cell { return Cell{fmt.Sprint(n), float64(n)} }

func (b *builder) equipment() {
	if !b.manyKinds() {
		b.section("One luminaire")
		b.plain("lamps", func(s lighting.Side) Cell { return Word(Lamps(*s.From)) })
		b.each("initial lamp lumens, lm", number.Thousands, func(s lighting.Side) float64 { return s.LampLumensEach })
		b.each("luminaire efficiency", number.Decimals(3), func(s lighting.Side) float64 { return s.Efficiency })
		b.each("input watts, W", number.Decimals(0), func(s lighting.Side) float64 { return s.InputWattsEach })
	}
	b.section("All luminaires")
	failed := b.result.Existing().Failed > 0
	b.plain("number", func(s lighting.Side) Cell { return count(s.Luminaires) })
	load := "connected load, kW"
	if !b.result.Job.OneKind() {
		load = "load as found, and set, kW"
		if failed {
			b.plain("  of these give no light", func(s lighting.Side) Cell { return count(s.Failed) })
		}
	}
	b.accounts(load, number.Decimals(2), func(a study.Account) float64 { return a.KW })
	if failed {
		b.accounts("  with every luminaire lit, kW", number.Decimals(2), func(a study.Account) float64 { return a.AllLitKW })
	}
	b.judged("power density, "+b.Power, levels.WholeRoom, levels.PowerDensity, func(s lighting.Side) float64 { return s.PowerDensity / b.PerArea })
}

// accounts adds a row with a number of every side's account of energy and money.
func (b *builder) accounts(label string, format func(float64) string, of func(a study.Account) float64) {
	var values []float64
	for _, a := range b.result.Energy.Accounts {
		values = append(values, of(a))
	}
	b.row(label, format, values)
}

// judged adds a row of a statistic that criteria may be about: what they require, marked where the proposed lighting misses it, and a replacement
// that misses it marked beside its number.
func (b *builder) judged(label, grid string, which levels.Statistic, value func(s lighting.Side) float64) {
	b.each(label, b.finer(grid, which), value, b.required(grid, which)...)
	b.markReplacement(grid, which)
}

// markReplacement says behind the last row's number of the replacement that it misses a criterion.
func (b *builder) markReplacement(grid string, which levels.Statistic) {
	if len(b.sides) < 3 {
		return
	}
	rows := b.sections[len(b.sections)-1].Rows
	for _, v := range b.result.Verdicts {
		if v.Grid == grid && v.Statistic == which && !v.By[2].Met {
			rows[len(rows)-1].Cells[replaced].Text += mark(v.By[2].Met, v.By[2].Why)
			return
		}
	}
}

// replaced is the column of a replacement in a before-and-after ledger.
const replaced = 3

// mark is what stands behind a number that misses a criterion; nothing where it is met.
func mark(met bool, why string) string {
	switch {
	case met:
		return ""
	case why != "":
		return marks[1]
	}
	return marks[0]
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

func manyKinds(r *study.Result) bool {
	return slices.ContainsFunc(r.Sides, func(s lighting.Side) bool { return s.Parts != nil })
}

// losses shows the light loss factors, of each group by itself where there are several.
func (b *builder) losses() {
	if !b.manyKinds() {
		b.section("Light loss factors")
		b.lossesOf(b.sides)
		return
	}
	for _, name := range b.result.Job.Groups {
		var there []lighting.Side
		for _, side := range b.sides {
			there = append(there, orNone(find(side, name)))
		}
		b.section("Light loss factors, " + name)
		b.lossesOf(there)
	}
}

// orNone is a side that has no luminaires where there is none.
func orNone(side *lighting.Side) lighting.Side {
	if side == nil {
		return lighting.Side{}
	}
	return *side
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

// lossesOf shows those of every side, some of which may have no such luminaires.
func (b *builder) lossesOf(sides []lighting.Side) {
	known := slices.IndexFunc(sides, func(s lighting.Side) bool { return s.System != nil })
	if known < 0 {
		return
	}
	there := sides[known]
	totals := make([]float64, len(sides))
	for k, factor := range there.Losses.List() {
		values, from := make([]float64, len(sides)), make([]string, len(sides))
		for i, side := range sides {
			values[i], totals[i] = math.NaN(), math.NaN()
			if side.System != nil {
				own := side.Losses.List()[k]
				values[i], from[i], totals[i] = own.Value, fmt.Sprintf(" %.1s", own.From), side.Losses.Total()
			}
		}
		b.row(strings.ReplaceAll(factor.Key, "_", " "), number.Decimals(3), values)
		cells := b.sections[len(b.sections)-1].Rows[k].Cells
		for i, letter := range from {
			cells[columnOf(i)].Text += letter
		}
	}
	b.row("total", func(x float64) string {
		if math.IsNaN(x) {
			return number.Decimals(3)(x)
		}
		return fmt.Sprintf("%.3f  ", x)
	}, totals)
}

// columnOf is the column of a side in a before-and-after ledger.
func columnOf(side int) int {
	if side < 2 {
		return side
	}
	return replaced
}

func (b *builder) lumenMethod(name string) {
	b.section(name + ", " + b.Illuminance)
	maintained := func(s lighting.Side) float64 { return s.LumenMethod.MaintainedAverage / b.Lux }
	if b.manyKinds() {
		b.groupAverages()
		b.each("maintained average, in all", number.Digits, maintained)
		return
	}
	b.each("room cavity ratio", number.Decimals(2), func(s lighting.Side) float64 { return s.LumenMethod.RoomCavityRatio })
	b.each("coefficient of utilization", number.Decimals(3), func(s lighting.Side) float64 { return s.LumenMethod.CoefficientOfUtilization })
	b.each("initial average", number.Digits, func(s lighting.Side) float64 { return s.LumenMethod.InitialAverage / b.Lux })
	b.each("maintained average", number.Digits, maintained)
	b.plain("spacing over criterion, along", func(s lighting.Side) Cell {
		return ratioOf(s.LumenMethod.SpacingToHeightAlong, s.LumenMethod.SpacingCriterionAlong)
	})
	b.plain("spacing over criterion, across", func(s lighting.Side) Cell {
		return ratioOf(s.LumenMethod.SpacingToHeightAcross, s.LumenMethod.SpacingCriterionAcross)
	})
}

// groupAverages shows what each group gives by the lumen method.
func (b *builder) groupAverages() {
	for _, name := range b.result.Job.Groups {
		b.each("  "+name, number.Digits, func(s lighting.Side) float64 {
			if kind := find(s, name); kind != nil {
				return kind.LumenMethod.MaintainedAverage / b.Lux
			}
			return math.NaN()
		})
	}
}

func ratioOf(spacing, criterion float64) Cell {
	return Word(number.Decimals(2)(spacing) + " / " + number.Decimals(2)(criterion))
}

func (b *builder) grid(i int) {
	grid := b.result.Existing().Grids[i]
	b.section(fmt.Sprintf("Point by point, %s, %s", grid.Label(), b.Illuminance))
	show := func(label string, which levels.Statistic, unit float64, of func(s room.Statistics) float64) {
		b.judged(label, grid.Name, which, func(s lighting.Side) float64 { return of(s.Grids[i].Statistics) / unit })
	}
	show("average", levels.Average, b.Lux, func(s room.Statistics) float64 { return s.Average })
	if i == 0 && b.result.Existing().Failed > 0 {
		b.each("  with every luminaire lit", number.Digits, func(s lighting.Side) float64 { return s.AllLit / b.Lux })
	}
	show("minimum", levels.Minimum, b.Lux, func(s room.Statistics) float64 { return s.Minimum })
	show("maximum", levels.Maximum, b.Lux, func(s room.Statistics) float64 { return s.Maximum })
	show("average to minimum", levels.AverageToMinimum, 1, func(s room.Statistics) float64 { return s.AverageToMinimum })
	show("maximum to minimum", levels.MaximumToMinimum, 1, func(s room.Statistics) float64 { return s.MaximumToMinimum })
	if grid.Quantity() == room.Cylindrical {
		b.each("cylindrical/horizontal ratio", number.Decimals(2), func(s lighting.Side) float64 { return s.Grids[i].Modeling.Ratio() })
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
		b.rating(who, func(s lighting.Side) (float64, glare.Reason) { return s.Glare() }, b.required(levels.Observers, levels.Glare)...)
		b.markReplacement(levels.Observers, levels.Glare)
		for i, o := range r.Job.Observers {
			if r.Job.ObserversNamed && len(r.Job.Observers) > 1 {
				b.rating("  "+o.Name, func(s lighting.Side) (float64, glare.Reason) { return s.Observers[i].Rating() })
			}
		}
	}
	if required := b.required(levels.WholeRoom, levels.ColorRendering); len(required) > 0 {
		b.section("Color")
		var cells []Cell
		for _, side := range b.sides {
			cells = append(cells, index(side.ColorRendering))
		}
		b.cells("least color rendering index", cells, Word(""), Word(strings.Join(required, " ")))
		b.markReplacement(levels.WholeRoom, levels.ColorRendering)
	}
}

// rating shows a rating of every side. A difference is what counts of a logarithm, and not its percents.
func (b *builder) rating(label string, of func(s lighting.Side) (float64, glare.Reason), required ...string) {
	finer := b.finer(levels.Observers, levels.Glare)
	var cells []Cell
	for _, side := range b.sides {
		switch x, why := of(side); {
		case why == glare.NothingSeen:
			cells = append(cells, Word("none seen"))
		case why != glare.Rated:
			cells = append(cells, Word("not known"))
		default:
			cells = append(cells, Cell{finer(x), x})
		}
	}
	change := Word("")
	if d := cells[1].Value - cells[0].Value; !math.IsNaN(d) {
		change = Word(number.Signed(d, 1))
	}
	b.cells(label, cells, change, Word(strings.Join(required, " ")))
}

// index is a color rendering index, which may not be known.
func index(x float64) Cell {
	if math.IsNaN(x) {
		return Word("not known")
	}
	return Cell{number.Decimals(0)(x), x}
}

// finer writes values of a statistic with the digits in which what decides about the criteria is seen.
func (b *builder) finer(grid string, which levels.Statistic) func(float64) string {
	more := 0
	for _, v := range b.result.Verdicts {
		if v.Grid == grid && v.Statistic == which {
			more = max(more, v.Finer(b.result.Job.Imperial))
		}
	}
	return func(x float64) string { return number.Finer(x, more) }
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
		all = append(all, limit+mark(v.Proposed().Met, v.Proposed().Why))
	}
	return all
}

func (b *builder) energy() {
	e := b.result.Energy
	b.section("Energy")
	b.accounts("energy a year, kWh", number.Thousands, func(a study.Account) float64 { return a.KWhPerYear })
	if b.result.Job.Tariff.PeakPricePerKWh != nil {
		b.accounts("  of this in the tariff's peak", number.Thousands, func(a study.Account) float64 { return a.PeakKWhPerYear })
	}
	b.outages()
	saving := func(label string, format func(float64) string, of func(s study.Saving) *float64) {
		b.known(label, format, func(i int) *float64 { return of(e.SavingOf(i)) }, "")
	}
	if e.HeatingCooling != 0 {
		saving("saving of the lights, kWh", number.Thousands, func(s study.Saving) *float64 { return &s.LightsSavedKWhPerYear })
		saving("  with cooling and heating, kWh", number.Thousands, func(s study.Saving) *float64 { return &s.SavedKWhPerYear })
	}
	if parts := given(e.EnergySavingPerYear, e.DemandSavingPerYear, e.UpkeepSavingPerYear); parts > 1 {
		saving("saving a year: energy", b.Money, func(s study.Saving) *float64 { return s.EnergySavingPerYear })
		saving("saving a year: demand", b.Money, func(s study.Saving) *float64 { return s.DemandSavingPerYear })
		saving("saving a year: upkeep", b.Money, func(s study.Saving) *float64 { return s.UpkeepSavingPerYear })
	}
	saving("saving a year, in all", b.Money, func(s study.Saving) *float64 { return s.SavingPerYear })
	b.costs()
	saving("installed cost less rebate", b.Money, func(s study.Saving) *float64 { return s.NetCost })
	saving("simple payback, years", number.Decimals(1), func(s study.Saving) *float64 { return s.SimplePaybackYears })
}

// known adds a row of amounts of the new systems, where one of them is known; a note to it stands where the change does.
func (b *builder) known(label string, format func(float64) string, of func(side int) *float64, note string) {
	cells, known := make([]Cell, len(b.sides)), false
	for i := range cells {
		cells[i] = Word("")
		if x := of(i); i > 0 && x != nil {
			cells[i], known = Cell{format(*x), *x}, true
		}
	}
	if known {
		b.cells(label, cells, Word(note))
	}
}

// outages shows what the energy were if lamps that are out drew nothing.
func (b *builder) outages() {
	outages := b.result.Outages()
	if len(outages) == 0 {
		return
	}
	var values []float64
	for i, side := range b.sides {
		values = append(values, b.result.Energy.Accounts[i].KWhPerYear)
		for _, o := range outages {
			if o.Name == side.Name {
				values[i] *= o.LeastKW / o.KW
			}
		}
	}
	b.row("  if lamps out draw nothing", number.Thousands, values)
}

// costs shows what the new systems cost line by line, and what each rebate pays, where one has more than one sum of them.
func (b *builder) costs() {
	rebates := b.result.Energy.Rebates
	lines := len(rebates)
	for _, side := range b.sides[1:] {
		lines += len(side.From.Costs.Lines)
	}
	if lines == 0 {
		return
	}
	only := func(label string, side int, amount float64, note string) {
		b.known(label, b.Money, func(i int) *float64 {
			if i == side {
				return &amount
			}
			return nil
		}, note)
	}
	for i, side := range b.sides[1:] {
		for _, l := range side.From.Costs.Lines {
			only("cost: "+l.Text, i+1, l.Amount, "")
		}
	}
	sum := func(label string, of func(c job.Costs) *float64) {
		b.known(label, b.Money, func(i int) *float64 { return of(b.sides[i].From.Costs) }, "")
	}
	sum("installed cost", func(c job.Costs) *float64 { return c.InstalledCost })
	sum("rebate, as one sum", func(c job.Costs) *float64 { return c.Rebate })
	for _, p := range rebates {
		paid, capped := number.Thousands(p.Units), ""
		if p.Per == "kw" {
			paid = number.Decimals(2)(p.Units)
		}
		if p.Paid < p.Uncapped {
			capped = "capped"
		}
		what := map[string]string{"lamp": "lamps", "luminaire": "luminaires", "kwh": "kWh", "kw": "kW"}[p.Per]
		only(fmt.Sprintf("rebate: %s %s at %s", paid, what, currency.Rate(b.Currency, p.Amount)), 1, p.Paid, capped)
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
