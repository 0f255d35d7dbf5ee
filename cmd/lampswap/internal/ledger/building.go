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
	"lampswap/photometry/number"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
)

// WriteBuilding writes the answer of a building for a terminal; the verdict comes at the end.
func WriteBuilding(w io.Writer, r *whole.Result) {
	fmt.Fprintf(w, "%s\n\n", text.Bold.Sprint(r.Building.Title))
	word, sentence := BuildingAnswer(r)
	WriteVerdict(w, word, sentence)
	for _, l := range BuildingTables(r) {
		fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint(l.Name), renderLedger(l))
	}
	for _, n := range BuildingNotes(r) {
		terminal.List(w, n.Heading, n.Items)
	}
	fmt.Fprintln(w)
	WriteVerdict(w, word, sentence)
	terminal.Quiet(w, origin.Of(r.Building.InputsDigest).Line())
}

// BuildingTables are those of a building that have a row.
func BuildingTables(r *whole.Result) []Ledger {
	var kept []Ledger
	for _, l := range []Ledger{SpacesLight(r), SpacesPower(r), SpacesReplaced(r), WholeBuilding(r), WholeWays(r), Schedule(r), TakeOff(r), ByPayback(r), Phases(r)} {
		if len(l.Sections) > 0 && len(l.Sections[0].Rows) > 0 {
			l.Currency = r.Building.Whole.Currency
			kept = append(kept, l)
		}
	}
	return kept
}

// BuildingAnswer is the answer: a word and sentences.
func BuildingAnswer(r *whole.Result) (word, sentence string) {
	switch r.Standing() {
	case study.Unjudged:
		word = "NOT JUDGED"
	case study.OneMissed:
		word = "NOT ENOUGH IN ALL SPACES"
	case study.Qualified:
		word = "ENOUGH, BUT SEE WHAT TO MIND"
		if !r.Met() {
			word = butIn(r)
		}
	case study.AllMet:
		word = "ENOUGH"
		if r.LightJudged() < r.Totals.Spaces {
			word = "ENOUGH WHERE IT IS JUDGED"
		}
	}
	if len(r.Spaces) == 1 && r.Spaces[0].Copies == 1 {
		return Answer(r.Spaces[0].Result)
	}
	return word, wording.Building(r)
}

// butIn is the word of a building that misses none of its criteria of light, and another.
func butIn(r *whole.Result) string {
	word := "ENOUGH LIGHT"
	switch r.LightJudged() {
	case 0:
		word = "LIGHT NOT JUDGED"
	case r.Totals.Spaces:
	default:
		word = "ENOUGH WHERE IT IS JUDGED"
	}
	for _, s := range r.Spaces {
		if slices.ContainsFunc(s.Verdicts, func(v study.Verdict) bool { return !v.Proposed().Met && v.Statistic != levels.PowerDensity }) {
			return word + ", A CRITERION IS MISSED"
		}
	}
	return word + ", TOO MUCH POWER"
}

// calledTimes is the name of a space with its number of copies.
func calledTimes(s whole.Space) string {
	if s.Copies > 1 {
		return fmt.Sprintf("%s, x %d", s.Name, s.Copies)
	}
	return s.Name
}

// SpacesLight is a table of the spaces by their light: of one copy each, with how many luminaires that has. Beside a replacement there is room for
// the light alone: SpacesReplaced has the rest.
func SpacesLight(r *whole.Result) Ledger {
	u, third := units.Of(r.Building.Whole), r.Whole.ThreeWays()
	l := Ledger{Name: "Spaces: light on the work plane, maintained, " + u.Illuminance, Named: true,
		Columns: []string{"area, " + u.Length + "2", "luminaires", "existing", "proposed", required, "verdict"}}
	if third {
		l.Columns = []string{"existing", "proposed", "replacement", required, "verdict"}
	}
	s := Section{Name: "Each space, one of those alike"}
	for _, space := range r.Spaces {
		row := Row{Label: calledTimes(space)}
		if !third {
			row.Cells = append(row.Cells, areaOf(space, u), luminairesOf(space))
		}
		more := finerOfAverage(space)
		for i, side := range space.Sides {
			x := side.Grids[0].Statistics.Average / u.Lux
			cell := Cell{number.Finer(x, more), x}
			if i == 2 && !space.MetBy(i) {
				cell.Text += " " + MissedMark
			}
			row.Cells = append(row.Cells, cell)
		}
		if third && !space.ThreeWays() {
			row.Cells = append(row.Cells, Word("as proposed"))
		}
		row.Cells = append(row.Cells, Word(requiredOf(space)), Word(verdictOf(space)))
		s.Rows = append(s.Rows, row)
	}
	l.Sections = []Section{s}
	return l
}

