package options_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/job"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

func findKinds(tb testing.TB, narrow options.Narrow, rooms ...options.Room) *options.Kinds {
	tb.Helper()
	found, err := options.FindKinds(tb.Context(), rooms, narrow, nil)
	require.NoError(tb, err)
	return found
}

// least is, of the ways that meet every criterion in all rooms, looked for room by room, the one of the least energy; "" where there is none.
func least(tb testing.TB, narrow options.Narrow, rooms ...options.Room) (name string, kWh float64) {
	tb.Helper()
	sums, number := map[string]float64{}, map[string]int{}
	var order []string
	for _, r := range rooms {
		found, err := options.Find(tb.Context(), r.Job, narrow, nil)
		require.NoError(tb, err)
		for _, p := range found.List {
			if p.May() && p.Meets && !p.Existing {
				order = append(order, wording.Option(&p))
				number[wording.Option(&p)]++
				sums[wording.Option(&p)] += float64(r.Copies) * p.KWhPerYear
			}
		}
	}
	for _, n := range order {
		if number[n] == len(rooms) && (name == "" || sums[n] < kWh) {
			name, kWh = n, sums[n]
		}
	}
	return name, kWh
}

// Against the options of each hall by itself: what meets both, at the least energy of both.
func TestOneKindForAll(t *testing.T) {
	rooms := []options.Room{{"dim", 3, readHall(t, "at_least = 20.0", "at_least = 12.0")}, {"bright", 1, readHall(t, "at_least = 20.0", "at_least = 26.0")}}
	for _, narrow := range []options.Narrow{{Lamps: []string{"F32T8"}, Counts: []int{2, 4}}} {
		k := findKinds(t, narrow, rooms...)
		name, kWh := least(t, narrow, rooms...)
		require.Equal(t, 1, k.Chosen)
		assert.Equal(t, name, wording.Option(&k.List[0].Option))
		assert.InEpsilon(t, kWh, k.Choice.KWhPerYear, rounding)
		assert.Equal(t, 48, k.List[0].Luminaires)
		assert.Equal(t, 4, k.List[0].Serves)
		assert.True(t, k.Met())
		assert.Greater(t, k.Alone.Kinds, 1)
		alone := 0.0
		for _, r := range rooms {
			_, own := least(t, narrow, r)
			alone += own
		}
		assert.InEpsilon(t, alone, k.Alone.KWhPerYear, rounding)
		assert.Contains(t, wording.Kinds(k)[0], "One kind of lamps and ballast serves every space")
		require.Len(t, k.More, 1)
		assert.InEpsilon(t, alone, k.More[0].KWhPerYear, rounding, "two kinds are each hall's own")
		assert.Contains(t, wording.Kinds(k)[1], "With 2 kinds it would be")
	}
}

// Where a hall may not be as bright as another must be no one kind serves both.
func TestTheFewestKinds(t *testing.T) {
	rooms := []options.Room{{"store", 1, readHall(t, "at_least = 20.0", "at_most = 15.0", "at_least = 8.0", "at_least = 2.0")},
		{"aisle", 2, readHall(t, "at_least = 20.0", "at_most = 15.5", "at_least = 8.0", "at_least = 2.0")},
		{"shop", 1, readHall(t, "at_least = 20.0", "at_least = 26.0")}}
	narrow := options.Narrow{Lamps: []string{"F32T8"}}
	none, _ := least(t, narrow, rooms...)
	require.Empty(t, none)
	k := findKinds(t, narrow, rooms...)
	require.Equal(t, 2, k.Chosen)
	pair, kWh := least(t, narrow, rooms[:2]...)
	other, more := least(t, narrow, rooms[2])
	assert.ElementsMatch(t, []string{pair, other}, []string{wording.Option(&k.List[0].Option), wording.Option(&k.List[1].Option)})
	assert.InEpsilon(t, kWh+more, k.Choice.KWhPerYear, rounding)
	assert.Contains(t, wording.Kinds(k)[0], "The fewest are 2, of those the least energy: "+pair+" (store, aisle (2 alike)); "+other+" (shop).")
	assert.True(t, k.Met())
}

