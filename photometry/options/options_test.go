package options_test

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/job"
	"lampswap/photometry/longtest"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

const (
	rounding = bay.Rounding
	single   = bay.Single
)

// A small hall with 8-ft strips of a generic cross-section, two lamps each, that are to take four 4-ft lamps in tandem.
const hall = `title = "hall"
units = "imperial"
[room]
length = 60.0
width = 36.0
height = 14.0
work_plane = 2.5
reflectance = { ceiling = 0.5, walls = 0.3, floor = 0.2 }
[layout]
mounting_height = 12.0
rows = 3
columns = 4
lamps_along = "length"
[existing]
fixture = "strip-5in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-5in"
lamp = "F32T8/800"
lamps = 4
ballast = "is-normal"
[upkeep]
hours_per_year = 4000.0
ambient_temperature = 77.0
[calculation]
spacing = 3.0
interreflection = true
[[criteria]]
name = "enough"
at_least = 20.0
[[criteria]]
name = "even"
statistic = "minimum"
at_least = 8.0
[energy]
price_per_kwh = 0.10
demand_price_per_kw_month = 5.0
`

// readHall reads the hall with pairs of old and new replaced, the last of each.
// shelf keeps the luminaires that tests compute.
var shelf = job.NewShelf(64 << 20)

func readHall(tb testing.TB, pairs ...string) *job.Job {
	tb.Helper()
	text := bay.Replaced(tb, hall, pairs...)
	files := map[string]string{"two.ies": bay.Cosine(1, "2 6000", "0.94 1 158"), "long.ies": strings.Replace(bay.Cosine(1, "2 6000", "0.94 1 158"), " 1 2 0 0 0", " 1 1 0.3 8 0", 1),
		"whole.ies": bay.Cosine(1, "1 -1", "1 1 60")}
	j, err := shelf.Read("hall.toml", []byte(text), func(name string) ([]byte, error) { return []byte(files[name]), nil })
	require.NoError(tb, err)
	return j
}

func hallOptions(tb testing.TB, narrow options.Narrow, pairs ...string) *options.Options {
	tb.Helper()
	o, err := options.Find(tb.Context(), readHall(tb, pairs...), narrow, nil)
	require.NoError(tb, err)
	return o
}

// whole is every option of the hall as it stands, worked out once for the tests that only read it.
var whole = sync.OnceValues(func() (*options.Options, error) {
	j, err := shelf.Read("hall.toml", []byte(hall), nil)
	if err != nil {
		return nil, err
	}
	return options.Find(context.Background(), j, options.Narrow{}, nil)
})

func wholeHall(tb testing.TB) *options.Options {
	tb.Helper()
	o, err := whole()
	require.NoError(tb, err)
	return o
}

// option returns the row of that name.
func option(tb testing.TB, o *options.Options, name string) *options.Option {
	tb.Helper()
	at := slices.IndexFunc(o.List, func(p options.Option) bool { return wording.Option(&p) == name })
	require.GreaterOrEqual(tb, at, 0, "no row %q", name)
	return &o.List[at]
}

