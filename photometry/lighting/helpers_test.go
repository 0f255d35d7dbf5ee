package lighting_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
)

const (
	rounding = bay.Rounding
	single   = bay.Single
	upkeep   = bay.Upkeep
)

const bounces, still = "interreflection = true", "interreflection = false"

// both are the two systems of a job.
type both struct {
	Job                *job.Job
	Existing, Proposed lighting.System
}

// run works out the light of the bay with pairs of old and new replaced.
func run(tb testing.TB, pairs ...string) both {
	tb.Helper()
	return solved(tb, bay.Job(tb, pairs...))
}

func solved(tb testing.TB, j *job.Job) both {
	tb.Helper()
	space, err := lighting.NewSpace(tb.Context(), j, interreflect.Options{})
	require.NoError(tb, err)
	return in(tb, space, j)
}

func in(tb testing.TB, space *lighting.Space, j *job.Job) both {
	tb.Helper()
	existing, err := space.Solve(tb.Context(), &j.Existing)
	require.NoError(tb, err)
	proposed, err := space.Solve(tb.Context(), &j.Proposed)
	require.NoError(tb, err)
	return both{j, existing, proposed}
}
