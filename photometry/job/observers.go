package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"lampswap/photometry/glare"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/room"
)

const mostObservers = 1000

// observers reads who looks at the room, or takes those by rule.
func (r *reader) observers(top *tomlfile.Table, roomGood bool) {
	j := r.job
	var names []string
	for i, t := range top.Tables("observers", mostObservers) {
		j.ObserversNamed = true
		name, ok := t.Text("name")
		if !ok && !t.Has("name") {
			name = fmt.Sprintf("observer %d", i+1)
			r.default_(t, "name", strconv.Quote(name), "observers are numbered")
		}
		if slices.Contains(names, name) {
			t.Fault("name", fmt.Sprintf("%q is taken", name), "a name of its own for each observer")
		}
		names = append(names, name)
		r.observer(t, name, roomGood)
		t.Done()
	}
	if j.ObserversNamed || !roomGood {
		return
	}
	j.Observers = glare.ByRule(j.Room, j.Racks)
	r.default_(top, "observers", fmt.Sprintf("%d by rule", len(j.Observers)), "who looks in from the middle of each wall, seated and standing")
}

func (r *reader) observer(t *tomlfile.Table, name string, roomGood bool) {
	x, y, z := tomlfile.Any, tomlfile.Any, tomlfile.NotNegative
	if roomGood {
		x, y, z = r.within(r.job.Room.Length), r.within(r.job.Room.Width), r.within(r.job.Room.Height)
	}
	at, okAt := t.Numbers("at", 2, x, y)
	height, okHeight := t.Number("height", z)
	looking, okLooking := t.Number("looking", tomlfile.Between(-360, 360))
	r.need(t, "at", "[x, y] in plan")
	r.need(t, "looking", "the azimuth of the line of sight, degrees counter-clockwise from +x")
	height *= r.unit()
	if !t.Has("height") && roomGood {
		height, okHeight = min(glare.Seated, r.job.Room.Height), true
		r.default_(t, "height", r.show(height), "the eyes of seated persons")
	}
	if !okAt || !okHeight || !okLooking || !roomGood {
		return
	}
	eye := room.Vec{X: at[0] * r.unit(), Y: at[1] * r.unit(), Z: height}.Snap()
	if !r.job.Room.Holds(eye) {
		t.Fault("at", "is outside the room's outline", "a place in the room")
		return
	}
	if slices.ContainsFunc(r.job.Racks, func(k room.Rack) bool { return k.Contains(eye) }) {
		t.Fault("at", fmt.Sprintf("is in a rack %s above the floor", r.show(height)), "a place in an aisle, or a height above the rack")
		return
	}
	r.job.Observers = append(r.job.Observers, glare.Observer{Name: name, Eye: eye, Looking: looking * math.Pi / 180})
}
