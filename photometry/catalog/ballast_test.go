package catalog

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestBallastsAreWithinReason(t *testing.T) {
	require.Len(t, Ballasts(), 59)
	families, names := map[string]bool{}, map[string]bool{}
	for _, l := range Lamps() {
		families[l.Family] = true
	}
	type key struct {
		lamp  string
		lamps int
		kind  string
	}
	kinds := map[key]bool{}
	for _, b := range Ballasts() {
		t.Run(b.Name, func(t *testing.T) {
			assert.False(t, names[b.Name], "name taken")
			names[b.Name] = true
			k := key{b.Lamp, b.Lamps, b.Kind}
			assert.False(t, kinds[k], "kind taken")
			kinds[k] = true
			assert.True(t, families[b.Lamp], "no lamp of that family")
			assert.NotEmpty(t, b.Source)
			assert.True(t, b.FromMemory(), "every row rests on memory, in the ballast factor at least")
			assert.LessOrEqual(t, b.BallastFactorLow, b.BallastFactor)
			assert.LessOrEqual(t, b.BallastFactor, b.BallastFactorHigh)
			assert.LessOrEqual(t, b.InputWattsLow, b.InputWatts)
			assert.LessOrEqual(t, b.InputWatts, b.InputWattsHigh)
			assert.True(t, b.BallastFactor >= 0.7 && b.BallastFactor <= 1.25)
			// 100 BF / W as printed in the table, to four decimals (42 USC 6291 for the definition): print
			assert.InDelta(t, b.efficacyFactor, b.EfficacyFactor(), 0.00005)
		})
	}
}

// Rows whose watts were seen, with their sources.
func TestWattsSeen(t *testing.T) {
	for _, c := range []struct {
		lamp   string
		lamps  int
		kind   string
		watts  float64
		source string
	}{
		{"F54T5/HO", 4, "ps-normal", 234, "FEMP/LBNL publication on high-bay fluorescent, 2004, seen"},
		{"F32T8/800", 6, "highbay", 226, "industry association page, seen"},
	} {
		b, ok := FindBallast(find(t, c.lamp), c.lamps, c.kind)
		require.True(t, ok, c.source)
		assert.Equal(t, c.watts, b.InputWatts, c.source)
	}
	b, ok := FindBallast(find(t, "F40T12"), 2, "electronic") // public ballast information page: 68 to 71 W, seen
	require.True(t, ok)
	assert.Equal(t, []float64{68, 71}, []float64{b.InputWattsLow, b.InputWattsHigh})
}

// Common practice, no source: swapping an 8-foot two-lamp T12 fixture (F96T12 on a magnetic ballast) for four 4-foot T8 lamps on a normal-ballast-factor
// electronic ballast saves about a third of its watts: 158 to 112 W is 29 percent, 173 to 112 W is 35. The watts are from memory.
func TestSwapSavesAboutAThird(t *testing.T) {
	after, ok := FindBallast(find(t, "F32T8/800"), 4, "is-normal")
	require.True(t, ok)
	for kind, percent := range map[string]float64{"magnetic": 29, "magnetic-standard": 35} {
		before, ok := FindBallast(find(t, "F96T12"), 2, kind)
		require.True(t, ok)
		saved := 100 * (1 - after.InputWatts/before.InputWatts)
		assert.InDelta(t, percent, saved, 0.5, kind) // print: whole percents
		assert.InDelta(t, 100.0/3, saved, 5, "about a third")
	}
}

