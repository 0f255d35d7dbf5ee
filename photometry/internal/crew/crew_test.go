package crew_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"lampswap/photometry/internal/crew"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

func Example() {
	defer func() {
		fault := recover().(*crew.Panic)
		fmt.Println("caught:", fault.Value)
	}()
	var group crew.Group
	group.Go(func() error { panic("row 7 has no lamp") })
	fmt.Println(group.Wait())
	// Output: caught: row 7 has no lamp
}

var errWrong = errors.New("wrong")

func TestAnErrorEndsTheOthers(t *testing.T) {
	group, ctx := crew.WithContext(t.Context())
	group.Go(func() error { return errWrong })
	group.Go(func() error {
		<-ctx.Done()
		return ctx.Err()
	})
	require.ErrorIs(t, group.Wait(), errWrong)
	assert.ErrorIs(t, context.Cause(ctx), errWrong)
}

func TestAPanicEndsTheOthersAndIsToldWithItsPlace(t *testing.T) {
	group, ctx := crew.WithContext(t.Context())
	group.SetLimit(2)
	group.Go(func() error { panic(errWrong) })
	group.Go(func() error {
		<-ctx.Done()
		return ctx.Err()
	})
	defer func() {
		fault, ok := recover().(*crew.Panic)
		require.True(t, ok)
		assert.Equal(t, errWrong, fault.Value)
		assert.Contains(t, fault.Error(), "crew_test.go")
	}()
	_ = group.Wait()
	t.Fatal("Wait returned")
}

// A group within a group hands on the fault as it was.
func TestAPanicPassesThroughGroups(t *testing.T) {
	var outer crew.Group
	outer.Go(func() error {
		var inner crew.Group
		inner.Go(func() error { panic("deep") })
		return inner.Wait()
	})
	defer func() { assert.Equal(t, "deep", recover().(*crew.Panic).Value) }()
	_ = outer.Wait()
	t.Fatal("Wait returned")
}

func TestAllWell(t *testing.T) {
	group, ctx := crew.WithContext(t.Context())
	sum := make([]int, 4)
	for i := range sum {
		group.Go(func() error { sum[i] = i; return nil })
	}
	require.NoError(t, group.Wait())
	assert.Equal(t, []int{0, 1, 2, 3}, sum)
	assert.Error(t, ctx.Err(), "the context ends with the group")
}
