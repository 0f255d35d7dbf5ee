package study_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

const (
	t12   = "lamp = \"F96T12\"\n" // beside lumens that both may have, of which each loses its own share
	equal = "lamp_lumens = 5500.0"
	plain = "lamp_lumens = 2000.0"
	led   = "lamp = \"LED-8FT-40W-B\"\n"
	hours = "hours_per_year = 3000.0"
)

// swap works out the bay with T12 lamps before and LED tubes after, no dirt, and more pairs.
func swap(t *testing.T, more ...string) *study.Result {
	t.Helper()
	return run(t, append([]string{plain, equal, plain, equal, "[proposed]\n", "[proposed]\n" + led, "[existing]\n", "[existing]\n" + t12, "clean_months = 12.0", "clean_months = 0.0"}, more...)...)
}

// A T12 lamp and an LED tube are judged at one age of their own lives, and the sign of the change does not turn with whether a relamping interval is
// given: a tube of as many lumens that fades more slowly is brighter at every one of them.
func TestOneAgeForBoth(t *testing.T) {
	const interval = "\nrelamp_hours = "
	for name, c := range map[string]struct {
		pairs           []string
		existing, after float64 // light kept
		says            string
	}{
		// 0.885 of the list at 4,800 of 12,000 h; 0.70 at 50,000 h by the definition of L70
		"as they fail":         {nil, 0.885, math.Pow(0.7, 0.4), "(every lamp at 40 percent of its rated life)"},
		"one interval":         {[]string{hours, hours + interval + "12000"}, math.Pow(0.885, math.Sqrt(2.5)), math.Pow(0.7, 0.24), "(all lamps at the end of their relamping interval, 12,000 h)"},
		"each its own":         {[]string{upkeep, "[existing.upkeep]" + interval + "9600\n[proposed.upkeep]" + interval + "40000\n" + upkeep}, math.Pow(0.885, math.Sqrt(2)), math.Pow(0.7, 0.8), "(existing lamps at the end of their relamping interval, 9,600 h, proposed lamps at the end of their relamping interval, 40,000 h)"},
		"one of them":          {[]string{upkeep, "[existing.upkeep]" + interval + "9600\n" + upkeep}, 0.885, math.Pow(0.7, 0.4), "(every lamp at 40 percent of its rated life)"},
		"end":                  {[]string{hours, hours + "\njudged_at = \"end\""}, math.Pow(0.885, math.Sqrt(2.5)), 0.7, "(existing lamps at the end of their rated life, 12,000 h, proposed lamps at the end of their L70 life, 50,000 h)"},
		"hours":                {[]string{hours, hours + "\njudged_at = 4800"}, 0.885, math.Pow(0.7, 0.096), "(every lamp after 4,800 h)"},
		"new":                  {[]string{hours, hours + "\njudged_at = 0"}, 1, 1, "(every lamp after 0 h)"},
		"given for one":        {[]string{upkeep, "[proposed.losses]\nlamp_lumen_depreciation = 0.8\n" + upkeep}, 0.885, 0.8, "(every lamp at 40 percent of its rated life; proposed lamps' loss as the job gives it)"},
		"nothing is told":      {[]string{led, ""}, 0.885, 0.9, "(every lamp at 40 percent of its rated life; proposed lamps' loss assumed)"},
		"nothing, after hours": {[]string{led, "", hours, hours + "\njudged_at = 4800"}, 0.885, 0.9, "(every lamp after 4,800 h; proposed lamps' loss assumed)"},
		"nor at the end":       {[]string{led, "", hours, hours + "\njudged_at = \"end\""}, math.Pow(0.885, math.Sqrt(2.5)), math.Pow(0.9, math.Sqrt(2.5)), "(every lamp at the end of its relamping interval, or of its rated life where it has none; proposed lamps' loss assumed)"},
	} {
		r := swap(t, c.pairs...)
		assert.InEpsilon(t, c.existing, r.Existing().Kept(), 1e-9, name)
		assert.InEpsilon(t, c.after, r.Proposed().Kept(), 1e-9, name)
		assert.Contains(t, wording.Verdict(r), c.says, name)
	}
	assert.Contains(t, wording.Verdict(swap(t)), " 2 percent less than the existing", "0.867 over 0.885")
	assert.Contains(t, wording.Verdict(swap(t, hours, hours+"\njudged_at = 4800")), " 9 percent more than the existing", "young tubes against T12 lamps at their mean")
}

