package cover_test

import (
	"math/bits"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"go.uber.org/goleak"
	"pgregory.net/rapid"

	"lampswap/photometry/internal/cover"
)

// No test leaves a goroutine behind.
func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

func one(kind int, energy, money int64) cover.Way {
	return cover.Way{Kinds: [2]int{kind, kind}, Price: cover.Price{energy, money}}
}

func two(a, b int, energy int64) cover.Way {
	return cover.Way{Kinds: [2]int{a, b}, Price: cover.Price{energy, 0}}
}

// By hand: kind 0 is dear and serves all; 1 and 2 are cheap and serve one each. One kind is fewer than two.
func TestOneForAll(t *testing.T) {
	kinds, ways := cover.Fewest([][]cover.Way{{one(1, 5, 0), one(0, 9, 0)}, {one(0, 9, 0), one(2, 5, 0)}})
	assert.Equal(t, []int{0}, kinds)
	assert.Equal(t, []int{1, 0}, ways)
}

// By hand: where energy is equal money counts, then the lower number.
func TestTies(t *testing.T) {
	kinds, _ := cover.Fewest([][]cover.Way{{one(0, 9, 3), one(1, 9, 2), one(2, 9, 2)}})
	assert.Equal(t, []int{1}, kinds)
	kinds, ways := cover.Fewest(nil)
	assert.Empty(t, kinds)
	assert.Empty(t, ways)
}

// By hand: two fixtures in one room take two kinds; a kind that stands in both rooms saves a third.
func TestTwoTogether(t *testing.T) {
	kinds, ways := cover.Fewest([][]cover.Way{{two(0, 1, 4), two(0, 2, 5)}, {one(2, 3, 0), one(3, 1, 0)}})
	assert.Equal(t, []int{0, 2}, kinds)
	assert.Equal(t, []int{1, 0}, ways)
}

// priceOf is the price of a set of kinds; all is false where it does not serve every need.
func priceOf(needs [][]cover.Way, set uint) (sum cover.Price, all bool) {
	for _, need := range needs {
		at := cover.Cheapest(need, func(w cover.Way) bool { return set>>w.Kinds[0]&1 == 1 && set>>w.Kinds[1]&1 == 1 })
		if at < 0 {
			return sum, false
		}
		sum[0], sum[1] = sum[0]+need[at].Price[0], sum[1]+need[at].Price[1]
	}
	return sum, true
}

// Against all choices of up to ten kinds, one by one.
func TestAgainstAllChoices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 10).Draw(t, "kinds")
		kind := rapid.IntRange(0, n-1)
		way := rapid.Custom(func(t *rapid.T) cover.Way {
			w := one(kind.Draw(t, "kind"), int64(rapid.IntRange(0, 9).Draw(t, "energy")), int64(rapid.IntRange(0, 3).Draw(t, "money")))
			if rapid.IntRange(0, 2).Draw(t, "pair") == 0 {
				w.Kinds[1] = kind.Draw(t, "other")
			}
			return w
		})
		needs := rapid.SliceOfN(rapid.SliceOfN(way, 1, 6), 1, 6).Draw(t, "needs")
		kinds, ways := cover.Fewest(needs)
		number, best := n+1, cover.Price{}
		for set := range uint(1) << n {
			sum, all := priceOf(needs, set)
			if size := bits.OnesCount(set); all && (size < number || size == number && sum.Less(best)) {
				number, best = size, sum
			}
		}
		price := cover.Price{}
		for i, at := range ways {
			w := needs[i][at]
			price[0], price[1] = price[0]+w.Price[0], price[1]+w.Price[1]
			if !slices.Contains(kinds, w.Kinds[0]) || !slices.Contains(kinds, w.Kinds[1]) {
				t.Fatalf("need %d takes a kind that is not chosen", i)
			}
		}
		if len(kinds) != number || price != best {
			t.Fatalf("%v at %v, want %d kinds at %v", kinds, price, number, best)
		}
		most := rapid.IntRange(1, n).Draw(t, "most")
		least, found := cover.Price{}, false
		for set := range uint(1) << n {
			if sum, all := priceOf(needs, set); all && bits.OnesCount(set) <= most && (!found || sum.Less(least)) {
				least, found = sum, true
			}
		}
		kinds, ways = cover.AtMost(needs, most)
		price = cover.Price{}
		for i, at := range ways {
			price[0], price[1] = price[0]+needs[i][at].Price[0], price[1]+needs[i][at].Price[1]
		}
		if found != (kinds != nil) || found && (len(kinds) > most || price != least) {
			t.Fatalf("of at most %d %v at %v, want %v", most, kinds, price, least)
		}
	})
}
