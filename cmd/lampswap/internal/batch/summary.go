package batch

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/cmd/lampswap/internal/units"
)

// A summary gathers what stands in the lines of a batch; it is the same whether the batch ran at one go or not.
type summary struct {
	jobs, enough, notEnough, notJudged, wrong, broken int
	existingKW, proposedKW, savedKWh, savedMoney      float64
	priced                                            int // jobs whose saving in money is known
	worst                                             int // exit code
	margins                                           []marginOf
	failures                                          [][2]string // job and first error
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
	Errors   []string
	Criteria []struct {
		Name, Grid, Statistic string
		ProposedMet           bool     `json:"proposed_met"`
		ProposedMargin        *float64 `json:"proposed_margin"`
	}
	Energy struct {
		ExistingKW    float64  `json:"existing_kw"`
		ProposedKW    float64  `json:"proposed_kw"`
		SavedKWh      float64  `json:"saved_kwh_per_year"`
		SavingPerYear *float64 `json:"saving_per_year"`
	}
}

// mostMargins is how many of the worst margins are shown, and how many failures.
const mostMargins = 10

// add takes in a line. A line that is no JSON is none of ours.
func (s *summary) add(text []byte) {
	var l summaryLine
	if err := json.Unmarshal(text, &l); err != nil {
		l = summaryLine{Exit: exit.Failed, Errors: []string{"the line cannot be read: " + err.Error()}}
	}
	s.jobs++
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
			s.failures = append(s.failures, [2]string{l.File, strings.TrimSpace(first)})
		}
		return
	case l.Exit == exit.NotMet:
		s.notEnough++
	case len(l.Criteria) == 0:
		s.notJudged++
	default:
		s.enough++
	}
	s.existingKW += l.Energy.ExistingKW
	s.proposedKW += l.Energy.ProposedKW
	s.savedKWh += l.Energy.SavedKWh
	if m := l.Energy.SavingPerYear; m != nil {
		s.priced++
		s.savedMoney += *m
	}
	s.addMargin(l)
}

// addMargin keeps the worst criterion of a job, and of all jobs the worst few.
func (s *summary) addMargin(l summaryLine) {
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

const (
	jobWidth       = 30
	criterionWidth = 40
)

func (s *summary) write(w io.Writer) {
	fmt.Fprintf(w, "%d jobs: %d enough, %d not enough, %d not judged, %d with wrong input, %d failed\n",
		s.jobs, s.enough, s.notEnough, s.notJudged, s.wrong, s.broken)
	if s.enough+s.notEnough+s.notJudged > 0 {
		fmt.Fprintf(w, "Load %s kW before, %s kW after: %s kW and %s kWh a year saved\n",
			units.Thousands(s.existingKW), units.Thousands(s.proposedKW), units.Thousands(s.existingKW-s.proposedKW), units.Thousands(s.savedKWh))
	}
	if s.priced > 0 {
		fmt.Fprintf(w, "Saved in money a year, as far as it is priced (%d jobs): %s\n", s.priced, units.Thousands(s.savedMoney))
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

func marginWord(margin float64) string {
	if math.IsInf(margin, -1) {
		return "-"
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