// areaOf is the floor area of a space.
func areaOf(s whole.Space, u units.Units) Cell {
	area := s.Area() / (u.Meter * u.Meter)
	return Cell{number.Thousands(area), area}
}

// luminairesOf is how many luminaires a space has: of every system where these differ.
func luminairesOf(s whole.Space) Cell {
	all := count(s.Existing().Luminaires)
	for i, side := range s.Sides[1:] {
		if i == 0 && side.Luminaires != s.Existing().Luminaires || i > 0 && (side.Luminaires != s.Existing().Luminaires || s.Proposed().Luminaires != s.Existing().Luminaires) {
			all.Text += fmt.Sprintf(" > %d", side.Luminaires)
		}
	}
	return all
}

// SpacesReplaced is a table of the spaces by what the replacement draws: all copies together. It has no row where nothing is replaced.
func SpacesReplaced(r *whole.Result) Ledger {
	u, third := units.Of(r.Building.Whole), len(r.Whole.Sides)-1
	l := Ledger{Name: "Spaces: the replacement, load and energy", Named: true,
		Columns: []string{"area, " + u.Length + "2", "luminaires", "kW", "kWh saved", u.Power}}
	priced := third > 1 && r.Whole.Energy.SavingOf(third).SavingPerYear != nil
	if priced {
		l.Columns = append(l.Columns, "saved/year")
	}
	s := Section{Name: "Each space with its copies; area and luminaires of one"}
	for i, space := range r.Spaces {
		if !space.ThreeWays() {
			continue
		}
		copies, side := float64(space.Copies), space.Counted(third)
		kW, saved := copies*space.Energy.Accounts[side].KW, copies*space.Energy.SavingOf(side).SavedKWhPerYear
		drawn := space.Sides[side].PowerDensity
		density := drawn / u.PerArea
		power := Cell{number.Fixed(density, 2), density}
		if limit := r.Limits.Spaces[i]; limit.Known && !limit.Met(drawn) {
			power.Text += " over"
		}
		cells := []Cell{areaOf(space, u), luminairesOf(space), {number.Decimals(2)(kW), kW}, {number.Thousands(saved), saved}, power}
		if priced {
			saving := copies * r.SavingBy(space, third)
			cells = append(cells, Cell{u.Money(saving), saving})
		}
		s.Rows = append(s.Rows, Row{calledTimes(space), cells})
	}
	l.Sections = []Section{s}
	return l
}

// finerOfAverage is with how many digits more than usual a space's average is shown, so that what decides is seen.
func finerOfAverage(s whole.Space) int {
	more := 0
	for _, v := range s.Verdicts {
		if v.Statistic == levels.Average && v.Grid == s.Existing().Grids[0].Name {
			more = max(more, v.Finer(s.Space.Job.Imperial))
		}
	}
	return more
}

// requiredOf is what is required of the average of a space's work plane, and how many other criteria it has.
func requiredOf(s whole.Space) string {
	least, more, others := 0.0, 0, 0
	for _, v := range s.Verdicts {
		if v.Statistic == levels.Average && v.Grid == s.Existing().Grids[0].Name && v.AtLeast {
			if least > 0 {
				others++
			}
			least, more = max(least, v.RequiredIn(s.Space.Job.Imperial)), max(more, v.Finer(s.Space.Job.Imperial))
		} else {
			others++
		}
	}
	switch {
	case least == 0 && others == 0:
		return "-"
	case least == 0:
		return fmt.Sprintf("%d others", others)
	case others > 0:
		return fmt.Sprintf(">=%s +%d", number.Finer(least, more), others)
	}
	return ">=" + number.Finer(least, more)
}

// verdictOf is what becomes of a space's criteria, in a word.
func verdictOf(s whole.Space) string {
	switch standing := s.Standing(); {
	case !s.Met():
		return MissedMark
	case standing == study.Unjudged:
		return "not judged"
	case standing == study.Qualified:
		return "met; mind"
	}
	return "met"
}

