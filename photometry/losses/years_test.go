package losses

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// hall is a clean hall with 4-ft T8 lamps (public data sheet, seen) that are replaced after 4 years and cleaned every second year.
func hall() Course {
	return Course{
		HoursPerYear: 4000, InitialLumens: 2950, MeanLumens: 2773, RatedLifeHours: 24000, RelampHours: 16000,
		Category: CategoryIII, Atmosphere: Clean, CleanYears: 2, Distribution: SemiDirect, RoomCavityRatio: 2.5, ConstantShare: 0.88,
	}
}

// factors are those that a job computes for the end of both cycles.
func factors(c Course) Factors {
	f := Defaults()
	f.BallastFactor = Given(c.ConstantShare)
	f.LampLumenDepreciation = LampLumenDepreciation(c.InitialLumens, c.MeanLumens, c.L70, Basis{At: End}.Age(c.RatedLifeHours, c.RelampHours))
	f.LuminaireDirtDepreciation = LuminaireDirt(c.Category, c.Atmosphere, c.CleanYears)
	f.RoomSurfaceDirtDepreciation = RoomSurfaceDirt(c.Distribution, c.Atmosphere, c.CleanYears, c.RoomCavityRatio)
	return f
}

const rounding = 1e-12

func TestGroupCourseByHand(t *testing.T) {
	c := hall()
	assert.Equal(t, c.ConstantShare, c.Kept(0))
	// A year on: 4,000 of 9,600 h, so 0.94^√(1/2.4); category III, clean, exp(-0.106).
	want := 0.88 * math.Pow(2773.0/2950, math.Sqrt(1/2.4)) * math.Exp(-0.106) * RoomSurfaceDirt(SemiDirect, Clean, 1, 2.5).Value
	assert.InEpsilon(t, want, c.Kept(1), rounding)
	// Three years on the lamps have burnt for 12,000 h, the dirt is a year old.
	want *= math.Pow(2773.0/2950, math.Sqrt(3/2.4)-math.Sqrt(1/2.4))
	assert.InEpsilon(t, want, c.Kept(3), rounding)
	// Just after relamping and cleaning all is new.
	assert.InEpsilon(t, 0.88, c.Kept(4), rounding)
	assert.InEpsilon(t, factors(c).Total(), c.KeptBefore(4), rounding)
	assert.InEpsilon(t, c.Kept(1.5), c.KeptBefore(1.5), rounding, "between works both are one")
	assert.InEpsilon(t, 0.88, factors(c).Constant(), rounding)
}

func draw(t *rapid.T) (c Course, unit float64) {
	unit = rapid.Float64Range(0.1, 1).Draw(t, "unit")
	hours := rapid.Float64Range(500, 8784).Draw(t, "hours")
	c = Course{
		HoursPerYear: hours, InitialLumens: 3000, MeanLumens: rapid.Float64Range(2100, 2990).Draw(t, "mean"),
		RatedLifeHours: rapid.Float64Range(5000, 60000).Draw(t, "life"), L70: rapid.Bool().Draw(t, "LED"),
		RelampHours: hours * unit * float64(rapid.IntRange(1, 6).Draw(t, "relamp")),
		Category:    categories.Draw(t, "category"), Atmosphere: atmospheres.Draw(t, "atmosphere"),
		CleanYears: unit * float64(rapid.IntRange(1, 6).Draw(t, "clean")), Distribution: distributions.Draw(t, "distribution"),
		RoomCavityRatio: rapid.Float64Range(0.5, 11).Draw(t, "ratio"), ConstantShare: rapid.Float64Range(0.4, 1.3).Draw(t, "constant"),
	}
	return c, unit
}

// The product of the job's factors is the least light of the common cycle, at its end, and never undercut.
func TestLowestOfGroupRelampingIsTheMaintained(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, unit := draw(t)
		common := 60 * unit // a multiple of 1 to 6 units
		total := factors(c).Total()
		lowest := c.Lowest(common)
		require.InEpsilon(t, total, lowest.Kept, 1e-11) // rounding of times
		require.InEpsilon(t, total, c.KeptBefore(common), 1e-11)
		require.InEpsilon(t, c.ConstantShare, c.Kept(common), 1e-11)
		years := rapid.Float64Range(0, 200).Draw(t, "years")
		require.GreaterOrEqual(t, c.Kept(years), total*(1-1e-11))
		require.LessOrEqual(t, c.Kept(years), c.ConstantShare*(1+rounding))
		_, falls := c.FirstBelow(total, 10*common)
		require.False(t, falls, "what is just met is met")
		at, falls := c.FirstBelow(total*(1+1e-9), common)
		require.True(t, falls)
		require.InEpsilon(t, lowest.Years, at, 1e-6)
	})
}

