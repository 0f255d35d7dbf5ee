package study_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/cavity"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/study"
)

// The effects multiply to the whole change of the maintained average, by their definition; rounding 1e-12.
func TestEffectsMultiplyToTheWholeChange(t *testing.T) {
	system := func(luminaires int, lumens, efficiency, cu, ballast, other float64) lighting.System {
		f := losses.Defaults()
		f.BallastFactor, f.LampLumenDepreciation = losses.Given(ballast), losses.Given(other)
		return lighting.System{Luminaires: luminaires, LampLumensEach: lumens, Efficiency: efficiency, Losses: f,
			LumenMethod: lighting.LumenMethod{Result: cavity.Result{CoefficientOfUtilization: cu},
				MaintainedAverage: float64(luminaires) * lumens * cu * ballast * other / 100}}
	}
	r := study.Lit(&job.Job{}, system(40, 12000, 0.875, 0.574, 0.94, 0.885), system(36, 11800, 0.912, 0.596, 0.88, 0.94))
	e := r.Effects()
	assert.InEpsilon(t, r.Proposed().LumenMethod.MaintainedAverage/r.Existing().LumenMethod.MaintainedAverage, e.Whole(), 1e-12)
	assert.InEpsilon(t, 0.912/0.875, e.Efficiency, 1e-12)
	assert.InEpsilon(t, 1, study.Lit(&job.Job{}, *r.Existing().System, *r.Existing().System).Effects().Whole(), 1e-12)
}
