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
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
)

// What a short answer shows at most.
const (
	shortLines  = 25
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
	word, sentence := Answer(r)
	var verdict, end strings.Builder
	fmt.Fprintf(&verdict, "%s\n\n", text.Bold.Sprint(cutTo(r.Job.Title, terminal.Width)))
	WriteVerdict(&verdict, word, sentence)
	for _, money := range shortMoney(r) {
		fmt.Fprintln(&end, cutTo(money, terminal.Width))
	}
	writeShortEnd(&end, len(r.Warnings), wording.Weighed(r), origin.Of(r.Job.InputsDigest).Line())

	// Where a long verdict leaves too little room for two criteria, rows make place that others nearly tell; the rest is for more criteria.
	table := shortLedger(r)
	rows := &table.Sections[0].Rows
	left := shortLines - strings.Count(verdict.String()+end.String(), "\n") - 1 // a blank
	drawn := func() string { return strings.ReplaceAll(renderLedger(table), "\n\n", "\n") }
	height := func() int { return strings.Count(drawn(), "\n") + 1 }
	criteria := 0
	if len(r.Verdicts) > 0 {
		criteria = 1 + min(len(r.Verdicts), 2)
	}
	for _, label := range spared {
		if height()+criteria > left {
			*rows = slices.DeleteFunc(*rows, func(r Row) bool { return strings.HasPrefix(r.Label, label) })
		}
	}
	fmt.Fprint(w, verdict.String())
	if lines := shortVerdicts(r, max(left-height()-1, 1)); len(lines) > 0 {
		fmt.Fprintf(w, "\n%s\n", strings.Join(lines, "\n"))
	}
	fmt.Fprintf(w, "\n%s\n%s", drawn(), end.String())
}

// shortList is how much of a list of spaces a short answer names, in letters.
const shortList = 140

// WriteBuildingShort writes what fits a terminal of a building: lists of many spaces are cut off, those first that are not enough.
func WriteBuildingShort(w io.Writer, r *whole.Result) {
	var verdict, end strings.Builder
	fmt.Fprintf(&verdict, "%s\n\n", text.Bold.Sprint(cutTo(r.Building.Title, terminal.Width)))
	word, sentence := BuildingAnswer(r)
	if all := wording.BuildingSentences(r); len(all) > 2 && len(sentence) > shortLines/3*terminal.Width {
		for i := 1; i < len(all)-1; i++ {
			all[i] = cutTo(all[i], shortList)
		}
		sentence = strings.Join(all, " ")
	}
	WriteVerdict(&verdict, word, sentence)
	for _, money := range shortMoney(r.Whole) {
		fmt.Fprintln(&end, cutTo(money, terminal.Width))
	}
	warnings := wording.BuildingWarnings(r)
	writeShortEnd(&end, len(warnings), wording.WeighedShared(warnings), origin.Of(r.Building.InputsDigest).Line())

	left := shortLines - strings.Count(verdict.String()+end.String(), "\n") - 5 // blanks, heads, how many more
	shown := SpacesLight(r)
	rows := &shown.Sections[0].Rows
	slices.SortStableFunc(*rows, func(a, b Row) int { return rank(!missedRow(a)) - rank(!missedRow(b)) })
	*rows = (*rows)[:max(min(left, shortSpaces, len(*rows)), 1)]
	for i := range *rows {
		(*rows)[i].Label = cutTo((*rows)[i].Label, shortName)
	}
	fmt.Fprintf(w, "%s\n%s\n", verdict.String(), renderLedger(shown))
	if n := len(r.Spaces) - len(*rows); n > 0 {
		fmt.Fprintf(w, "and %s more\n", map[bool]string{true: "1 space", false: fmt.Sprintf("%d spaces", n)}[n == 1])
	}
	fmt.Fprint(w, end.String())
}

// shortName is how much of a space's name stands in its row.
const shortName = 14

// missedRow tells that a row of spaces ends in a mark of what is missed.
func missedRow(r Row) bool { return r.Cells[len(r.Cells)-1].Text == MissedMark }

func writeShortEnd(w io.Writer, n int, weighed []string, from string) {
	if n > 0 {
		head := map[bool]string{true: "1 warning: ", false: fmt.Sprintf("%d warnings; the gravest: ", n)}[n == 1]
		fmt.Fprintln(w, cutTo(head+weighed[0], terminal.Width))
	}
	fmt.Fprintln(w, hint)
	terminal.Quiet(w, from)
}

// shortVerdicts are the criteria, those that are missed first, a line each, in at most so many.
func shortVerdicts(r *study.Result, most int) []string {
	all := slices.Clone(r.Verdicts)
	slices.SortStableFunc(all, func(a, b study.Verdict) int { return rank(a.Proposed().Met) - rank(b.Proposed().Met) })
	var lines []string
	for i, v := range all {
		if i == most {
			break
		}
		if i == most-1 && len(all) > most && !r.ThreeWays() { // of three systems the table counts them
			lines = append(lines, fmt.Sprintf("and %d more criteria", len(all)-i))
			break
		}
		mark := "met"
		switch {
		case v.Proposed().Met:
		case v.Met(v.Proposed().Value), math.IsNaN(v.Proposed().Value):
			mark = "NOT KNOWN"
		default:
			mark = MissedMark
		}
		figures := ": " + wording.Required(r.Job, v.Criterion, v.Finer(r.Job.Imperial)) + shortReached(r, v)
		head := fmt.Sprintf("%-9s ", mark)
		lines = append(lines, cutTo(head+cutTo(v.Name, max(terminal.Width-len([]rune(head+figures)), 12))+figures, terminal.Width))
	}
	return lines
}

