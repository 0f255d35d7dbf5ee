package room_test

import (
	"cmp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/room"
)

// drawn racks stand on a coarse lattice, so that they often touch, cross, share volume, hold one another and
// are there twice.
func drawn(t *rapid.T, transmittance []float64) []room.Rack {
	whole := func(name string, least, most int) float64 {
		return float64(rapid.IntRange(least, most).Draw(t, name))
	}
	racks := make([]room.Rack, rapid.IntRange(1, 6).Draw(t, "racks"))
	for i := range racks {
		racks[i] = room.Rack{Corner: room.Vec{X: whole("x", 0, 6), Y: whole("y", 0, 6)},
			Size:          room.Vec{X: whole("length", 1, 5), Y: whole("width", 1, 5), Z: whole("height", 1, 4)},
			Transmittance: rapid.SampledFrom(transmittance).Draw(t, "transmittance")}
	}
	return racks
}

// passes goes along a line from rack to rack: at each that it enters, light passes by the ratio of the least
// transmittance after to that of the racks in which it stays.
func passes(racks []room.Rack, p, q room.Vec) float64 {
	type stretch struct{ from, to, passes float64 }
	var inside []stretch
	for _, r := range racks {
		if r.Hides(p, q) {
			a, b := 0.0, 1.0
			for _, c := range [3][4]float64{{p.X, q.X, r.Corner.X, r.Far().X}, {p.Y, q.Y, r.Corner.Y, r.Far().Y},
				{p.Z, q.Z, -1, r.Far().Z}} {
				if c[0] != c[1] {
					s, t := (c[2]-c[0])/(c[1]-c[0]), (c[3]-c[0])/(c[1]-c[0])
					a, b = max(a, min(s, t)), min(b, max(s, t))
				}
			}
			inside = append(inside, stretch{a, b, r.Transmittance})
		}
	}
	slices.SortStableFunc(inside, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	light := 1.0
	for i, s := range inside {
		before := 1.0
		for _, other := range inside[:i] {
			if other.to > s.from+1e-9 {
				before = min(before, other.passes)
			}
		}
		if s.passes < before {
			light *= s.passes / before
		}
	}
	return light
}

// Racks that touch, cross and share volume dim a line as the rule says, from either end of it.
func TestObstructionsAlongALine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		racks := drawn(t, []float64{0, 0.3, 0.3, 0.6, 0.8})
		across := rapid.Float64Range(0, 11)
		p := room.Vec{X: -0.5, Y: across.Draw(t, "from y"), Z: rapid.Float64Range(0.01, 2).Draw(t, "from z")}
		q := room.Vec{X: 11.5, Y: across.Draw(t, "to y"), Z: rapid.Float64Range(0.01, 6).Draw(t, "to z")}
		if rapid.Bool().Draw(t, "along y") {
			p, q = room.Vec{X: p.Y, Y: p.X, Z: p.Z}, room.Vec{X: q.Y, Y: q.X, Z: q.Z}
		}
		want, grazed := passes(racks, p, q), false
		for _, r := range racks { // so near an edge rounding decides
			in := room.Vec{X: 1e-4, Y: 1e-4, Z: 1e-4}
			grazed = grazed || r.Sides().Grown(in).Hides(p, q) != r.Sides().Grown(in.Scale(-1)).Hides(p, q)
		}
		if grazed {
			t.Skip("grazes a rack")
		}
		for _, line := range [2][2]room.Vec{{p, q}, {q, p}} {
			got := 1.0
			for _, b := range room.NewObstructions(racks).Boxes {
				if b.Hides(line[0], line[1]) {
					got *= b.Passes
				}
			}
			require.InDelta(t, want, got, 1e-9)
		}
	})
}