// A row's light is scaled from a solve at other lumens, yet it is what the study finds for the same lighting; rounding of the candela in
// the point method only.
func TestOptionsAreWhatTheStudyFinds(t *testing.T) {
	o := wholeHall(t)
	proposed := "lamp = \"F32T8/800\"\nlamps = 4\nballast = \"is-normal\"\n"
	for _, c := range []struct{ row, proposed string }{
		{"4 x F32T8/800 on is-normal", proposed},
		{"4 x F32T8/HL on premium-low", "lamp = \"F32T8/HL\"\nlamps = 4\nballast = \"premium-low\"\n"},
		{"2 x F25T8 on is-high", "lamp = \"F25T8\"\nlamps = 2\nend_to_end = 2\nballast = \"is-high\"\n"},
		{"2 x F32T8/700 in half of the fixture's length on ps-low", "lamp = \"F32T8/700\"\nlamps = 2\nend_to_end = 1\nballast = \"ps-low\"\n"},
		{"1 x LED-8FT-36W-B without ballast", "lamp = \"LED-8FT-36W-B\"\nlamp_diameter = 0.08333333333333333\nlamps = 1\nballast = \"none\"\n"},
	} {
		j := readHall(t, proposed, c.proposed)
		r, err := study.Run(t.Context(), j, nil)
		require.NoError(t, err)
		p, want := option(t, o, c.row), *r.Proposed().System
		assert.InEpsilon(t, want.Grids[0].Statistics.Average, p.Average(), single, c.row)
		assert.InEpsilon(t, want.Grids[0].Statistics.Minimum, p.Minimum(), single, c.row)
		assert.InEpsilon(t, want.Grids[0].Statistics.MaximumToMinimum, p.Light.Grids[0].Statistics.MaximumToMinimum, single, c.row)
		assert.InEpsilon(t, want.LumenMethod.MaintainedAverage, p.Light.LumenMethod.MaintainedAverage, rounding, c.row)
		assert.InEpsilon(t, want.Efficiency, p.Light.Efficiency, rounding, c.row)
		assert.Equal(t, want.Losses.LuminaireDirtDepreciation, p.Light.Losses.LuminaireDirtDepreciation, c.row)
		assert.InEpsilon(t, want.Losses.Total(), p.Light.Losses.Total(), rounding, c.row)
		assert.InEpsilon(t, want.PowerDensity, p.Light.PowerDensity, rounding, c.row)
		assert.InEpsilon(t, r.Energy.ProposedKW, p.KW, rounding, c.row)
		require.NotNil(t, p.EnergyCost)
		assert.InEpsilon(t, p.KW*(4000*0.10+12*5), *p.EnergyCost, rounding, c.row)
		for i, v := range r.Verdicts {
			assert.InEpsilon(t, v.Proposed().Value, p.Verdicts[i].Value, single, c.row)
			assert.Equal(t, v.Proposed().Met, p.Verdicts[i].Met, c.row)
		}
		existing := option(t, o, "2 x F96T12 on magnetic")
		assert.InEpsilon(t, r.Existing().Grids[0].Statistics.Average, existing.Average(), single)
		assert.InEpsilon(t, want.Grids[0].Statistics.Average/r.Existing().Grids[0].Statistics.Average, p.OfExisting, 2*single, c.row)
	}
	assert.True(t, option(t, o, "2 x F96T12 on magnetic").Existing)
	assert.True(t, option(t, o, "4 x F32T8/800 on is-normal").Proposed)
}

// One solve a distinct distribution. Lit lengths of 96 and 48 in, one or two tubes side by side: 1.5 in tubes 4;
// 1.0 in tubes all round 4; LED tubes of 120 and of 240 degrees (4 ft) 4 each; of 180 and of 140
// degrees (8 ft) 2 each, and those of which the angle is not known are all round.
func TestSolvesAreCounted(t *testing.T) {
	o := wholeHall(t)
	assert.Equal(t, 4+4+4+4+2+2, o.Solves)
	assert.Greater(t, len(o.List), 100)
	assert.Equal(t, 1+1, hallOptions(t, options.Narrow{Lamps: []string{"F32T8"}, Counts: []int{4}}).Solves, "the existing lighting, and one for all F32T8")
}

