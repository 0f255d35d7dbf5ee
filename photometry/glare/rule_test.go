package glare_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/glare"
	"lampswap/photometry/room"
)

func TestByRuleInAnEmptyRoom(t *testing.T) {
	all := glare.ByRule(room.Room{Length: 12, Width: 6, Height: 3}, nil)
	require.Len(t, all, 8)
	assert.Equal(t, glare.Observer{Name: "wall y = 0, seated", Eye: room.Vec{X: 6, Y: 0, Z: 1.2}, Looking: math.Pi / 2}, all[0])
	assert.Equal(t, glare.Observer{Name: "wall y = 0, standing", Eye: room.Vec{X: 6, Y: 0, Z: 1.7}, Looking: math.Pi / 2}, all[1])
	assert.Equal(t, glare.Observer{Name: "wall x = length, seated", Eye: room.Vec{X: 12, Y: 3, Z: 1.2}, Looking: math.Pi}, all[2])
	assert.Equal(t, "wall y = width, seated", all[4].Name)
	assert.Equal(t, room.Vec{X: 0, Y: 3, Z: 1.2}, all[6].Eye)
	assert.Zero(t, all[6].Looking)
	assert.Len(t, glare.ByRule(room.Room{Length: 12, Width: 6, Height: 1.5}, nil), 4, "nobody stands under 1.5 m")
}

// A rack in the middle of a wall moves the observer beside it, one over the whole wall leaves nobody there, and one below the eye's height or
// off the wall moves nobody.
func TestByRuleAmongRacks(t *testing.T) {
	r := room.Room{Length: 12, Width: 6, Height: 4}
	rack := func(x, y, length, width, height float64) room.Rack {
		return room.Rack{Corner: room.Vec{X: x, Y: y}, Size: room.Vec{X: length, Y: width, Z: height}}
	}
	at := func(racks ...room.Rack) map[string]float64 {
		all := map[string]float64{}
		for _, o := range glare.ByRule(r, racks) {
			all[o.Name] = o.Eye.X
		}
		return all
	}
	assert.InDelta(t, 7.3, at(rack(3, 0, 4, 1, 3))["wall y = 0, seated"], 1e-9, "an elbow beside the nearer end")
	assert.InDelta(t, 6, at(rack(3, 0.5, 4, 1, 3))["wall y = 0, seated"], 1e-9, "not at the wall")
	assert.InDelta(t, 6, at(rack(3, 0, 4, 1, 1.5))["wall y = 0, standing"], 1e-9, "looks over it")
	assert.InDelta(t, 7.3, at(rack(3, 0, 4, 1, 1.5))["wall y = 0, seated"], 1e-9)
	assert.InDelta(t, 7.1, at(rack(3, 0, 4, 1, 3), rack(7.2, 0, 4, 1, 3))["wall y = 0, seated"], 1e-9, "a gap too narrow for elbows")
	_, there := at(rack(0, 0, 12, 1, 3))["wall y = 0, seated"]
	assert.False(t, there)
	assert.Empty(t, at(rack(0, 0, 12, 6, 3)))
}

// An outline has a wall a side, whichever way round it is given, and a corner on a straight wall parts none.
func TestByRuleInAnOutline(t *testing.T) {
	corners := room.Outline{{}, {X: 5}, {X: 10}, {X: 10, Y: 4}, {X: 6, Y: 4}, {X: 6, Y: 8}, {Y: 8}}
	back := slices.Clone(corners)
	slices.Reverse(back)
	eyes := func(o room.Outline) map[room.Vec]float64 {
		all := map[room.Vec]float64{}
		for _, o := range glare.ByRule(room.Room{Length: 10, Width: 8, Height: 1.5, Outline: o}, nil) {
			all[o.Eye] = o.Looking
		}
		return all
	}
	want := map[room.Vec]float64{{X: 5, Z: 1.2}: math.Pi / 2, {X: 10, Y: 2, Z: 1.2}: math.Pi, {X: 8, Y: 4, Z: 1.2}: 1.5 * math.Pi, {X: 6, Y: 6, Z: 1.2}: math.Pi,
		{X: 3, Y: 8, Z: 1.2}: 1.5 * math.Pi, {Y: 4, Z: 1.2}: 0}
	assert.Equal(t, want, eyes(corners))
	assert.Equal(t, want, eyes(back))
	assert.Equal(t, "wall 1, seated", glare.ByRule(room.Room{Length: 10, Width: 8, Height: 1.5, Outline: corners}, nil)[0].Name)
}
