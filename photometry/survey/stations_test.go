package survey

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

func plan(t require.TestingT, l Lattice) Plan {
	p, err := NewPlan(l)
	require.NoError(t, err)
	return p
}

func roles(p Plan) map[Role]int {
	counts := map[Role]int{}
	for _, s := range p.Stations {
		counts[s.Role]++
	}
	return counts
}

// How many readings each formula asks: IES Lighting Handbook, 8th and 9th editions, lighting survey; from memory, unverified.
func TestEachArrangementHasItsStations(t *testing.T) {
	for name, c := range map[string]struct {
		lattice      Lattice
		want         Arrangement
		rows, perRow int
		stations     map[Role]int
	}{
		"A":              {Lattice{Length: 50, Width: 24, Rows: 4, Columns: 5}, SingleLuminaires, 4, 5, map[Role]int{R: 8, Q: 4, T: 4, P: 2}},
		"A, room turned": {Lattice{Length: 24, Width: 50, Rows: 5, Columns: 4}, SingleLuminaires, 4, 5, map[Role]int{R: 8, Q: 4, T: 4, P: 2}},
		"A, two rows":    {Lattice{Length: 50, Width: 12, Rows: 2, Columns: 5}, SingleLuminaires, 2, 5, map[Role]int{R: 8, Q: 4, T: 4, P: 2}},
		"A, one bay":     {Lattice{Length: 14, Width: 12, Rows: 2, Columns: 2}, SingleLuminaires, 2, 2, map[Role]int{R: 4, Q: 4, T: 4, P: 2}},
		"B":              {Lattice{Length: 5, Width: 4, Rows: 1, Columns: 1, LuminousLength: 4.9}, OneLuminaire, 1, 1, map[Role]int{P: 4}},
		"C":              {Lattice{Length: 40, Width: 4, Rows: 1, Columns: 8}, OneRow, 1, 8, map[Role]int{Q: 8, P: 2}},
		"C along y":      {Lattice{Length: 4, Width: 40, Rows: 8, Columns: 1}, OneRow, 1, 8, map[Role]int{Q: 8, P: 2}},
		"C, two":         {Lattice{Length: 10, Width: 4, Rows: 1, Columns: 2}, OneRow, 1, 2, map[Role]int{Q: 4, P: 2}},
		"C, lamps across": {Lattice{Length: 40, Width: 4, Rows: 1, Columns: 8, LuminousLength: 5, LampsAlongY: true}, OneRow, 1, 8,
			map[Role]int{Q: 8, P: 2}},
		"D": {Lattice{Length: 20, Width: 9, Rows: 3, Columns: 8, LuminousLength: 2.4}, ContinuousRows, 3, 8, map[Role]int{R: 4, Q: 2, T: 4, P: 2}},
		"D, lamps along y": {Lattice{Length: 9, Width: 20, Rows: 8, Columns: 3, LuminousLength: 2.4, LampsAlongY: true}, ContinuousRows, 3, 8,
			map[Role]int{R: 4, Q: 2, T: 4, P: 2}},
		"D, by spacing": {Lattice{Length: 22, Width: 9, Rows: 3, Columns: 8, SpacingX: 2.5, LuminousLength: 2.4}, ContinuousRows, 3, 8,
			map[Role]int{R: 4, Q: 2, T: 4, P: 2}},
		"E": {Lattice{Length: 20, Width: 4, Rows: 1, Columns: 8, LuminousLength: 2.4}, OneContinuousRow, 1, 8, map[Role]int{Q: 6, P: 2}},
		"F": {Lattice{Length: 12, Width: 7, LuminousCeiling: true}, LuminousCeiling, 0, 0, map[Role]int{R: 4, Q: 2, T: 2, P: 2}},
	} {
		p := plan(t, c.lattice)
		assert.Equal(t, c.want, p.Arrangement, name)
		assert.Equal(t, c.stations, roles(p), name)
		if c.want != LuminousCeiling {
			assert.Equal(t, [2]int{c.rows, c.perRow}, [2]int{p.Rows, p.PerRow}, name)
		}
		assert.Equal(t, OurPlaces, p.Notes[0].Code, name)
	}
}

