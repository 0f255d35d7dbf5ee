package main

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/study"
)

// A ledger is a table of the answer: sections of rows, a column a system. Every writer (terminal, CSV, spreadsheet, proposal) shows the
// same ones.
type ledger struct {
	Name     string
	Columns  []string // of the values, the first column of labels left out
	Sections []section
}

type section struct {
	Name string
	Rows []ledgerRow
}

type ledgerRow struct {
	Label string
	Cells []cell
}

// A cell is what a reader sees and, where it is a number, its value in the units of its row.
type cell struct {
	Text  string
	Value float64 // NaN where the cell is a word
}

func word(text string) cell { return cell{text, math.NaN()} }

// beforeAfter is the spine of every answer: a row a quantity, columns existing, proposed, change, required.
func beforeAfter(r *study.Result) ledger {
	b := builder{view: viewOf(r), result: r}
	b.equipment()
	b.losses()
	b.lumenMethod()
	for i := range r.Existing.Grids {
		b.grid(i)
	}
	b.energy()
	return ledger{Name: "Before and after", Columns: []string{"existing", "proposed", "change", "required"}, Sections: b.sections}
}

// A builder gathers the sections of the before-and-after ledger.
type builder struct {
	view
	result   *study.Result
	sections []section
}

func (b *builder) section(name string) { b.sections = append(b.sections, section{Name: name}) }

func (b *builder) add(label string, cells ...cell) {
	last := &b.sections[len(b.sections)-1]
	last.Rows = append(last.Rows, ledgerRow{label, cells})
}

// row shows a quantity with its relative change. The values are in the units shown.
func (b *builder) row(label string, existing, proposed float64, format func(float64) string, required ...string) {
	change := word(percent(existing, proposed))
	if change.Text != "" {
		change.Value = proposed/existing - 1
	}
	b.add(label, cell{format(existing), existing}, cell{format(proposed), proposed}, change, word(strings.Join(required, " ")))
}

// plain shows a quantity whose change says nothing.
func (b *builder) plain(label string, existing, proposed cell) { b.add(label, existing, proposed) }

func percent(before, after float64) string {
	if before == 0 || math.IsNaN(before) || math.IsNaN(after) {
		return ""
	}
	change := 100 * (after/before - 1)
	switch {
	case math.IsInf(change, 0): // from next to nothing
		return ""
	case math.Abs(change) < 0.5:
		return "0 %"
	}
	return fmt.Sprintf("%+.0f %%", change)
}

func decimals(n int) func(float64) string {
	return func(x float64) string {
		if math.IsNaN(x) {
			return "-"
		}
		return fmt.Sprintf("%.*f", n, x)
	}
}

func count(n int) cell { return cell{fmt.Sprint(n), float64(n)} }

func (b *builder) equipment() {
	e, p := b.result.Existing, b.result.Proposed
	b.section("One luminaire")
	b.plain("luminaires in the room", count(e.Luminaires), count(p.Luminaires))
	b.plain("lamps", word(lampsOf(b.result.Job.Existing)), word(lampsOf(b.result.Job.Proposed)))
	b.row("initial lamp lumens, lm", e.LampLumensEach, p.LampLumensEach, decimals(0))
	b.row("luminaire efficiency", e.Efficiency, p.Efficiency, decimals(3))
	b.row("input, W", e.InputWattsEach, p.InputWattsEach, decimals(0))
	b.row("power density, "+b.power, e.PowerDensity/b.perArea, p.PowerDensity/b.perArea, decimals(2), b.required(levels.WholeRoom, levels.PowerDensity)...)
}

func lampsOf(s job.System) string {
	switch {
	case s.Luminaire.Absolute:
		return "as a whole"
	case s.Lamp != nil:
		return fmt.Sprintf("%d x %s", s.Lamps, s.Lamp.Name)
	}
	return fmt.Sprintf("%d x %.0f lm", s.Lamps, s.LampLumens)
}

