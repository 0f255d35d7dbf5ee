package study_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/wording"
)

// In an ordinary empty room the two methods confirm each other; nothing is warned of then.
func TestCrossCheckOfARoom(t *testing.T) {
	r := run(t, "interreflection = false", "interreflection = true")
	for _, s := range []lighting.System{*r.Existing().System, *r.Proposed().System} {
		apart := s.LumenMethod.MaintainedAverage/s.Grids[0].Statistics.Average - 1
		t.Logf("lumen method %+.1f percent from the point method", 100*apart)
		assert.True(t, -0.10 < apart && apart < 0.05, "%v", apart)
	}
	require.Len(t, wording.Methods(r), 2)
	assert.Contains(t, wording.Methods(r)[0], "existing: lumen method ")
	assert.Contains(t, wording.Methods(r)[1], "the two confirm each other")
	assert.Empty(t, wording.Warnings(r))
	require.NotNil(t, r.Existing().Balance)
	assert.InEpsilon(t, 24*4000*0.9*r.Existing().Efficiency, r.Existing().Balance.Emitted, 1e-6)
}

// The lumen method may read up to 10 percent low or 5 percent high; beyond, the sentence says so.
func TestCrossCheckLimits(t *testing.T) {
	for _, c := range []struct {
		lumen   float64 // against 100 lx point by point
		confirm bool
		percent string
	}{{90.1, true, "9.9"}, {89.9, false, "10.1"}, {100, true, "0.0"}, {104.9, true, "4.9"}, {105.1, false, "5.1"}} {
		r := judged(false, 100, 100)
		r.Job.Interreflection = true
		r.Job.Existing.Layout = job.Layout{Rows: 1}
		r.Existing().LumenMethod.MaintainedAverage = c.lumen
		require.Len(t, wording.Methods(r), 1, "the proposed luminaires hang at explicit positions")
		words := map[bool]string{true: "confirm each other", false: "do NOT confirm each other"}[c.confirm]
		assert.Equal(t, "existing: lumen method "+r.Job.Light(c.lumen)+", point by point 100 lx; the two "+words+" ("+c.percent+" percent apart)", wording.Methods(r)[0])
	}
}

// Racks, and light that is left out, make the two incomparable.
func TestNoCrossCheck(t *testing.T) {
	assert.Empty(t, wording.Methods(run(t)))
	racks := run(t, "interreflection = false", "interreflection = true", "spacing = 0.5", "spacing = 2.0",
		"[calculation]", "[[racks]]\ncorner = [4, 4]\nsize = [8, 1, 2]\nreflectance = 0.3\n[calculation]")
	assert.Empty(t, wording.Methods(racks))
}