// What meets every criterion comes first, by energy and then light; then what misses, the fewest criteria first and the nearest of those; then
// what is shown to compare.
func TestOptionsAreSorted(t *testing.T) {
	o := hallOptions(t, options.Narrow{NoLED: true}, "at_least = 20.0", "at_least = 28.0")
	require.True(t, o.Met())
	short := func(p *options.Option) (missed int, worst float64) {
		for i, c := range o.Job.Criteria {
			worst = max(worst, -c.Margin(p.Verdicts[i].Value))
			if !p.Verdicts[i].Met {
				missed++
			}
		}
		return missed, worst
	}
	parts := map[string]int{}
	for i := range o.List {
		p := &o.List[i]
		switch {
		case !p.May():
			parts["compared"]++
		case p.Meets:
			parts["meets"]++
		default:
			parts["misses"]++
		}
		if i == 0 {
			continue
		}
		before := &o.List[i-1]
		switch {
		case before.Meets && p.Meets:
			assert.True(t, before.KW < p.KW+1e-9, "%s, %s", wording.Option(before), wording.Option(p))
			if math.Abs(before.KW-p.KW) < 1e-9 {
				assert.GreaterOrEqual(t, before.Average(), p.Average(), "%s, %s", wording.Option(before), wording.Option(p))
			}
		case before.May() && p.May():
			assert.False(t, p.Meets)
			if !before.Meets {
				less, least := short(before)
				more, most := short(p)
				assert.LessOrEqual(t, less, more, "%s, %s", wording.Option(before), wording.Option(p))
				if less == more {
					assert.LessOrEqual(t, least, most, "%s, %s", wording.Option(before), wording.Option(p))
				}
			}
		}
	}
	assert.Len(t, parts, 2)
	assert.Positive(t, parts["meets"])
	assert.Positive(t, parts["misses"])
}

// Of what meets the levels every row on the front gives more light than all that draw less, and no other row does.
func TestFront(t *testing.T) {
	o := wholeHall(t)
	points := o.Points()
	require.Len(t, points, len(o.List))
	slices.SortFunc(points, func(a, b *options.Option) int {
		if c := int(math.Copysign(1, a.KW-b.KW)); math.Abs(a.KW-b.KW) > 1e-9 {
			return c
		}
		return int(math.Copysign(1, b.Average()-a.Average()))
	})
	best, onFront := 0.0, 0
	for _, p := range points {
		if !p.Meets {
			assert.False(t, p.Front, wording.Option(p))
			continue
		}
		if p.Front {
			assert.Greater(t, p.Average(), best, wording.Option(p))
			onFront++
		} else {
			assert.LessOrEqual(t, p.Average(), best, wording.Option(p))
		}
		best = max(best, p.Average())
	}
	assert.GreaterOrEqual(t, onFront, 5)
	none := hallOptions(t, options.Narrow{Lamps: []string{"F32T8"}}, "interreflection = true", "interreflection = false", "at_least = 20.0", "at_least = 500.0")
	assert.True(t, slices.ContainsFunc(none.Points(), func(p *options.Option) bool { return p.Front }), "of all, as nothing meets the levels")
}

// Half of the lamps side by side in half of the length: the same distribution, half the lumens. The lamps burn closer together along the
// fixture, which moves some light between the points: 2 percent is allowed. One row of lamps in place of two loses less in the fixture.
func TestDelamping(t *testing.T) {
	o := wholeHall(t)
	four := option(t, o, "4 x F32T8/800 on is-normal")
	half := option(t, o, "2 x F32T8/800 in half of the fixture's length on is-normal")
	line := option(t, o, "2 x F32T8/800 on is-normal")
	assert.InDelta(t, 0.5, half.Average()/four.Average(), 0.01)
	// Light goes with efficiency times utilance; by how much the utilance changes, as the lone row sends less of its light up, is the
	// lumen method's estimate and bounds what the point method may add.
	efficiency := line.Light.Efficiency / four.Light.Efficiency
	utilance := line.Light.LumenMethod.CoefficientOfUtilization / four.Light.LumenMethod.CoefficientOfUtilization / efficiency
	require.Equal(t, four.Light.Losses.Total(), line.Light.Losses.Total())
	assert.InEpsilon(t, 0.5*efficiency, line.Average()/four.Average(), math.Abs(utilance-1))
	assert.InEpsilon(t, 1, utilance, 0.02, "else the bound says nothing")
	assert.Greater(t, line.Light.Efficiency, four.Light.Efficiency)
	assert.InEpsilon(t, four.Light.Efficiency, half.Light.Efficiency, rounding)
	assert.True(t, half.Empty())
	assert.False(t, line.Empty())
	assert.True(t, slices.ContainsFunc(half.Notes, func(n options.Note) bool { return n.Sign == options.HalfEmpty }))
	option(t, o, "1 x F32T8/800 in half of the fixture's length on is-normal")
}