// SpacesPower is a table of the spaces by what they draw: all copies together.
func SpacesPower(r *whole.Result) Ledger {
	u := units.Of(r.Building.Whole)
	l := Ledger{Name: "Spaces: load as found, and set; power density of all luminaires, lit", Named: true,
		Columns: []string{"kW before", "after", "kWh saved", u.Power, "its limit"}}
	if r.Whole.Energy.SavingPerYear != nil {
		l.Columns = append(l.Columns, "saved/year")
	}
	s := Section{Name: "Each space with its copies"}
	for i, space := range r.Spaces {
		copies := float64(space.Copies)
		e := space.Energy
		limit := Word("-")
		if found := r.Limits.Spaces[i]; found.Known {
			x := found.WattsPerSquareMetre() / u.PerArea
			limit = Cell{number.Fixed(x, 2), x}
			if !found.Met(space.Proposed().PowerDensity) {
				limit.Text += " over"
			}
		}
		density := space.Proposed().PowerDensity / u.PerArea
		row := Row{calledTimes(space), []Cell{{number.Decimals(2)(copies * e.ExistingKW), copies * e.ExistingKW}, {number.Decimals(2)(copies * e.ProposedKW), copies * e.ProposedKW},
			{number.Thousands(copies * e.SavedKWhPerYear), copies * e.SavedKWhPerYear}, {number.Fixed(density, 2), density}, limit}}
		if r.Whole.Energy.SavingPerYear != nil {
			saving := copies * r.SavingOf(space)
			row.Cells = append(row.Cells, Cell{u.Money(saving), saving})
		}
		s.Rows = append(s.Rows, row)
	}
	l.Sections = []Section{s}
	return l
}

// WholeBuilding is the before-and-after ledger of all spaces together.
func WholeBuilding(r *whole.Result) Ledger {
	b := newBuilder(r.Whole)
	t, area := r.Totals, r.Totals.FloorArea/(b.Meter*b.Meter)
	counts := func(label string, first int, of func(s whole.SideSums) int) {
		cells := []Cell{Word(""), Word(""), Word("")}[:len(t.Sides)]
		for i := first; i < len(cells); i++ {
			cells[i] = count(of(t.Sides[i]))
		}
		b.cells(label, cells, Word(""))
	}
	sums := func(label string, format func(float64) string, of func(s whole.SideSums) float64) {
		var values []float64
		for _, s := range t.Sides {
			values = append(values, of(s))
		}
		b.row(label, format, values)
	}
	once := func(label string, c Cell) {
		b.cells(label, []Cell{Word(""), c, Word("")}[:len(t.Sides)], Word(""))
	}
	b.section("All spaces")
	once("spaces, with copies", count(t.Spaces))
	counts("  meet every criterion", 1, func(s whole.SideSums) int { return s.Met })
	counts("  miss one", 1, func(s whole.SideSums) int { return s.Missed })
	if t.Unjudged > 0 {
		once("  not judged", count(t.Unjudged))
	}
	once("floor area, "+b.Length+"2", Cell{number.Thousands(area), area})
	counts("luminaires", 0, func(s whole.SideSums) int { return s.Luminaires })
	if t.Sides[0].Failed > 0 {
		counts("  of these give no light", 0, func(s whole.SideSums) int { return s.Failed })
	}
	sums("connected load, kW", number.Decimals(2), func(s whole.SideSums) float64 { return s.Connected / 1000 })
	sums("load as found, and set, kW", number.Decimals(2), func(s whole.SideSums) float64 { return s.KW })
	if b.result.Energy.AllLitKW != t.Sides[0].KW {
		b.accounts("  with every luminaire lit, kW", number.Decimals(2), func(a study.Account) float64 { return a.AllLitKW })
	}
	sums("power density, "+b.Power, number.Digits, func(s whole.SideSums) float64 { return s.Density / b.PerArea })
	b.energy()
	return Ledger{Name: "The building: before and after", Columns: b.columns(""), Sections: b.sections}
}

// WholeWays sets the systems of the building side by side by energy and cost.
func WholeWays(r *whole.Result) Ledger {
	w := wayBuilder{newBuilder(r.Whole)}
	l := Ledger{Name: "The systems compared"}
	for _, side := range w.sides {
		l.Columns = append(l.Columns, side.Name)
	}
	if r.Whole.LifeCycle == nil && !r.Whole.ThreeWays() {
		return l
	}
	w.year()
	w.lifeCycle()
	l.Sections = w.sections
	return l
}

