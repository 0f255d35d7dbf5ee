package main

import (
	"encoding/json"
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/catalog"
	"lampswap/photometry/job"
)

// unitedStates are units and law that a job in meters which names no state must not meet, and their signs on paper.
var unitedStates = regexp.MustCompile(`\b(ft|fc|lb|CFR|USC|NEC|OSHA|footcandles?|federal|Federal|Some states)\b|(W|lm)/ft|\$\d|ft²|ft2`)

// codesOfThem may stand only where the job names one.
var codesOfThem = regexp.MustCompile(`ASHRAE|IECC|IBC|NFPA`)

// published is a number in the unit in which it was published, beside that of the job.
var published = regexp.MustCompile(`\([^()]* (as published|from memory)\)`)

// ofAMeter is what a meter shows by a switch on it, wherever it is, and what comes of the wrong one; and the places of stations as a source has them.
var ofAMeter = regexp.MustCompile(`fc or lx|lx taken for fc|fc taken for lx|fc is written down|in lx and some in fc|\[ *\] fc|2 ft (grid|from)`)

var tags = regexp.MustCompile(`(?s)<style.*?</style>|<script.*?</script>|<[^>]*>`)

// foreign finds what stands in an answer of such a job that it must not meet. What the job itself names may say so, and so may the list's
// descriptions of lamps and the sources of lamps, ballasts and levels: they are names and citations.
func foreign(j *job.Job, shown string) []string {
	if j.InUnitedStates() {
		return nil
	}
	own := []string{}
	named := false
	for _, c := range j.Criteria {
		own = append(own, c.Caveat, c.Source, c.Name)
		named = named || c.Level != ""
	}
	for _, l := range catalog.Lamps() { // an 8-ft lamp is called so
		own = append(own, l.Description, l.Source)
	}
	if j.Space != nil {
		_, sensor, _ := j.Space.SensorSaving()
		own = append(own, j.Space.Source(), sensor)
	}
	for _, s := range j.Kinds() {
		if s.Ballast != nil {
			own = append(own, s.Ballast.Source)
			if starting, ok := s.Ballast.Starting(); ok {
				own = append(own, starting.Source)
			}
		}
	}
	text := typeset.Text(strings.Join(strings.Fields(html.UnescapeString(tags.ReplaceAllString(shown, " "))), " "))
	for _, citation := range own {
		if citation == "" {
			continue
		}
		quoted, err := json.Marshal(citation)
		if err != nil {
			panic(err)
		}
		for _, form := range []string{citation, strings.Trim(string(quoted), `"`), typeset.Capital(citation)} {
			text = strings.ReplaceAll(text, typeset.Text(strings.Join(strings.Fields(form), " ")), "")
		}
	}
	text = ofAMeter.ReplaceAllString(published.ReplaceAllString(text, ""), "")
	if named { // when an alteration has to meet them is said of codes that the job names
		text = codesOfThem.ReplaceAllString(text, "")
	}
	var all []string
	for _, words := range []*regexp.Regexp{unitedStates, codesOfThem} {
		for _, at := range words.FindAllStringIndex(text, 5) {
			all = append(all, text[max(0, at[0]-60):min(len(text), at[1]+40)])
		}
	}
	return all
}

func TestForeignFinds(t *testing.T) {
	elsewhere := &job.Job{}
	for _, wrong := range []string{"0.62 W/ft2", "24.3 fc", "5,330 lb CO2", "(29 CFR 1910.333)", "ASHRAE 90.1", "about <b>4 ft</b>, which", "42 USC 6295", "costs $12", "W/ft²"} {
		assert.NotEmpty(t, foreign(elsewhere, wrong), wrong)
		assert.Empty(t, foreign(&job.Job{Imperial: true}, wrong), wrong)
	}
	for _, right := range []string{"237 lx (22 lm/ft2 as published)", "LED-T8-4FT-18W-B", "after 3 years", "W/m2"} {
		assert.Empty(t, foreign(elsewhere, right), right)
	}
}