// Reduced-wattage lamps are not for rooms below 60 F: they are left out with the reason, and an existing one is shown as not allowed.
func TestColdRoom(t *testing.T) {
	warm := wholeHall(t)
	option(t, warm, "4 x F25T8 on is-normal")
	assert.True(t, slices.ContainsFunc(warm.List, func(p options.Option) bool { return p.From.Lamp.Name == "F96T12/ES" }))
	exact := hallOptions(t, options.Narrow{}, "interreflection = true", "interreflection = false", "ambient_temperature = 77.0", "ambient_temperature = 60.0")
	option(t, exact, "4 x F25T8 on is-normal")

	cold := hallOptions(t, options.Narrow{}, "interreflection = true", "interreflection = false", "ambient_temperature = 77.0", "ambient_temperature = 59.0", `lamp = "F96T12"`, `lamp = "F96T12/ES"`)
	for i := range cold.List {
		p := &cold.List[i]
		if name := p.From.Lamp.Name; p.Existing {
			assert.Equal(t, "the lamp is used at 15 °C (59 °F), below its least rated temperature of 16 °C (60 °F)", wording.Outside(p.NotAllowed))
			assert.False(t, p.Meets)
			assert.Equal(t, len(cold.List)-1, i, "last, for comparison")
			assert.False(t, p.May() || p.Front)
		} else {
			assert.NotContains(t, []string{"F96T12/ES", "F96T12/HO/ES", "F34T12", "F28T8", "F25T8"}, name)
			assert.Nil(t, p.NotAllowed)
		}
	}
	assert.Contains(t, wording.LeftOut(cold), "F96T12/ES, F96T12/HO/ES, F34T12, F28T8, F25T8: not below 60 °F, and the room has 59 °F")
}

// A job that asks for no level asks for no less light than before: the first row is not the darkest.
func TestNoCriteria(t *testing.T) {
	j := readHall(t, "interreflection = true", "interreflection = false")
	j.Criteria = nil
	o, err := options.Find(t.Context(), j, options.Narrow{}, nil)
	require.NoError(t, err)
	require.True(t, o.Met())
	assert.False(t, o.List[0].Darker)
	assert.Contains(t, wording.Options(o)[0], "not darker than the existing lighting (the job has no criteria)")
	assert.Len(t, wording.Options(o), 1)
}

// The first sentence is the first row, and what is darker or cannot be bought is followed by what is not.
func TestSentences(t *testing.T) {
	o := hallOptions(t, options.Narrow{NoLED: true}, "interreflection = true", "interreflection = false", "at_least = 20.0", "at_least = 12.0", "at_least = 8.0", "at_least = 4.0")
	require.True(t, o.List[0].Darker)
	s := wording.Options(o)
	require.Len(t, s, 2)
	assert.Contains(t, s[0], "Least energy that meets every criterion: "+wording.Option(&o.List[0]))
	assert.Contains(t, s[0], "percent less than the existing")
	assert.Contains(t, s[1], "Least energy of those that are not darker than the existing lighting: ")

	none := hallOptions(t, options.Narrow{}, "interreflection = true", "interreflection = false", "at_least = 20.0", "at_least = 500.0")
	assert.False(t, none.Met())
	require.Len(t, wording.Options(none), 2)
	assert.Contains(t, wording.Options(none)[0], `it misses "enough" (at least 500 fc required, `)
	brightest := slices.MaxFunc(none.List, func(a, b options.Option) int { return cmp.Compare(a.Average(), b.Average()) })
	assert.Equal(t, fmt.Sprintf(`No lamp and ballast of the list meets "enough" (at least 500 fc required, %s at best), nor does the existing lighting.`,
		none.Job.Light(brightest.Average())), wording.Options(none)[1])
	assert.Equal(t, wording.Option(&brightest), wording.Option(none.Nearest()), "a level out of reach still tells the nearer from the farther")

	old := hallOptions(t, options.Narrow{Lamps: []string{"T12"}}, "at_least = 20.0", "at_least = 5.0")
	assert.True(t, old.List[0].Ended())
	assert.Contains(t, wording.Options(old)[2], "None of those can still be bought.")
}