// BuildingGroups is a table of the groups of luminaires of every space, before and after, of one copy.
func BuildingGroups(r *whole.Result) Ledger {
	l := Ledger{Name: "Groups of luminaires, of one copy of each space", Named: true, Columns: groupColumns}
	for _, s := range r.Spaces {
		for _, section := range GroupsOf(s).Sections {
			section.Name = s.Name + ", " + section.Name
			l.Sections = append(l.Sections, section)
		}
	}
	return l
}

// GroupsOf is the table of the groups of one space, those too of which there is nothing particular to say.
func GroupsOf(s whole.Space) Ledger { return groupsOf(s.Space.Job, s.Sides) }

// Schedule is a table of the kinds of luminaires, with what hangs where.
func Schedule(r *whole.Result) Ledger {
	l := Ledger{Name: "Schedule of luminaires", Named: true}
	for _, side := range r.Whole.Sides {
		l.Columns = append(l.Columns, side.Name)
	}
	counts := func(by [3]int) []Cell {
		var cells []Cell
		for i := range l.Columns {
			cells = append(cells, count(by[i]))
		}
		return cells
	}
	for _, k := range r.Schedule {
		s := Section{Name: k.Name}
		if words := lampsAndFeed(k); !strings.Contains(k.Name, k.System.LampWords()) {
			s.Name += ": " + words
		}
		for _, in := range k.Spaces {
			s.Rows = append(s.Rows, Row{in.Name, counts(in.By)})
		}
		if len(k.Spaces) > 1 {
			s.Rows = append(s.Rows, Row{"in all", counts(k.By)})
		}
		l.Sections = append(l.Sections, s)
	}
	return l
}

// lampsAndFeed say what is in a luminaire of a kind.
func lampsAndFeed(k whole.Kind) string {
	words := k.System.LampWords()
	if feed := Feed(k.System); feed != "" {
		words += ", " + feed
	}
	return words
}

// TakeOff is a table of what comes in and goes out, kind by kind, with prices where they are told.
func TakeOff(r *whole.Result) Ledger {
	u := units.Of(r.Building.Whole)
	l := Ledger{Name: "Take-off", Named: true, Columns: []string{"lamps", "ballasts", "sockets", "luminaires", "strip, " + u.Length}}
	if r.Priced() {
		l.Columns = append(l.Columns, "price")
	}
	in, out := takeOff{Section: Section{Name: "To be bought"}, priced: r.Priced(), Units: u}, takeOff{Section: Section{Name: "To be taken out and disposed of"}, priced: r.Priced(), Units: u}
	for _, k := range r.Schedule {
		if k.Lamps+k.Ballasts+k.Mounted > 0 {
			in.row(k.Name, k.LampsCost, float64(k.Lamps), float64(k.Ballasts), float64(k.Sockets), float64(k.Mounted), k.Length/u.Meter)
		}
		if k.LampsOut+k.BallastsOut+k.Dismounted > 0 {
			out.row(k.Name, k.DisposalCost, float64(k.LampsOut), float64(k.BallastsOut), 0, float64(k.Dismounted), 0)
		}
	}
	for _, part := range []*takeOff{&in, &out} {
		if n := len(part.Rows); n > 1 {
			part.row("in all", part.cost(n), part.sums[:]...)
		}
		if len(part.Rows) > 0 {
			l.Sections = append(l.Sections, part.Section)
		}
	}
	return l
}

// A takeOff is a section of that table, with its sums.
type takeOff struct {
	Section
	priced bool
	sums   [5]float64
	units.Units
	told  int // rows that have a price
	price float64
}

// row adds a row; nothing of a thing, and no price, is a dash.
func (t *takeOff) row(name string, price *float64, values ...float64) {
	var cells []Cell
	for i, x := range values {
		t.sums[i] += x
		if cells = append(cells, Cell{number.Thousands(x), x}); x == 0 {
			cells[i].Text = "-"
		}
	}
	if t.priced && price == nil {
		cells = append(cells, Word("-"))
	} else if t.priced {
		t.told, t.price = t.told+1, t.price+*price
		cells = append(cells, Cell{t.Money(*price), *price})
	}
	t.Rows = append(t.Rows, Row{name, cells})
}

// cost is the price of all rows; nil where one has none.
func (t *takeOff) cost(rows int) *float64 {
	if t.told < rows {
		return nil
	}
	sum := t.price
	return &sum
}

