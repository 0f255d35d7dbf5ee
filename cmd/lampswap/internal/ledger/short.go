package ledger

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry"
	"lampswap/photometry/levels"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
)

// What a short answer shows at most, so that it keeps within 25 lines of a terminal.
const (
	shortAnswer = 10 // lines of the verdict and of criteria together
	shortSpaces = 8
)

// hint says how to see the rest.
const hint = "--full: losses, both methods, years, sources, defaults, warnings, cautions."

// WriteVerdict writes the verdict alone.
func WriteVerdict(w io.Writer, word, sentence string) {
	lines := strings.SplitN(terminal.Trimmed(text.WrapSoft(word+". "+sentence, terminal.Width)), "\n", 2)
	if bold, ok := strings.CutPrefix(lines[0], word); ok {
		lines[0] = text.Bold.Sprint(word) + bold
	}
	fmt.Fprintln(w, strings.Join(lines, "\n"))
}

// WriteShort writes what fits a terminal: the verdict, the criteria, light, load and money, and that there are warnings.
func WriteShort(w io.Writer, r *study.Result) {
	fmt.Fprintf(w, "%s\n\n", text.Bold.Sprint(cutTo(r.Job.Title, terminal.Width)))
	word, sentence := Answer(r)
	var verdict strings.Builder
	WriteVerdict(&verdict, word, sentence)
	fmt.Fprint(w, verdict.String())
	if lines := shortVerdicts(r, max(shortAnswer-strings.Count(verdict.String(), "\n"), 2)); len(lines) > 0 {
		fmt.Fprintf(w, "\n%s\n", strings.Join(lines, "\n"))
	}
	fmt.Fprintf(w, "\n%s\n", strings.ReplaceAll(renderLedger(shortLedger(r)), "\n\n", "\n"))
	if money := shortMoney(r); money != "" {
		fmt.Fprintln(w, cutTo(money, terminal.Width))
	}
	writeShortEnd(w, r.Warnings, origin.Of(r.Job.InputsDigest).Line())
}

// WriteBuildingShort writes what fits a terminal of a building.
func WriteBuildingShort(w io.Writer, r *whole.Result) {
	fmt.Fprintf(w, "%s\n\n", text.Bold.Sprint(cutTo(r.Building.Title, terminal.Width)))
	word, sentence := BuildingAnswer(r)
	WriteVerdict(w, word, sentence)
	l := SpacesLight(r)
	shown := l
	shown.Sections = nil
	left := shortSpaces
	for _, s := range l.Sections {
		n := min(left, len(s.Rows))
		if n > 0 {
			shown.Sections = append(shown.Sections, Section{s.Name, s.Rows[:n]})
		}
		left -= n
	}
	if len(shown.Sections) > 0 {
		fmt.Fprintf(w, "\n%s\n", renderLedger(shown))
	}
	if n := len(r.Spaces) - shortSpaces; n > 0 {
		fmt.Fprintf(w, "and %s more\n", map[bool]string{true: "1 space", false: fmt.Sprintf("%d spaces", n)}[n == 1])
	}
	if money := shortMoney(r.Whole); money != "" {
		fmt.Fprintln(w, cutTo(money, terminal.Width))
	}
	var warnings []string
	for _, said := range r.Warnings() {
		warnings = append(warnings, said.Shown())
	}
	writeShortEnd(w, warnings, origin.Of(r.Building.InputsDigest).Line())
}

func writeShortEnd(w io.Writer, warnings []string, from string) {
	if n := len(warnings); n > 0 {
		head := map[bool]string{true: "1 warning: ", false: fmt.Sprintf("%d warnings; the gravest: ", n)}[n == 1]
		fmt.Fprintln(w, cutTo(head+study.Weighed(warnings)[0], terminal.Width))
	}
	fmt.Fprintln(w, hint)
	terminal.Quiet(w, from)
}

// shortVerdicts are the criteria, those that are missed first, a line each, in at most so many.
func shortVerdicts(r *study.Result, most int) []string {
	all := slices.Clone(r.Verdicts)
	slices.SortStableFunc(all, func(a, b study.Verdict) int { return rank(a.ProposedMet) - rank(b.ProposedMet) })
	var lines []string
	for i, v := range all {
		if i == most-1 && len(all) > most {
			lines = append(lines, fmt.Sprintf("and %d more criteria", len(all)-i))
			break
		}
		mark := "met"
		switch {
		case v.ProposedMet:
		case v.Met(v.Proposed), math.IsNaN(v.Proposed):
			mark = "NOT KNOWN"
		default:
			mark = MissedMark
		}
		more := v.Finer(r.Job.Imperial)
		figures, apart := ": "+study.Required(r.Job, v.Criterion, more), ", "
		for i, value := range []float64{v.Existing, v.Proposed, v.Replacement}[:len(r.Sides())] {
			reached := study.Quantity(r.Job, v.Criterion, value, more)
			if math.IsNaN(value) || r.Sides()[i].Outside != "" && v.Statistic != levels.PowerDensity {
				reached = "not known"
			}
			if r.Replacement != nil { // of three the names stand above the table below
				figures, apart = figures+apart+reached, " / "
				continue
			}
			figures += apart + r.Sides()[i].Name + " " + reached
		}
		head := fmt.Sprintf("%-9s ", mark)
		lines = append(lines, cutTo(head+cutTo(v.Name, max(terminal.Width-len([]rune(head+figures)), 12))+figures, terminal.Width))
	}
	return lines
}

