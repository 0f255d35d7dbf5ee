package memo_test

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/memo"
)

func key(text string) memo.Key { return sha256.Sum256([]byte(text)) }

func Example() {
	kept := memo.New[int](1 << 20)
	for range 2 {
		squared, err := kept.Get(context.Background(), key("7 squared"), func() (int, int64, error) {
			fmt.Println("working")
			return 49, 8, nil
		})
		fmt.Println(squared, err)
	}
	// Output:
	// working
	// 49 <nil>
	// 49 <nil>
}

func TestSeveralAtOnceWorkOnce(t *testing.T) {
	kept := memo.New[string](1 << 10)
	var works atomic.Int32
	var group sync.WaitGroup
	for range 20 {
		group.Go(func() {
			value, err := kept.Get(t.Context(), key("a"), func() (string, int64, error) {
				works.Add(1)
				return "done", 4, nil
			})
			assert.NoError(t, err)
			assert.Equal(t, "done", value)
		})
	}
	group.Wait()
	assert.EqualValues(t, 1, works.Load())
	asked, found := kept.Counts()
	assert.Equal(t, []int{20, 19}, []int{asked, found})
}

// How often is each of the keys worked out, asked for in turn?
func works(t *testing.T, kept *memo.Cache[int], bytes int64, keys ...string) int {
	t.Helper()
	n := 0
	for _, k := range keys {
		_, err := kept.Get(t.Context(), key(k), func() (int, int64, error) { n++; return n, bytes, nil })
		require.NoError(t, err)
	}
	return n
}

func TestTheBoundHolds(t *testing.T) {
	kept := memo.New[int](400)
	assert.Equal(t, 4, works(t, kept, 100, "a", "b", "c", "d"))
	assert.Equal(t, 0, works(t, kept, 100, "a"), "all four fit")
	assert.Equal(t, 1, works(t, kept, 100, "e"))
	assert.Equal(t, 0, works(t, kept, 100, "a", "c", "d", "e"))
	assert.Equal(t, 1, works(t, kept, 100, "b"), "it was not asked for longest")
	assert.Equal(t, 2, works(t, kept, 101, "large", "large"), "more than a quarter of the bound is not kept")
	assert.Equal(t, 0, works(t, kept, 100, "c", "d", "e", "b"), "and pushes nothing out")
}

func TestAnErrorIsNotKept(t *testing.T) {
	kept := memo.New[int](400)
	wrong := errors.New("wrong")
	_, err := kept.Get(t.Context(), key("a"), func() (int, int64, error) { return 0, 0, wrong })
	require.ErrorIs(t, err, wrong)
	assert.Equal(t, 1, works(t, kept, 1, "a"))
	assert.Panics(t, func() { _, _ = kept.Get(t.Context(), key("b"), func() (int, int64, error) { panic("fault") }) })
	assert.Equal(t, 1, works(t, kept, 1, "b"), "a panic leaves nobody waiting")
}

func TestWhoWaitsMayGiveUp(t *testing.T) {
	kept := memo.New[int](400)
	started, end := make(chan struct{}), make(chan struct{})
	var group sync.WaitGroup
	group.Go(func() {
		_, err := kept.Get(context.Background(), key("a"), func() (int, int64, error) {
			close(started)
			<-end
			return 1, 1, nil
		})
		assert.NoError(t, err)
	})
	<-started
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := kept.Get(ctx, key("a"), nil)
	require.ErrorIs(t, err, context.Canceled)
	close(end)
	group.Wait()
}

func TestNilKeepsNothing(t *testing.T) {
	assert.Equal(t, 2, works(t, nil, 1, "a", "a"))
	asked, found := (*memo.Cache[int])(nil).Counts()
	assert.Zero(t, asked+found)
}

// What was made on the way to another is kept as if it had been asked for, unless it is there already; it counts in the bound.
func TestPut(t *testing.T) {
	kept := memo.New[string](100)
	kept.Put(key("a"), "a", 10)
	kept.Put(key("a"), "other", 10)
	assert.True(t, kept.Has(key("a")))
	assert.False(t, kept.Has(key("b")))
	got, err := kept.Get(t.Context(), key("a"), func() (string, int64, error) { return "made", 10, nil })
	require.NoError(t, err)
	assert.Equal(t, "a", got)
	asked, found := kept.Counts()
	assert.Equal(t, []int{1, 1}, []int{asked, found}, "nobody asked for what was put there")
	kept.Put(key("large"), "large", 50)
	assert.False(t, kept.Has(key("large")), "more than a quarter of the bound")
	var none *memo.Cache[string]
	none.Put(key("a"), "a", 1)
	assert.False(t, none.Has(key("a")))
}
