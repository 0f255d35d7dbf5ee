package levels

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
)

func find(t *testing.T, id string) Level {
	t.Helper()
	level, ok := Find(id)
	require.True(t, ok, id)
	return level
}

func TestEveryRowIsWhole(t *testing.T) {
	require.Len(t, Levels(), 126)
	ids := map[string]bool{}
	for _, l := range Levels() {
		t.Run(l.ID, func(t *testing.T) {
			assert.False(t, ids[l.ID], "id taken")
			ids[l.ID] = true
			assert.NotEmpty(t, l.Source)
			assert.Contains(t, []string{"law", "model code (law where adopted)", "consensus standard", "recommendation", "contract requirement", "workplace rule"}, l.LegalStatus)
			assert.Contains(t, []string{"current", "superseded", "edition not stated on page"}, l.Currency)
			for _, confidence := range []string{l.Confidence, l.RestConfidence} {
				assert.Contains(t, []string{"seen", "seen-secondhand", "memory-moderate", "memory-low"}, confidence)
			}
			if l.Statistic.Ratio() {
				assert.True(t, math.IsNaN(l.ValueFC) && math.IsNaN(l.ValueLux))
			} else {
				assert.True(t, l.ValueFC > 0 && l.ValueFC <= 100 || l.ValueLux > 0 && l.ValueLux <= 1000)
			}
			if !math.IsNaN(l.ValueFC) && !math.IsNaN(l.ValueLux) { // publishers round 10.76 to 10, 10.8 or 11
				assert.InEpsilon(t, photometry.Footcandle, l.ValueLux/l.ValueFC, 0.08)
			}
			if l.SeenIn == "" {
				assert.True(t, l.FromMemory(), "a row that was seen says where")
			}
			if l.LegalStatus == "law" {
				assert.NotEmpty(t, l.AppliesTo, "a law says whom it binds")
			}
			if l.Group != l.ID {
				_, clash := ids[l.Group]
				assert.False(t, clash, "a group is named as a row")
			}
			for _, imperial := range []bool{true, false} {
				for _, c := range l.Criteria(imperial) {
					assert.Equal(t, l.ID, c.Level)
					assert.True(t, c.Required > 0 && !math.IsInf(c.Required, 0))
					assert.Equal(t, c.Statistic.Ratio(), c.Unit == Ratio)
					assert.Equal(t, !c.Statistic.Ratio(), c.AtLeast)
					assert.NotEmpty(t, c.Name)
					assert.NotEmpty(t, c.Source)
					assert.Empty(t, c.Grid)
				}
			}
			assert.NotEmpty(t, l.Criteria(true))
		})
	}
}

