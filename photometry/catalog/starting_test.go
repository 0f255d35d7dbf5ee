package catalog

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryBallastHasItsStarting(t *testing.T) {
	require.Len(t, startings(), 2)
	count := map[string]int{}
	for _, l := range Lamps() {
		for n := 1; n <= 4; n++ {
			for _, b := range BallastsFor(l, n) {
				s, ok := b.Starting()
				assert.Equal(t, b.Kind != KindNone, ok, "%s: %s", b.Name, b.Description)
				if ok {
					count[s.Technology]++
					assert.NotEmpty(t, s.Source)
				}
			}
		}
	}
	assert.Positive(t, count["electronic"])
	assert.Positive(t, count["magnetic"])
}

// Public ballast pages, seen: some electronic ballasts start from 0 F (-18 C), others from 50 F (10 C).
func TestStartingAsPublished(t *testing.T) {
	b, ok := FindBallast(find(t, "F32T8/800"), 4, "ps-low")
	require.True(t, ok)
	electronic, ok := b.Starting()
	require.True(t, ok)
	assert.InDelta(t, -18, electronic.FromCelsiusLow, 0.5, "print: -18 °C") // exact: -17.8
	assert.InDelta(t, 10, electronic.FromCelsiusHigh, 1e-12)                // rounding
	b, ok = FindBallast(find(t, "F96T12"), 2, "magnetic")
	require.True(t, ok)
	magnetic, ok := b.Starting()
	require.True(t, ok)
	assert.True(t, math.IsNaN(magnetic.FromCelsiusLow) && math.IsNaN(magnetic.FromCelsiusHigh), "no figure was found: %v", magnetic)
}
