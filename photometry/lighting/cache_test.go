package lighting_test

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
)

const wayOut = "[[grids]]\nname = \"way\"\narea = [1.0, 1.0, 3.0, 11.0]\nheight = 0.0\n[egress]\n" +
	"grid = \"way\"\nluminaires = [1, 3, 5]\nlight_share = 0.7\n"

// With a cache every number is the same, to the bit, whether the light was there already or not, and whoever
// asked for it before.
func TestCacheChangesNothing(t *testing.T) {
	cache := lighting.NewCache(64 << 20)
	rack := "[[racks]]\ncorner = [2.0, 2.0]\nsize = [4.0, 2.0, 2.0]\ntransmittance = 0.2\n"
	for range 2 {
		for _, pairs := range [][]string{
			{},
			{still, bounces},
			{still, bounces, "walls = 0.5", "walls = 0.4"},
			{"lamp_lumens = 2000.0", "lamp_lumens = 1700.0"},
			{"diffuse.ies", "narrow.ies"},
			{still, bounces, upkeep, rack + upkeep},
			{still, bounces, upkeep, wayOut + upkeep},
		} {
			want := run(t, pairs...)
			got := in(t, cache.Space(want.Job), want.Job)
			for i, w := range []lighting.System{want.Existing, want.Proposed} {
				g := []lighting.System{got.Existing, got.Proposed}[i]
				assert.True(t, fmt.Sprint(w.Grids) == fmt.Sprint(g.Grids), "%v", pairs) // NaN in the rack
				assert.Equal(t, w.Balance, g.Balance)
				assert.Equal(t, w.LumenMethod.MaintainedAverage, g.LumenMethod.MaintainedAverage)
			}
		}
	}
}

// Light is worked out once for each luminaire, layout, room and set of grids, whatever the lamps.
func TestCacheWorksOnce(t *testing.T) {
	cache := lighting.NewCache(64 << 20)
	for _, c := range []struct {
		pairs        []string
		asked, found int
	}{
		{nil, 2, 1},
		{[]string{"lamp_lumens = 2000.0", "lamp_lumens = 1700.0"}, 4, 3},
		{[]string{"ballast_factor = 0.9", "ballast_factor = 0.8"}, 6, 5},
		{[]string{"diffuse.ies", "narrow.ies"}, 8, 6},
		{[]string{"rows = 4", "rows = 3"}, 10, 7},
		{[]string{"length = 24.0", "length = 25.0"}, 12, 8},
		{[]string{"spacing = 0.5", "spacing = 0.4"}, 14, 9},
		{[]string{still, bounces}, 16, 10},
		{[]string{still, bounces, "floor = 0.2", "floor = 0.3"}, 18, 11},
		{[]string{still, bounces, upkeep, wayOut + upkeep}, 22, 14}, // the path out comes with the rest
	} {
		j := bay.Job(t, c.pairs...)
		in(t, cache.Space(j), j)
		asked, found := cache.Counts()
		assert.Equal(t, []int{c.asked, c.found}, []int{asked, found}, "%v", c.pairs)
	}
}

// Where light bounces all that a job is going to ask for is worked out at the first asking: its groups, those
// of them that failed, and those that emergency power feeds.
func TestCacheWorksAllOutTogether(t *testing.T) {
	cache := lighting.NewCache(64 << 20)
	found := append(bay.InHalves("mounting_height = 4.0\nrows = 4\ncolumns = 3\narea = [0.0, 0.0, 12.0, 12.0]\n",
		"mounting_height = 4.0\nrows = 4\ncolumns = 3\narea = [0.0, 0.0, 12.0, 12.0]\nfailed = [2, 5]\n"+
			"egress = { luminaires = [1, 2] }\n"), still, bounces, upkeep,
		strings.Replace(wayOut, "luminaires = [1, 3, 5]\n", "", 1)+upkeep)
	j := bay.Job(t, found...)
	got, want := in(t, cache.Space(j), j), run(t, found...)
	assert.Equal(t, want.Existing.Grids, got.Existing.Grids)
	assert.Equal(t, want.Proposed.Grids, got.Proposed.Grids)
	asked, there := cache.Counts()
	assert.Equal(
		t, []int{7, 6}, []int{asked, there},
		"two groups in each system, the failed, the fed of each; the one kind before and the two after",
	)
}

func TestCacheServesSeveralAtOnce(t *testing.T) {
	cache := lighting.NewCache(64 << 20)
	want := run(t, still, bounces)
	var group sync.WaitGroup
	for range 6 {
		group.Go(func() {
			space := cache.Space(want.Job)
			for i := range 2 {
				got, err := space.Solve(context.Background(), []*job.System{&want.Job.Existing, &want.Job.Proposed}[i])
				assert.NoError(t, err)
				assert.Equal(t, []lighting.System{want.Existing, want.Proposed}[i].Grids, got.Grids)
			}
		})
	}
	group.Wait()
	asked, found := cache.Counts()
	assert.Equal(t, []int{12, 11}, []int{asked, found})
}

// A cache hands on what a run would err with, and lets others try again.
func TestCacheKeepsNoError(t *testing.T) {
	cache := lighting.NewCache(64 << 20)
	j := bay.Job(t, still, bounces)
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := cache.Space(j).Solve(ended, &j.Existing)
	require.ErrorIs(t, err, context.Canceled)
	large := *j
	large.Room.Length, large.Room.Width = 1400, 1400 // with a rack its patches take too much, and it is soon known
	large.Racks = []room.Rack{{Corner: room.Vec{X: 2, Y: 2}, Size: room.Vec{X: 1, Y: 1, Z: 1}}}
	large.Spacing = 10
	_, err = cache.Space(&large).Solve(t.Context(), &j.Existing)
	require.ErrorAs(t, err, new(*interreflect.MemoryError))
	_, err = cache.Space(j).Solve(t.Context(), &j.Existing)
	require.NoError(t, err)
}

// The estimate of memory grows with what takes it.
func TestBytes(t *testing.T) {
	before := int64(0)
	for _, pairs := range [][]string{
		{},
		{"spacing = 0.5", "spacing = 0.25"},
		{"spacing = 0.5", "spacing = 0.25", still, bounces},
		{
			"spacing = 0.5", "spacing = 0.25", still, bounces, upkeep,
			"[[racks]]\ncorner = [2.0, 2.0]\nsize = [4.0, 2.0, 2.0]\n" + upkeep,
		},
		{
			"spacing = 0.5", "spacing = 0.25", still, bounces, upkeep,
			"[[racks]]\ncorner = [2.0, 2.0]\nsize = [4.0, 2.0, 2.0]\ntransmittance = 0.5\n" + upkeep,
		},
	} {
		bytes := lighting.Bytes(bay.Job(t, pairs...))
		assert.Greater(t, bytes, before)
		before = bytes
	}
}