func TestFindBallastByRowAndByKind(t *testing.T) {
	t8 := find(t, "F32T8/700")
	byKind, ok := FindBallast(t8, 4, "IS-Normal")
	require.True(t, ok)
	byRow, ok := FindBallast(t8, 4, "f32t8-4-is-normal")
	require.True(t, ok)
	assert.Equal(t, byKind, byRow)
	spaced, ok := FindBallast(find(t, "F96T12"), 2, "magnetic standard")
	require.True(t, ok)
	assert.Equal(t, 173.0, spaced.InputWatts)

	// Two two-lamp ballasts for four lamps draw 2 x 59 = 118 W against 112 W for one (memory rows).
	pair, ok := FindBallast(t8, 4, "f32t8-2-is-normal")
	require.True(t, ok)
	assert.Equal(t, 118.0, pair.InputWatts)
	assert.Equal(t, 2, pair.Count)
	assert.Equal(t, 4, pair.Lamps)
	assert.Equal(t, 0.88, pair.BallastFactor)
	assert.Equal(t, 112.0, byKind.InputWatts)

	four, ok := FindBallast(find(t, "F96T12"), 4, "magnetic") // the table has no four-lamp row; two ballasts, not four one-lamp ones
	require.True(t, ok)
	assert.Equal(t, 2, four.Count)
	assert.Equal(t, 316.0, four.InputWatts)

	for _, c := range []struct {
		lamp  string
		lamps int
		kind  string
	}{
		{"F32T8/800", 4, "magnetic"}, {"F32T8/800", 3, "f32t8-2-is-normal"}, {"F96T12", 2, "f32t8-2-is-normal"},
		{"F32T8/800", 0, "is-normal"}, {"F32T8/800", -4, "f32t8-2-is-normal"}, {"F28T8", 2, "ps-normal"},
	} {
		_, ok := FindBallast(find(t, c.lamp), c.lamps, c.kind)
		assert.False(t, ok, "%+v", c)
	}
	assert.Empty(t, BallastsFor(t8, 0))
}

// The ballasts of the list that feed a number of lamps at the least watts: three F96T12 lamps take a two-lamp and a one-lamp ballast, 158 + 100 W, not
// three one-lamp ones, 300 W. The watts are sums of rows.
func TestOddNumbersTakeTheLeastWatts(t *testing.T) {
	for _, c := range []struct {
		lamp  string
		lamps int
		kind  string
		watts float64
		name  string
		set   string
	}{
		{"F96T12", 1, "magnetic", 100, "f96t12-1-magnetic", ""},
		{"F96T12", 3, "magnetic", 258, "f96t12-2-magnetic + f96t12-1-magnetic", "2-lamp + 1-lamp"},
		{"F96T12", 5, "magnetic", 2*158 + 100, "2 x f96t12-2-magnetic + f96t12-1-magnetic", "2 x 2-lamp + 1-lamp"},
		{"F96T12", 4, "magnetic", 316, "f96t12-2-magnetic", "2 x 2-lamp"},
		{"F32T8/800", 3, "is-normal", 89, "f32t8-3-is-normal", ""},
		{"F32T8/800", 5, "is-normal", 112 + 31, "f32t8-4-is-normal + f32t8-1-is-normal", "4-lamp + 1-lamp"},
		{"F32T8/800", 7, "is-normal", 112 + 89, "f32t8-4-is-normal + f32t8-3-is-normal", "4-lamp + 3-lamp"},
		{"F32T8/800", 5, "ps-normal", 61 + 90, "f32t8-3-ps-normal + f32t8-2-ps-normal", "3-lamp + 2-lamp"},
		{"F54T5/HO", 6, "ps-normal", 354, "f54t5ho-6-ps-normal", ""}, // one ballast goes before a set
	} {
		b, ok := FindBallast(find(t, c.lamp), c.lamps, c.kind)
		require.True(t, ok, c.name)
		assert.Equal(t, c.watts, b.InputWatts, c.name)
		assert.Equal(t, c.name, b.Name)
		assert.Equal(t, c.set, b.Set(), c.name)
		again, ok := FindBallast(find(t, c.lamp), c.lamps, b.Name)
		require.True(t, ok, c.name)
		assert.Equal(t, b, again, "its name finds it again")
	}
	// The ballast factor of a mixed set is the mean of its lamps'.
	mixed := together([]Ballast{{Lamps: 2, BallastFactor: 0.88, Parts: []Part{{"a", 2, 1}}}, {Lamps: 1, BallastFactor: 0.94, Parts: []Part{{"b", 1, 1}}}}, []int{1, 1})
	assert.InDelta(t, (2*0.88+0.94)/3, mixed.BallastFactor, 1e-15)
}

