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
	corner, okCorner := t.Numbers("corner", 2, tomlfile.NotNegative, tomlfile.NotNegative)
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
	count, step := r.repeat(t.Table("repeat"))
	if !okCorner || !okSize || !roomGood {
		return
	}
	u := r.unit()
	rack.Corner = room.Vec{X: corner[0] * u, Y: corner[1] * u}
	rack.Size = room.Vec{X: size[0] * u, Y: size[1] * u, Z: size[2] * u}
	switch {
	case min(rack.Size.X, rack.Size.Y, rack.Size.Z) < thinnestRack:
		least := "at least 0.001 m (1 mm)"
		if r.job.Imperial {
			least = "at least 0.0033 ft (1/25 in)"
		}
		t.Fault("size", "has a side that is next to nothing", "sides of "+least)
		return
	case rack.Size.Z > r.job.Room.Height+slack:
		t.Fault("size", "is higher than the room", "a height of at most "+r.show(r.job.Room.Height))
		return
	case len(r.job.Racks)+count > mostTables:
		t.Fault("repeat", fmt.Sprintf("makes more than %d racks", mostTables), "fewer")
		return
	}
	for i := range count {
		placed := rack
		placed.Corner = rack.Corner.Add(step.Scale(float64(i))).Snap()
		if !r.insideRoom(placed) {
			t.Fault("corner", fmt.Sprintf("puts rack %d of %d outside the room", i+1, count), "racks that stand inside it")
			return
		}
		r.job.Racks = append(r.job.Racks, placed)
	}
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

func (r *reader) insideRoom(rack room.Rack) bool {
	far, rm := rack.Far(), r.job.Room
	return rack.Corner.X >= -slack && rack.Corner.Y >= -slack && far.X <= rm.Length+slack && far.Y <= rm.Width+slack
}
