package batch

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/currency"
	"lampswap/photometry/diag"
	"lampswap/photometry/number"
)

// A summary gathers what stands in the lines of a batch; it is the same whether the batch ran at one go or not.
type summary struct {
	jobs, met, missed, withoutCriteria, wrong, broken int
	existingKW, proposedKW, savedKWh                  float64
	savedMoney                                        map[string]float64 // by currency; "" where a job tells none
	priced                                            int                // jobs whose saving in money is known
	worst                                             int                // exit code
	margins                                           []marginOf
	failures                                          [][2]string // job and first error
	buildings, spaces, spacesMet, spacesMissed        int
	replaced                                          replacements
	from                                              origin.Origin
}

// replacements sums up the jobs that compare a replacement.
type replacements struct {
	jobs, met, missed, withoutCriteria int
	kW, savedKWh                       float64
	spacesMet, spacesMissed            int // of buildings
}

// A marginOf is a criterion of a job with its margin, a part of what is required; below 0 it is not met, -Inf where it has no value.
type marginOf struct {
	job, criterion string
	margin         float64
}

// summaryLine is what the summary takes from a line.
type summaryLine struct {
	File     string
	Exit     int
	Digest   string
	Errors   []string
	Criteria []criterionOf
	Spaces   []struct {
		Name  string
		Check struct{ Criteria []criterionOf }
	}
	Replacement struct {
		Outside bool `json:"outside_rating"`
	}
	Totals struct {
		Spaces int
		Met    int `json:"spaces_met"`
		Missed int `json:"spaces_missed"`

		ReplacementMet    int `json:"replacement_spaces_met"`
		ReplacementMissed int `json:"replacement_spaces_missed"`
	}
	Energy struct {
		ExistingKW    float64  `json:"existing_kw"`
		ProposedKW    float64  `json:"proposed_kw"`
		SavedKWh      float64  `json:"saved_kwh_per_year"`
		SavingPerYear *float64 `json:"saving_per_year"`
		NetCost       *float64 `json:"net_cost"`
		Payback       *float64 `json:"simple_payback_years"`
		Currency      string
		Accounts      []accountOf
	}
}

// An accountOf is what a system draws, and saves against the existing one.
type accountOf struct {
	System string
	KW     float64
	Saving *struct {
		KWh     float64  `json:"kwh_per_year"`
		PerYear *float64 `json:"per_year"`
		NetCost *float64 `json:"net_cost"`
		Payback *float64 `json:"simple_payback_years"`
	}
}

// replacement is the account of a line's third system.
func (l summaryLine) replacement() (a accountOf, ok bool) {
	for _, a := range l.Energy.Accounts {
		if a.System == "replacement" && a.Saving != nil {
			return a, true
		}
	}
	return a, false
}

// A criterionOf is a criterion in a line.
type criterionOf struct {
	Name, Grid, Statistic string
	ProposedMet           bool     `json:"proposed_met"`
	ProposedMargin        *float64 `json:"proposed_margin"`
	ReplacementMet        *bool    `json:"replacement_met"`
	ReplacementMargin     *float64 `json:"replacement_margin"`
}

// replaced is the criterion as the replacement has it: as the proposed where a space of a building has none.
func (c criterionOf) replaced() criterionOf {
	if c.ReplacementMet != nil {
		c.ProposedMet, c.ProposedMargin = *c.ReplacementMet, c.ReplacementMargin
	}
	return c
}

// mostMargins is how many of the worst margins are shown, and how many failures.
const mostMargins = 10