// A rack listed twice, or within another, is the same as once.
func TestARackListedTwiceCountsOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		racks := drawn(t, []float64{0, 0.3, 0.6})
		again := slices.Clone(racks)
		for _, i := range rapid.SliceOfN(rapid.IntRange(0, len(racks)-1), 1, 4).Draw(t, "again") {
			inner := racks[i]
			if rapid.Bool().Draw(t, "smaller") {
				inner.Size = inner.Size.Scale(0.5)
			}
			again = append(again, inner)
		}
		once, twice := room.NewObstructions(racks), room.NewObstructions(again)
		require.Equal(t, once.Racks, twice.Racks)
		require.Equal(t, once.Boxes, twice.Boxes)
	})
}

// No light passes between racks that touch, even exactly in the plane of their sides, whether one side holds
// the other or neither does.
func TestNoLightBetweenRacksThatTouch(t *testing.T) {
	box := func(x, y, length, width, height float64) room.Rack {
		return room.Rack{Corner: room.Vec{X: x, Y: y}, Size: room.Vec{X: length, Y: width, Z: height}}
	}
	for name, racks := range map[string][]room.Rack{
		"alike":   {box(0, 0, 90, 1, 3), box(0, 1, 90, 1, 3)},
		"higher":  {box(0, 0, 90, 1, 4), box(0, 1, 90, 1, 3)},
		"longer":  {box(-5, 0, 90, 1, 3), box(0, 1, 5, 1, 3)},
		"crossed": {box(-5, 0, 20, 1, 3), box(0, 1, 20, 1, 5)},
		"shared":  {box(0, 0, 90, 1+1e-7, 3), box(0, 1, 90, 1, 3)},
	} {
		hidden := func(p, q room.Vec) bool {
			return slices.ContainsFunc(
				room.NewObstructions(racks).Boxes,
				func(b room.Obstruction) bool { return b.Hides(p, q) },
			)
		}
		require.True(t, hidden(room.Vec{X: -9, Y: 1, Z: 1}, room.Vec{X: 99, Y: 1, Z: 1.5}), name)
		require.True(t, hidden(room.Vec{X: 2, Y: 1, Z: 0.5}, room.Vec{X: 2, Y: 1, Z: 9}), name)
		require.False(
			t,
			hidden(room.Vec{X: 2, Y: 2, Z: 1}, room.Vec{X: 2, Y: 9, Z: 1}),
			"%s: from the side of a rack",
			name,
		)
	}
}

// A place between racks that touch is none for light, nor is a side of a rack with another before it; a side
// that a lower rack leaves free is one.
func TestCover(t *testing.T) {
	solids := room.NewSolids(
		[]room.Rack{
			{Corner: room.Vec{X: 1}, Size: room.Vec{X: 4, Y: 1, Z: 3}},
			{Corner: room.Vec{X: 1, Y: 1}, Size: room.Vec{X: 4, Y: 1, Z: 2}},
		},
	)
	for _, c := range []struct {
		p    room.Vec
		want bool
		why  string
	}{
		{room.Vec{X: 2, Y: 0.5, Z: 1}, true, "inside"},
		{room.Vec{X: 2, Y: 1, Z: 1}, true, "between"},
		{room.Vec{X: 2, Y: 1, Z: 0}, true, "between, on the floor"},
		{room.Vec{X: 2, Y: 1, Z: 2.5}, false, "above that"},
		{room.Vec{X: 2, Y: 2, Z: 1}, false, "a free side"},
		{room.Vec{X: 2, Y: 0, Z: 1}, false, "a side in the plane of a wall"},
		{room.Vec{X: 1, Y: 1, Z: 1}, false, "their ends"},
		{room.Vec{X: 2, Y: 0.5, Z: 3}, false, "the top"},
		{room.Vec{X: 2, Y: 1, Z: 2}, false, "the top of the lower, at the side of the higher"},
		{room.Vec{X: 2, Y: 9, Z: 1}, false, "far away"},
	} {
		require.Equal(t, c.want, solids.Cover(c.p), c.why)
	}
}