// The headline stands in the chart of the years: when the lamps are as old as they are judged, the chart has the light that the verdict has.
func TestTheHeadlineStandsInTheChart(t *testing.T) {
	for name, pairs := range map[string][]string{
		"mid-life": nil,
		"end":      {hours, hours + "\nrelamp_hours = 9000"},
		"own":      {upkeep, "[existing.upkeep]\nrelamp_hours = 9000\n[proposed.upkeep]\nrelamp_hours = 30000\n" + upkeep},
		"hours":    {hours, hours + "\njudged_at = 3000"},
	} {
		r := swap(t, append(pairs, "[calculation]", "[life_cycle]\nyears = 20\n[calculation]")...)
		for i, side := range r.Sides {
			y := r.Years[i]
			require.Equal(t, 20.0, y.Horizon)
			require.Less(t, y.Judged, y.Horizon, name)
			assert.InEpsilon(t, side.Grids[0].Statistics.Average, lightAt(y, y.Judged), 3e-4, "%s, %s: lamps that failed by then, 1 in 700, have been renewed", name, side.Name)
			assert.GreaterOrEqual(t, side.Grids[0].Statistics.Average, y.Lowest*(1-3e-4), "%s, %s", name, side.Name)
		}
	}
}

// lightAt is the light of the course at a time, before works of that moment, on a straight line between its moments.
func lightAt(y study.Years, years float64) float64 {
	for i := 1; i < len(y.Moments); i++ {
		a, b := y.Moments[i-1].Years, y.Moments[i].Years
		if b >= years*(1-1e-9) && b > a {
			return y.Light[i-1] + (y.Light[i]-y.Light[i-1])*(years-a)/(b-a)
		}
	}
	return math.NaN()
}

// A level that is met at mid-life and not through all the years is not simply met, and a ratio has no years.
func TestEnoughButNotInAllYears(t *testing.T) {
	const level = "[[criteria]]\nname = \"lease\"\nat_least = %s\n[[criteria]]\nname = \"even\"\nstatistic = \"maximum_to_minimum\"\nat_most = 1.1\n"
	average := swap(t).Proposed().Grids[0].Statistics.Average
	at := func(share float64) *study.Result { return swap(t, upkeep, sprintf(level, share*average)+upkeep) }
	r := at(0.95)
	late := r.NotInAllYears()
	require.Len(t, late, 1)
	assert.InEpsilon(t, 50000.0/3000*math.Log(0.95*math.Pow(0.7, 0.4))/math.Log(0.7), late[0].Years, 1e-6, "0.7^(t / 16.7 y)")
	assert.InEpsilon(t, average*math.Pow(0.7, 15*3000.0/50000-0.4), late[0].Least, 1e-6, "after 15 years of the study")
	assert.Contains(t, wording.Verdict(r), ` But not in all 15 years of the study: "lease" (at least `)
	assert.Contains(t, wording.Verdict(r), "is first missed after 9.1 years, and ")
	assert.Empty(t, at(0.8).NotInAllYears(), "met to the end")
	assert.Empty(t, at(1.1).NotInAllYears(), "missed anyhow")
	assert.Len(t, r.Years[1].Below, 1, "evenness does not change with time")
}

// What is judged at an age that it does not reach is said to be so.
func TestAgesThatAreNotReached(t *testing.T) {
	assert.Contains(t, wording.Warnings(swap(t, hours, hours+"\nrelamp_hours = 9000\njudged_at = \"mid-life\"")),
		"proposed: its light is judged with lamps 20,000 h old, but all are replaced after 9,000 h: it is never so dark for the lamps' age")
	assert.Contains(t, wording.Warnings(swap(t, hours, hours+"\njudged_at = 20000")),
		"existing: its light is judged with lamps 20,000 h old, beyond their life of 12,000 h: most are replaced before")
	assert.Contains(t, wording.Warnings(swap(t, hours, hours+"\njudged_at = \"end\"")),
		"existing: its light is judged with all lamps at the end of their life of 12,000 h, but each is replaced as it fails: the average of them is younger and brighter")
	r := swap(t, hours, "hours_per_year = 1000.0")
	assert.InEpsilon(t, 20, r.Years[1].Judged, rounding, "20,000 h")
}