// ByPayback is a table of the spaces in the order of their payback, each with all before it.
func ByPayback(r *whole.Result) Ledger {
	l := Ledger{Name: "If the budget ends: spaces by payback", Named: true, Columns: []string{"years", "cost", "cost so far", "saved/year", "kW then"}}
	if len(r.Order) < 2 {
		return l
	}
	u, s := units.Of(r.Building.Whole), Section{Name: "Each space with all above it"}
	for _, step := range r.Order {
		years := Cell{"never", math.NaN()}
		if !math.IsInf(step.Payback, 1) {
			years = Cell{number.Fixed(step.Payback, 1), step.Payback}
		}
		s.Rows = append(s.Rows, Row{calledTimes(r.Spaces[step.Space]), []Cell{years, {u.Money(step.Cost), step.Cost}, {u.Money(step.CostSoFar), step.CostSoFar},
			{u.Money(step.SavingSoFar), step.SavingSoFar}, {number.Decimals(2)(step.KWThen), step.KWThen}}})
	}
	l.Sections = []Section{s}
	return l
}

// Headings of notes of a building that a document tells at places of their own.
const (
	TakeOffHeading = "What the take-off counts, and what is to be done with it"
	MissedHeading  = "Criteria that are missed"
	MindHeading    = "What to mind where the light is enough"
)

// PaybackWords say how the order by payback counts.
const PaybackWords = "The installed cost is shared out among the spaces by the luminaires that the swap changes, assumed: spaces that take more work or a lift cost more; " +
	"each rebate goes by what it is paid for."

// Phases is a table of how the building stands now and after each phase.
func Phases(r *whole.Result) Ledger {
	l := Ledger{Name: "Phases: the building after each", Named: true, Columns: []string{"date", "kW", "kWh a year", "met", "missed", "cost", "saved/year"}}
	if len(r.Stages) == 0 {
		return l
	}
	u := units.Of(r.Building.Whole)
	s := Section{Name: "Spaces with copies that meet every criterion, and that miss one, by the light that they have then"}
	for _, stage := range r.Stages {
		date := Word("-")
		if !stage.Date.IsZero() {
			date = Word(stage.Date.Format("2006-01-02"))
		}
		s.Rows = append(s.Rows, Row{stage.Name, []Cell{date, {number.Decimals(2)(stage.KW), stage.KW}, {number.Thousands(stage.KWhPerYear), stage.KWhPerYear}, count(stage.Met),
			count(stage.Missed), {u.Money(stage.CostSoFar), stage.CostSoFar}, {u.Money(stage.SavingSoFar), stage.SavingSoFar}}})
	}
	l.Sections = []Section{s}
	return l
}

// PhaseWords say what is done when, and what phases make of the net savings.
func PhaseWords(r *whole.Result) []string {
	var all []string
	for _, stage := range r.Stages {
		if len(stage.Spaces) > 0 {
			all = append(all, fmt.Sprintf("%s, %s: %s", stage.Name, stage.Date.Format("2006-01-02"), strings.Join(stage.Spaces, ", ")))
		}
	}
	if net, ok := r.PhasedNetSavings(); ok {
		all = append(all, fmt.Sprintf("net savings with each phase at its time, at the present value of the first day: %s; the tables take all as done on that day. Costs are shared out as in the order by payback, and upkeep counts evenly.",
			units.Of(r.Building.Whole).Money(net)))
	}
	return all
}

// BuildingNotes are what stands below the tables of a building; notes without an item are left out.
func BuildingNotes(r *whole.Result) []Note {
	var warnings, taken []string
	for _, w := range wording.BuildingWarnings(r) {
		warnings = append(warnings, w.Shown())
	}
	for _, d := range r.Defaults() {
		taken = append(taken, wording.Of(fmt.Sprintf("%s = %s: %s", d.Key, d.Value, d.Reason), d.Spaces))
	}
	var budget []string
	if len(r.Order) > 1 {
		budget = []string{PaybackWords}
	}
	all := []Note{
		{TakeOffHeading, wording.TakeOff(r)},
		{"How the order by payback counts", budget},
		{"Phases", PhaseWords(r)},
		{"How the ratio counts", wording.Ratio(r.Whole)},
		{MissedHeading, missedIn(r)},
		{MindHeading, mindIn(r)},
		{"Power density against energy codes, where they are adopted", BuildingLimits(r)},
		{"Emissions avoided", Spared(r.Whole)},
		{"Defaults that were used", taken},
		{"Warnings", warnings},
		{"Cautions", wording.Cautions(r.Whole)},
	}
	var kept []Note
	for _, n := range all {
		if len(n.Items) > 0 {
			kept = append(kept, n)
		}
	}
	return kept
}

