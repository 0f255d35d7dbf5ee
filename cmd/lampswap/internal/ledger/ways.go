package ledger

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry/lifecycle"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// Ways sets the systems side by side by light, energy and cost: the existing one kept, the swap made, the luminaires replaced. It has no
// section where neither money nor a replacement is in the job.
func Ways(r *study.Result) Ledger {
	w := wayBuilder{newBuilder(r)}
	l := Ledger{Name: "The systems compared", Currency: w.Currency}
	for _, side := range w.sides {
		l.Columns = append(l.Columns, side.Name)
	}
	if r.LifeCycle == nil && !r.ThreeWays() {
		return l
	}
	w.light()
	w.year()
	w.lifeCycle()
	l.Sections = w.sections
	return l
}

type wayBuilder struct{ builder }

// each adds a row with a value of every side; NaN is shown as a dash.
func (w *wayBuilder) each(label string, format func(float64) string, value func(i int, side lighting.Side) float64) {
	var cells []Cell
	for i, side := range w.sides {
		x := value(i, side)
		text := "-"
		if !math.IsNaN(x) {
			text = format(x)
		}
		cells = append(cells, Cell{text, x})
	}
	w.add(label, cells...)
}

func (w *wayBuilder) light() {
	w.section("Light on the work plane, maintained, " + w.Illuminance)
	w.each("average", number.Digits, func(_ int, s lighting.Side) float64 { return s.Grids[0].Statistics.Average / w.Lux })
	w.each("minimum", number.Digits, func(_ int, s lighting.Side) float64 { return s.Grids[0].Statistics.Minimum / w.Lux })
	if len(w.result.Verdicts) == 0 {
		return
	}
	w.each(fmt.Sprintf("criteria met, of %d", len(w.result.Verdicts)), number.Decimals(0), func(i int, _ lighting.Side) float64 {
		return float64(metBy(w.result, i))
	})
}

func (w *wayBuilder) year() {
	account := func(of func(a study.Account) float64) func(int, lighting.Side) float64 {
		return func(i int, _ lighting.Side) float64 { return of(w.result.Energy.Accounts[i]) }
	}
	w.section("A year")
	load := "connected load, kW"
	if !w.result.Job.OneKind() {
		load = "load as found, and set, kW"
	}
	w.each(load, number.Decimals(2), account(func(a study.Account) float64 { return a.KW }))
	w.each("energy, kWh", number.Thousands, account(func(a study.Account) float64 { return a.KWhPerYear }))
	for _, cost := range []struct {
		label string
		of    func(a study.Account) float64
	}{
		{"energy, cost", func(a study.Account) float64 { return orNaN(a.Energy) }},
		{"less: cooling and heating", func(a study.Account) float64 { return a.Spared }},
		{"demand, cost", func(a study.Account) float64 { return orNaN(a.Demand) }},
		{"lamps replaced, cost", func(a study.Account) float64 { return a.Lamps }},
		{"ballasts replaced, cost", func(a study.Account) float64 { return a.Ballasts }},
		{"cleaning, cost", func(a study.Account) float64 { return a.Cleaning }},
		{"other, cost", func(a study.Account) float64 { return a.Other }},
	} {
		if w.any(cost.of) {
			w.each(cost.label, w.Money, func(i int, _ lighting.Side) float64 {
				a := w.result.Energy.Accounts[i]
				if upkeep := !strings.HasPrefix(cost.label, "energy") && !strings.HasPrefix(cost.label, "demand") && !strings.HasPrefix(cost.label, "less"); upkeep && !a.UpkeepKnown() {
					return math.NaN()
				}
				return cost.of(a)
			})
		}
	}
}

// any tells whether some account has such a cost, or a saving.
func (w *wayBuilder) any(of func(study.Account) float64) bool {
	for _, a := range w.result.Energy.Accounts {
		if x := of(a); x > 0 || x < 0 {
			return true
		}
	}
	return false
}

func (w *wayBuilder) lifeCycle() {
	l := w.result.LifeCycle
	if l == nil {
		return
	}
	w.section(fmt.Sprintf("Over %d years, present values at %.3g percent real", l.Terms.Years, 100*l.Terms.DiscountRate))
	way := func(of func(way study.Way) float64) func(int, lighting.Side) float64 {
		return func(i int, _ lighting.Side) float64 {
			if i >= len(l.Ways) {
				return math.NaN()
			}
			return of(l.Ways[i])
		}
	}
	cost := func(label string, of func(c lifecycle.Cost) float64) {
		w.each(label, w.Money, way(func(y study.Way) float64 { return of(y.Cost) }))
	}
	cost("installed cost less rebate", func(c lifecycle.Cost) float64 { return c.Investment })
	cost("energy and demand", func(c lifecycle.Cost) float64 { return c.Energy })
	if l.Upkeep {
		cost("upkeep", func(c lifecycle.Cost) float64 { return c.Maintenance + c.Replacements })
	}
	cost("less residual value", func(c lifecycle.Cost) float64 { return c.Residual })
	cost("life-cycle cost", func(c lifecycle.Cost) float64 { return c.Total })
	measure := func(label string, format func(float64) string, of func(m lifecycle.Measures) float64) {
		w.each(label, format, way(func(y study.Way) float64 {
			if y.Measures == nil {
				return math.NaN()
			}
			return of(*y.Measures)
		}))
	}
	measure("net savings", w.Money, func(m lifecycle.Measures) float64 { return m.NetSavings })
	measure("savings to investment", number.Decimals(2), func(m lifecycle.Measures) float64 { return m.SIR })
	measure("adjusted rate of return, %", number.Decimals(1), func(m lifecycle.Measures) float64 { return 100 * m.AIRR })
	w.each("simple payback, years", number.Decimals(1), way(func(y study.Way) float64 { return y.SimplePaybackYears }))
	w.each("discounted payback, years", number.Decimals(1), way(func(y study.Way) float64 {
		if y.Measures == nil {
			return math.NaN()
		}
		return y.Measures.DiscountedPaybackYears
	}))
	w.late(l)
}

// late says of a discounted payback beyond the study period that it is.
func (w *wayBuilder) late(l *study.LifeCycle) {
	rows := w.sections[len(w.sections)-1].Rows
	cells := rows[len(rows)-1].Cells
	for i, y := range l.Ways {
		if m := y.Measures; m != nil && math.IsNaN(m.DiscountedPaybackYears) && m.AddedFirstCost > 0 {
			cells[i].Text = fmt.Sprintf("over %d", l.Terms.Years)
		}
	}
}

func orNaN(x *float64) float64 {
	if x == nil {
		return math.NaN()
	}
	return *x
}