// What nothing serves is said, and what stays; the rest gets its kind.
func TestKindsThatDoNotServe(t *testing.T) {
	stays := readHall(t, "F32T8/800", "F96T12", "lamps = 4", "lamps = 2", "is-normal", "magnetic")
	k := findKinds(t, options.Narrow{Lamps: []string{"F32T8"}}, options.Room{Name: "dock", Copies: 1, Job: readHall(t, "at_least = 20.0", "at_least = 900.0")},
		options.Room{Name: "hall", Copies: 2, Job: readHall(t)}, options.Room{Name: "yard", Copies: 1, Job: stays})
	assert.False(t, k.Met())
	assert.Equal(t, 1, k.Chosen)
	assert.Equal(t, []bool{false, true, true}, []bool{k.Rooms[0].Met, k.Rooms[1].Met, k.Rooms[2].Met})
	assert.Nil(t, k.Rooms[0].Way)
	assert.Empty(t, k.Rooms[2].Varied)
	said := strings.Join(wording.Kinds(k), "\n")
	assert.Contains(t, said, "One kind of lamps and ballast serves each space that any serves (1 of 2)")
	assert.Contains(t, said, "As proposed, as nothing is varied there: yard.")
	assert.Contains(t, said, "dock: Nothing meets every criterion. The nearest: ")
	assert.InEpsilon(t, k.Rooms[0].Existing().KW+2*k.Rooms[1].Way.KW+k.Rooms[2].Gets().KW, k.Choice.KW, rounding, "the dock stays as it is")

	_, err := options.FindKinds(t.Context(), []options.Room{{"yard", 1, stays}}, options.Narrow{}, nil)
	require.ErrorContains(t, err, "no luminaire is changed in any space")
	_, err = options.FindKinds(t.Context(), []options.Room{{"yard", 1, stays}}, options.Narrow{Group: "aisles"}, nil)
	require.ErrorContains(t, err, `"aisles" is no group whose luminaires are changed, want one of "all"`)
}

// benched is the room as it is found with criteria that its two fixtures meet together, and its benches changed.
func benched(tb testing.TB, pairs ...string) *job.Job {
	tb.Helper()
	return readFound(tb, append([]string{"existing = \"short\"\nproposed = \"short\"", "existing = \"short\"\nproposed = \"bench\"",
		"[kinds.tandem]", "[kinds.bench]\nfixture = \"strip-4in\"\nlamp = \"F32T8/800\"\nlamps = 2\nballast = \"is-low\"\n[kinds.tandem]",
		"egress = { luminaires = [1, 5] }\n", "", "egress = { packs = [[2, 500.0]] }\n", "", "[egress]\ngrid = \"path\"\npack_lumens = 900.0\n", "",
		"[energy]", "[[criteria]]\nname = \"enough\"\nat_least = 8.0\n[energy]"}, pairs...)...)
}

// In a room with two fixtures the kinds of both count together. Typed into the job, they give the light and the energy that was told.
func TestKindsOfTwoFixtures(t *testing.T) {
	k := findKinds(t, options.Narrow{Lamps: []string{"F32T8"}}, options.Room{Name: "hall", Copies: 1, Job: benched(t)})
	s := k.Rooms[0]
	require.Equal(t, options.LacksNothing, s.Lacks)
	require.Len(t, s.Parts, 2)
	assert.Equal(t, []string{"hall", "benches"}, s.Varied)
	assert.Equal(t, [][]string{{"hall"}, {"benches"}}, [][]string{s.Parts[0].Groups, s.Parts[1].Groups})
	require.True(t, s.Met)
	typed := benched(t, "fixture = \"strip-5in\"\nlamp = \"F32T8/800\"\nlamps = 4\nballast = \"is-normal\"\n", strings.Join(s.Parts[0].Keys(), "\n")+"\n",
		"fixture = \"strip-4in\"\nlamp = \"F32T8/800\"\nlamps = 2\nballast = \"is-low\"\n", strings.Join(s.Parts[1].Keys(), "\n")+"\n")
	r, err := study.Run(t.Context(), typed, nil)
	require.NoError(t, err)
	assert.InEpsilon(t, r.Proposed().Grids[0].Statistics.Average, s.Way.Average(), single)
	assert.InEpsilon(t, r.Energy.ProposedKWhPerYear, s.Way.KWhPerYear, bay.Rounding)
	assert.True(t, r.Met())

	// One group of that name varies, the other stays as proposed.
	k = findKinds(t, options.Narrow{Lamps: []string{"F32T8"}, Group: "Benches"}, options.Room{Name: "hall", Copies: 1, Job: benched(t)})
	s = k.Rooms[0]
	assert.Equal(t, []string{"benches"}, s.Varied)
	require.Len(t, s.Parts, 1)
	assert.Contains(t, strings.Join(wording.Kinds(k), "\n"), "Groups that stay as proposed: hall: hall.")
	one, err := options.Find(t.Context(), benched(t), options.Narrow{Lamps: []string{"F32T8"}, Group: "benches"}, nil)
	require.NoError(t, err)
	first := one.List[0]
	if first.Existing {
		first = one.List[1]
	}
	assert.InEpsilon(t, first.KWhPerYear, s.Way.KWhPerYear, rounding)
}