func rank(met bool) int {
	if met {
		return 1
	}
	return 0
}

// shortLedger is light and load of every side.
func shortLedger(r *study.Result) Ledger {
	u := units.Of(r.Job)
	l := Ledger{Name: "In short"}
	rows := []struct {
		label  string
		value  func(i int) float64
		format func(float64) string
		light  bool
	}{
		{"average on the work plane, " + u.Illuminance, func(i int) float64 { return r.Sides()[i].Grids[0].Statistics.Average / u.Lux }, photometry.Digits, true},
		{"minimum", func(i int) float64 { return r.Sides()[i].Grids[0].Statistics.Minimum / u.Lux }, photometry.Digits, true},
		{"load, kW", func(i int) float64 { return r.Energy.Accounts[i].KW }, units.Decimals(2), false},
		{"power density, " + u.Power, func(i int) float64 { return r.Sides()[i].PowerDensity / u.PerArea }, units.Decimals(2), false},
		{"energy a year, kWh", func(i int) float64 { return r.Energy.Accounts[i].KWhPerYear }, units.Thousands, false},
	}
	var s Section
	for _, side := range r.Sides() {
		l.Columns = append(l.Columns, side.Name)
	}
	l.Columns = append(l.Columns, "change")
	for _, row := range rows {
		out := Row{Label: row.label}
		for i, side := range r.Sides() {
			cell := Cell{row.format(row.value(i)), row.value(i)}
			if row.light && side.Outside != "" {
				cell = Word("not known")
			}
			out.Cells = append(out.Cells, cell)
		}
		change := Word(units.Percent(row.value(0), row.value(1)))
		if row.light && (r.Sides()[0].Outside != "" || r.Sides()[1].Outside != "") {
			change = Word("")
		}
		out.Cells = append(out.Cells, change)
		s.Rows = append(s.Rows, out)
	}
	l.Sections = []Section{s}
	return l
}

// AtAGlance is load and energy of every side, and what the swap saves and costs.
func AtAGlance(r *study.Result) Ledger {
	l, u, e := shortLedger(r), units.Of(r.Job), r.Energy
	l.Currency = u.Currency
	rows := l.Sections[0].Rows[2:] // light has a table of its own
	for _, m := range []struct {
		label  string
		x      *float64
		format func(float64) string
	}{{"saving a year", e.SavingPerYear, u.Money}, {"installed cost less rebates", e.NetCost, u.Money}, {"simple payback, years", e.SimplePaybackYears, units.Decimals(1)}} {
		if m.x != nil && !math.IsInf(*m.x, 0) {
			rows = append(rows, Row{m.label, []Cell{Word(""), {m.format(*m.x), *m.x}}})
		}
	}
	l.Sections[0].Rows = rows
	return l
}

// shortMoney is what the swap saves and costs.
func shortMoney(r *study.Result) string {
	e, u := r.Energy, units.Of(r.Job)
	var parts []string
	if e.SavingPerYear != nil {
		parts = append(parts, u.Money(math.Abs(*e.SavingPerYear))+map[bool]string{true: " MORE", false: " saved"}[*e.SavingPerYear < 0]+" a year")
	}
	if e.NetCost != nil {
		parts = append(parts, "cost "+u.Money(*e.NetCost)+" less rebates")
	}
	if e.SimplePaybackYears != nil && !math.IsInf(*e.SimplePaybackYears, 0) {
		parts = append(parts, "simple payback "+photometry.Fixed(*e.SimplePaybackYears, 1)+" years")
	}
	if len(parts) == 0 {
		return ""
	}
	return "Money: " + strings.Join(parts, "; ") + "."
}

// cutTo cuts a text off where it gets longer than a number of letters.
func cutTo(s string, most int) string {
	letters := []rune(s)
	if len(letters) <= most {
		return s
	}
	return strings.TrimRight(string(letters[:most-1]), " ") + "…"
}
