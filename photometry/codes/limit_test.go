package codes

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
)

func limit(t *testing.T, id string) Limit {
	t.Helper()
	l, ok := Find(id)
	require.True(t, ok, id)
	return l
}

func TestEveryLimitIsWhole(t *testing.T) {
	require.Len(t, Limits(), 93)
	ids := map[string]bool{}
	for _, l := range Limits() {
		assert.False(t, ids[l.ID], "%s: id taken", l.ID)
		ids[l.ID] = true
		assert.Equal(t, l, limit(t, strings.ToUpper(l.ID)))
		assert.True(t, l.WPerFt2 > 0.2 && l.WPerFt2 < 2, l.ID)
		assert.Contains(t, []string{"building area", "space by space"}, l.Method)
		assert.Contains(t, l.Caveat(), "binds where this edition is adopted")
		assert.Equal(t, l.FromMemory(), strings.Contains(l.Source, "from memory"), l.ID)
		assert.Equal(t, l.FromMemory(), strings.Contains(l.Caveat(), "from memory, unverified"), l.ID)
		if !l.FromMemory() {
			assert.NotContains(t, strings.TrimSuffix(strings.Split(l.Citation(), ";")[0], "(table number from memory, unverified)"), "memory", l.ID)
		}
		assert.Contains(t, Editions(), l.Edition())
	}
	_, ok := Find("ashrae901-2050-area-warehouse")
	assert.False(t, ok)
}

// W/ft2: PNNL Building Energy Standards Data, release of 24 October 2024; building areas of 1989 to 2001 from a NEMA public page.
// What is from memory, unverified, says so. NaN: the edition has no such row, or none was found.
func TestLimitsAsPublished(t *testing.T) {
	none := math.NaN()
	const area, bulky, fine = "Warehouse", "Warehouse storage, medium to bulky items", "Warehouse storage, fine or smaller items"
	const storage, dock = "Storage", "Loading dock, interior"
	spaces := []string{area, bulky, fine, storage, dock}
	memory := map[string][]string{
		"ashrae-90.1-1999": {bulky, fine}, "ashrae-90.1-2001": {bulky, fine}, "iecc-2024": {area, bulky, fine},
	}
	for edition, want := range map[string][5]float64{
		"ashrae-90.1-1989": {1.03, none, none, none, none},
		"ashrae-90.1-1999": {1.2, 1.1, 1.6, none, none},
		"ashrae-90.1-2001": {1.2, 1.1, 1.6, none, none},
		"ashrae-90.1-2004": {0.8, 0.9, 1.4, none, none},
		"ashrae-90.1-2007": {0.8, 0.9, 1.4, none, none},
		"ashrae-90.1-2010": {0.66, 0.58, 0.95, 0.63, none},
		"ashrae-90.1-2013": {0.66, 0.58, 0.95, none, 0.47},
		"ashrae-90.1-2016": {0.48, 0.35, 0.69, none, 0.58},
		"ashrae-90.1-2019": {0.45, 0.33, 0.69, none, 0.88},
		"ashrae-90.1-2022": {0.45, 0.33, 0.69, none, 0.87},
		"iecc-2006":        {0.8, none, none, none, none},
		"iecc-2009":        {0.8, none, none, none, none},
		"iecc-2012":        {0.6, 0.6, 1.4, 0.8, none},
		"iecc-2015":        {0.66, 0.58, 0.95, 0.63, 0.47},
		"iecc-2018":        {0.48, 0.35, 0.69, 0.46, 0.58},
		"iecc-2021":        {0.45, 0.33, 0.69, 0.38, 0.88},
		"iecc-2024":        {0.45, 0.33, 0.69, none, none},
	} {
		rows := LimitsFor(edition)
		require.NotEmpty(t, rows, edition)
		for i, space := range spaces {
			got := none
			for _, l := range rows {
				if l.Space == space {
					got = l.WPerFt2
					assert.Equal(t, space == area, l.Method == "building area")
					inMemory := false
					for _, s := range memory[edition] {
						inMemory = inMemory || s == space
					}
					assert.Equal(t, inMemory, l.FromMemory(), "%s %s", edition, space)
				}
			}
			if math.IsNaN(want[i]) {
				assert.True(t, math.IsNaN(got), "%s %s", edition, space)
			} else {
				assert.Equal(t, want[i], got, "%s %s", edition, space)
			}
		}
	}
	assert.Len(t, Editions(), 18) // and the Washington code of unknown edition
}

