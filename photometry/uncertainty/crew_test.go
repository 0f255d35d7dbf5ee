package uncertainty

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/crew"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
)

// A panic in the goroutine of a block of samples becomes one of whoever asked for them, who can catch it.
func TestAPanicOfASampleReachesTheCaller(t *testing.T) {
	defer func() {
		fault, ok := recover().(*crew.Panic)
		require.True(t, ok)
		assert.Equal(t, "no such lamp", fault.Value)
	}()
	parallel(4, func(int, int) { panic("no such lamp") })
	t.Fatal("it was lost")
}

// Work on the criteria stops when nobody waits for it: a million samples of thousands of them take hours.
func TestSidesStop(t *testing.T) {
	m := oneSide()
	m.job = &job.Job{Criteria: []levels.Criterion{{Statistic: levels.Average, AtLeast: true}}}
	m.job.Uncertainty.Confidence = 0.95
	drawn := m.draw(1, 1000)
	before := drawn.values(m, 0, workPlaneAverage)
	_, err := m.side(t.Context(), 0, drawn, before)
	require.NoError(t, err)
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	_, err = m.side(gone, 0, drawn, before)
	require.ErrorIs(t, err, context.Canceled)
}
