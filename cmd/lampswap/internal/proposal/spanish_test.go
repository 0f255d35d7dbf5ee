package proposal

import (
	"bytes"
	"encoding/csv"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/photometry/catalog"
	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
)

// english are the pieces of the table's English phrases, between the names of values, that are no Spanish
// too: a sentence may not have them.
func english(t *testing.T) *regexp.Regexp {
	t.Helper()
	table, err := os.ReadFile("../phrases/phrases.csv")
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	require.NoError(t, err)
	values := regexp.MustCompile(`\{\w+\}|%s`)
	var spanish strings.Builder
	for _, row := range rows {
		spanish.WriteString(strings.ToLower(values.ReplaceAllString(row[2], " ")) + "\n")
	}
	var all []string
	for _, row := range rows[1:] {
		for piece := range strings.SplitSeq(values.ReplaceAllString(row[1], "\x00"), "\x00") {
			piece = strings.Trim(strings.ToLower(piece), " .,;:()\"")
			if len(piece) > 3 && !strings.Contains(spanish.String(), piece) {
				all = append(all, regexp.QuoteMeta(piece))
			}
		}
	}
	require.Greater(t, len(all), 200)
	return regexp.MustCompile(`(?i)(^|[^\p{L}_-])(` + strings.Join(all, "|") + `)($|[^\p{L}_-])`)
}

// saidIn are the words of a document, those of its figures too, without those that are the job's own.
func saidIn(d document.Document, own ...string) []string {
	all := append(texts(d), d.Contents, strings.Join(d.PageOf[:], ""))
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Figure:
			for _, part := range b.Parts {
				all = append(all, part.Describe())
			}
		case document.Table:
			for _, column := range b.Columns {
				all = append(all, column.Name)
			}
		case document.Blanks:
			all = append(all, b.Names...)
		}
	}
	for i := range all {
		for _, word := range own {
			if word != "" {
				all[i] = strings.ReplaceAll(all[i], word, "·")
				all[i] = strings.ReplaceAll(all[i], strings.ToUpper(word[:1])+word[1:], "·")
			}
		}
	}
	return all
}

// ownWords are those that a job says itself.
func ownWords(j *job.Job) []string {
	f := j.Facts
	all := []string{j.Title, f.PreparedBy, f.PreparedFor, f.Offer.Notes}
	for _, c := range j.Criteria {
		if l, known := levels.Find(c.Level); !known || !strings.HasPrefix(c.Name, l.Space) {
			all = append(all, c.Name)
		}
		all = append(all, strings.TrimSuffix(c.Grid, ", on emergency power"))
	}
	for _, line := range j.Proposed.Costs.Lines {
		all = append(all, line.Text)
	}
	for _, s := range j.Systems() {
		for _, kind := range s.Kinds() {
			all = append(all, kind.Kind, kind.Group)
		}
	}
	return all
}

// LeftInEnglish finds words of the table that are English in an offer in Spanish, where the job does not
// say them itself.
func LeftInEnglish(t *testing.T, d document.Document, own ...*job.Job) {
	t.Helper()
	assert.Equal(t, "es", d.Language)
	var words []string
	for _, j := range own {
		words = append(words, ownWords(j)...)
	}
	left := english(t)
	for _, said := range saidIn(d, words...) {
		assert.Empty(t, left.FindString(said), "%q", said)
	}
}

// An offer in Spanish has no English word of the table: the examples and a building, as also the jobs that
// TestPagesOfAnyJob draws.
func TestSpanishHasNoEnglishLeft(t *testing.T) {
	for _, w := range []func() (workedJob, error){worked, demonstration} {
		w, err := w()
		require.NoError(t, err)
		d, err := Of(w.result, nil, Offer, phrases.Spanish)
		require.NoError(t, err)
		LeftInEnglish(t, d, w.result.Job)
	}
	asked, err := jobs.Request{Demo: "building"}.Open(t.Context())
	require.NoError(t, err)
	r, err := whole.Run(t.Context(), asked.Building, nil)
	require.NoError(t, err)
	d, err := OfBuilding(r, Offer, phrases.Spanish)
	require.NoError(t, err)
	own := []*job.Job{r.Whole.Job}
	for _, s := range r.Spaces {
		own = append(own, s.Space.Job, &job.Job{Title: s.Name})
	}
	LeftInEnglish(t, d, own...)
}