// mindIn tells the verdicts of the spaces that are enough, but with something to mind.
func mindIn(r *whole.Result) []string {
	var all []string
	for _, s := range r.Spaces {
		if s.Met() && s.Standing() == study.Qualified {
			all = append(all, s.Name+": "+wording.Verdict(s.Result))
		}
	}
	return all
}

// missedIn tells, space by space, which criteria the proposed lighting misses.
func missedIn(r *whole.Result) []string {
	var all []string
	for _, s := range r.Spaces {
		if s.Met() {
			continue
		}
		for i, text := range Criteria(s.Result) {
			if !s.Verdicts[i].Proposed().Met {
				all = append(all, s.Name+": "+text)
			}
		}
	}
	return all
}

// areaLimits say how a side stands against what codes allow a building of a kind as a whole.
func areaLimits(r *whole.Result, side int, name string) []string {
	u := units.Of(r.Building.Whole)
	byKind := map[string][]string{}
	var kinds, all []string
	for _, a := range r.Limits.Areas {
		about := fmt.Sprintf("building area method, if the code counts the building as a whole as %s, %s", lower(a.Space), a.Code)
		if byKind[about] == nil {
			kinds = append(kinds, about)
		}
		mark := map[bool]string{true: "met", false: "exceeded"}[a.MetBy[side]]
		byKind[about] = append(byKind[about], fmt.Sprintf("%s (%s) %s", a.Year, number.Fixed(a.WattsPerSquareMetre()/u.PerArea, 2), mark))
	}
	for _, about := range kinds {
		all = append(all, fmt.Sprintf("%s: the %s %s %s against %s", about, name, number.Fixed(r.Totals.Sides[side].Density/u.PerArea, 2), u.Power,
			strings.Join(byKind[about], ", ")))
	}
	return all
}

// BuildingLimits say how the connected load stands against codes, by each method; of the space by space method the newest edition of each code.
func BuildingLimits(r *whole.Result) []string {
	var all []string
	if !r.Building.Whole.InUnitedStates() {
		return []string{"the energy codes listed are of the United States: none is held against a building in meters that names no state"}
	}
	newest := map[string]whole.LimitSum{}
	var order []string
	for _, s := range r.Limits.Sums {
		known, is := newest[s.Code]
		if !is {
			order = append(order, s.Code)
		}
		if !is || s.Year > known.Year {
			newest[s.Code] = s
		}
	}
	for _, l := range r.Limits.Spaces {
		if l.Known {
			all = append(all, fmt.Sprintf("the limits in the table of spaces are of %s %s, space by space, the newest edition listed; which edition binds, and whether a swap must meet it, the adopted code says", l.Code, l.Year))
			break
		}
	}
	keeps := map[bool]string{true: "stays within", false: "EXCEEDS"}
	for _, code := range order {
		s := newest[code]
		parts := []string{fmt.Sprintf("space by space method, %s %s: the limits of %s times their areas allow %s kW", s.Code, s.Year, strings.Join(s.Covered, ", "),
			number.Fixed(s.Allowed/1000, 2))}
		for i, side := range r.Whole.Sides[1:] {
			watts := s.Connected[i+1]
			parts = append(parts, fmt.Sprintf("the %s %s kW %s that", side.Name, number.Fixed(watts/1000, 2), keeps[s.Met(watts)]))
		}
		if len(s.Left) > 0 {
			parts = append(parts, fmt.Sprintf("no limit of this edition is listed here for %s, which are left out on both sides: this is no proof for the whole building", strings.Join(s.Left, ", ")))
		}
		all = append(all, strings.Join(parts, "; "))
	}
	for i, side := range r.Whole.Sides[1:] {
		all = append(all, areaLimits(r, i+1, side.Name)...)
	}
	if len(r.Limits.Unknown) > 0 {
		all = append(all, fmt.Sprintf("no limit is listed here for %s (of no known kind, or of one whose limit is not listed), which is no limit of zero and no leave to pass one: see the adopted code",
			strings.Join(r.Limits.Unknown, ", ")))
	}
	return all
}
