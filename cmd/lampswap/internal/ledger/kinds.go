package ledger

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/building"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/options"
	"lampswap/photometry/wording"
)

// WriteKinds writes which kinds serve a building, for a terminal; all is every kind, not the best of them alone.
func WriteKinds(w io.Writer, b *building.Building, k *options.Kinds, all bool) {
	fmt.Fprintf(w, "%s\n\n", text.Bold.Sprint(b.Title))
	for _, s := range wording.Kinds(k) {
		fmt.Fprintln(w, terminal.Flushed(text.WrapSoft(s, terminal.Width)))
	}
	for _, l := range []Ledger{kindsChosen(k), kindsBySpace(b, k), moreKinds(k), kindsAlone(k, all)} {
		if len(l.Sections[0].Rows) > 0 {
			fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint(l.Name), renderLedger(l))
		}
	}
	if left := len(k.List) - bestKinds; left > 0 && !all {
		fmt.Fprintf(w, "%d more kinds serve a space. --all shows them.\n", left)
	}
	var shown []*options.Option
	for i := range k.List[:k.Chosen] {
		shown = append(shown, &k.List[i].Option)
	}
	terminal.List(w, "How kinds are chosen", []string{KindsRule})
	terminal.List(w, "Notes", NoteLines(b.Whole, shown))
	terminal.List(w, "Left out", wording.KindsLeftOut(k))
	for _, h := range toHave(k) {
		fmt.Fprintf(w, "\n%s, in a kind of its own:\n  %s\n", h.what, h.keys)
	}
	terminal.Quiet(w, origin.Of(b.InputsDigest).Line())
}

// A having is what a building writes to have a kind in a fixture.
type having struct{ what, keys string }

func toHave(k *options.Kinds) []having {
	var all []having
	for i := range k.Rooms {
		for n := range k.Rooms[i].Parts {
			p := &k.Rooms[i].Parts[n]
			h := having{"To have " + letter(p.Kind), strings.Join(p.Keys(), "\n  ")}
			if !slices.Contains(all, h) {
				all = append(all, h)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b having) int { return strings.Compare(a.what, b.what) })
	return all
}

// KindsRule says how kinds are chosen.
const KindsRule = "the fewest kinds with which every space meets every criterion; of equal numbers the least kWh a year of all spaces, then the least cost of power. " +
	"A kind is lamps, their number and the ballast of one luminaire, in whatever fixture hangs there; what lamps, ballasts and labor cost is not counted"

// bestKinds is how many kinds the table of those by themselves shows without --all.
const bestKinds = 12

// letter is what the tables call a kind.
func letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return fmt.Sprint(i + 1)
}

// kindsChosen is a table of the kinds that are chosen.
func kindsChosen(k *options.Kinds) Ledger {
	l := Ledger{Name: "Kinds to buy", Named: true, Columns: []string{"W each", "luminaires"}}
	s := Section{Name: "Lamps and ballast of one luminaire"}
	for i := range k.List[:k.Chosen] {
		kind := &k.List[i]
		s.Rows = append(s.Rows, Row{letter(i) + ": " + wording.Option(&kind.Option), []Cell{{number.Thousands(kind.From.InputWatts), kind.From.InputWatts}, count(kind.Luminaires)}})
	}
	l.Sections = []Section{s}
	return l
}

