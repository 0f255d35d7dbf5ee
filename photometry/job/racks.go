package job

import (
	"fmt"

	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/room"
)

const (
	usualRackReflectance = 0.3
	slack                = 1e-9 // m, by which a length may pass its limit, for the rounding of its unit
)

func (r *reader) racks(top *tomlfile.Table, roomGood bool) {
	for _, t := range top.Tables("racks", mostTables) {
		r.rack(t, roomGood)
		t.Done()
	}
}

// thinnestRack is the least side of a rack, m, as of a sheet: faces nearer to each other than room.Touching would be one.
const thinnestRack = 0.001

func (r *reader) rack(t *tomlfile.Table, roomGood bool) {
	rack := room.Rack{Reflectance: usualRackReflectance}
	place := tomlfile.NotNegative
	if r.job.Room.Outline != nil {
		place = tomlfile.Any // it is cut at the walls
	}
	corner, okCorner := t.Numbers("corner", 2, place, place)
	r.need(t, "corner", "[x, y] of the corner nearest the origin")
	size, okSize := t.Numbers("size", 3, tomlfile.Positive, tomlfile.Positive, tomlfile.Positive)
	r.need(t, "size", "[along x, along y, height]")
	if x, ok := t.Number("reflectance", tomlfile.Between(0, 0.99)); ok {
		rack.Reflectance = x
	} else if !t.Has("reflectance") {
		r.default_(t, "reflectance", fmt.Sprint(usualRackReflectance), "boxes on pallets, assumed")
	}
	if x, ok := t.Number("transmittance", tomlfile.Fraction); ok {
		rack.Transmittance = x
	} else if !t.Has("transmittance") {
		r.default_(t, "transmittance", "0", "a solid block")
	}
	bottom, okBottom := t.Number("bottom", tomlfile.NotNegative)
	count, step := r.repeat(t.Table("repeat"))
	if !okCorner || !okSize || !okBottom && t.Has("bottom") || !roomGood {
		return
	}
	u := r.unit()
	rack.Corner = room.Vec{X: corner[0] * u, Y: corner[1] * u, Z: room.Snap(bottom * u)}
	rack.Size = room.Vec{X: size[0] * u, Y: size[1] * u, Z: size[2] * u}
	switch height := r.job.Room.Height; {
	case min(rack.Size.X, rack.Size.Y, rack.Size.Z) < thinnestRack:
		t.Fault("size", "has a side that is next to nothing", "sides of "+r.leastSide())
		return
	case rack.Size.Z > height+slack:
		t.Fault("size", "is higher than the room", "a height of at most "+r.show(height))
		return
	case bottom > 0 && rack.Corner.Z < thinnestRack:
		t.Fault("bottom", "is next to nothing", "0 for a box on the floor, or "+r.leastSide())
		return
	case rack.Hangs() && rack.Far().Z > height+slack:
		t.Fault("bottom", "puts the top of the box at "+r.show(rack.Far().Z)+", through the ceiling", "at most "+r.show(height-rack.Size.Z)+": size has the box's own height")
		return
	case len(r.job.Racks)+count > mostTables:
		t.Fault("repeat", fmt.Sprintf("makes more than %d racks", mostTables), "fewer")
		return
	}
	cut := 0
	for i := range count {
		placed := rack
		placed.Corner = rack.Corner.Add(step.Scale(float64(i))).Snap()
		placed, partly, good := r.insideRoom(placed)
		if !good {
			t.Fault("corner", fmt.Sprintf("puts rack %d of %d outside the room", i+1, count), "racks that stand inside it")
			return
		}
		if partly {
			cut++
		}
		r.job.Racks = append(r.job.Racks, placed)
	}
	switch {
	case cut == 1 && count == 1:
		r.warn(t, "the box reaches through a wall of the room's outline: it is cut there")
	case cut > 0:
		r.warn(t, "%d of %d boxes reach through a wall of the room's outline: they are cut there", cut, count)
	}
	r.core(t, r.job.Racks[len(r.job.Racks)-count:])
}

// coreShare is the share of the floor from which a solid block up to the ceiling is worth a word.
const coreShare = 0.01

// core warns of blocks that reach from floor to ceiling: the outline alone tells the floor.
func (r *reader) core(t *tomlfile.Table, racks []room.Rack) {
	area, floor := 0.0, r.job.Room.Area()
	for _, k := range racks {
		if !k.Hangs() && k.Transmittance == 0 && k.Far().Z >= r.job.Room.Height-slack {
			area += k.Size.X * k.Size.Y
		}
	}
	if area >= coreShare*floor {
		r.warn(t, "reaches from the floor to the ceiling: its footprint, %.0f percent of the floor, counts as floor all the same, in power density and in the lumen method, "+
			"which then come out too low; a block at a wall can be left out of [room] outline", 100*area/floor)
	}
}

// leastSide words thinnestRack.
func (r *reader) leastSide() string {
	if r.job.Imperial {
		return "at least 0.0033 ft (1/25 in)"
	}
	return "at least 0.001 m (1 mm)"
}

func (r *reader) repeat(t *tomlfile.Table) (count int, step room.Vec) {
	count = 1
	if !t.Exists() {
		return count, step
	}
	if n, ok := t.Count("count", 1, mostTables); ok {
		count = n
	}
	r.need(t, "count", "how many racks, the first counted in")
	if s, ok := t.Numbers("step", 2, tomlfile.Any, tomlfile.Any); ok {
		step = room.Vec{X: s[0] * r.unit(), Y: s[1] * r.unit()}
		if count > 1 && step == (room.Vec{}) {
			t.Fault("step", "is no step at all", "[x, y] from one rack to the next")
		}
	}
	r.need(t, "step", "[x, y] from one rack to the next")
	t.Done()
	return count, step
}

// insideRoom returns a rack as far as it is in the room; good is false where it is not. What is outside an outline is cut off: at the ends of
// length and width here, elsewhere by what fills the outside.
func (r *reader) insideRoom(rack room.Rack) (in room.Rack, partly, good bool) {
	far, rm := rack.Far(), r.job.Room
	if rm.Outline == nil {
		return rack, false, rack.Corner.X >= -slack && rack.Corner.Y >= -slack && far.X <= rm.Length+slack && far.Y <= rm.Width+slack
	}
	inside, all := r.shared(room.Box{Low: rack.Corner, High: far})
	low := room.Vec{X: max(rack.Corner.X, 0), Y: max(rack.Corner.Y, 0), Z: rack.Corner.Z}
	in = rack
	in.Corner, in.Size = low, room.Vec{X: min(far.X, rm.Length), Y: min(far.Y, rm.Width), Z: far.Z}.Sub(low)
	const next = 1e-6 // m², next to nothing
	return in, inside < all-next, inside > next && min(in.Size.X, in.Size.Y) >= thinnestRack
}
