package ledger

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/metrology"
	"lampswap/photometry/number"
	"lampswap/photometry/realised"
	"lampswap/photometry/verification"
	"lampswap/photometry/wording"
)

// WriteVerification writes what the readings prove for a terminal; the sentence comes at the end.
func WriteVerification(w io.Writer, j *job.Job, v *verification.Verification, power *realised.Result, from origin.Origin) {
	unit := units.Of(j)
	fmt.Fprintf(w, "%s\nReadings of the %s lighting, %s\n", text.Bold.Sprint(j.Title), v.System, unit.Illuminance)
	fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint("Station by station, against the prediction for the day"), terminal.Trimmed(deviations(unit, v).Render()))
	terminal.List(w, "Nothing is proven until these are resolved", unresolved(v))
	terminal.List(w, "Struck out on site", StruckOut(unit, v))
	for _, a := range v.Areas {
		fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint("What it proves: "+a.Grid), terminal.Trimmed(decisions(unit, a).Render()))
	}
	if c := v.Correction; c != nil {
		fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint("The proposed lighting, corrected by these readings"), terminal.Trimmed(correction(unit, c).Render()))
		if len(c.Inputs) > 0 {
			terminal.List(w, "What cancels, for both systems share it", []string{strings.Join(c.Inputs, ", ")})
		}
	}
	terminal.List(w, "How uncertain one reading is", BudgetWords(v.Budget, v.Budget))
	for _, a := range v.Areas {
		if len(a.Budget) > len(v.Budget) {
			terminal.List(w, "and the average of the "+a.Grid, BudgetWords(a.Budget[len(v.Budget):], a.Budget))
		}
	}
	var day []string
	for _, d := range v.Days {
		group := ""
		if len(v.Days) > 1 {
			group = d.Group + ", "
		}
		for _, f := range d.List() {
			day = append(day, fmt.Sprintf("%s%s %.3f: %s", group, strings.ReplaceAll(f.Key, "_", " "), f.Value, wording.Why(f.Factor)))
		}
	}
	terminal.List(w, "Losses on the day of the readings", day)
	if len(v.Unresolved) == 0 {
		terminal.List(w, "What would prove it", wording.WouldProve(v))
	}
	var warnings []string
	for _, n := range wording.ConditionWarnings(v) {
		warnings = append(warnings, fmt.Sprintf("%s (%s)", n.Text, n.Source))
	}
	terminal.List(w, "Warnings", slices.Concat(warnings, wording.ReadingNotes(v), wording.RatioNotes(v.Comparison)))
	terminal.List(w, "Cautions", OnSite)
	if power != nil {
		writePower(w, power)
	}
	sentence(w, wording.Readings(v))
	if power != nil {
		sentence(w, savingWord(power)+". "+wording.Saving(power))
		if beside := Beside(power, SpaceLight{power.Building.Spaces[0].Name, j, v}); beside != "" {
			sentence(w, beside)
		}
	}
	terminal.Quiet(w, from.Line())
}

// unresolved lists what keeps the readings from proving anything.
func unresolved(v *verification.Verification) []string {
	var all []string
	for _, u := range v.Unresolved {
		all = append(all, wording.Unresolved(v, u))
	}
	if w := wording.WithAndWithout(v); w != "" {
		all = append(all, w)
	}
	return all
}

// StruckOut lists the readings that were struck out.
func StruckOut(unit units.Units, v *verification.Verification) []string {
	var all []string
	for _, s := range v.Struck {
		all = append(all, fmt.Sprintf("%s, %s %s: %s", s.Station, number.Digits(s.Value/unit.Lux), unit.Illuminance, s.Reason))
	}
	return all
}

