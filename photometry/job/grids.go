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

const workPlane = "work plane" // name of the grid that every job has

func (r *reader) grids(top *tomlfile.Table, roomGood bool) {
	r.gridNames = []string{workPlane}
	for i, t := range top.Tables("grids", mostTables) {
		name, ok := t.Text("name")
		if !ok && !t.Has("name") {
			name = fmt.Sprintf("grid %d", i+1)
			r.default_(t, "name", strconv.Quote(name), "grids are numbered")
		}
		if slices.Contains(r.gridNames, name) {
			t.Fault("name", fmt.Sprintf("%q is taken", name), "a name of its own for each grid")
		} else if name != "" {
			r.gridNames = append(r.gridNames, name)
		}
		r.grid(t, name, roomGood)
		t.Done()
	}
}

// quantity asks which illuminance is meant; given tells that the job says so.
func (r *reader) quantity(t *tomlfile.Table) (q room.Quantity, given bool) {
	all := []room.Quantity{room.OnLevel, room.Upright, room.Cylindrical}
	words := make([]string, len(all))
	for i, q := range all {
		words[i] = q.String()
	}
	word, ok := t.Word("quantity", words...)
	if !ok {
		return room.OnLevel, false
	}
	return all[slices.Index(words, word)], true
}

// grid reads a vertical grid (from, to, heights, facing) or one of a floor's area (area, height), of level surfaces, or of upright ones
// (facing) or cylinders.
func (r *reader) grid(t *tomlfile.Table, name string, roomGood bool) {
	spacing, good := r.meters(t, "spacing", mostLength)
	if !t.Has("spacing") {
		spacing, good = r.job.Spacing, r.job.Spacing > 0
		r.default_(t, "spacing", r.show(spacing), "as on the work plane")
	}
	x, y, z := tomlfile.Any, tomlfile.Any, tomlfile.NotNegative
	if roomGood {
		x, y, z = r.within(r.job.Room.Length), r.within(r.job.Room.Width), r.within(r.job.Room.Height)
	}
	quantity, given := r.quantity(t)
	onLine := t.Has("from") || t.Has("to") || t.Has("heights")
	if t.Has("area") || t.Has("height") || given && !onLine {
		r.areaGrid(t, name, quantity, spacing, good && roomGood, x, y, z)
		return
	}
	if given && quantity != room.Upright {
		t.Fault("quantity", strconv.Quote(quantity.String())+" stands beside a line and its heights", "\"vertical\", or area and height in place of from, to and heights")
	}
	from, ok1 := t.Numbers("from", 2, x, y)
	to, ok2 := t.Numbers("to", 2, x, y)
	heights, ok3 := t.Numbers("heights", 2, z, z)
	facing, ok4 := t.Number("facing", tomlfile.Between(-360, 360))
	r.need(t, "from", "[x, y] in plan")
	r.need(t, "to", "[x, y] in plan")
	r.need(t, "heights", "[lowest, highest]")
	r.need(t, "facing", "the azimuth of the side that receives light, degrees counter-clockwise from +x")
	if !ok1 || !ok2 || !ok3 || !ok4 || !good || !roomGood {
		return
	}
	u := r.unit()
	a, b := room.Vec{X: from[0] * u, Y: from[1] * u}.Snap(), room.Vec{X: to[0] * u, Y: to[1] * u}.Snap()
	switch {
	case a == b:
		t.Fault("to", "is the same point as from", "the other end of the line")
		return
	case !(heights[1] > heights[0]):
		t.Fault("heights", "do not rise", "[lowest, highest]")
		return
	case !r.fewPoints(t, b.Sub(a).Length(), (heights[1]-heights[0])*u, spacing):
		return
	}
	g, err := room.VerticalGrid(name, a, b, room.Snap(heights[0]*u), room.Snap(heights[1]*u), facing*math.Pi/180, spacing)
	if err != nil {
		t.Fault("facing", fmt.Sprintf("is %g", facing), "square to the line from the first point to the other")
		return
	}
	r.addGrid(t, "from", g)
}

