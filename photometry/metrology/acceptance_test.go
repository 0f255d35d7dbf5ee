package metrology

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// By hand: of 10 with 3 marked, 4 drawn hold none with C(7,4)/C(10,4) = 35/210 = 1/6, and at most one with (35 + 3 · 35)/210 = 2/3.
func TestDrawn(t *testing.T) {
	assert.InDelta(t, 1.0/6, Drawn(10, 3, 4, 0), 1e-12)
	assert.InDelta(t, 2.0/3, Drawn(10, 3, 4, 1), 1e-12)
	assert.InDelta(t, 5.0/6, Seen(10, 3, 4), 1e-12)
	assert.Equal(t, 1.0, Drawn(10, 0, 4, 0))
	assert.InDelta(t, 1, Seen(10, 1, 10), 1e-12)
	assert.Equal(t, 4, DrawnToSee(10, 3, 0.8), "three leave 7/24 unseen, four 1/6")
	assert.Equal(t, 10, DrawnToSee(10, 0, 0.5))
	assert.PanicsWithValue(t, errDrawn, func() { Drawn(3, 4, 1, 0) })
}

// The probabilities of all numbers add to one, and drawing more sees no less.
func TestDrawnLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 400).Draw(t, "population")
		marked, drawn := rapid.IntRange(0, n).Draw(t, "marked"), rapid.IntRange(0, n-1).Draw(t, "drawn")
		assert.InDelta(t, 1, Drawn(n, marked, drawn, n), 1e-9)
		assert.GreaterOrEqual(t, Seen(n, marked, drawn+1), Seen(n, marked, drawn)-1e-9)
		assert.InDelta(t, Drawn(n, marked, drawn, 2), Drawn(n, drawn, marked, 2), 1e-9, "marks and draws change places")
		assert.False(t, math.IsNaN(Drawn(n, marked, drawn, 0)))
	})
}

// By hand of 20 rooms: 2 bad, none good; 13 read leave C(7,2)/C(20,2) = 21/190 = 11.1 percent, 14 leave 15/190 = 7.9.
func TestAcceptanceOf(t *testing.T) {
	a := AcceptanceOf(20)
	assert.Equal(t, Acceptance{Population: 20, Read: 14, Bad: 2, Refused: 0, Accepted: a.Accepted}, Acceptance{a.Population, a.Read, a.May, a.Good, a.Bad, math.Round(a.Refused), a.Accepted})
	assert.InDelta(t, 15.0/190, a.Accepted, 1e-9)
	two := AcceptanceOf(2)
	assert.Equal(t, 2, two.Read, "of two rooms both")
	assert.PanicsWithValue(t, errAcceptance, func() { AcceptanceOf(1) })
	for n := 2; n <= 600; n += 7 {
		a := AcceptanceOf(n)
		assert.LessOrEqual(t, a.Accepted, mostAccepted, "%d", n)
		assert.LessOrEqual(t, a.Refused, mostRefused, "%d", n)
		assert.LessOrEqual(t, a.Read, n)
		if a.Read > a.May+1 && a.Read < n {
			assert.Greater(t, Drawn(n, a.Bad, a.Read-1, a.May), mostAccepted, "%d: no more than needed", n)
		}
	}
}
