package crew_test

import (
	"context"
	"errors"
	"runtime"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/crew"
)

func TestEach(t *testing.T) {
	for _, n := range []int{0, 1, 63, 64, 65, 1000} {
		for _, chunk := range []int{1, 64} {
			done, last := make([]atomic.Int32, n), 0.0
			told := func(part float64) {
				require.Greater(t, part, last)
				last = part
			}
			require.NoError(t, crew.Each(t.Context(), n, chunk, told, func() func(i int) { return func(i int) { done[i].Add(1) } }))
			for i := range done {
				require.EqualValues(t, 1, done[i].Load(), "%d of %d", i, n)
			}
			require.LessOrEqual(t, last, 1.0)
		}
	}
}

func TestEachStops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	var count atomic.Int32
	err := crew.Each(ctx, 1_000_000, 1, nil, func() func(i int) {
		return func(int) {
			cancel()
			count.Add(1)
		}
	})
	require.ErrorIs(t, err, context.Canceled)
	require.LessOrEqual(t, int(count.Load()), runtime.GOMAXPROCS(0), "one of each worker")
	require.PanicsWithError(t, "crew: what", func() {
		defer func() {
			fault := recover().(*crew.Panic)
			panic(fault.Value)
		}()
		_ = crew.Each(t.Context(), 3, 1, nil, func() func(i int) { return func(int) { panic(errWhat) } })
	})
}

var errWhat = errors.New("crew: what")