// The nearest misses the fewest criteria, not the one that is missed by least: a uniformity that the layout fixes, and no swap can change, is set aside
// and said, and does not make a row that meets all else as bad as one that misses that too.
func TestNearestMissesFewest(t *testing.T) {
	const even = "[[criteria]]\nname = \"as even\"\nstatistic = \"maximum_to_minimum\"\nat_most = 1.05\n"
	o := hallOptions(t, options.Narrow{}, "[energy]", even+"[energy]")
	require.False(t, o.Met())
	first := &o.List[0]
	assert.Equal(t, []bool{false, false, true}, o.Unmeetable)
	assert.True(t, first.MeetsRest && first.Verdicts[0].Met && first.Verdicts[1].Met && !first.Verdicts[2].Met)
	rest := wholeHall(t)
	assert.Equal(t, wording.Option(&rest.List[0]), wording.Option(first), "the choice is that of the job without the criterion")
	assert.Equal(t, rest.List[0].KW, first.KW)
	s := wording.Options(o)
	assert.Equal(t, "Nothing meets every criterion.", s[0])
	assert.Regexp(t, `^No lamp and ballast of the list meets "as even" \(at most 1.05 required, \S+ at best\), nor does the existing lighting. `+
		`More light or less does not change that ratio: where the luminaires hang decides it, and what stands in the room.$`, s[1])
	assert.Contains(t, s[2], "Least energy that meets every criterion that a swap can meet: "+wording.Option(first))
	assert.Equal(t, first, o.Nearest())
	assert.True(t, slices.ContainsFunc(o.List, func(p options.Option) bool { return p.Front && p.MeetsRest }))
	assert.False(t, slices.ContainsFunc(o.List, func(p options.Option) bool { return p.Front && !p.MeetsRest }))

	// What the existing lighting meets is never set aside, though no other row does; a few lamps are called what they are.
	kept := hallOptions(t, options.Narrow{Lamps: []string{"F28T8"}}, "[energy]", even+"[energy]", "at_least = 8.0", "at_least = 9.0",
		"interreflection = true", "interreflection = false")
	assert.Contains(t, strings.Join(wording.Options(kept), " "), `No lamp and ballast that was asked for meets "as even"`)
}

// Rows are in order of how many criteria they miss: in the rooms that users sent, the row called nearest missed three and others one.
func TestFewestMissedFirst(t *testing.T) {
	o := hallOptions(t, options.Narrow{}, "interreflection = true", "interreflection = false", "at_least = 20.0", "at_least = 32.0",
		"[energy]", "[[criteria]]\nname = \"lean\"\nstatistic = \"power_density\"\nat_most = 0.45\n[energy]")
	require.False(t, o.Met())
	before := 0
	for i := range o.List {
		missed := 0
		for _, v := range o.List[i].Verdicts {
			if !v.Met {
				missed++
			}
		}
		assert.GreaterOrEqual(t, missed, before)
		before = missed
	}
	assert.Greater(t, before, 1)
}

