package ledger

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/options"
	"lampswap/photometry/spaces"
	"lampswap/photometry/study"
)

func TestEffectsInWords(t *testing.T) {
	e := study.Effects{Number: 0.9, LampLumens: 0.983, BallastFactor: 0.936, Efficiency: 1.042, Distribution: 0.996, Time: 1.062}
	assert.Equal(t, "number of luminaires -10.0 percent, lamp lumens -1.7 percent, ballast factor -6.4 percent, luminaire efficiency +4.2 percent, "+
		"distribution -0.4 percent, losses over time +6.2 percent; together -8.7 percent maintained, by the lumen method", effects(e, false))
	assert.Contains(t, effects(e, true), "by the lumen method, no racks")
	assert.Equal(t, "nothing changes the light", effects(study.Effects{Number: 1, LampLumens: 1, BallastFactor: 1, Efficiency: 1, Distribution: 1, Time: 1}, false))
	assert.Equal(t, "lamp lumens from next to none before", effects(study.Effects{Number: 1, LampLumens: 1e7, BallastFactor: 1, Efficiency: 1, Distribution: 1, Time: 1}, false))
}

func TestPowerLimitsInWords(t *testing.T) {
	warehouse, ok := spaces.Find("warehouse-bulky")
	require.True(t, ok)
	of := func(imperial bool) []string {
		return PowerLimits(study.Lit(&job.Job{Imperial: imperial, Facts: job.Facts{State: "WA"}, Space: &warehouse}, lighting.System{}, lighting.System{PowerDensity: 5}))
	}
	all := of(true)
	require.Len(t, all, 5, "two methods of two codes, and one state's")
	assert.Contains(t, all[0], "ASHRAE 90.1, warehouse as a whole building, W/ft2: the proposed 0.46 W/ft2 meets 1989 (1.03)")
	assert.Contains(t, all[0], "; exceeds 2019 (0.45)")
	assert.Contains(t, all[1], "ASHRAE 90.1, warehouse storage, medium to bulky items, space by space, W/ft2: ")
	assert.Contains(t, of(false)[0], "ASHRAE 90.1, warehouse as a whole building, W/m2 (and as published W/ft2): the proposed 5.00 W/m2 meets 1989 (11.09; 1.03)")
	assert.Empty(t, PowerLimits(study.Lit(&job.Job{Imperial: true}, lighting.System{}, lighting.System{PowerDensity: 5})), "no kind of space, no limit")
}

func TestBelowInWords(t *testing.T) {
	lease := levels.Criterion{Name: "lease", Grid: "work plane"}
	at := func(years ...float64) study.Years {
		y := study.Years{Name: "proposed", Horizon: 15}
		for _, x := range years {
			y.Below = append(y.Below, study.Below{Criterion: lease, Years: x})
		}
		return y
	}
	assert.Equal(t, []string{"proposed: average of work plane is below what \"lease\" requires from the first day"}, below(at(0)))
	assert.Equal(t, []string{"proposed: average of work plane first falls below what \"lease\" requires after 18 months"}, below(at(1.5)))
	assert.Equal(t, []string{"proposed: average of work plane first falls below what \"lease\" requires after 4.2 years"}, below(at(4.2)))
	assert.Equal(t, []string{`proposed: in 15 years does not fall below what is required by "lease" (average of work plane)`}, below(at(math.NaN())))
	assert.Len(t, below(at(math.NaN(), 4.2)), 2, "what is kept, and what is not")
	assert.Empty(t, below(at()), "nothing is asked")
}

func TestMarginInWords(t *testing.T) {
	least, most := levels.Criterion{Required: 100, Unit: levels.Lux, AtLeast: true}, levels.Criterion{Required: 100, Unit: levels.Lux}
	for _, c := range []struct {
		criterion levels.Criterion
		reached   float64
		want      string
	}{{least, 112, ", 12 percent to spare"}, {least, 90, ", 10 percent short"}, {least, 2000, ", over 1,000 percent to spare"}, {least, math.NaN(), ""},
		{least, 99.96, ", 0.04 percent short"}, {least, 100, ", 0 percent to spare"}, {least, 100 - 1e-10, ", 0 percent to spare"}, {least, 99.4, ", 0.6 percent short"},
		{most, 90, ", 10 percent to spare"}, {most, 150, ", 50 percent over"}, {most, 1200, ", more than ten times that"}} {
		assert.Equal(t, c.want, Margin(study.Verdict{Criterion: c.criterion, By: []study.Reached{{}, {Value: c.reached, Met: c.criterion.Met(c.reached)}}}), "%v lx", c.reached)
	}
	assert.Empty(t, Margin(study.Verdict{Criterion: least, By: []study.Reached{{}, {Value: 112}}}), "of light that is not known there is none")
}

func TestPartsOfTheList(t *testing.T) {
	asked := &options.Options{Job: &job.Job{Criteria: []levels.Criterion{{}}}}
	free := &options.Options{Job: &job.Job{}}
	assert.Equal(t, "meets every criterion", OptionPart(asked, &options.Option{Meets: true}))
	assert.Equal(t, "misses a criterion", OptionPart(asked, &options.Option{}))
	assert.Equal(t, "for comparison", OptionPart(asked, &options.Option{Meets: true, Outside: true}))
	assert.Equal(t, "for comparison", OptionPart(free, &options.Option{NotAllowed: &losses.Outside{}}))
	assert.Equal(t, "is darker than the existing lighting", OptionPart(free, &options.Option{}))
}
