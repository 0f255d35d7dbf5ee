package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/ordinary"
	"lampswap/cmd/lampswap/internal/page/display"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/levels"
	"lampswap/photometry/longtest"
	"lampswap/photometry/study"
)

// An absence is a thing that a job may not have, and the words that then speak of it nowhere.
type absence struct {
	thing string
	of    func(d *ordinary.Job) bool
	words *regexp.Regexp
}

var absences = []absence{
	{"racks", func(d *ordinary.Job) bool { return len(d.Racks) == 0 && !named(d, "rack") }, regexp.MustCompile(`(?i)\bracks?\b`)},
	{"a warehouse", func(d *ordinary.Job) bool { return len(d.Racks) == 0 && !named(d, "warehous") }, regexp.MustCompile(`(?i)\bwarehous\w*`)},
	{"money", func(d *ordinary.Job) bool { return d.Price == 0 && d.State == "" }, regexp.MustCompile(`\$|(?i)\bdollars?\b|payback`)},
	{"feet", func(d *ordinary.Job) bool { return !d.Imperial && len(levelsOf(d)) == 0 }, regexp.MustCompile(`(^|[^-\w])(ft2?|fc|lb)\b|°F|ft²`)},
	{"law", func(d *ordinary.Job) bool { return !d.Imperial && len(levelsOf(d)) == 0 }, regexp.MustCompile(`\b(CFR|ASHRAE|IECC)\b`)},
}

// cited are the words in which a source may speak of anything: a lamp's papers, a law's title.
var cited = regexp.MustCompile(`(?s)\([^()]*source: [^()]*\)|Source: [^.]*\.|\([^()]*°F[^()]*\)`)

// keys are those of JSON, which has them all, whatever the job.
var keys = regexp.MustCompile(`"[a-z0-9_]+":`)

// levelsOf are the published levels that a job names.
func levelsOf(d *ordinary.Job) []string {
	var all []string
	for _, c := range d.Criteria {
		if c.Level != "" {
			all = append(all, c.Level)
		}
	}
	return all
}

func named(d *ordinary.Job, word string) bool {
	for _, level := range levelsOf(d) {
		if l, _ := levels.Find(level); strings.Contains(strings.ToLower(fmt.Sprintf("%s %+v", level, l)), word) {
			return true
		}
	}
	return false
}

// A said is what an answer says of a job.
type said struct {
	Verdict  string
	Criteria []struct {
		ProposedMet bool `json:"proposed_met"`
	}
}

// The verdict, the exit code, the sentence, JSON, the page and the proposal say the same of an ordinary job, and speak of nothing that it has not.
func TestOrdinaryAnswers(t *testing.T) {
	for seed := range longtest.Pick(uint64(2), 100) {
		d := ordinary.Draw(1000+seed, false)
		t.Run(d.Name(), func(t *testing.T) {
			folder := t.TempDir()
			file, page := filepath.Join(folder, "drawn.toml"), filepath.Join(folder, "drawn.html")
			require.NoError(t, os.WriteFile(file, []byte(d.Text()), 0o600))
			ask := func(args ...string) (int, string) {
				var out, notes bytes.Buffer
				code := run(args, strings.NewReader(""), &out, &notes)
				if code == 3 { // luminaires longer than the room
					assert.Contains(t, notes.String(), "not trusted", "%v", args)
				}
				return code, out.String()
			}
			code, text := ask("check", "--format", "json", file)
			if code >= 2 {
				assert.Empty(t, text, "no answer is half an answer")
				t.Skip("such parts do not fit") // said with their place: the table of faults
			}
			var s said
			require.NoError(t, json.Unmarshal([]byte(text), &s))
			met := true
			for _, c := range s.Criteria {
				met = met && c.ProposedMet
			}
			wrong := strings.Contains(s.Verdict, "NOT enough") || strings.Contains(s.Verdict, "MORE than") || strings.Contains(s.Verdict, "that is NOT known")
			assert.Equal(t, wrong, code != 0, "exit code %d, and %q", code, s.Verdict)
			assert.False(t, code == 0 && !met, "exit code 0, and a criterion is missed")
			again, ledger := ask("check", file)
			assert.Equal(t, code, again)
			folded := strings.Join(strings.Fields(ledger), " ")
			assert.Contains(t, folded, s.Verdict)
			_, verdict := ask("check", "-q", file)
			assert.Contains(t, ledger, verdict)
			assert.LessOrEqual(t, strings.Count(ledger, "\n"), max(25, 17+strings.Count(verdict, "\n")), "lines of a terminal\n%s", ledger)
			for line := range strings.Lines(ledger) {
				assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSpace(line)), terminal.Width)
			}
			third, _ := ask("proposal", file, "-o", page)
			assert.Equal(t, code, third)
			markup, err := os.ReadFile(page)
			require.NoError(t, err)
			shown := strings.Join(strings.Fields(strings.Join(textsOf(t, string(markup)), " ")), " ")
			assert.Contains(t, shown, strings.Join(strings.Fields(typeset.Text(s.Verdict)), " "))
			j, err := jobs.Read([]string{file})
			require.NoError(t, err)
			r, err := study.Run(t.Context(), j, nil)
			require.NoError(t, err)
			onPage := display.AnswerOf(r, 0)
			assert.Equal(t, typeset.Text(s.Verdict), onPage.Sentence, "the page")
			assert.Contains(t, folded, onPage.Word+". ")
			assert.Contains(t, shown, onPage.Word)
			assert.NotEqual(t, map[bool]string{true: "no", false: "yes"}[code == 0], onPage.Good, "exit code %d, and the page colors %q", code, onPage.Word)
			for _, a := range absences {
				if !a.of(d) {
					continue
				}
				for where, of := range map[string]string{"ledger": folded, "JSON": keys.ReplaceAllString(text, ""), "proposal": shown} {
					if at := a.words.FindStringIndex(cited.ReplaceAllString(of, "")); at != nil {
						of = cited.ReplaceAllString(of, "")
						t.Errorf("the job has no %s, and the %s says: %s", a.thing, where, of[max(0, at[0]-60):min(len(of), at[1]+60)])
					}
				}
			}
			if t.Failed() {
				t.Log(d.Text())
			}
		})
	}
}