// add takes in a line. A line that is no JSON is none of ours.
func (s *summary) add(text []byte) {
	var l summaryLine
	err := json.Unmarshal(text, &l)
	l.File = diag.Visible(l.File)
	if err != nil {
		l = summaryLine{Exit: exit.Failed, Errors: []string{"the line cannot be read: " + err.Error()}}
	}
	l.gather()
	if len(l.Spaces) > 0 {
		s.buildings++
		s.spaces, s.spacesMet, s.spacesMissed = s.spaces+l.Totals.Spaces, s.spacesMet+l.Totals.Met, s.spacesMissed+l.Totals.Missed
	}
	s.jobs++
	s.from = s.from.With("job", []byte(l.Digest))
	s.worst = max(s.worst, l.Exit)
	switch {
	case l.Exit == exit.WrongInput || len(l.Errors) > 0:
		if l.Exit == exit.WrongInput {
			s.wrong++
		} else {
			s.broken++
		}
		if len(s.failures) < mostMargins {
			first := strings.TrimPrefix(strings.Join(l.Errors[:min(1, len(l.Errors))], ""), l.File+":")
			if more := len(l.Errors) - 1; more > 0 {
				first += fmt.Sprintf(" (and %d more)", more)
			}
			s.failures = append(s.failures, [2]string{l.File, diag.Visible(strings.TrimSpace(first))})
		}
		return
	case l.Exit == exit.NotMet:
		s.missed++
	case len(l.Criteria) == 0:
		s.withoutCriteria++
	default:
		s.met++
	}
	s.existingKW += l.Energy.ExistingKW
	s.proposedKW += l.Energy.ProposedKW
	s.savedKWh += l.Energy.SavedKWh
	if m := l.Energy.SavingPerYear; m != nil {
		s.priced++
		if s.savedMoney == nil {
			s.savedMoney = map[string]float64{}
		}
		s.savedMoney[l.Energy.Currency] += *m
	}
	s.addMargin(l)
	s.replaced.add(l)
}

// add takes in a line that compares a replacement.
func (r *replacements) add(l summaryLine) {
	account, ok := l.replacement()
	if !ok {
		return
	}
	r.jobs++
	r.kW += account.KW
	r.savedKWh += account.Saving.KWh
	r.spacesMet += l.Totals.ReplacementMet
	r.spacesMissed += l.Totals.ReplacementMissed
	switch {
	case l.replacementMissed():
		r.missed++
	case len(l.Criteria) == 0:
		r.withoutCriteria++
	default:
		r.met++
	}
}

// replacementMissed tells that the replacement misses a criterion, or that its light is not known.
func (l summaryLine) replacementMissed() bool {
	return l.Replacement.Outside || l.Totals.ReplacementMissed > 0 ||
		slices.ContainsFunc(l.Criteria, func(c criterionOf) bool { return !c.replaced().ProposedMet })
}

// gather puts the criteria of a building's spaces with those of the line.
func (l *summaryLine) gather() {
	for _, space := range l.Spaces {
		for _, c := range space.Check.Criteria {
			c.Name = space.Name + ": " + c.Name
			l.Criteria = append(l.Criteria, c)
		}
	}
	l.Spaces = l.Spaces[:min(len(l.Spaces), 1)] // that it is a building; what they have is gathered
}

// worstOf is the worst criterion of a line.
func worstOf(l summaryLine) marginOf {
	worst := marginOf{margin: math.Inf(1)}
	for _, c := range l.Criteria {
		m := math.Inf(1) // met, with no margin to speak of
		if c.ProposedMargin != nil {
			m = *c.ProposedMargin
		} else if !c.ProposedMet {
			m = math.Inf(-1)
		}
		if m < worst.margin {
			worst = marginOf{l.File, fmt.Sprintf("%s: %s of %s", c.Name, strings.ReplaceAll(c.Statistic, "_", " "), c.Grid), m}
		}
	}
	return worst
}

// addMargin keeps the worst criterion of a job, and of all jobs the worst few.
func (s *summary) addMargin(l summaryLine) {
	worst := worstOf(l)
	if math.IsInf(worst.margin, 1) {
		return
	}
	at, _ := slices.BinarySearchFunc(s.margins, worst, func(a, b marginOf) int {
		if c := cmp.Compare(a.margin, b.margin); c != 0 {
			return c
		}
		return -1 // equal ones in the order of the jobs
	})
	s.margins = slices.Insert(s.margins, at, worst)
	s.margins = s.margins[:min(len(s.margins), mostMargins)]
}

