package options_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/longtest"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// asked are the keys of the proposed system of the hall.
const asked = "lamp = \"F32T8/800\"\nlamps = 4\nballast = \"is-normal\"\n"

// known is the light of the studies here, which differ in lamps and ballasts more than in light. Options know nothing of it.
var known = lighting.NewCache(64 << 20)

func lit(t *testing.T, j *job.Job) *study.Result {
	t.Helper()
	r, err := study.RunWith(context.Background(), j, known)
	require.NoError(t, err)
	return r
}

// What options shows can be written into the job by what it prints, and gives the same light for the same watts.
func TestEveryOptionCanBeTypedIn(t *testing.T) {
	for name, pairs := range map[string][]string{
		"in tandem": {"spacing = 3.0", "spacing = 6.0", "interreflection = true", "interreflection = false"},
		"a freezer": {"spacing = 3.0", "spacing = 6.0", "interreflection = true", "interreflection = false", "ambient_temperature = 77.0", "ambient_temperature = 0.0"},
		"a photometric file": {"spacing = 3.0", "spacing = 6.0", "[proposed]\nfixture = \"strip-5in\"\n" + asked,
			"[proposed]\nphotometry = \"long.ies\"\nlamp = \"F96T8\"\nlamps = 2\nballast = \"is-normal\"\n"},
	} {
		found, err := options.Find(context.Background(), readHall(t, pairs...), options.Narrow{}, nil)
		require.NoError(t, err)
		typed := 0
		for i := range found.List {
			p := &found.List[i]
			if p.Own() {
				assert.Empty(t, p.Keys())
				continue
			}
			from := "fixture = \"strip-5in\"\n"
			if p.From.Section == nil {
				from = "photometry = \"long.ies\"\n"
			}
			old := "fixture = \"strip-5in\"\n" + asked
			text := append(append([]string{}, pairs...), old, from+strings.Join(p.Keys(), "\n")+"\n")
			if name == "a photometric file" {
				text = append(slices.Clone(pairs[:2]), "[proposed]\n"+old, "[proposed]\n"+from+strings.Join(p.Keys(), "\n")+"\n")
			}
			if i%longtest.Pick(30, 1) != 0 {
				continue
			}
			r := lit(t, readHall(t, text...))
			typed++
			assert.InEpsilon(t, p.From.InputWatts, r.Job.Proposed.InputWatts, 1e-9, "%s: %s", name, wording.Option(p))
			assert.InEpsilon(t, p.Average(), r.Proposed().Grids[0].Statistics.Average, 1e-6, "%s: %s", name, wording.Option(p)) // single precision
			assert.InEpsilon(t, p.Minimum(), r.Proposed().Grids[0].Statistics.Minimum, 1e-6, "%s: %s", name, wording.Option(p))
		}
		t.Logf("%s: %d options typed in", name, typed)
		assert.Greater(t, typed, 3, name)
	}
}

// byFigures are the keys that describe a lamp of the list, in the units of the hall.
func byFigures(l catalog.Lamp) string {
	keys := fmt.Sprintf("lamp_lumens = %v\nlamp_watts = %v\nlamp_length = %v\nrated_life_hours = %v\ncri = %v\n", l.InitialLumens, l.RatedWatts,
		l.NominalLength/photometry.Foot, l.RatedLifeHours, l.ColorRendering)
	if l.Diameter > 0 {
		keys += fmt.Sprintf("lamp_diameter = \"%v in\"\n", l.Diameter/photometry.Inch)
	}
	if !math.IsNaN(l.LeastAmbientCelsius) {
		keys += fmt.Sprintf("minimum_temperature = %v\n", photometry.FahrenheitFromCelsius(l.LeastAmbientCelsius))
	}
	if l.BeamDeg > 0 {
		keys += fmt.Sprintf("beam_angle = %v\n", l.BeamDeg)
	}
	if l.LED {
		return keys + fmt.Sprintf("lamp_kind = \"led\"\nled_type = %q\n", l.LEDType)
	}
	return keys + fmt.Sprintf("lamp_kind = \"fluorescent\"\nmean_lumens = %v\n", l.Mean())
}

