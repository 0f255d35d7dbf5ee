package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A bound of 10 percent read as rectangular.
func TestStationMethod(t *testing.T) {
	assert.InDelta(t, 5.77, 100*StationMethod().Standard(), 0.005, "print")
	assert.Contains(t, StationMethod().Source, "from memory, unverified")
}
