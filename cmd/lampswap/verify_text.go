package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/survey"
)

// writeVerify writes what the readings prove for a terminal; the sentence comes last.
func writeVerify(w io.Writer, j *job.Job, v *study.Verification) {
	view := viewOfJob(j)
	fmt.Fprintf(w, "%s\nReadings of the %s lighting, %s\n", text.Bold.Sprint(j.Title), v.System, view.illuminance)
	fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint("Station by station, against the prediction for the day"), trimmed(view.deviations(v).Render()))
	for _, a := range v.Areas {
		fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint("What it proves: "+a.Grid), trimmed(view.decisions(a).Render()))
	}
	if c := v.Correction; c != nil {
		fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint("The proposed lighting, corrected by these readings"), trimmed(view.correction(c).Render()))
		if len(c.Inputs) > 0 {
			list(w, "What cancels, for both systems share it", []string{strings.Join(c.Inputs, ", ")})
		}
	}
	list(w, "How uncertain one reading is", budgetWords(v.Budget))
	for _, a := range v.Areas {
		if len(a.Budget) > len(v.Budget) {
			list(w, "and the average of the "+a.Grid, budgetWords(a.Budget[len(v.Budget):]))
		}
	}
	var day []string
	for _, f := range v.Day.List() {
		day = append(day, fmt.Sprintf("%s %.3f: %s", strings.ReplaceAll(f.Key, "_", " "), f.Value, f.Detail))
	}
	list(w, "Losses on the day of the readings", day)
	var warnings []string
	for _, n := range v.Warnings {
		warnings = append(warnings, fmt.Sprintf("%s (%s)", n.Text, n.Source))
	}
	list(w, "Warnings", append(warnings, append(v.Notes, v.Comparison.Notes...)...))
	list(w, "Cautions", onSite)
	fmt.Fprintf(w, "\n%s\n", trimmed(text.WrapSoft(v.Sentence(), ledgerWidth)))
}

// onSite are the cautions for whoever measures.
var onSite = []string{
	"Measure from the floor; leave luminaires, ladders and panels to qualified persons.",
	"Keep clear of moving trucks and of lifts; agree with the site when the aisles are free, above all in the dark.",
	"Egress lighting on emergency power is tested by those who are responsible for it: never switch it off to measure.",
}

func (v view) deviations(of *study.Verification) table.Writer {
	t := plainTable("station", "predicted", "measured", "ratio", "")
	alignRight(t, 2, 3, 4)
	for _, d := range of.Comparison.Stations {
		var marks []string
		if d.Outlier {
			marks = append(marks, "unlike the others")
		}
		if d.Disagrees {
			marks = append(marks, "beyond the uncertainties")
		}
		t.AppendRow(table.Row{d.Station, study.Digits(d.Predicted / v.lux), study.Digits(d.Measured / v.lux), decimals(3)(d.Ratio), strings.Join(marks, ", ")})
	}
	c := of.Comparison
	t.AppendSeparator()
	t.AppendRow(table.Row{"mean", "", "", fmt.Sprintf("%.3f", c.Mean), fmt.Sprintf("standard uncertainty %.3f", c.Standard)})
	if c.Kept < len(c.Stations) {
		t.AppendRow(table.Row{"without outliers", "", "", fmt.Sprintf("%.3f", c.KeptMean), fmt.Sprintf("standard uncertainty %.3f", c.KeptStandard)})
	}
	return t
}

func alignRight(t table.Writer, columns ...int) {
	var configs []table.ColumnConfig
	for _, n := range columns {
		configs = append(configs, table.ColumnConfig{Number: n, Align: text.AlignRight, AlignHeader: text.AlignRight})
	}
	t.SetColumnConfigs(configs)
}

// decisions shows an area's average and what each criterion comes to, as found and carried to the end of relamping and cleaning.
func (v view) decisions(a study.VerifiedArea) table.Writer {
	t := plainTable("", "as found", "asked", "decision", "carried on")
	t.SetColumnConfigs([]table.ColumnConfig{{Number: 1, WidthMax: 24, WidthMaxEnforcer: text.WrapSoft}, {Number: 2, Align: text.AlignRight}, {Number: 3, Align: text.AlignRight},
		{Number: 4, WidthMax: 18, WidthMaxEnforcer: text.WrapSoft}, {Number: 5, WidthMax: 18, WidthMaxEnforcer: text.WrapSoft}})
	u := a.Budget.Standard()
	t.AppendRow(table.Row{"average, predicted", study.Digits(a.Predicted.Value / v.lux)})
	t.AppendRow(table.Row{"average, measured", fmt.Sprintf("%s ± %s", study.Digits(a.Measured.Value/v.lux), study.Digits(2*u*a.Measured.Value/v.lux))})
	for _, d := range a.Decisions {
		scale := v.lux
		if d.Statistic.Ratio() {
			scale = 1
		}
		name := strings.ReplaceAll(d.Statistic.String(), "_", " ")
		if d.Station != "" {
			name += ", " + d.Station
		}
		sign := "<="
		if d.AtLeast {
			sign = ">="
		}
		show := func(x survey.Decision) string {
			return fmt.Sprintf("%v, %.0f %% likely", x.Outcome, 100*x.Probability)
		}
		t.AppendRow(table.Row{name + ": " + d.Name, fmt.Sprintf("%s ± %s", study.Digits(d.Found.Measured/scale), study.Digits(2*d.Found.Standard/scale)),
			sign + study.Digits(d.Found.Limit/scale), show(d.Found), study.Digits(d.Carried.Measured/scale) + ": " + show(d.Carried)})
	}
	return t
}

func (v view) correction(c *study.Correction) table.Writer {
	t := plainTable("maintained, "+v.illuminance, "predicted", "from readings")
	alignRight(t, 2, 3)
	pm := func(x, u float64) string {
		return fmt.Sprintf("%s ± %s", study.Digits(x/v.lux), study.Digits(2*u/v.lux))
	}
	t.AppendRow(table.Row{"average of the work plane", pm(c.Predicted, c.PredictedStandard), pm(c.Value, c.Standard)})
	t.AppendRow(table.Row{"minimum of the work plane", study.Digits(c.Minimum / c.Factor / v.lux), study.Digits(c.Minimum / v.lux)})
	t.AppendRow(table.Row{"measured over predicted, existing", "", fmt.Sprintf("%.3f ± %.3f", c.Factor, 2*c.FactorStandard)})
	better := "the readings make the prediction more certain"
	if !c.Better {
		better = "the readings are less certain than the prediction"
	}
	t.AppendRow(table.Row{better})
	return t
}

// budgetWords lists the parts of a budget and their sum.
func budgetWords(b survey.Budget) []string {
	var all []string
	for _, c := range b {
		all = append(all, fmt.Sprintf("%s: %.1f percent %v, divided by %.3g: %.2f percent (%s)", c.Name, 100*c.Value, c.Shape, c.Divisor, 100*c.Standard(), c.Source))
	}
	if len(b) > 1 {
		all = append(all, fmt.Sprintf("together %.2f percent", 100*b.Standard()))
	}
	if k := b.CoverageFactor(0.95); len(b) > 0 && !math.IsNaN(k) {
		all = append(all, fmt.Sprintf("expanded, 95 percent: %.1f percent", 100*b.Expanded(0.95)))
	}
	return all
}