// A lamp by its name and by its figures is one: in light, losses, watts, money, warnings and options, warm and in the cold.
func TestByNameAndByFigures(t *testing.T) {
	for _, c := range []struct{ lamp, feed string }{
		{"LED-T8-4FT-18.5W-B", ""}, {"LED-8FT-40W-B-HIGH", ""}, {"LED-T8-4FT-2016-MEAN", ""},
		{"F32T8/800", "ballast = \"is-normal\"\n"}, {"F96T12/ES", "ballast = \"magnetic\"\n"}, {"F54T5/HO", "ballast = \"ps-normal\"\n"},
	} {
		l, ok := catalog.FindLamp(c.lamp)
		require.True(t, ok)
		lamps := 2
		if l.NominalLength < 1.5 {
			lamps = 4
		}
		for _, ambient := range []string{"72.0", "-10.0"} {
			of := func(keys string) *study.Result {
				return lit(t, readHall(t, asked, keys+fmt.Sprintf("lamps = %d\n", lamps)+c.feed+"[proposed.costs]\ninstalled_cost = 900.0\nlamp_price = 9.0\n",
					"ambient_temperature = 77.0", "ambient_temperature = "+ambient, "spacing = 3.0", "spacing = 6.0"))
			}
			named, typed := of(fmt.Sprintf("lamp = %q\n", c.lamp)), of(byFigures(l))
			what := c.lamp + " at " + ambient
			assert.InEpsilon(t, named.Proposed().Grids[0].Statistics.Average, typed.Proposed().Grids[0].Statistics.Average, 1e-6, what)
			assert.InEpsilon(t, named.Proposed().Losses.Total(), typed.Proposed().Losses.Total(), 1e-9, what)
			assert.Equal(t, named.Energy.ProposedKW, typed.Energy.ProposedKW, what)
			assert.InEpsilon(t, named.Energy.Accounts[1].Lamps, typed.Energy.Accounts[1].Lamps, 1e-9, what)
			assert.InEpsilon(t, *named.Energy.SavingPerYear, *typed.Energy.SavingPerYear, 1e-9, what)
			assert.Equal(t, wording.Years(named, 1), wording.Years(typed, 1), what)
			assert.InEpsilon(t, named.Years[1].Lowest, typed.Years[1].Lowest, 1e-6, what)
			plain := func(r *study.Result) (all []string) {
				for _, w := range wording.Warnings(r) {
					if !strings.Contains(w, "or what they lose, are from memory") { // what the job gives is its own
						all = append(all, strings.ReplaceAll(w, r.Job.Proposed.Lamp.Name, "the lamp"))
					}
				}
				return all
			}
			assert.Equal(t, plain(named), plain(typed), what)
			assert.Equal(t, wording.Cautions(named), wording.Cautions(typed), what)
			assert.Equal(t, named.Met(), typed.Met(), what)
			if ambient == "72.0" && l.LED && (longtest.On() || c.lamp == "LED-8FT-40W-B-HIGH") {
				narrow := longtest.Pick(options.Narrow{Lamps: []string{"F32T8", "LED-T8-4FT-18.5W-B"}}, options.Narrow{})
				a, err := options.Find(context.Background(), named.Job, narrow, nil)
				require.NoError(t, err)
				b, err := options.Find(context.Background(), typed.Job, narrow, nil)
				require.NoError(t, err)
				require.Len(t, b.List, len(a.List), what)
				for i := range a.List {
					assert.InDelta(t, a.List[i].Average(), b.List[i].Average(), 1e-6*a.List[i].Average(), "%s: %s", what, wording.Option(&a.List[i]))
				}
			}
		}
	}
}

// A set of mixed ballasts says what it is, in the name of an option too.
func TestOddNumbersAreNamed(t *testing.T) {
	found, err := options.Find(context.Background(), readHall(t, "lamps = 4\nballast = \"is-normal\"", "lamps = 5\nend_to_end = 5\nballast = \"is-normal\""), options.Narrow{}, nil)
	require.NoError(t, err)
	named := false
	for i := range found.List {
		named = named || strings.HasSuffix(wording.Option(&found.List[i]), "5 x F32T8/800 on is-normal, 4-lamp + 1-lamp")
	}
	assert.True(t, named)
}