// shortReached is what every side reaches. Of three the names stand above the table below, in the same order, and the unit stands before.
func shortReached(r *study.Result, v study.Verdict) string {
	text, apart, more := "", ", ", v.Finer(r.Job.Imperial)
	for i, side := range r.Sides {
		reached := wording.Quantity(r.Job, v.Criterion, v.By[i].Value, more)
		if math.IsNaN(v.By[i].Value) || side.Outside != nil && v.Statistic != levels.PowerDensity {
			reached = "not known"
		}
		if !r.ThreeWays() {
			text += ", " + side.Name + " " + reached
			continue
		}
		if number, _, ok := strings.Cut(reached, " "); ok && reached != "not known" {
			reached = number
		}
		text, apart = text+apart+reached, " / "
	}
	return text
}

func rank(met bool) int {
	if met {
		return 1
	}
	return 0
}

// spared are the rows of a short answer that may be left out, in that order.
var spared = []string{"power density", "minimum", "energy a year", "criteria met", "load"}

// shortLedger is light and load of every side.
func shortLedger(r *study.Result) Ledger {
	b := newBuilder(r)
	b.section("")
	light := func(label string, of func(s room.Statistics) float64) {
		cells, change := []Cell{}, Word("")
		for _, side := range b.sides {
			x := of(side.Grids[0].Statistics) / b.Lux
			cell := Cell{number.Digits(x), x}
			if side.Outside != nil {
				cell = Word("not known")
			}
			cells = append(cells, cell)
		}
		if b.sides[0].Outside == nil && b.sides[1].Outside == nil {
			change = Word(number.Percent(cells[0].Value, cells[1].Value))
		}
		b.cells(label, cells, change)
	}
	light("average on the work plane, "+b.Illuminance, func(s room.Statistics) float64 { return s.Average })
	light("minimum", func(s room.Statistics) float64 { return s.Minimum })
	b.accounts("load, kW", number.Decimals(2), func(a study.Account) float64 { return a.KW })
	b.each("power density, "+b.Power, number.Decimals(2), func(s lighting.Side) float64 { return s.PowerDensity / b.PerArea })
	b.accounts("energy a year, kWh", number.Thousands, func(a study.Account) float64 { return a.KWhPerYear })
	if n := len(r.Verdicts); n > 0 && r.ThreeWays() {
		var cells []Cell
		for i := range b.sides {
			cells = append(cells, count(metBy(r, i)))
		}
		b.cells(fmt.Sprintf("criteria met, of %d", n), cells, Word(""))
	}
	columns := b.columns("")
	for i := range b.sections[0].Rows {
		row := &b.sections[0].Rows[i]
		row.Cells = row.Cells[:min(len(row.Cells), len(columns)-1)] // nothing is required here
	}
	for _, row := range b.sections[0].Rows {
		if change := &row.Cells[2]; math.Abs(change.Value) > boundless || len(change.Text) > valueWidth { // from next to none
			*change = Word("")
		}
	}
	return Ledger{Name: "In short", Columns: columns[:len(columns)-1], Sections: b.sections}
}

// metBy counts the criteria that a side meets.
func metBy(r *study.Result, side int) int {
	met := 0
	for _, v := range r.Verdicts {
		if v.By[side].Met {
			met++
		}
	}
	return met
}

// AtAGlance is load and energy of every side, and what the new ones save and cost.
func AtAGlance(r *study.Result) Ledger {
	l, u := shortLedger(r), units.Of(r.Job)
	l.Currency = u.Currency
	money := newBuilder(r)
	money.section("")
	for _, m := range []struct {
		label  string
		format func(float64) string
		of     func(s study.Saving) *float64
	}{
		{"saving a year", u.Money, func(s study.Saving) *float64 { return s.SavingPerYear }},
		{"installed cost less rebates", u.Money, func(s study.Saving) *float64 { return s.NetCost }},
		{"simple payback, years", number.Decimals(1), func(s study.Saving) *float64 { return s.SimplePaybackYears }},
	} {
		money.known(m.label, m.format, func(i int) *float64 { return m.of(r.Energy.SavingOf(i)) }, "")
	}
	l.Sections[0].Rows = append(l.Sections[0].Rows[2:], money.sections[0].Rows...) // light has a table of its own
	return l
}

// shortMoney is what each new system saves and costs, a line each.
func shortMoney(r *study.Result) []string {
	var lines []string
	for i, side := range r.Sides[1:] {
		name := "Money"
		if r.ThreeWays() {
			name = strings.ToUpper(side.Name[:1]) + side.Name[1:]
		}
		if parts := moneyOf(r.Energy.SavingOf(i+1), units.Of(r.Job)); len(parts) > 0 {
			lines = append(lines, name+": "+strings.Join(parts, "; ")+".")
		}
	}
	return lines
}

func moneyOf(s study.Saving, u units.Units) []string {
	var parts []string
	if s.SavingPerYear != nil {
		parts = append(parts, u.Money(math.Abs(*s.SavingPerYear))+map[bool]string{true: " MORE", false: " saved"}[*s.SavingPerYear < 0]+" a year")
	}
	if s.NetCost != nil {
		parts = append(parts, "net cost "+u.Money(*s.NetCost))
	}
	if s.SimplePaybackYears != nil && !math.IsInf(*s.SimplePaybackYears, 0) {
		parts = append(parts, "simple payback "+number.Fixed(*s.SimplePaybackYears, 1)+" years")
	}
	return parts
}

// cutTo cuts a text off where it gets longer than a number of letters.
func cutTo(s string, most int) string {
	letters := []rune(s)
	if len(letters) <= most {
		return s
	}
	return strings.TrimRight(string(letters[:most-1]), " ") + "…"
}