func TestSeriesHasSharpTeeth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, unit := draw(t)
		c.Replacement = rapid.SampledFrom([]Replacement{Group, GroupOnly, Spot}).Draw(t, "replacement")
		c.L70 = c.L70 && c.Replacement != Spot // its teeth are those of the L70 life
		horizon := unit * rapid.Float64Range(0.1, 30).Draw(t, "horizon")
		series := c.Series(horizon, unit/3)
		require.Equal(t, Moment{0, c.Kept(0)}, series[0])
		require.Equal(t, horizon, series[len(series)-1].Years)
		for i, m := range series[1:] {
			before := series[i]
			require.GreaterOrEqual(t, m.Years, before.Years)
			require.LessOrEqual(t, m.Years-before.Years, unit/3*(1+1e-9))
			if m.Years == before.Years {
				require.GreaterOrEqual(t, m.Kept, before.Kept, "work lets the light rise")
				require.InEpsilon(t, c.KeptBefore(m.Years), before.Kept, 1e-9) // times of works that nearly fall together
				require.InEpsilon(t, c.Kept(m.Years), m.Kept, 1e-9)
			} else if c.Replacement != Spot {
				require.LessOrEqual(t, m.Kept, before.Kept, "without work it falls")
			}
		}
		teeth := 0
		for i := range series[1:] {
			if series[i].Years == series[i+1].Years {
				teeth++
			}
		}
		works := map[int]bool{} // in units
		for n := 1; float64(n)*unit < horizon*(1-1e-9); n++ {
			of := func(period float64) bool { return n%int(math.Round(period/unit)) == 0 }
			if of(c.CleanYears) || c.Replacement != Spot && of(c.RelampHours/c.HoursPerYear) {
				works[n] = true
			}
		}
		require.Equal(t, len(works), teeth)
	})
	assert.Equal(t, []Moment{{0, 0.88}}, hall().Series(0, 1))
}

func TestFirstBelowInClosedForm(t *testing.T) {
	noDirt := func(c Course) Course { c.DirtShare, c.RoomSurfaceShare = 1, 1; return c }
	fluorescent := noDirt(hall())
	led := fluorescent
	led.L70, led.RatedLifeHours, led.RelampHours = true, 50000, 0
	dirt := hall()
	dirt.LampShare, dirt.RoomSurfaceShare, dirt.CleanYears = 1, 1, 20
	for _, c := range []struct {
		name           string
		course         Course
		required, want float64
	}{
		{"(mean / initial)^√(t / 2.4 y) = r", fluorescent, 0.93 * 0.88, 2.4 * math.Pow(math.Log(0.93)/math.Log(2773.0/2950), 2)},
		{"0.7^(t / 12.5 y) = r", led, 0.8 * 0.88, 12.5 * math.Log(0.8) / math.Log(0.7)},
		{"exp(-0.106 t^0.7) = r", dirt, 0.75 * 0.88, math.Pow(-math.Log(0.75)/0.106, 1/0.7)},
	} {
		years, ok := c.course.FirstBelow(c.required, 20)
		require.True(t, ok, c.name)
		assert.InEpsilon(t, c.want, years, 1e-10, c.name) // rounding of the share, over its slope
	}
	years, ok := hall().FirstBelow(0.9, 20)
	assert.True(t, ok)
	assert.Zero(t, years, "too dark from the first day")
	_, ok = led.FirstBelow(0.69*0.88, 100)
	assert.False(t, ok, "replaced at 70 percent")
	assert.Equal(t, Moment{12.5, 0.7 * 0.88}, Moment{led.Lowest(30).Years, math.Round(led.Lowest(30).Kept*1e12) / 1e12})
}

// Whatever the course: at the time found it is met just before and not just after, and met at every earlier time.
func TestFirstBelowIsTheFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, unit := draw(t)
		c.Replacement = rapid.SampledFrom([]Replacement{Group, GroupOnly, Spot}).Draw(t, "replacement")
		if rapid.Bool().Draw(t, "no dirt") {
			c.DirtShare, c.RoomSurfaceShare = 0.9, 0.95
		}
		horizon := 12 * unit
		lowest := c.Lowest(horizon)
		required := lowest.Kept + rapid.Float64Range(-0.2, 1).Draw(t, "required")*(c.Kept(0)-lowest.Kept)
		years, ok := c.FirstBelow(required, horizon)
		if !ok {
			require.LessOrEqual(t, required, lowest.Kept*(1+1e-9))
			for range 10 {
				require.GreaterOrEqual(t, c.KeptBefore(rapid.Float64Range(0, horizon).Draw(t, "met")), required*(1-1e-9))
			}
			return
		}
		require.GreaterOrEqual(t, required, lowest.Kept*(1-1e-9))
		require.InDelta(t, required, c.KeptBefore(years), 1e-9*required+1e-6*math.Abs(c.KeptBefore(years)-c.Kept(0)), "at a root, or at the first day")
		for range 10 {
			require.GreaterOrEqual(t, c.KeptBefore(years*rapid.Float64Range(0, 1).Draw(t, "earlier")), required*(1-1e-9))
		}
	})
}