func TestNarrow(t *testing.T) {
	each := func(narrow options.Narrow, good func(*options.Option) bool, pairs ...string) {
		o := hallOptions(t, narrow, append([]string{"interreflection = true", "interreflection = false"}, pairs...)...)
		rows := 0
		for i := range o.List {
			if p := &o.List[i]; p.May() {
				rows++
				assert.True(t, good(p), wording.Option(p))
			} else {
				assert.True(t, p.Own(), wording.Option(p))
			}
		}
		assert.Positive(t, rows)
		assert.True(t, slices.ContainsFunc(o.List, func(p options.Option) bool { return p.Existing }))
		assert.True(t, slices.ContainsFunc(o.List, func(p options.Option) bool { return p.Proposed }))
	}
	each(options.Narrow{Lamps: []string{"f96"}}, func(p *options.Option) bool { return strings.HasPrefix(p.From.Lamp.Name, "F96") })
	each(options.Narrow{Counts: []int{1}}, func(p *options.Option) bool { return p.From.Lamps == 1 })
	each(options.Narrow{LED: true}, func(p *options.Option) bool { return p.From.Lamp.LED })
	if !longtest.On() {
		return // each of the rest works out all that there is
	}
	each(options.Narrow{NoLED: true}, func(p *options.Option) bool { return !p.From.Lamp.LED })
	each(options.Narrow{Ballasts: []string{"is-low", "none"}}, func(p *options.Option) bool { return p.From.Ballast.Kind == "is-low" || p.From.Lamp.LED })
	each(options.Narrow{LeastLight: 200}, func(p *options.Option) bool { return p.Average() >= 200 })
	each(options.Narrow{NotDarker: true}, func(p *options.Option) bool { return p.OfExisting >= 0.995 })
	buyable := func(p *options.Option) bool {
		return !strings.Contains(p.From.Lamp.Name, "T12") && p.From.Lamp.Name != "F32T8/700"
	}
	each(options.Narrow{Buyable: true}, buyable)
	// a state whose ban on sale has begun leaves LED tubes only
	each(options.Narrow{Buyable: true}, func(p *options.Option) bool { return p.From.Lamp.LED }, "units = ", "state = \"CA\"\ndate = 2026-03-01\nunits = ")
	each(options.Narrow{Buyable: true}, buyable, "units = ", "state = \"CA\"\ndate = 2024-03-01\nunits = ")
}

// A photometric file serves as many lamps of the same length; the existing cross-section serves the rest.
func TestPhotometricFiles(t *testing.T) {
	section := "fixture = \"strip-5in\"\nlamp = \"F32T8/800\"\nlamps = 4\nballast = \"is-normal\"\n"
	o := hallOptions(t, options.Narrow{}, "interreflection = true", "interreflection = false", section, "photometry = \"long.ies\"\nlamp = \"F96T8\"\nlamps = 2\nballast = \"is-normal\"\n")
	fixtures := map[string]int{}
	for i := range o.List {
		p := &o.List[i]
		fixtures[p.Fixture]++
		if p.Fixture == "long.ies" {
			assert.Equal(t, 2, p.From.Lamps)
			assert.InDelta(t, 2.4384, p.From.Lamp.NominalLength, 1e-9)
			other := p.From.Lamp.LED || strings.Contains(p.From.Lamp.Name, "T12")
			assert.Equal(t, other, slices.ContainsFunc(p.Notes, func(n options.Note) bool { return n.Sign == options.OfFile }), wording.Option(p))
		}
	}
	assert.Len(t, fixtures, 2)
	assert.Greater(t, fixtures["strip-5in"], fixtures["long.ies"])
	assert.Contains(t, wording.LeftOut(o), "long.ies: a photometric file serves 2 lamps of 96 in only: other numbers and lengths need a cross-section")

	// lamps that are not named are told by their lumens
	unnamed := hallOptions(t, options.Narrow{}, "interreflection = true", "interreflection = false", section, "photometry = \"long.ies\"\nlamps = 4\nlamp_lumens = 2800.0\nballast_factor = 0.88\ninput_watts = 112.0\n")
	assert.Contains(t, strings.Join(wording.LeftOut(unnamed), "\n"), "4 lamps of 48 in only: other numbers and lengths need a cross-section (lamps of 48 in, told by the lit length and 2,800 lm a lamp)")

	for text, why := range map[string]string{
		"photometry = \"whole.ies\"\n": "whole.ies: absolute photometry, of the luminaire as a whole, cannot serve other lamps: they need a cross-section",
		"photometry = \"two.ies\"\n":   "two.ies: nothing tells what lamps it was photometered with: name a lamp of the list, or give a cross-section",
	} {
		assert.Contains(t, wording.LeftOut(hallOptions(t, options.Narrow{LED: true}, "interreflection = true", "interreflection = false", section, text)), why)
	}
}

