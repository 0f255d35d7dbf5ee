package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/study"
)

// ledgerWidth is the width that every line of the ledger keeps within.
const ledgerWidth = 80

// A ledger is the before-and-after table: a row a quantity, columns existing, proposed, change, required.
type ledger struct {
	view
	result *study.Result
	table  table.Writer
}

// writeLedger writes the whole answer for a terminal.
func writeLedger(w io.Writer, r *study.Result) {
	l := ledger{view: viewOf(r), result: r, table: table.NewWriter()}
	style := table.StyleLight
	style.Options = table.OptionsNoBordersAndSeparators
	style.Format.Header = text.FormatDefault
	l.table.SetStyle(style)
	right := text.AlignRight
	l.table.SetColumnConfigs([]table.ColumnConfig{{Number: 1, WidthMax: 33, WidthMaxEnforcer: text.WrapSoft}, {Number: 2, Align: right, AlignHeader: right},
		{Number: 3, Align: right, AlignHeader: right}, {Number: 4, Align: right, AlignHeader: right}, {Number: 5, Align: right, AlignHeader: right}})
	l.table.AppendHeader(table.Row{"", "existing", "proposed", "change", "required"})
	l.equipment()
	l.losses()
	l.lumenMethod()
	for i := range r.Existing.Grids {
		l.grid(i)
	}
	l.energy()
	fmt.Fprintf(w, "%s\n\n%s\n", text.Bold.Sprint(r.Job.Title), trimmed(l.table.Render()))
	l.notes(w)
}

// trimmed takes the blanks off the ends of lines, and the blank before each that the table style puts there.
func trimmed(rendered string) string {
	lines := strings.Split(rendered, "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(strings.TrimPrefix(line, " "), " ")
	}
	return strings.Join(lines, "\n")
}

func (l ledger) section(name string) {
	if l.table.Length() > 0 {
		l.table.AppendRow(table.Row{""})
	}
	name = text.Bold.Sprint(name)
	l.table.AppendRow(table.Row{name, name, name, name, name}, table.RowConfig{AutoMerge: true, AutoMergeAlign: text.AlignLeft})
}

// row shows a quantity with its relative change.
func (l ledger) row(name string, existing, proposed float64, format func(float64) string, required ...string) {
	l.table.AppendRow(table.Row{"  " + name, format(existing), format(proposed), percent(existing, proposed), strings.Join(required, " ")})
}

// plain shows a quantity whose change says nothing.
func (l ledger) plain(name string, existing, proposed string) {
	l.table.AppendRow(table.Row{"  " + name, existing, proposed})
}