// The rows that matter most, against their published tables. Secondhand and memory rows are marked, and are so in the table.
func TestLevelsAsPublished(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		id         string
		fc, lux    float64
		statistic  Statistic
		confidence string
		source     string
	}{
		{"warehouse-inactive", 5, 50, Average, "seen-secondhand", "IESNA Lighting Handbook, 9th ed., category B, quoted by a public lighting information page"},
		{"warehouse-active-bulky", 10, 100, Average, "seen-secondhand", "same, category C"},
		{"warehouse-active-small", 30, 300, Average, "seen-secondhand", "same, category D"},
		{"shipping-receiving", 30, 300, Average, "seen-secondhand", "same, category D"},
		{"ies9-category-e", 50, 500, Average, "seen", "category scale of the 9th ed. in a public design specification"},
		{"osha1926-warehouse", 5, nan, Minimum, "seen", "29 CFR 1926.56(a), Table D-3, OSHA public page"},
		{"osha1926-outdoor-storage", 3, nan, Minimum, "seen", "29 CFR 1926.56(a), Table D-3"},
		{"osha1915-landside-work", 10, nan, Minimum, "seen", "29 CFR 1915.82, Table F-1, OSHA public page"},
		{"osha1917-active", 5, nan, Average, "seen", "29 CFR 1917.123(a)(1), OSHA public page"},
		{"osha1910-truck-aux", 2, nan, Minimum, "seen", "29 CFR 1910.178(h)(2), public safety pages"},
		{"osha1910-exit-sign", 5, 54, Minimum, "seen", "29 CFR 1910.37(b)(6), public safety pages"},
		{"ca3317-warehouse", 1, nan, Minimum, "seen", "8 CCR 3317, Table IL-1, state agency page"},
		{"ca3317-shop", 5, nan, Minimum, "seen", "8 CCR 3317: the agency page has 5.0, a third-party copy misprints 3.0"},
		{"ca1523-warehouse", 5, nan, Minimum, "seen", "8 CCR 1523, state agency page"},
		{"wa-indoor-task-average", 10, nan, Average, "seen", "WAC 296-800-21005, public copy"},
		{"wa-indoor-task-minimum", 5, nan, Minimum, "seen", "WAC 296-800-21005"},
		{"wa-nontask-minimum", 1.5, nan, Minimum, "seen", "WAC 296-800-21005"},
		{"fmr-storage", 10, nan, Average, "seen", "41 CFR 102-74.180, public copy"},
		{"em385-rack-storage", 25, 270, Minimum, "seen-secondhand", "EM 385-1-1, Table 7-1, public training page"},
		{"ibc-emergency-average", 1, 11, Average, "seen", "International Building Code 1008.3.5, 2021, public copy of a city code"},
		{"ibc-emergency-minimum", 0.1, 1, Minimum, "seen", "International Building Code 1008.3.5"},
		{"nfpa101-emergency-minimum", 0.1, 1.1, Minimum, "seen", "NFPA 101, 7.9.2.1, public page quoting the section"},
		{"sll-rack-face", nan, 200, Average, "seen", "SLL/CIBSE Lighting Guide 1, 2012, public page reproducing the table"},
		{"en2011-store", nan, 100, Average, "seen", "EN 12464-1:2011, level on public pages; uniformity memory, unverified"},
		{"en2021-rack-face", nan, 75, Average, "memory-low", "EN 12464-1:2021, from memory, unverified"},
		{"iso8995-stairs", nan, 150, Average, "seen", "ISO 8995:2002, public scan"},
	} {
		l := find(t, c.id)
		same := func(want, got float64) bool { return want == got || math.IsNaN(want) && math.IsNaN(got) }
		assert.True(t, same(c.fc, l.ValueFC) && same(c.lux, l.ValueLux), "%s: %v fc, %v lx; %s", c.id, l.ValueFC, l.ValueLux, c.source)
		assert.Equal(t, c.statistic, l.Statistic, c.id)
		assert.Equal(t, c.confidence, l.Confidence, c.id)
	}
}

func TestAGroupAsksForAllItsRows(t *testing.T) {
	// WAC 296-800-21005: 10 fc average and no single reading under 5 fc (seen).
	task := find(t, "wa-indoor-task")
	require.Len(t, task.Criteria(false), 2)
	average, minimum := task.Criteria(false)[0], task.Criteria(false)[1]
	assert.Equal(t, Average, average.Statistic)
	assert.Equal(t, Minimum, minimum.Statistic)
	assert.Equal(t, []float64{10, 5}, []float64{average.Required, minimum.Required})
	assert.Equal(t, Footcandles, average.Unit, "published in fc only, so tested in fc even where the job is metric")
	assert.Equal(t, "wa-indoor-task-minimum", minimum.Level)
	assert.Len(t, find(t, "wa-indoor-task-average").Criteria(true), 1)

	// International Building Code 1008.3.5, 2021: 1 fc average, 0.1 fc at any point, maximum over minimum at most 40 (seen).
	egress := find(t, "ibc-emergency").Criteria(true)
	require.Len(t, egress, 3)
	assert.Equal(t, MaximumToMinimum, egress[2].Statistic)
	assert.Equal(t, 40.0, egress[2].Required)
	assert.Equal(t, "at_most", egress[2].Direction())
	assert.Equal(t, []float64{11, 1}, []float64{find(t, "ibc-emergency").Criteria(false)[0].Required, find(t, "ibc-emergency").Criteria(false)[1].Required})

	// 41 CFR 102-74.180: storage 10 fc and not less than 1 fc anywhere (seen; statistic not named).
	storage := find(t, "fmr-storage").Criteria(true)
	require.Len(t, storage, 2)
	assert.Equal(t, Minimum, storage[1].Statistic)
	assert.Equal(t, 1.0, storage[1].Required)
	assert.Contains(t, storage[0].Caveat, "does not name the statistic")
}