// Nothing that the list has for the number draws less: every way to make it up from rows of the kind is tried.
func TestNoOtherSetDrawsLess(t *testing.T) {
	var least func(rows []Ballast, lamps int) float64
	least = func(rows []Ballast, lamps int) float64 {
		if lamps == 0 {
			return 0
		}
		watts := math.Inf(1)
		for i, b := range rows {
			if b.Lamps <= lamps {
				watts = min(watts, b.InputWatts+least(rows[i:], lamps-b.Lamps))
			}
		}
		return watts
	}
	for _, lamp := range Lamps() {
		for n := 1; n <= 12; n++ {
			kinds := map[string][]Ballast{}
			for _, b := range singles(lamp) {
				kinds[b.Kind] = append(kinds[b.Kind], b)
			}
			for kind, rows := range kinds {
				want := least(rows, n)
				got, ok := FindBallast(lamp, n, kind)
				require.Equal(t, !math.IsInf(want, 1), ok, "%d x %s on %s", n, lamp.Name, kind)
				if ok && got.Count != 1 {
					require.InDelta(t, want, got.InputWatts, 1e-9, "%d x %s on %s", n, lamp.Name, kind)
				}
			}
		}
	}
}

func TestLEDTubesNeedNoBallast(t *testing.T) {
	b, ok := FindBallast(find(t, "LED-8FT-40W-B"), 2, KindNone)
	require.True(t, ok)
	assert.Equal(t, 80.0, b.InputWatts)
	assert.Equal(t, 1.0, b.BallastFactor)
	assert.Equal(t, "led-8ft-40w-b-2-none", b.Name)
	assert.Contains(t, b.Source, "computed")
	assert.False(t, b.FromMemory())
	again, ok := FindBallast(find(t, "LED-8FT-40W-B"), 2, b.Name)
	require.True(t, ok)
	assert.Equal(t, b, again)
}

func TestReducedWattageLampsTakeWattsInProportion(t *testing.T) {
	b, ok := FindBallast(find(t, "F28T8"), 4, "is-normal")
	require.True(t, ok)
	assert.InEpsilon(t, 112*28.0/32, b.InputWatts, 1e-12) // rounding; the law is assumed, so no outside value
	assert.Equal(t, "assumed", b.Confidence)
	assert.True(t, b.FromMemory())
	for _, b := range BallastsFor(find(t, "F25T8"), 2) {
		assert.NotContains(t, b.Kind, "ps-", "not on rapid-start or programmed-start ballasts")
		assert.Equal(t, "F25T8", b.Lamp)
	}
}

func TestWhatIsListedIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lamp := rapid.SampledFrom(Lamps()).Draw(t, "lamp")
		lamps := rapid.IntRange(1, 12).Draw(t, "lamps")
		for _, b := range BallastsFor(lamp, lamps) {
			found, ok := FindBallast(lamp, lamps, b.Kind)
			require.True(t, ok)
			require.Equal(t, b, found)
			byName, ok := FindBallast(lamp, lamps, b.Name)
			require.True(t, ok)
			require.Equal(t, b, byName)
			require.Equal(t, lamps, b.Lamps)
			count, fed, watts, light := 0, 0, 0.0, 0.0
			for _, p := range b.Parts {
				one, ok := FindBallast(lamp, p.Lamps, p.Name)
				require.True(t, ok)
				require.Equal(t, 1, one.Count)
				count, fed, watts = count+p.Count, fed+p.Count*p.Lamps, watts+float64(p.Count)*one.InputWatts
				light += float64(p.Count*p.Lamps) * one.BallastFactor
			}
			require.Equal(t, count, b.Count)
			if b.Kind == KindNone {
				require.Zero(t, b.Count)
				continue
			}
			require.Equal(t, lamps, fed)
			require.InEpsilon(t, watts, b.InputWatts, 1e-12) // rounding
			require.InEpsilon(t, light/float64(lamps), b.BallastFactor, 1e-12)
		}
	})
}