func percent(before, after float64) string {
	if before == 0 || math.IsNaN(before) || math.IsNaN(after) {
		return ""
	}
	change := 100 * (after/before - 1)
	if math.Abs(change) < 0.5 {
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

func (l ledger) equipment() {
	e, p := l.result.Existing, l.result.Proposed
	l.section("One luminaire")
	l.plain("luminaires in the room", fmt.Sprint(e.Luminaires), fmt.Sprint(p.Luminaires))
	l.plain("lamps", lampsOf(l.result.Job.Existing), lampsOf(l.result.Job.Proposed))
	l.row("initial lamp lumens, lm", e.LampLumensEach, p.LampLumensEach, decimals(0))
	l.row("luminaire efficiency", e.Efficiency, p.Efficiency, decimals(3))
	l.row("input, W", e.InputWattsEach, p.InputWattsEach, decimals(0))
	l.row(map[bool]string{true: "power density, W/ft2", false: "power density, W/m2"}[l.result.Job.Imperial],
		e.PowerDensity/l.perArea, p.PowerDensity/l.perArea, decimals(2))
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

func (l ledger) losses() {
	l.section("Light loss factors")
	e, p := l.result.Existing.Losses, l.result.Proposed.Losses
	before, after := e.List(), p.List()
	for i := range before {
		l.table.AppendRow(table.Row{"  " + strings.ReplaceAll(before[i].Key, "_", " "),
			fmt.Sprintf("%.3f %.1s", before[i].Value, before[i].From), fmt.Sprintf("%.3f %.1s", after[i].Value, after[i].From),
			percent(before[i].Value, after[i].Value)})
	}
	l.row("total", e.Total(), p.Total(), func(x float64) string { return fmt.Sprintf("%.3f  ", x) })
}

func (l ledger) light(lux float64) string { return study.Digits(lux / l.lux) }

func (l ledger) lumenMethod() {
	e, p := l.result.Existing.LumenMethod, l.result.Proposed.LumenMethod
	l.section("Lumen method, " + l.illuminance)
	l.row("room cavity ratio", e.RoomCavityRatio, p.RoomCavityRatio, decimals(2))
	l.row("coefficient of utilization", e.CoefficientOfUtilization, p.CoefficientOfUtilization, decimals(3))
	l.row("initial average", e.InitialAverage, p.InitialAverage, l.light)
	l.row("maintained average", e.MaintainedAverage, p.MaintainedAverage, l.light)
	l.plain("spacing over criterion, along", ratioOf(e.SpacingToHeightAlong, e.SpacingCriterionAlong), ratioOf(p.SpacingToHeightAlong, p.SpacingCriterionAlong))
	l.plain("spacing over criterion, across", ratioOf(e.SpacingToHeightAcross, e.SpacingCriterionAcross), ratioOf(p.SpacingToHeightAcross, p.SpacingCriterionAcross))
}

func ratioOf(spacing, criterion float64) string {
	return decimals(2)(spacing) + " / " + decimals(2)(criterion)
}

func (l ledger) grid(i int) {
	e, p := l.result.Existing.Grids[i], l.result.Proposed.Grids[i]
	l.section(fmt.Sprintf("Point by point, %s, %s", e.Name, l.illuminance))
	show := func(name string, which levels.Statistic, before, after float64, format func(float64) string) {
		l.row(name, before, after, format, l.required(e.Name, which)...)
	}
	b, a := e.Statistics, p.Statistics
	show("average", levels.Average, b.Average, a.Average, l.light)
	show("minimum", levels.Minimum, b.Minimum, a.Minimum, l.light)
	show("maximum", levels.Maximum, b.Maximum, a.Maximum, l.light)
	show("average to minimum", levels.AverageToMinimum, b.AverageToMinimum, a.AverageToMinimum, study.Digits)
	show("maximum to minimum", levels.MaximumToMinimum, b.MaximumToMinimum, a.MaximumToMinimum, study.Digits)
}

// required lists what the criteria ask of a statistic, a cross behind what the proposed system misses.
func (l ledger) required(grid string, which levels.Statistic) []string {
	var all []string
	for _, v := range l.result.Verdicts {
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
		all = append(all, sign+study.Digits(v.RequiredIn(l.result.Job.Imperial))+mark)
	}
	return all
}

func (l ledger) energy() {
	e := l.result.Energy
	l.section("Energy")
	l.row("connected load, kW", e.ExistingKW, e.ProposedKW, decimals(2))
	l.row("energy a year, kWh", e.ExistingKWhPerYear, e.ProposedKWhPerYear, decimals(0))
	if e.SavingPerYear != nil {
		l.plain("saving a year", "", decimals(0)(*e.SavingPerYear))
	}
	if e.NetCost != nil {
		l.plain("cost less rebate", "", decimals(0)(*e.NetCost))
	}
	if e.SimplePaybackYears != nil {
		l.plain("simple payback, years", "", decimals(1)(*e.SimplePaybackYears))
	}
}

// notes writes what stands below the table; the verdict comes last, where a terminal shows it.
func (l ledger) notes(w io.Writer) {
	r := l.result
	list(w, "What each part of the swap does to the light", []string{r.Effects().Words()})
	list(w, "How the two methods compare", r.CrossCheck())
	list(w, "Where the light goes (initial)", r.BalanceWords())
	list(w, "Racks", l.racks())
	var criteria []string
	for _, v := range r.Verdicts {
		word := "met"
		if !v.ProposedMet {
			word = "MISSED"
		}
		criteria = append(criteria, fmt.Sprintf("%s, %s of %s: %s %s; %s by the proposed lighting. Source: %s", v.Name, strings.ReplaceAll(v.Statistic.String(), "_", " "),
			v.Grid, strings.ReplaceAll(v.Direction(), "_", " "), study.Digits(v.RequiredIn(r.Job.Imperial)), word, v.Source))
	}
	list(w, "What is asked", criteria)
	list(w, "Where the loss factors come from (t table, j job file, d default)", l.origins())
	var defaults []string
	for _, d := range r.Job.Defaults {
		defaults = append(defaults, fmt.Sprintf("%s = %s: %s", d.Key, d.Value, d.Reason))
	}
	list(w, "Defaults that were used", defaults)
	list(w, "Warnings", r.Warnings)
	list(w, "Cautions", r.Cautions)
	word := "ENOUGH"
	switch {
	case !r.Met():
		word = "NOT ENOUGH"
	case len(r.Verdicts) == 0:
		word = "NOT JUDGED"
	}
	fmt.Fprintf(w, "\n%s\n", trimmed(text.WrapSoft(word+". "+r.Sentence(), ledgerWidth)))
}

// racks says how many racks there are and what they let through.
func (l ledger) racks() []string {
	racks := l.result.Job.Racks
	if len(racks) == 0 {
		return nil
	}
	least, most := racks[0].Transmittance, racks[0].Transmittance
	for _, rack := range racks {
		least, most = min(least, rack.Transmittance), max(most, rack.Transmittance)
	}
	passes := fmt.Sprintf("%.0f", 100*most)
	if least != most {
		passes = fmt.Sprintf("%.0f to %.0f", 100*least, 100*most)
	}
	return []string{fmt.Sprintf("%d racks; %s percent of the light that meets one passes it", len(racks), passes)}
}

func (l ledger) origins() []string {
	var all []string
	before, after := l.result.Existing.Losses.List(), l.result.Proposed.Losses.List()
	for i, b := range before {
		name, a := strings.ReplaceAll(b.Key, "_", " "), after[i]
		if a.Detail == b.Detail {
			all = append(all, fmt.Sprintf("%s: %s", name, b.Detail))
			continue
		}
		all = append(all, fmt.Sprintf("%s, existing: %s", name, b.Detail), fmt.Sprintf("%s, proposed: %s", name, a.Detail))
	}
	return all
}

// list writes a heading and wrapped items, or nothing at all.
func list(w io.Writer, heading string, items []string) {
	if len(items) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s\n", text.Bold.Sprint(heading))
	for _, item := range items {
		wrapped := text.WrapSoft(item, ledgerWidth-4)
		fmt.Fprintf(w, "  - %s\n", strings.ReplaceAll(trimmed(wrapped), "\n", "\n    "))
	}
}