// Lamps replaced one by one go in waves: the dip of the first is found though it lies between steps, however little is asked.
func TestSpotDipIsFoundBetweenSteps(t *testing.T) {
	c := hall()
	c.Replacement, c.RelampHours, c.DirtShare, c.RoomSurfaceShare, c.ConstantShare = Spot, 0, 1, 1, 1
	lowest := c.Lowest(40)
	fine := Moment{0, 1}
	for years := 0.0; years < 13; years += 0.005 {
		if kept := c.Kept(years); kept < fine.Kept {
			fine = Moment{years, kept}
		}
	}
	t.Logf("least light %.6f at %.3f years of a life of 6; in the long run %.6f", lowest.Kept, lowest.Years, c.Kept(1000))
	assert.InDelta(t, fine.Years, lowest.Years, 0.005)
	assert.LessOrEqual(t, lowest.Kept, fine.Kept)
	assert.InDelta(t, fine.Kept, lowest.Kept, 1e-6) // a step off the bottom of the dip
	years, ok := c.FirstBelow(lowest.Kept+1e-9, 40)
	require.True(t, ok)
	assert.InDelta(t, lowest.Years, years, 0.01)
	assert.Less(t, years, lowest.Years)
	_, ok = c.FirstBelow(lowest.Kept-1e-9, 40)
	assert.False(t, ok)
	assert.Less(t, lowest.Kept, c.Kept(1000), "the first wave is the deepest")
}

func TestGroupOnlyLeavesFailedLampsDark(t *testing.T) {
	c := hall()
	c.Replacement, c.RelampHours = GroupOnly, 24000
	group := c
	group.Replacement = Group
	assert.InEpsilon(t, 0.5, c.KeptBefore(6)/group.KeptBefore(6), 1e-6) // half have failed at rated life, by its definition; lives below 0 divided out
	assert.InEpsilon(t, group.Kept(6), c.Kept(6), rounding)
	c.LampShare, group.LampShare = 0.9, 0.9
	assert.InEpsilon(t, 0.5, c.KeptBefore(6)/group.KeptBefore(6), 1e-6, "a given depreciation does not keep lamps alive")
}

// What is given, or not known, is held; what is known still works.
func TestWhatIsHeld(t *testing.T) {
	same := func(c Course, want float64) {
		t.Helper()
		for _, years := range []float64{0, 0.7, 4, 13} {
			assert.InEpsilon(t, want, c.Kept(years), rounding)
			assert.InEpsilon(t, want, c.KeptBefore(years), rounding)
		}
		_, ok := c.FirstBelow(want, 30)
		assert.False(t, ok)
	}
	noDirt := hall()
	noDirt.CleanYears = 0
	lamp := noDirt
	lamp.LampShare = 0.9
	same(lamp, 0.88*0.9)
	lamp.Replacement = Spot
	same(lamp, 0.88*0.9)
	life := noDirt
	life.RatedLifeHours = 0
	same(life, 0.88*2773/2950)
	unknown := noDirt
	unknown.MeanLumens = 0
	same(unknown, 0.88)
	off := noDirt
	off.HoursPerYear = 0
	same(off, 0.88)
	daily := noDirt
	daily.RelampHours = 1e-9
	assert.InEpsilon(t, 0.88, daily.Kept(3), 1e-6)
	assert.Len(t, daily.Series(1, 0.5), 3)
	total := Course{TotalShareOverride: 0.6, ConstantShare: 0}
	same(total, 0.6)
	given := hall()
	given.DirtShare, given.RoomSurfaceShare, given.Category, given.Distribution = 0.8, 0.9, 0, 0
	assert.InEpsilon(t, 0.88*0.8*0.9, given.Kept(2*4), rounding)
	assert.Len(t, given.Series(3.9, 10), 2, "a cleaning that changes nothing is no tooth")
}

func TestCoursePanicsOnWrongCode(t *testing.T) {
	for i, change := range []func(*Course){
		func(c *Course) { c.HoursPerYear = -1 }, func(c *Course) { c.CleanYears = nan }, func(c *Course) { c.ConstantShare = 0 },
		func(c *Course) { c.Replacement = 3 }, func(c *Course) { c.Category = 0 }, func(c *Course) { c.Distribution = 9 }, func(c *Course) { c.Atmosphere = 0 },
	} {
		c := hall()
		change(&c)
		assert.Panics(t, func() { c.Kept(1) }, "%d", i)
	}
	assert.Panics(t, func() { hall().Kept(-1) })
	assert.Panics(t, func() { hall().Series(1, 0) })
	assert.Panics(t, func() { hall().FirstBelow(nan, 1) })
	assert.Panics(t, func() { hall().Lowest(0) })
}

func BenchmarkFirstBelow(b *testing.B) {
	for name, replacement := range map[string]Replacement{"group": Group, "spot": Spot} {
		b.Run(name, func(b *testing.B) {
			c := hall()
			c.Replacement = replacement
			b.ReportAllocs()
			for b.Loop() {
				c.FirstBelow(0.5, 20)
			}
		})
	}
}