// money is what is saved: one sum where all jobs count in one currency, else a sum of each, since nothing is converted.
func (s *summary) money() string {
	var all []string
	for _, code := range slices.Sorted(maps.Keys(s.savedMoney)) {
		sum := currency.Amount(diag.Visible(code), s.savedMoney[code])
		if code == "" && len(s.savedMoney) > 1 {
			sum += " in a currency not named"
		}
		all = append(all, sum)
	}
	return strings.Join(all, ", ")
}

const (
	jobWidth       = 30
	criterionWidth = 40
)

func (s *summary) write(w io.Writer) {
	s.tell(w)
	terminal.Quiet(w, s.from.Line())
}

// tell writes all but what it was made of.
func (s *summary) tell(w io.Writer) {
	say := func(format string, args ...any) {
		fmt.Fprintln(w, terminal.Flushed(text.WrapSoft(fmt.Sprintf(format, args...), terminal.Width)))
	}
	say("%s: %d met every criterion, %d missed one, %d had none, %d wrong input, %d failed",
		countOf(s.jobs), s.met, s.missed, s.withoutCriteria, s.wrong, s.broken)
	if s.buildings > 0 {
		say("Buildings among them: %d, of %d spaces: %d met every criterion, %d missed one", s.buildings, s.spaces, s.spacesMet, s.spacesMissed)
	}
	if s.met+s.missed+s.withoutCriteria > 0 {
		say("Load as found, and set, kW: existing %s, proposed %s; saved %s and %s kWh a year",
			load(s.existingKW), load(s.proposedKW), load(s.existingKW-s.proposedKW), number.Thousands(s.savedKWh))
	}
	if s.priced > 0 {
		say("Saving a year, as far as it is priced (%s): %s", countOf(s.priced), s.money())
	}
	if r := s.replaced; r.jobs > 0 {
		say("Replacements compared (%s): %d met every criterion, %d missed one, %d had none; load as found, and set, %s kW; saved %s kWh a year",
			countOf(r.jobs), r.met, r.missed, r.withoutCriteria, load(r.kW), number.Thousands(r.savedKWh))
		if n := r.spacesMet + r.spacesMissed; n > 0 {
			say("Spaces of buildings among them, as replaced: %d met every criterion, %d missed one", r.spacesMet, r.spacesMissed)
		}
	}
	if len(s.margins) > 0 {
		fmt.Fprint(w, "\nWorst margins of the proposed lighting, one a job\n")
		t := terminal.Table("margin", "job", "criterion")
		for _, m := range s.margins {
			t.AppendRow(table.Row{marginWord(m.margin), shortened(m.job, jobWidth), cut(m.criterion, criterionWidth)})
		}
		fmt.Fprintln(w, terminal.Trimmed(t.Render()))
	}
	if len(s.failures) > 0 {
		fmt.Fprint(w, "\nWithout a result\n")
		for _, f := range s.failures {
			fmt.Fprintf(w, "  %s: %s\n", f[0], f[1])
		}
		if more := s.wrong + s.broken - len(s.failures); more > 0 {
			fmt.Fprintf(w, "  and %d more: the lines with \"errors\"\n", more)
		}
	}
}

func countOf(n int) string {
	if n == 1 {
		return "1 job"
	}
	return fmt.Sprintf("%d jobs", n)
}

// load writes kW, with a decimal where the thousands say little.
func load(kW float64) string {
	if math.Abs(kW) < 1000 {
		return number.Decimals(1)(kW)
	}
	return number.Thousands(kW)
}

func marginWord(margin float64) string {
	if math.IsInf(margin, -1) {
		return "-"
	}
	if percent := 100 * margin; percent != 0 && math.Abs(percent) < 1 {
		return fmt.Sprintf("%+.1g %%", percent)
	}
	return fmt.Sprintf("%+.0f %%", 100*margin)
}

// shortened keeps the end of a path, which tells more than its start.
func shortened(path string, most int) string {
	runes := []rune(filepath.ToSlash(path))
	if len(runes) <= most {
		return string(runes)
	}
	return "..." + string(runes[len(runes)-most+3:])
}

// cut keeps the start of a text.
func cut(text string, most int) string {
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	return string(runes[:most-3]) + "..."
}