func TestEditionsByAnyOfTheirNames(t *testing.T) {
	for words, want := range map[string]string{
		"ashrae-90.1-2019": "ashrae-90.1-2019", "ASHRAE 90.1-2019": "ashrae-90.1-2019", " 90.1 2019 ": "ashrae-90.1-2019",
		"IECC 2021":                            "iecc-2021",
		"washington-local-energy-code-unknown": "washington-local-energy-code-unknown",
	} {
		id, ok := FindEdition(words)
		assert.True(t, ok, words)
		assert.Equal(t, want, id)
	}
	for _, words := range []string{"", "2019", "ashrae-90.1", "iecc-2019", "90.1-2020"} {
		_, ok := FindEdition(words)
		assert.False(t, ok, words)
		assert.Empty(t, LimitsFor(words))
		assert.Empty(t, WhenAltered(words))
	}
}

// 0.8 W/ft2 is printed as 9 W/m2 in the SI edition of 90.1-2007 (our notes on the standard): 8.6 W/m2 meets the limit as printed
// here, 8.7 does not.
func TestLimitsAreTestedInWattsPerSquareFoot(t *testing.T) {
	l := limit(t, "ashrae901-2007-area-warehouse")
	assert.InDelta(t, 8.611, l.WattsPerSquareMetre(), 0.0005) // print
	assert.InDelta(t, 10.764, WPerFt2FromSI(10.764)*photometry.Footcandle, 1e-12)
	assert.InDelta(t, 1, WPerFt2FromSI(10.7639104167), 1e-10) // print: square feet in a square metre, 10.7639104167
	assert.True(t, l.Met(8.6))
	assert.True(t, l.Met(l.WattsPerSquareMetre()), "the limit itself")
	assert.False(t, l.Met(8.7))
	assert.Equal(t, "ASHRAE 90.1-2007, building area method: Warehouse", l.Label())
	assert.Equal(t, "ASHRAE 90.1-2007, table 9.5.1; "+
		"PNNL Building Energy Standards Data (public data set), release of 24 October 2024", l.Citation())
	assert.Contains(t, l.Caveat(), "SI edition prints 9 W/m2")
	assert.Contains(t, l.Caveat(), "check the adopted code itself")
}

func TestWhatIsFromMemorySaysSo(t *testing.T) {
	assert.Contains(t, limit(t, "ashrae901-1999-area-warehouse").Citation(), "table 9.3.1.1 (table number from memory, unverified)")
	assert.Contains(t, limit(t, "iecc-2024-area-warehouse").Caveat(), "of low confidence")
	washington := limit(t, "washington-local-unknown-area-warehouse")
	assert.Equal(t, "Washington local energy code, edition unknown, building area method: Warehouse", washington.Label())
	assert.Contains(t, washington.Caveat(), "second-hand")
}

func TestWhenAltered(t *testing.T) {
	ids := func(edition string) (all []string) {
		for _, a := range WhenAltered(edition) {
			all = append(all, a.ID)
			assert.NotEmpty(t, a.Source)
		}
		return all
	}
	// More than half of the luminaires to about 2009: seen. Ten percent later: from memory, unverified.
	assert.Equal(t, []string{"adoption", "half"}, ids("ashrae-90.1-2007"))
	assert.Equal(t, []string{"adoption", "half"}, ids("iecc-2009"))
	assert.Equal(t, []string{"adoption", "tenth"}, ids("iecc-2021"))
	assert.Equal(t, []string{"adoption", "tenth"}, ids("ashrae-90.1-2022"))
	assert.Equal(t, []string{"adoption", "tenth", "controls-2019"}, ids("ashrae-90.1-2019"))
	assert.Equal(t, []string{"adoption"}, ids("washington-local-energy-code-unknown"))
	assert.True(t, WhenAltered("iecc-2021")[1].FromMemory())
}