// What the job states of a lamp holds for that lamp, of its temperature for its family; dirt holds for all in the fixture.
func TestStatedLossesOfOptions(t *testing.T) {
	o := hallOptions(t, options.Narrow{}, "interreflection = true", "interreflection = false", "[upkeep]", "[proposed.losses]\nlamp_lumen_depreciation = 0.8\ntemperature = 0.7\nluminaire_dirt_depreciation = 0.6\n[upkeep]")
	for name, want := range map[string][3]float64{
		"4 x F32T8/800 on is-normal":           {0.8, 0.7, 0.6},
		"4 x F32T8/800 on is-low":              {0.8, 0.7, 0.6},
		"4 x F32T8/HL on is-low":               {2915.0 / 3100, 0.7, 0.6},
		"4 x F28T8 on is-low":                  {0.94, 1, 0.6},
		"2 x LED-8FT-40W-B without ballast":    {math.Pow(0.7, 0.4), 1, 0.6},
		"2 x LED-8FT-48W-R17D without ballast": {math.Pow(0.7, 0.4), 1, 0.6},
	} {
		f := option(t, o, name).Light.Losses
		got := [3]float64{f.LampLumenDepreciation.Value, f.Temperature.Value, f.LuminaireDirtDepreciation.Value}
		for i := range want {
			assert.InEpsilon(t, want[i], got[i], rounding, "%s, factor %d", name, i)
		}
	}
	points := hallOptions(t, options.Narrow{NoLED: true}, "interreflection = true", "interreflection = false", "ambient_temperature = 77.0", "ambient_temperature = 63.5",
		"[upkeep]", "temperature_points = [[50.0, 0.5], [77.0, 1.0]]\n[upkeep]")
	assert.InEpsilon(t, 0.75, option(t, points, "2 x F32T8/HL on is-low").Light.Losses.Temperature.Value, 1e-9, "half way")
	estimate := option(t, points, "2 x F96T8 on is-normal")
	assert.Greater(t, estimate.Light.Losses.Temperature.Value, 0.8)
	assert.True(t, slices.ContainsFunc(estimate.Notes, func(n options.Note) bool { return n.Sign == options.FarFromRating }))
	total := hallOptions(t, options.Narrow{}, "interreflection = true", "interreflection = false", "[upkeep]", "[proposed.losses]\ntotal = 0.44\n[upkeep]")
	assert.InEpsilon(t, 0.44, option(t, total, "4 x F32T8/800 on is-normal").Light.Losses.Total(), rounding)
	assert.InEpsilon(t, 0.44*0.78/0.88, option(t, total, "4 x F32T8/800 on is-low").Light.Losses.Total(), rounding, "the ballast factor is in it")
	other := option(t, total, "4 x F32T8/HL on is-low")
	assert.Nil(t, other.Light.Losses.TotalOverride)
	assert.True(t, slices.ContainsFunc(other.Notes, func(n options.Note) bool { return n.Sign == options.TotalForAnother }))
}

// The third way is a row of its own, which can be the choice.
func TestReplacementIsAnOption(t *testing.T) {
	o := hallOptions(t, options.Narrow{LED: true}, "interreflection = true", "interreflection = false", "[upkeep]",
		"[replacement]\nphotometry = \"whole.ies\"\ninput_watts = 10.0\n[upkeep]")
	at := slices.IndexFunc(o.List, func(p options.Option) bool { return p.Replacement })
	require.GreaterOrEqual(t, at, 0)
	p := &o.List[at]
	assert.Equal(t, "the luminaire as a whole", wording.Option(p))
	assert.True(t, p.Outside, "it is no LED tube that one could name")
	r, err := study.Run(t.Context(), o.Job, nil)
	require.NoError(t, err)
	assert.InEpsilon(t, r.Sides[2].Grids[0].Statistics.Average, p.Average(), single)
	assert.InEpsilon(t, 0.12, p.KW, rounding)
}

