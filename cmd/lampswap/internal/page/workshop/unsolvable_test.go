package workshop

import (
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/interreflect"
	"lampswap/photometry/lighting"
)

// What lies in a job is said to who wrote it; all else is lampswap's own fault.
func TestUnsolvable(t *testing.T) {
	assert.True(t, Unsolvable(fmt.Errorf("day: %w", &lighting.ImbalanceError{Emitted: 0.2, Absorbed: 0.1978})))
	assert.True(t, Unsolvable(interreflect.ErrEndless))
	assert.True(t, Unsolvable(&interreflect.MemoryError{}))
	assert.False(t, Unsolvable(errors.New("a fault")))
	assert.False(t, Unsolvable(nil))
}