func (b *builder) losses() {
	b.section("Light loss factors")
	e, p := b.result.Existing.Losses, b.result.Proposed.Losses
	before, after := e.List(), p.List()
	for i := range before {
		name := strings.ReplaceAll(before[i].Key, "_", " ")
		b.row(name, before[i].Value, after[i].Value, decimals(3))
		cells := b.sections[len(b.sections)-1].Rows[i].Cells
		cells[0].Text += fmt.Sprintf(" %.1s", before[i].From)
		cells[1].Text += fmt.Sprintf(" %.1s", after[i].From)
	}
	b.row("total", e.Total(), p.Total(), func(x float64) string { return fmt.Sprintf("%.3f  ", x) })
}

func (b *builder) lumenMethod() {
	e, p := b.result.Existing.LumenMethod, b.result.Proposed.LumenMethod
	b.section("Lumen method, " + b.illuminance)
	b.row("room cavity ratio", e.RoomCavityRatio, p.RoomCavityRatio, decimals(2))
	b.row("coefficient of utilization", e.CoefficientOfUtilization, p.CoefficientOfUtilization, decimals(3))
	b.row("initial average", e.InitialAverage/b.lux, p.InitialAverage/b.lux, study.Digits)
	b.row("maintained average", e.MaintainedAverage/b.lux, p.MaintainedAverage/b.lux, study.Digits)
	b.plain("spacing over criterion, along", ratioOf(e.SpacingToHeightAlong, e.SpacingCriterionAlong), ratioOf(p.SpacingToHeightAlong, p.SpacingCriterionAlong))
	b.plain("spacing over criterion, across", ratioOf(e.SpacingToHeightAcross, e.SpacingCriterionAcross), ratioOf(p.SpacingToHeightAcross, p.SpacingCriterionAcross))
}

func ratioOf(spacing, criterion float64) cell {
	return word(decimals(2)(spacing) + " / " + decimals(2)(criterion))
}

func (b *builder) grid(i int) {
	e, p := b.result.Existing.Grids[i], b.result.Proposed.Grids[i]
	b.section(fmt.Sprintf("Point by point, %s, %s", e.Name, b.illuminance))
	show := func(label string, which levels.Statistic, before, after float64) {
		b.row(label, before, after, study.Digits, b.required(e.Name, which)...)
	}
	before, after := e.Statistics, p.Statistics
	show("average", levels.Average, before.Average/b.lux, after.Average/b.lux)
	show("minimum", levels.Minimum, before.Minimum/b.lux, after.Minimum/b.lux)
	show("maximum", levels.Maximum, before.Maximum/b.lux, after.Maximum/b.lux)
	show("average to minimum", levels.AverageToMinimum, before.AverageToMinimum, after.AverageToMinimum)
	show("maximum to minimum", levels.MaximumToMinimum, before.MaximumToMinimum, after.MaximumToMinimum)
}

// required lists what the criteria ask of a statistic, and marks what the proposed system misses.
func (b *builder) required(grid string, which levels.Statistic) []string {
	var all []string
	for _, v := range b.result.Verdicts {
		if v.Grid != grid || v.Statistic != which {
			continue
		}
		sign := "<="
		if v.AtLeast {
			sign = ">="
		}
		mark := ""
		if !v.ProposedMet {
			mark = " missed"
		}
		all = append(all, sign+study.Digits(v.RequiredIn(b.result.Job.Imperial))+mark)
	}
	return all
}

func (b *builder) energy() {
	e := b.result.Energy
	b.section("Energy")
	b.row("connected load, kW", e.ExistingKW, e.ProposedKW, decimals(2))
	b.row("energy a year, kWh", e.ExistingKWhPerYear, e.ProposedKWhPerYear, thousands)
	sum := func(label string, x *float64, format func(float64) string) {
		if x != nil {
			b.plain(label, word(""), cell{format(*x), *x})
		}
	}
	if parts := given(e.EnergySavingPerYear, e.DemandSavingPerYear, e.UpkeepSavingPerYear); parts > 1 {
		sum("saving a year: energy", e.EnergySavingPerYear, thousands)
		sum("saving a year: demand", e.DemandSavingPerYear, thousands)
		sum("saving a year: upkeep", e.UpkeepSavingPerYear, thousands)
	}
	sum("saving a year, in all", e.SavingPerYear, thousands)
	sum("cost less rebate", e.NetCost, thousands)
	sum("simple payback, years", e.SimplePaybackYears, decimals(1))
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