func deviations(v units.Units, of *verification.Verification) table.Writer {
	t := terminal.Table("station", "predicted", "measured", "ratio", "")
	t.SetColumnConfigs([]table.ColumnConfig{wrapped(1, 18), rightAligned(2), rightAligned(3), rightAligned(4), wrapped(5, 27)})
	for _, d := range of.Comparison.Stations {
		t.AppendRow(table.Row{d.Station, number.Digits(d.Predicted / v.Lux), number.Digits(d.Measured / v.Lux), number.Decimals(3)(d.Ratio), Mark(of, d)})
	}
	c := of.Comparison
	t.AppendSeparator()
	t.AppendRow(table.Row{"mean of ratios", "", "", number.Decimals(3)(c.Mean)})
	if c.Kept < len(c.Stations) {
		t.AppendRow(table.Row{"without those that are unlike", "", "", number.Decimals(3)(c.KeptMean)})
	}
	return t
}

// Mark says in a few words what is to be said of a station.
func Mark(of *verification.Verification, d metrology.Deviation) string {
	var marks []string
	switch {
	case slices.Contains(of.Slips, d.Station):
		marks = append(marks, "unlike the others: read again")
	case d.Outlier:
		marks = append(marks, "unlike the others")
	}
	if d.Disagrees {
		marks = append(marks, "beyond the uncertainties")
	}
	return strings.Join(marks, ", ")
}

func rightAligned(column int) table.ColumnConfig {
	return table.ColumnConfig{Number: column, Align: text.AlignRight, AlignHeader: text.AlignRight}
}

func wrapped(column, width int) table.ColumnConfig {
	return table.ColumnConfig{Number: column, WidthMax: width, WidthMaxEnforcer: text.WrapSoft}
}

// stacked writes a value and its doubt in one cell.
func stacked(plusMinus, share string) string {
	if share == "" {
		return plusMinus
	}
	return plusMinus + "\n" + share
}

// unlike names the stations that an area's average without them leaves out.
func unlike(a verification.VerifiedArea) []string {
	var names []string
	for _, s := range a.Plan.Stations {
		if a.Measured.Weights[s.Name] > 0 && a.Without.Weights[s.Name] == 0 {
			names = append(names, s.Name)
		}
	}
	return names
}

// decisions shows an area's average and what each criterion comes to, as found and carried to the end of relamping and cleaning.
func decisions(v units.Units, a verification.VerifiedArea) table.Writer {
	t := terminal.Table("", "as found", "required", "decision", "later, kept up as planned")
	t.SetColumnConfigs([]table.ColumnConfig{wrapped(1, 18), rightAligned(2), rightAligned(3), wrapped(4, 15), wrapped(5, 15)})
	t.AppendRow(table.Row{"average, predicted", number.Digits(a.Predicted.Value / v.Lux)})
	if math.IsNaN(a.Measured.Value) {
		t.AppendRow(table.Row{"average, measured", number.Digits(a.Measured.Value)})
	} else {
		_, k := a.Expanded()
		t.AppendRow(table.Row{"average, measured", stacked(Off(a.Measured.Value/v.Lux, a.Budget.Standard()*a.Measured.Value/v.Lux, k))})
	}
	if !math.IsNaN(a.Without.Value) {
		t.AppendRow(table.Row{"the same without " + strings.Join(unlike(a), ", "), number.Digits(a.Without.Value / v.Lux)})
	}
	if ratio, _ := a.Ratio(); !math.IsNaN(ratio) {
		t.AppendRow(table.Row{"measured/predicted", fmt.Sprintf("%.3f", ratio)})
	}
	for _, d := range a.Decisions {
		scale := v.Scale(d.Statistic)
		t.AppendRow(table.Row{CriterionName(d.Criterion, d.Station), stacked(FoundOff(d.Found, scale)),
			Limit(v, d.Criterion), Outcome(d, d.Found), number.Digits(d.Carried.Measured/scale) + ": " + Outcome(d, d.Carried)})
	}
	for _, n := range a.Undecided {
		t.AppendRow(table.Row{CriterionName(n.Criterion, ""), "-", Limit(v, n.Criterion), "not proven: " + wording.Doubt(n.Reason), "-"})
	}
	return t
}

