package study_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

func TestCancelled(t *testing.T) {
	j := run(t).Job
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := study.Run(ctx, j, nil)
	require.ErrorIs(t, err, context.Canceled)
	_, err = study.RunWith(ctx, j, lighting.NewCache(1<<20))
	require.ErrorIs(t, err, context.Canceled)
}

// A result is the same, to the bit, whether its light was kept or not.
func TestRunWithACache(t *testing.T) {
	cache := lighting.NewCache(64 << 20)
	want, err := study.Run(t.Context(), bay.Job(t, still, bounces, upkeep, priced+upkeep), nil)
	require.NoError(t, err)
	for range 2 {
		got, err := study.RunWith(t.Context(), want.Job, cache)
		require.NoError(t, err)
		assert.Equal(t, fmt.Sprint(want.Sides[1].Grids), fmt.Sprint(got.Sides[1].Grids))
		assert.Equal(t, want.LifeCycle.Ways[1].Plan, got.LifeCycle.Ways[1].Plan)
		assert.Equal(t, wording.Warnings(want), wording.Warnings(got))
		assert.Equal(t, wording.Verdict(want), wording.Verdict(got))
	}
	asked, found := cache.Counts()
	assert.Equal(t, []int{4, 3}, []int{asked, found})
}
