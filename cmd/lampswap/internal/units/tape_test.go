package units

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry"
)

func TestTape(t *testing.T) {
	feet, meters := Units{System: "imperial"}, Units{System: "metric"}
	for foot, want := range map[float64]string{0: `0' 0"`, 6.225393700787401: `6' 3"`, 11.99: `12' 0"`, 0.04: `0' 0"`, -1.25: `-1' 3"`, 120: `120' 0"`} {
		assert.Equal(t, want, feet.Tape(foot*photometry.Foot), "%v ft", foot)
	}
	assert.Equal(t, "1.90 m", meters.Tape(1.8975))
}