// Off writes a measured value with what it may be off by, 95 percent, in its unit; and beside it as a share of the value, with the coverage factor.
func Off(value, standard, k float64) (plusMinus, share string) {
	if !(value > 0) {
		return number.Digits(value), ""
	}
	return number.PlusMinus(value, k*standard), fmt.Sprintf("%.0f %%, k %.2f", 100*k*standard/value, k)
}

// FoundOff writes the value of a decision so.
func FoundOff(x metrology.Decision, scale float64) (plusMinus, share string) {
	return Off(x.Measured/scale, x.Standard/scale, x.CoverageFactor(0.95))
}

// CriterionName names a criterion by its statistic, with the station that decides it.
func CriterionName(c levels.Criterion, station string) string {
	name := c.Statistic.Words()
	if station != "" {
		name += ", " + station
	}
	return name + ": " + c.Name
}

// Limit is what a criterion asks for.
func Limit(v units.Units, c levels.Criterion) string {
	sign := "<="
	if c.AtLeast {
		sign = ">="
	}
	return sign + number.Digits(c.RequiredIn(false)/v.Scale(c.Statistic))
}

// Outcome writes what became of a criterion, as found or carried, with why it is open or how likely it is met.
func Outcome(d verification.Decided, x metrology.Decision) string {
	if x.Outcome == metrology.NotProven && len(d.Doubts) > 0 {
		return x.Outcome.String() + ": " + wording.Doubt(d.Doubts...)
	}
	if x.Outcome == metrology.Conforms {
		return fmt.Sprintf("%v, %s likely", x.Outcome, Likely(x.Probability))
	}
	return fmt.Sprintf("%v, %s likely met", x.Outcome, Likely(x.Probability))
}

// Likely writes a probability in percent; none is shown as certain.
func Likely(p float64) string {
	switch {
	case p > 0.999:
		return "over 99.9 %"
	case p < 0.001:
		return "under 0.1 %"
	case p > 0.99 || p < 0.01:
		return fmt.Sprintf("%.1f %%", 100*p)
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

func correction(v units.Units, c *verification.Correction) table.Writer {
	t := terminal.Table("maintained, "+v.Illuminance, "predicted", "from readings")
	t.SetColumnConfigs([]table.ColumnConfig{wrapped(1, 36), rightAligned(2), rightAligned(3)})
	pm := func(x, u float64) string { return stacked(Off(x/v.Lux, u/v.Lux, 2)) }
	t.AppendRow(table.Row{"average of the work plane", pm(c.Predicted, c.PredictedStandard), pm(c.Value, c.Standard)})
	t.AppendRow(table.Row{"minimum of the work plane", number.Digits(c.Minimum / c.Factor / v.Lux), number.Digits(c.Minimum / v.Lux)})
	t.AppendRow(table.Row{"measured over predicted, existing", "", fmt.Sprintf("%.3f", c.Factor)})
	better := "the readings make the prediction more certain"
	if !c.Better {
		better = "the readings are less certain than the prediction"
	}
	t.AppendRow(table.Row{better})
	return t
}

// BudgetWords lists parts of a budget, and what all of it comes to.
func BudgetWords(parts, whole metrology.Budget) []string {
	var all []string
	for _, c := range parts {
		all = append(all, fmt.Sprintf("%s: %.1f percent %v, divided by %.3g: %.2f percent (%s)", c.Name, 100*c.Value, c.Shape, c.Divisor, 100*c.Standard(), c.Source))
	}
	if k := whole.CoverageFactor(0.95); len(whole) > 0 && !math.IsNaN(k) {
		with := "in all"
		if len(parts) < len(whole) {
			with = "with the meter"
		}
		all = append(all, fmt.Sprintf("%s %.2f percent; expanded, 95 percent: %.1f percent of the measured value, k = %.2f", with, 100*whole.Standard(), 100*whole.Expanded(0.95), k))
	}
	return all
}