// The room of 50 by 24 m, 4 rows of 5: bays of 10 by 6 m, by hand.
func TestPlacesOfSingleLuminaires(t *testing.T) {
	p := plan(t, Lattice{Length: 50, Width: 24, WorkPlane: 0.8, Rows: 4, Columns: 5})
	want := map[string]room.Vec{"r1": {X: 15, Y: 9}, "r2": {X: 20, Y: 9}, "r3": {X: 15, Y: 12}, "r4": {X: 20, Y: 12},
		"r5": {X: 15, Y: 21}, "r6": {X: 20, Y: 21}, "r7": {X: 15, Y: 18}, "r8": {X: 20, Y: 18},
		"q1": {X: 15, Y: 1.5}, "q2": {X: 20, Y: 1.5}, "q3": {X: 45, Y: 22.5}, "q4": {X: 40, Y: 22.5},
		"t1": {X: 2.5, Y: 9}, "t2": {X: 2.5, Y: 12}, "t3": {X: 47.5, Y: 21}, "t4": {X: 47.5, Y: 18},
		"p1": {X: 2.5, Y: 1.5}, "p2": {X: 47.5, Y: 22.5}}
	require.Len(t, p.Stations, len(want))
	for _, s := range p.Stations {
		w := want[s.Name]
		w.Z = 0.8
		assert.InDelta(t, 0, s.Position.Sub(w).Length(), 1e-12, "%s at %v, want %v; rounding", s.Name, s.Position, w)
		assert.Equal(t, room.Vec{Z: 1}, s.Normal)
	}
}

// A room turned by a quarter turn has the same stations, turned (mirrored about x = y), whatever the arrangement. A square luminous
// ceiling has no long side that could turn.
func TestTurnedRoomTurnsStations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLattice(t)
		if l.LuminousCeiling && l.Length == l.Width {
			l.Width++
		}
		turned := l
		turned.Length, turned.Width, turned.Rows, turned.Columns = l.Width, l.Length, l.Columns, l.Rows
		turned.SpacingX, turned.SpacingY, turned.LampsAlongY = l.SpacingY, l.SpacingX, !l.LampsAlongY
		a, b := plan(t, l), plan(t, turned)
		require.Len(t, b.Stations, len(a.Stations))
		for i, s := range a.Stations {
			s.Position.X, s.Position.Y = s.Position.Y, s.Position.X
			assert.Equal(t, s, b.Stations[i])
		}
		assert.Equal(t, a.Notes, b.Notes)
	})
}

func drawLattice(t *rapid.T) Lattice {
	rows, columns := rapid.IntRange(1, 9).Draw(t, "rows"), rapid.IntRange(1, 9).Draw(t, "columns")
	x, y := rapid.Float64Range(1, 9).Draw(t, "spacing x"), rapid.Float64Range(1.01, 9.01).Draw(t, "spacing y")
	l := Lattice{Length: float64(columns) * x, Width: float64(rows) * y, Rows: rows, Columns: columns, WorkPlane: 0.8,
		LampsAlongY: rapid.Bool().Draw(t, "along y"), LuminousLength: rapid.Float64Range(0, 9).Draw(t, "luminous length"),
		LuminousCeiling: rapid.IntRange(0, 5).Draw(t, "ceiling") == 0}
	if l.LuminousCeiling {
		l.Length, l.Width = l.Length+3, l.Width+3
	}
	if rapid.Bool().Draw(t, "by spacing") {
		l.SpacingX, l.SpacingY = x*rapid.Float64Range(0.5, 1).Draw(t, "part x"), y*rapid.Float64Range(0.5, 1).Draw(t, "part y")
	}
	return l
}

// Stations lie inside the room, no two in one spot, no two of one name; and each role that the formula weighs has one.
func TestStationsOfAnyLattice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLattice(t)
		p := plan(t, l)
		names, spots := map[string]bool{}, map[room.Vec]bool{}
		for _, s := range p.Stations {
			assert.False(t, names[s.Name] || spots[s.Position], "%s stands twice, or where another does", s.Name)
			names[s.Name], spots[s.Position] = true, true
			at := s.Position
			assert.True(t, at.X > 0 && at.X < l.Length && at.Y > 0 && at.Y < l.Width, "%s at %v is outside", s.Name, at)
		}
		for role := range p.Weights() {
			assert.NotZero(t, roles(p)[role], "no %v station", role)
		}
	})
}