// kindsBySpace is a table of the spaces with what they get.
func kindsBySpace(b *building.Building, k *options.Kinds) Ledger {
	u := units.Of(b.Whole)
	l := Ledger{Name: "Spaces: average light on the work plane, maintained, " + u.Illuminance, Named: true,
		Columns: []string{"kind", "existing", "then", required, "verdict", "kW", "kWh/year"}}
	s := Section{Name: "Light of one copy; load and energy with all copies"}
	for i := range k.Rooms {
		r := &k.Rooms[i]
		p := r.Gets()
		name := r.Name
		if r.Copies > 1 {
			name += fmt.Sprintf(", x %d", r.Copies)
		}
		copies := float64(r.Copies)
		verdict := map[bool]string{true: "met", false: MissedMark}[r.Met]
		if len(r.Job.Criteria) == 0 {
			verdict = map[bool]string{true: "not judged", false: "darker"}[r.Met]
		}
		row := Row{name, []Cell{Word(kindCell(r)), {OptionLight(r.Job, r.Existing(), levels.Average), r.Existing().Average() / u.Lux}, {OptionLight(r.Job, p, levels.Average), p.Average() / u.Lux},
			Word(requiredBy(r, p)), Word(verdict), {number.Decimals(2)(copies * p.KW), copies * p.KW}, {number.Thousands(copies * p.KWhPerYear), copies * p.KWhPerYear}}}
		s.Rows = append(s.Rows, row)
	}
	s.Rows = append(s.Rows, Row{"in all", []Cell{Word(""), Word(""), Word(""), Word(""), Word(""), {number.Decimals(2)(k.Choice.KW), k.Choice.KW}, {number.Thousands(k.Choice.KWhPerYear), k.Choice.KWhPerYear}}})
	l.Sections = []Section{s}
	return l
}

// moreKinds is a table of what more kinds save.
func moreKinds(k *options.Kinds) Ledger {
	l := Ledger{Name: "More kinds, less energy", Named: true, Columns: []string{"kW", "kWh a year"}}
	s := Section{Name: "The least energy of the building with so many kinds"}
	row := func(name string, sum options.Sum) {
		s.Rows = append(s.Rows, Row{name, []Cell{{number.Decimals(2)(sum.KW), sum.KW}, {number.Thousands(sum.KWhPerYear), sum.KWhPerYear}}})
	}
	if len(k.More) > 0 {
		row(fmt.Sprintf("%d, as above", k.Chosen), k.Choice)
	}
	for _, m := range k.More {
		row(fmt.Sprintf("%d: %s", m.Kinds, strings.Join(wording.OptionNames(m.Of), "; ")), m.Sum)
	}
	l.Sections = []Section{s}
	return l
}

// kindCell is which kinds a space gets.
func kindCell(r *options.Served) string {
	var all []string
	for _, p := range r.Parts {
		all = append(all, letter(p.Kind))
	}
	switch {
	case len(all) > 0:
		return strings.Join(all, " + ")
	case len(r.Varied) == 0:
		return "proposed"
	}
	return "as it is"
}

// requiredBy is what is required of the average of the work plane, and how many other criteria a space has.
func requiredBy(r *options.Served, p *options.Option) string {
	required, others := "", 0
	for i, c := range r.Job.Criteria {
		if c.Statistic == levels.Average && c.Grid == p.Light.Grids[0].Name && c.AtLeast && required == "" {
			required = ">=" + number.Finer(c.RequiredIn(r.Job.Imperial), c.Finer(r.Job.Imperial, p.Verdicts[i].Value))
		} else {
			others++
		}
	}
	switch {
	case required == "" && others == 0:
		return "-"
	case required == "":
		return fmt.Sprintf("%d others", others)
	case others > 0:
		return fmt.Sprintf("%s +%d", required, others)
	}
	return required
}

// kindsAlone is a table of kinds by how many spaces each serves by itself.
func kindsAlone(k *options.Kinds, all bool) Ledger {
	l := Ledger{Name: "Each kind by itself: the spaces that it serves", Named: true, Columns: []string{"W each", "spaces", "kWh a year"}}
	spaces := 0
	for i := range k.Rooms {
		spaces += k.Rooms[i].Copies
	}
	s := Section{Name: fmt.Sprintf("Of %d spaces; energy of those it serves", spaces)}
	for i := range k.List {
		kind := &k.List[i]
		if i >= bestKinds && !all {
			break
		}
		name := wording.Option(&kind.Option)
		if i < k.Chosen {
			name = letter(i) + ": " + name
		}
		s.Rows = append(s.Rows, Row{name, []Cell{{number.Thousands(kind.From.InputWatts), kind.From.InputWatts}, count(kind.Serves), {number.Thousands(kind.Alone.KWhPerYear), kind.Alone.KWhPerYear}}})
	}
	l.Sections = []Section{s}
	return l
}
