package workshop

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

func TestWorkshopWorksOnFewJobsAtOnce(t *testing.T) {
	w := New()
	var leaves []func()
	for range mostAtWork {
		leave, err := w.Enter(t.Context())
		require.NoError(t, err)
		leaves = append(leaves, leave)
	}
	gone, cancel := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer cancel()
	_, err := w.Enter(gone)
	require.ErrorIs(t, err, context.DeadlineExceeded, "no bench is free")
	waiting, stop := context.WithCancel(t.Context())
	waited := make(chan error, mostWaiting)
	for range mostWaiting {
		go func() {
			_, err := w.Enter(waiting)
			waited <- err
		}()
	}
	require.Eventually(t, func() bool { return len(w.queue) == mostAtWork+mostWaiting }, 5*time.Second, time.Millisecond)
	_, err = w.Enter(t.Context())
	require.ErrorIs(t, err, ErrBusy, "the queue is full")
	stop()
	for range mostWaiting {
		require.ErrorIs(t, <-waited, context.Canceled)
	}
	leaves[0]()
	leave, err := w.Enter(t.Context())
	require.NoError(t, err, "a bench is free again")
	leave()
}

func TestWorkshopRemembersAnswers(t *testing.T) {
	w := New()
	for i := range 3 * mostRemembered {
		w.remember(&Answer{Key: [32]byte{byte(i)}})
	}
	assert.Len(t, w.last, mostRemembered)
	assert.Nil(t, w.recall([32]byte{0}), "the oldest is forgotten")
	last := [32]byte{byte(3*mostRemembered - 1)}
	assert.NotNil(t, w.recall(last))
}

// Whoever changes a price or a lamp waits for no light that is there already, and finds what is found without it, to the bit.
func TestWorkshopWorksLightOutOnce(t *testing.T) {
	text, err := jobs.Demo.ReadFile(jobs.DemoJob)
	require.NoError(t, err)
	files := func(name string) ([]byte, error) { return jobs.Demo.ReadFile("demo/" + name) }
	changed := strings.NewReplacer("price_per_kwh = 0.12", "price_per_kwh = 0.2", `"F32T8/800"`, `"F32T8/700"`, "interreflection = true", "interreflection = false").Replace(string(text))
	w := New()
	for i, text := range []string{strings.Replace(string(text), "interreflection = true", "interreflection = false", 1), changed} {
		a, err := w.Do(t.Context(), [32]byte{byte(i)}, "demo.toml", text, files)
		require.NoError(t, err)
		require.NotNil(t, a.Result)
		j, err := job.Read("demo.toml", []byte(text), files)
		require.NoError(t, err)
		alone, err := study.Run(t.Context(), j, nil)
		require.NoError(t, err)
		for k, side := range alone.Sides {
			other := a.Result.Sides[k]
			for g := range side.Grids {
				assert.True(t, slices.Equal(side.Grids[g].Maintained, other.Grids[g].Maintained), "%s, grid %d", side.Name, g)
			}
			assert.True(t, slices.Equal(alone.Years[k].Light, a.Result.Years[k].Light), side.Name)
		}
		asked, found := w.light.Counts()
		assert.Equal(t, []int{2 * (i + 1), 2 * i}, []int{asked, found}, "light that was asked for and that was there")
	}
}

func TestWorkStopsThatNobodyWaitsFor(t *testing.T) {
	text, err := jobs.Demo.ReadFile(jobs.DemoJob)
	require.NoError(t, err)
	w := New()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err = w.Do(ctx, [32]byte{1}, "demo.toml", string(text), func(name string) ([]byte, error) { return jobs.Demo.ReadFile("demo/" + name) })
	require.ErrorIs(t, err, context.Canceled)
	assert.Nil(t, w.recall([32]byte{1}), "half an answer is not remembered")
}