// A word of the table that is left in English is found.
func TestEnglishIsFound(t *testing.T) {
	left := english(t)
	for _, said := range []string{"El veredicto: NOT ENOUGH", "2 lamps of 5,000 lm",
		"Promedio of work plane", "3 years", "Rebate", "Average 24.3 fc", "1 luminaire", "30 April 2026", "Page 1 of 2"} {
		assert.NotEmpty(t, left.FindString(said), said)
	}
	for _, said := range []string{"LUZ SUFICIENTE", "Criterio", "Material", "24.3 fc", "UGR", "100 kWh",
		"No se cumple"} {
		assert.Empty(t, left.FindString(said), said)
	}
}

// keys are what a job file or a source has, and an owner has no use for.
var keys = regexp.MustCompile(`from memory|\w\[\d\]|[a-z]_[a-z]|\[[a-z]+\]| = (true|false)`)

// An offer has no key of the job file and nothing that is about sources.
func TestOfferHasNoKeys(t *testing.T) {
	for _, w := range []func() (workedJob, error){worked, demonstration} {
		w, err := w()
		require.NoError(t, err)
		for _, l := range phrases.Languages() {
			d, err := Of(w.result, nil, Offer, phrases.Language(l))
			require.NoError(t, err)
			for _, said := range saidIn(d, ownWords(w.result.Job)...) {
				assert.Empty(t, keys.FindString(said), said)
			}
		}
	}
	assert.NotEmpty(t, keys.FindString("lamp_burnout"))
	assert.NotEmpty(t, keys.FindString("racks[0]"))
}

// In a building each space points to its own caveats, and what is not of one space alone is pointed to
// before.
func TestCaveatsOfABuilding(t *testing.T) {
	asked, err := jobs.Request{Demo: "building"}.Open(t.Context())
	require.NoError(t, err)
	r, err := whole.Run(t.Context(), asked.Building, nil)
	require.NoError(t, err)
	told := buildingCaveats(r)
	require.NotEmpty(t, told)
	d, err := OfBuilding(r, Both, phrases.English)
	require.NoError(t, err)
	next := 1
	var numbers []string
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Bullets:
			if b.First > 0 {
				assert.Equal(t, next, b.First)
				next += len(b.Items)
			}
		case document.Prose:
			numbers = append(numbers,
				regexp.MustCompile(`(caveats?) [\d, andto]+ of the record`).FindAllString(b.Text, -1)...)
		}
	}
	assert.Equal(t, len(told)+len(wording.Cautions(r.Whole))+1, next, "caveats and cautions, each once")
	assert.Len(t, numbers, len(r.Spaces)+2, "the building's, a space each, and the cautions")
	named := 0
	for _, one := range told {
		if of := spacesOf(r, one.said); len(of) > 0 {
			named++
			assert.True(t, strings.HasSuffix(one.said, " ["+strings.Join(of, ", ")+"]"), one.said)
		}
	}
	assert.Positive(t, named)
}

// Every published level has a name in every language, also with what it asks for besides.
func TestLevelsHaveNames(t *testing.T) {
	english, spanish := content{In: phrases.English}, content{In: phrases.Spanish}
	for _, l := range levels.Levels() {
		all := l.Criteria(true)
		for _, s := range []levels.Statistic{levels.Glare, levels.ColorRendering} {
			if c, ok := l.Comfort(s); ok {
				all = append(all, c)
			}
		}
		for _, v := range all {
			assert.Equal(t, v.Name, english.name(v))
			assert.NotEqual(t, v.Name, spanish.name(v), l.ID)
		}
	}
	assert.Equal(t, "Embarque y recepción, cualquier punto",
		spanish.name(levels.Criterion{Name: "Shipping and receiving, any point", Level: "shipping-receiving"}))
	assert.Equal(t, "our own", spanish.name(levels.Criterion{Name: "our own", Level: "shipping-receiving"}))
}

// Statistics and what an answer says by a word have phrases.
func TestWordsOfAnswersHavePhrases(t *testing.T) {
	c := content{In: phrases.Spanish}
	for _, name := range levels.StatisticNames() {
		s, ok := levels.ParseStatistic(name)
		require.True(t, ok, name)
		assert.NotEmpty(t, c.statistic(s))
	}
	for _, why := range []glare.Reason{glare.NothingSeen, glare.NoSize, glare.NoBackground, glare.NoBouncing} {
		assert.NotEqual(t, string(why), c.why(string(why)))
	}
	for _, kind := range []catalog.LEDType{catalog.OnBallast, catalog.OnLine, catalog.OnDriver} {
		assert.NotEmpty(t, c.In.Say("work.tube."+string(kind)))
	}
	for _, per := range []string{"lamp", "luminaire", "kwh", "kw"} {
		assert.NotEmpty(t, c.In.Say("money.rebate."+per, "n", 1))
	}
}