func TestUniformityIsATestOfItsOwn(t *testing.T) {
	// SLL/CIBSE Lighting Guide 1, 2012 (seen): rack face 200 lx, uniformity 0.40, minimum over average.
	face := find(t, "sll-rack-face").Criteria(true)
	require.Len(t, face, 2)
	assert.Equal(t, Lux, face[0].Unit, "published in lux only")
	assert.Equal(t, AverageToMinimum, face[1].Statistic)
	assert.InEpsilon(t, 2.5, face[1].Required, 1e-12) // rounding
	assert.True(t, face[1].Met(200/80.0))
	assert.False(t, face[1].Met(200/79.0))
	packing := find(t, "sll-packing").Criteria(false)[1] // uniformity 0.60 (seen)
	assert.True(t, packing.Met(300/180.0))
	assert.False(t, packing.Met(300/179.0))

	// EN 12464-1:2011: the level was seen, its uniformity is from memory; each criterion says its own.
	store := find(t, "en2011-store").Criteria(false)
	assert.False(t, store[0].FromMemory())
	assert.True(t, store[1].FromMemory())
	assert.Contains(t, store[1].Caveat, "from memory")

	// ISO 8995:2002 asks 0.7 of the task area only (memory): shown, not tested.
	iso := find(t, "iso8995-stairs")
	assert.Len(t, iso.Criteria(false), 1)
	assert.Contains(t, iso.Caveat(), "task at least 0.7")
}

func TestCaveats(t *testing.T) {
	assert.Empty(t, find(t, "sll-rack-face").Caveat())
	ies := find(t, "warehouse-active-bulky")
	assert.True(t, ies.Superseded())
	assert.Contains(t, ies.Caveat(), "superseded")
	assert.Contains(t, ies.Caveat(), "second-hand")
	assert.Contains(t, find(t, "osha1926-warehouse").Caveat(), "construction")
	low := find(t, "en2021-store")
	assert.True(t, low.FromMemory())
	assert.Contains(t, low.Caveat(), "check before use")
	assert.Equal(t, "29 CFR 1917.123, (a)(1)", find(t, "osha1917-active").Citation())
	assert.Equal(t, "International Building Code / International Fire Code, 1008.3.5, 2021", find(t, "ibc-emergency-average").Citation())
	for _, l := range Levels() {
		if l.FromMemory() {
			assert.Contains(t, l.Caveat(), "from memory, unverified", l.ID)
		}
	}
}

func TestNamesAreWhatFindKnows(t *testing.T) {
	names := Names()
	assert.Len(t, names, 126+7)
	for _, name := range names {
		l, ok := Find(name)
		assert.True(t, ok)
		assert.Equal(t, name, l.ID)
	}
	_, ok := Find("warehouse")
	assert.False(t, ok)
}

func TestSearch(t *testing.T) {
	assert.Len(t, Search(""), len(Levels()))
	assert.Empty(t, Search("warehouse zzz"))
	for _, l := range Search("Washington average") {
		assert.Contains(t, l.ID, "wa-")
	}
	assert.Len(t, Search("washington TASK minimum wac 296-800"), 3)
	assert.NotEmpty(t, Search("rack vertical"))
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.SampledFrom(Levels()).Draw(t, "level")
		found := false
		for _, hit := range Search(l.ID) {
			found = found || hit.ID == l.ID
		}
		require.True(t, found)
	})
}

func TestRulesNameLevels(t *testing.T) {
	require.NotEmpty(t, Rules())
	assert.Contains(t, Rules()[0].Says, "No federal rule sets a light level for an operating warehouse")
	for _, r := range Rules() {
		_, ok := Find(r.Level)
		assert.True(t, ok, r.Level)
		assert.NotEmpty(t, r.Source)
	}
}

func TestListsAreCopies(t *testing.T) {
	Levels()[0].ID, Rules()[0].Place, StatisticNames()[0] = "changed", "changed", "changed"
	assert.Equal(t, "warehouse-inactive", Levels()[0].ID)
	assert.Equal(t, "United States", Rules()[0].Place)
	assert.Equal(t, "average", StatisticNames()[0])
}