func TestOuterLuminairesFarFromTheWallsAreNoted(t *testing.T) {
	even := plan(t, Lattice{Length: 50, Width: 24, Rows: 4, Columns: 5})
	assert.Len(t, even.Notes, 1)
	tight := plan(t, Lattice{Length: 50, Width: 24, Rows: 4, Columns: 5, SpacingX: 8})
	require.Len(t, tight.Notes, 2)
	assert.Equal(t, OffAtEnds, tight.Notes[1].Code)
	assert.InDelta(t, 1.1, tight.Notes[1].Share, 0.05)
	assert.Equal(t, OffBeside, plan(t, Lattice{Length: 50, Width: 24, Rows: 4, Columns: 5, SpacingY: 4}).Notes[1].Code)
}

func TestSmallOrWrongLattice(t *testing.T) {
	small := 8 * photometry.Foot
	_, err := NewPlan(Lattice{Length: 10, Width: small, LuminousCeiling: true})
	require.ErrorIs(t, err, ErrSmallCeiling)
	_, err = NewPlan(Lattice{Length: 10, Width: small + 0.01, LuminousCeiling: true})
	require.NoError(t, err)
	for name, l := range map[string]Lattice{
		"nothing": {}, "no row": {Length: 5, Width: 5, Columns: 1}, "no room": {Rows: 1, Columns: 1},
		"too wide": {Length: 5, Width: 5, Rows: 1, Columns: 3, SpacingX: 2.5},
	} {
		assert.PanicsWithValue(t, errLattice, func() { _, _ = NewPlan(l) }, name)
	}
}

func TestWords(t *testing.T) {
	assert.Equal(t, []string{"R", "Q", "T", "P", "grid"}, []string{R.String(), Q.String(), T.String(), P.String(), GridPoint.String()})
	assert.Equal(t, "one continuous row", OneContinuousRow.String())
	assert.Equal(t, "no arrangement", Arrangement(99).String())
}

// A rack 2 m deep over the middle of the room of TestPlacesOfSingleLuminaires: what stands a little inside is moved out, the rest
// dropped.
func TestClearOfRacks(t *testing.T) {
	r := room.Room{Length: 50, Width: 24, Height: 6}
	p := plan(t, Lattice{Length: 50, Width: 24, WorkPlane: 0.8, Rows: 4, Columns: 5})
	assert.Equal(t, p, p.Clear(r, nil))

	racks := []room.Rack{{Corner: room.Vec{X: 10, Y: 8.8}, Size: room.Vec{X: 30, Y: 4, Z: 3}}}
	cleared := p.Clear(r, racks)
	names := map[string]room.Vec{}
	for _, s := range cleared.Stations {
		names[s.Name] = s.Position
		assert.False(t, racks[0].Contains(s.Position), s.Name)
	}
	assert.InDelta(t, 8.8-0.3048, names["r1"].Y, 1e-12, "0.2 m inside, moved to a foot outside; rounding")
	assert.InDelta(t, 12.8+0.3048, names["r4"].Y, 1e-12, "rounding")
	assert.Empty(t, cleared.Dropped)
	assert.Contains(t, cleared.Notes, Note{Code: MovedOut, Names: strings.Fields("r1 r2 r3 r4")})
	assert.Contains(t, cleared.Notes, Note{Code: EmptyRoom})
	assert.Len(t, p.Stations, 18, "the plan itself stays")

	deep := p.Clear(r, []room.Rack{{Corner: room.Vec{X: 10, Y: 6}, Size: room.Vec{X: 30, Y: 9, Z: 3}}})
	assert.Len(t, deep.Dropped, 4)
	assert.Contains(t, deep.Notes, Note{Code: TooFarIn, Names: strings.Fields("r1 r2 r3 r4")})
	low := p.Clear(r, []room.Rack{{Corner: room.Vec{X: 10, Y: 6}, Size: room.Vec{X: 30, Y: 9, Z: 0.5}}})
	assert.Equal(t, p.Stations, low.Stations, "a rack lower than the work plane hides no station")

	gap := p.Clear(r, []room.Rack{racks[0], {Corner: room.Vec{X: 10, Y: 8.6}, Size: room.Vec{X: 30, Y: 0.2, Z: 3}}})
	for _, s := range gap.Stations {
		assert.NotEqual(t, "r1", s.Name, "the nearest clear spot lies across the rack, too far")
	}
}
