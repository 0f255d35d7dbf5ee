package ledger

import (
	"fmt"
	"io"
	"math"

	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/job"
	"lampswap/photometry/number"
	"lampswap/photometry/realised"
	"lampswap/photometry/verification"
	"lampswap/photometry/wording"
)

// LogMethod says by what rule luminaires are chosen to be logged.
var LogMethod = fmt.Sprintf("How many of a kind are to be logged: (z cv / e)^2 with the correction for a finite number, z = %.4g (90 percent confidence), cv = %.2g (assumed), e = %.2g; "+
	"after the Uniform Methods Project, chapter 2 (NREL/SR-7A40-68558), its equation from memory, unverified. Choose them at random over all spaces that have the kind.",
	realised.Z, realised.Variation, realised.Precision)

// Samples is a table of how many luminaires of each kind are to be logged, and were.
func Samples(r *realised.Result) Ledger {
	l := Ledger{Name: "Luminaires to log, proposed", Named: true, Columns: []string{"number", "to log", "logged"}}
	s := Section{Name: "Kind"}
	for _, k := range r.Samples {
		s.Rows = append(s.Rows, Row{k.Kind, []Cell{count(k.Number), count(k.Needed), count(k.Logged)}})
	}
	l.Sections = []Section{s}
	return l
}

// Realised is a table of the groups: what they draw in a year as promised and as read.
func Realised(r *realised.Result) Ledger {
	l := Ledger{Name: "Energy of a year, kWh: promised, and by what was read", Named: true, Columns: []string{"number", "W each", "h a year", "promised", "as read"}}
	for _, g := range r.Groups {
		s := Section{Name: g.Space + ": " + g.Name}
		for _, side := range []struct {
			name string
			use  realised.Use
		}{{"existing", g.Existing}, {"proposed", g.Proposed}} {
			if side.use.There {
				s.Rows = append(s.Rows, useRow(side.name, side.use))
			}
		}
		l.Sections = append(l.Sections, s)
	}
	all := Section{Name: "Saving"}
	all.Rows = []Row{{"in all", []Cell{Word(""), Word(""), Word(""), {number.Thousands(r.Promised), r.Promised}, {number.Thousands(r.Realised), r.Realised}}}}
	l.Sections = append(l.Sections, all)
	return l
}

// useRow shows what was read, and marks what was not.
func useRow(name string, u realised.Use) Row {
	mark := func(x float64, read bool, format func(float64) string) Cell {
		if read {
			return Cell{format(x), x}
		}
		return Cell{format(x) + " *", x}
	}
	found := mark(float64(u.ReadNumber), u.Count, number.Thousands)
	read := Cell{number.Thousands(u.ReadKWh), u.ReadKWh}
	if !u.WattsRead && !u.HoursRead && !u.Count {
		read = Cell{"not read", math.NaN()}
	}
	return Row{name, []Cell{found, mark(u.ReadWatts, u.WattsRead, number.Decimals(1)), mark(u.ReadHours, u.HoursRead, number.Thousands), {number.Thousands(u.KWh), u.KWh}, read}}
}

// WriteToLog tells how many luminaires are to be logged, for a terminal.
func WriteToLog(w io.Writer, r *realised.Result) {
	fmt.Fprintf(w, "%s\n\n", text.Bold.Sprint(r.Building.Title))
	l := Samples(r)
	l.Columns = l.Columns[:2]
	for i := range l.Sections[0].Rows {
		l.Sections[0].Rows[i].Cells = l.Sections[0].Rows[i].Cells[:2]
	}
	fmt.Fprintln(w, renderLedger(l))
	terminal.List(w, "What is to be read", []string{LogMethod,
		"power.csv, with --output: a line a group and system; watts of one luminaire, hours of a year scaled up from the logger's time, and how many give light in one copy of the space. More lines of one group are more luminaires.",
		"Spot watts are read by a qualified electrician at the circuit or the luminaire, never by opening what is live."})
}

// WriteRealised tells what readings of power and hours make of the saving of a building, and what those of light prove in some of its spaces, for a terminal.
func WriteRealised(w io.Writer, r *realised.Result, light []SpaceLight, from origin.Origin) {
	fmt.Fprintf(w, "%s\n", text.Bold.Sprint(r.Building.Title))
	writePower(w, r)
	for _, l := range light {
		said := []string{wording.Readings(l.Found)}
		if beside := Beside(r, l); beside != "" {
			said = append(said, beside)
		}
		terminal.List(w, "Light of the "+l.Space+", "+l.Found.System, said)
	}
	sentence(w, savingWord(r)+". "+wording.Saving(r))
	terminal.Quiet(w, from.Line())
}

// A SpaceLight is what readings of light prove in a space of a building.
type SpaceLight struct {
	Space string
	Job   *job.Job
	Found *verification.Verification
}

// Beside is what the watts that were read tell of the light that was read; "" for nothing.
func Beside(r *realised.Result, l SpaceLight) string {
	return wording.Beside(r, l.Space, l.Found.System, l.Found.Comparison.Mean, l.Found.Comparison.Standard)
}

// writePower shows the tables of power and hours, and how the saving is worked out.
func writePower(w io.Writer, r *realised.Result) {
	fmt.Fprintf(w, "\n%s\n\n%s\n\n%s\n\n%s\n", text.Bold.Sprint(Realised(r).Name), renderLedger(Realised(r)), text.Bold.Sprint(Samples(r).Name), renderLedger(Samples(r)))
	terminal.List(w, "Unlike the job: nothing is proven until these are read again", wording.Unlike(r))
	terminal.List(w, "How it is worked out", SavingNotes(r))
}

// SavingNotes say how the saving is worked out of what was read.
func SavingNotes(r *realised.Result) []string {
	notes := []string{LogMethod}
	if len(r.NotRead) > 0 {
		notes = append([]string{"with an asterisk: not read, counted as promised"}, notes...)
	}
	if f := r.Building.Whole.Tariff.HeatingCooling; f != 0 {
		notes = append(notes, fmt.Sprintf("the saving is that of the lights times %.4g (heating_cooling_factor)", 1+f))
	}
	return notes
}

// savingWord is the verdict on a saving in a word or two.
func savingWord(r *realised.Result) string {
	if r.Proven() {
		return "SAVING PROVEN"
	}
	return "SAVING NOT PROVEN"
}

// sentence shows a last sentence.
func sentence(w io.Writer, words string) {
	fmt.Fprintf(w, "\n%s\n", terminal.Trimmed(text.WrapSoft(words, terminal.Width)))
}