// addGrid keeps a grid unless not one of its points lies in the room and outside the racks.
func (r *reader) addGrid(t *tomlfile.Table, key string, g room.Grid) {
	switch {
	case g.Open(r.job.Boxes()):
		r.job.Grids = append(r.job.Grids, g)
	case !g.Open(r.outside):
		t.Fault(key, "puts the whole grid outside the room's outline", "a grid inside it, or on one of its walls")
	default:
		t.Fault(key, "puts the whole grid "+r.hidden(), "a grid in an aisle or on the face of a rack")
	}
}

// hidden is where points are that count for nothing.
func (r *reader) hidden() string {
	if r.outside == nil {
		return "inside racks"
	}
	return "inside racks or outside the room's outline"
}

func (r *reader) areaGrid(t *tomlfile.Table, name string, quantity room.Quantity, spacing float64, good bool, x, y, z tomlfile.Rule) {
	area, okArea := t.Numbers("area", 4, x, y, x, y)
	if quantity != room.OnLevel && !t.Has("area") {
		area, okArea = []float64{0, 0, r.job.Room.Length / r.unit(), r.job.Room.Width / r.unit()}, true
		r.default_(t, "area", fmt.Sprintf("[0, 0, %s, %s]", r.show(r.job.Room.Length), r.show(r.job.Room.Width)), "the whole floor")
	} else {
		r.need(t, "area", "[x, y, x, y] of two opposite corners")
	}
	height, why := r.job.Room.WorkPlane, "the work plane"
	if quantity != room.OnLevel {
		height, why = min(glare.Seated, r.job.Room.Height), "the eyes of seated persons"
	}
	if h, ok := t.Number("height", z); ok {
		height = room.Snap(h * r.unit())
	} else if !t.Has("height") {
		r.default_(t, "height", r.show(height), why)
	}
	normal, okNormal := r.normal(t, quantity)
	if !okArea || !okNormal || !good {
		return
	}
	u := r.unit()
	from := room.Vec{X: math.Min(area[0], area[2]) * u, Y: math.Min(area[1], area[3]) * u}.Snap()
	to := room.Vec{X: math.Max(area[0], area[2]) * u, Y: math.Max(area[1], area[3]) * u}.Snap()
	if from.X == to.X || from.Y == to.Y {
		t.Fault("area", "has no extent", "two corners that differ in x and in y")
		return
	}
	if r.fewPoints(t, to.X-from.X, to.Y-from.Y, spacing) {
		g := room.HorizontalGrid(name, from, to, height, spacing)
		g.Normal = normal
		r.addGrid(t, "area", g)
	}
}

// normal asks which way the surfaces on an area face.
func (r *reader) normal(t *tomlfile.Table, quantity room.Quantity) (normal room.Vec, ok bool) {
	switch quantity {
	case room.Upright:
		facing, ok := t.Number("facing", tomlfile.Between(-360, 360))
		r.need(t, "facing", "the azimuth of the side that receives light, degrees counter-clockwise from +x")
		return room.Facing(facing * math.Pi / 180), ok
	case room.OnLevel:
		normal = room.Vec{Z: 1}
	case room.Cylindrical:
	}
	if t.Has("facing") {
		t.Fault("facing", "stands with "+quantity.String()+" illuminance on an area", "no facing; quantity = \"vertical\" for surfaces that face one way")
		t.Number("facing", tomlfile.Any)
	}
	return normal, true
}

// fewPoints refuses a grid that would be too fine, counted as room.Cells does, which could overflow here.
func (r *reader) fewPoints(t *tomlfile.Table, length, width, spacing float64) bool {
	cells := func(length float64) float64 { return max(1, math.Ceil(length/spacing-1e-9)) }
	points := cells(length) * cells(width)
	switch {
	case points > mostPoints:
		t.Fault("spacing", fmt.Sprintf("makes a grid of %.0f points", points), fmt.Sprintf("at most %d", mostPoints))
		return false
	case r.points+points > mostPoints:
		if !r.crowded {
			t.Fault("spacing", fmt.Sprintf("makes %.0f points with the grids before it", r.points+points), fmt.Sprintf("at most %d in all", mostPoints))
		}
		r.crowded = true
		return false
	}
	r.points += points
	return true
}
