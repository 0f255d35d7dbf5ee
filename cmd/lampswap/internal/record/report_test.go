package record

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/photometry/job"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

// told are all words of a document, and what of them alarms.
func told(d document.Document) (words, alarms string) {
	var all, loud []string
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Heading:
			all = append(all, b.Text)
		case document.Prose:
			all = append(all, b.Text)
		case document.Verdict:
			all = append(all, b.Word, b.Sentence)
		case document.Facts:
			for _, f := range b.List {
				all = append(all, f.Name+": "+f.Value)
			}
		case document.Bullets:
			all = append(all, b.Items...)
		case document.Blanks:
			all = append(all, b.Names...)
		case document.Table:
			all = append(all, b.Caption)
			for _, r := range b.Groups[0].Rows {
				all = append(all, r.Label)
				for _, c := range r.Cells {
					all = append(all, c.Text)
					if c.Alarm {
						loud = append(loud, c.Text)
					}
				}
			}
		}
	}
	return strings.Join(all, "\n"), strings.Join(loud, "\n")
}

// report holds readings of the hall at a share of their prediction against a level, and returns the report; invented, to try it.
func report(t *testing.T, level float64, change func(i int, r *survey.Reading)) (document.Document, Proof, *job.Job) {
	t.Helper()
	text := strings.ReplaceAll(hall, "UNITS", "imperial") + fmt.Sprintf("[calculation]\nspacing = 4.0\ninterreflection = false\n[[criteria]]\nname = \"owner\"\nat_least = %g\n", level)
	j, err := job.Read("hall.toml", []byte(text), nil)
	require.NoError(t, err)
	m, err := stations.Of(j, "proposed", stations.Wanted{Kind: stations.Auto})
	require.NoError(t, err)
	s := verification.Survey{System: "proposed", Readings: survey.Form(survey.Footcandles, m.Plans[0].Plan), Conditions: survey.NotNoted(), Confidence: 0.95,
		Areas: []verification.Area{{Grid: m.Plans[0].Grid, Plan: m.Plans[0].Plan}}}
	s.Conditions.Daylight = survey.Dark
	s.Meter, _ = metrology.ClassMeter("A")
	for i := range s.Readings.Lines {
		s.Readings.Lines[i].Value = 1
	}
	first, _, err := verification.Run(t.Context(), j, s, nil)
	require.NoError(t, err)
	for i := range s.Readings.Lines {
		s.Readings.Lines[i].Value = first.Comparison.Stations[i].Predicted
		change(i, &s.Readings.Lines[i])
	}
	v, _, err := verification.Run(t.Context(), j, s, nil)
	require.NoError(t, err)
	p := Proof{Measurement: m, Survey: s, Found: v}
	return Report(j, p), p, j
}

// The report says what was claimed, measured and found, and has lines to sign on; the word is the verdict's, whatever became of the criteria.
func TestReport(t *testing.T) {
	as := func(int, *survey.Reading) {}
	d, p, j := report(t, 5, as)
	words, alarms := told(d)
	for _, what := range []string{"\nMet\n", "18 of 18 stations planned", "meter of class A", "As noted: dark", "average: owner", "met, over 99.9 % likely", "Signature", "For the owner",
		"Work plane: average predicted for the day"} {
		assert.Contains(t, words, what)
	}
	assert.NotContains(t, words, "What would prove it")
	assert.Empty(t, alarms)
	files, err := ReportFiles(Report(j, p), j)
	require.NoError(t, err)
	assert.Equal(t, []string{"report.pdf", "report.html"}, []string{files[0].Name, files[1].Name})
	assert.True(t, bytes.HasPrefix(files[0].Content, []byte("%PDF")))
	assert.Contains(t, string(files[1].Content), "Met</strong>")
	pages := bytes.Count(files[0].Content, []byte("/Type /Page\n"))
	assert.True(t, pages == 1 || pages == 2, "a page or two, not %d", pages)

	found := p.Found.Areas[0].Measured.Value / 10.7639
	d, _, _ = report(t, 1.02*found, as)
	words, _ = told(d)
	assert.Contains(t, words, "\nNot proven\n")
	assert.Contains(t, words, "would prove it with these readings")
	d, _, _ = report(t, 0.97*found, as)
	words, _ = told(d)
	assert.Contains(t, words, "most of it from the station method")
	d, _, _ = report(t, 2*found, as)
	words, alarms = told(d)
	assert.Contains(t, words, "\nMissed\n")
	assert.Contains(t, alarms, "missed, under 0.1 % likely met")

	d, _, _ = report(t, 5, func(i int, r *survey.Reading) {
		switch i {
		case 3:
			r.Value *= 10
		case 5:
			r.Note, r.Time = "pallet moved", "21:40"
		case 7:
			r.StruckOut = "own shadow"
		}
	})
	words, alarms = told(d)
	assert.Contains(t, words, "\nNot proven\n")
	assert.Contains(t, words, "pallet moved")
	assert.Contains(t, words, "own shadow")
	assert.Contains(t, words, "from 21:40 to 21:40")
	assert.Contains(t, alarms, "unlike the others: read again")
}