// Luminaires on emergency power are judged row by row too.
func TestOptionsOnThePathOut(t *testing.T) {
	for _, packs := range []string{"", "pack_lumens = 1400.0\n", "light_share = 0.4\npacks = [[3, 1400.0], [8, 11.0]]\n"} {
		o := hallOptions(t, options.Narrow{Lamps: []string{"F32T8"}, Counts: []int{4}}, "[upkeep]",
			"[[grids]]\nname = \"path\"\narea = [0.0, 15.0, 60.0, 21.0]\nheight = 0.0\nspacing = 3.0\n[egress]\ngrid = \"path\"\nluminaires = [1, 6, 11]\n"+packs+"[upkeep]")
		r, err := study.Run(t.Context(), o.Job, nil)
		require.NoError(t, err)
		p, low := option(t, o, "4 x F32T8/800 on is-normal"), option(t, o, "4 x F32T8/800 on is-low")
		require.Len(t, p.Light.Grids, 3)
		require.True(t, p.Light.Grids[2].Emergency)
		assert.InEpsilon(t, r.Proposed().Grids[2].Statistics.Average, p.Light.Grids[2].Statistics.Average, single)
		for i, v := range r.Verdicts {
			assert.Equal(t, v.Proposed().Met, p.Verdicts[i].Met, v.Name)
		}
		r.Job.Proposed = low.From
		typed, err := study.Run(t.Context(), r.Job, nil)
		require.NoError(t, err)
		assert.InEpsilon(t, typed.Proposed().Grids[2].Statistics.Average, low.Light.Grids[2].Statistics.Average, single, "%q", packs)
		if packs == "pack_lumens = 1400.0\n" {
			kept := low.Light.Kept() / p.Light.Kept()
			assert.InEpsilon(t, p.Light.Grids[2].Statistics.Average*kept, low.Light.Grids[2].Statistics.Average, single, "a pack gives the same light to all lamps")
		}
	}
}

func TestOptionsOfTheSameJobAreTheSame(t *testing.T) {
	text := func() string {
		var all strings.Builder
		o := hallOptions(t, options.Narrow{Lamps: []string{"T8"}})
		for i := range o.List {
			p := &o.List[i]
			fmt.Fprintln(&all, wording.Option(p), p.Average(), p.Minimum(), p.KW, p.Front, p.Notes)
		}
		return all.String()
	}
	assert.Equal(t, text(), text())
}

// A job that was read with a shelf takes the cross-sections of its options from there: the second time none is worked out, nor is any changed.
func TestOptionsOfAShelf(t *testing.T) {
	kept := job.NewShelf(64 << 20)
	text := bay.Replaced(t, hall, "interreflection = true", "interreflection = false")
	found := func(shelf *job.Shelf) (averages []float64) {
		j, err := shelf.Read("hall.toml", []byte(text), nil)
		require.NoError(t, err)
		o, err := options.Find(t.Context(), j, options.Narrow{Lamps: []string{"F96"}}, nil)
		require.NoError(t, err)
		for i := range o.List {
			averages = append(averages, o.List[i].Average())
		}
		return averages
	}
	worked := func() int { asked, found := kept.Counts(); return asked - found }
	first, once := found(kept), worked()
	assert.Equal(t, first, found(kept))
	assert.Equal(t, once, worked())
	assert.Equal(t, first, found(nil))
	assert.Greater(t, once, 3)
}

func TestOptionsCancelledAndProgress(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	solves := 0
	o, err := options.Find(ctx, readHall(t), options.Narrow{LED: true}, func(step string, part float64) {
		if step == "light of each distribution" {
			solves++
			assert.True(t, part > 0 && part <= 1)
		}
	})
	require.NoError(t, err)
	assert.Equal(t, o.Solves, solves)
	cancel()
	_, err = options.Find(ctx, readHall(t), options.Narrow{}, nil)
	require.ErrorIs(t, err, context.Canceled)
}
