// Package plan is the plan of a room as the text of its job has it: what stands and hangs where, and how each is moved, copied and taken out in
// the text. Places are in the job's units, y upward as in the job.
package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// A Plan is the plan of a job as far as its text tells, so that it can be drawn while the job still has faults.
type Plan struct {
	Imperial              bool
	Length, Width, Height float64
	Outline               room.Outline // nil of a rectangle
	Things                []Thing
	Luminaires            []Luminaire
	Left                  int // luminaires that are not drawn
	text                  *tomltext.Text
}

// Kinds of things.
const (
	Corner   = "corner"   // of the outline
	Wall     = "wall"     // between two corners
	Rack     = "rack"     // a block on the floor, with those like it
	Hanging  = "hanging"  // one with a bottom
	Area     = "area"     // a grid on a part of the floor
	Face     = "face"     // an upright grid
	Group    = "group"    // luminaires in rows, or spread evenly, over an area
	Together = "together" // luminaires of a group with places of their own
	Single   = "single"   // a luminaire with a place of its own
	Observer = "observer" // who looks at the room
	Size     = "size"     // the far corner of something, by which it grows
	Near     = "near"     // the near corner of an area, likewise
	Next     = "next"     // the second of a row of racks, by which the way from one to the next grows
	Spacing  = "spacing"  // the second luminaire along both ways of a layout, by which they come closer together or further apart
)

// A Thing is something on a plan that can be taken hold of.
type Thing struct {
	ID, Kind, Name string
	Of             string     // the thing whose handle it is; "" of a thing of its own
	X, Y           float64    // by which it is known
	Low, High      room.Vec   // the box that it fills, with those like it
	Boxes          []room.Box // each of those like it; one or more
	Rows, Columns  int        // of a layout

	xs, ys []string // the numbers of the text that move with it
	list   string   // of places that move with it, in place of these
	first  []string // what must stand in the text before one of them can be changed: pairs of a path and a value
	copies bool     // it can be copied
	goes   bool     // it can be taken out
}

// A Luminaire hangs at a place, its lamps so long one way and so wide the other.
type Luminaire struct {
	Thing  string // that is moved to move it; "" where the job says only how many there are
	Group  int    // by number, for its looks
	Number int    // in its group, from 1
	At     room.Vec
	Turn   float64 // of its lamps from the x axis, rad
	Long   float64
	Failed bool
}

// What is drawn at most, of each kind, and how many corners an outline may have to be taken hold of.
const (
	mostDrawn   = 3000
	mostCorners = 200
)

// Of reads the plan from the text of a job.
func Of(t *tomltext.Text) *Plan {
	p := &Plan{text: t, Imperial: t.Shown("units") != "metric"}
	length, width := p.outline()
	p.Length, p.Width, p.Height = p.positive("room.length", length), p.positive("room.width", width), p.positive("room.height", p.Foot(18))
	p.walls()
	p.racks()
	p.grids()
	p.layouts()
	for i := range min(t.Count("observers"), mostDrawn) {
		path := fmt.Sprintf("observers[%d].at", i)
		if x, y := p.number(path+"[0]"), p.number(path+"[1]"); p.inside(x, y) {
			p.add(Thing{ID: path, Kind: Observer, Name: p.named("observer", fmt.Sprintf("observers[%d]", i), i), X: x, Y: y, xs: []string{path + "[0]"}, ys: []string{path + "[1]"}})
		}
	}
	return p
}

func (p *Plan) add(t Thing) {
	if len(t.Boxes) == 0 {
		t.Boxes = []room.Box{{Low: room.Vec{X: t.X, Y: t.Y}, High: room.Vec{X: t.X, Y: t.Y}}}
	}
	t.Low, t.High = t.Boxes[0].Low, t.Boxes[0].High
	for _, b := range t.Boxes[1:] {
		t.Low, t.High = room.Vec{X: min(t.Low.X, b.Low.X), Y: min(t.Low.Y, b.Low.Y)}, room.Vec{X: max(t.High.X, b.High.X), Y: max(t.High.Y, b.High.Y)}
	}
	p.Things = append(p.Things, t)
}

// Find returns a thing by its id.
func (p *Plan) Find(id string) (Thing, bool) {
	i := slices.IndexFunc(p.Things, func(t Thing) bool { return t.ID == id })
	if i < 0 {
		return Thing{}, false
	}
	return p.Things[i], true
}

// named is what a table is called: by its name, else by its number.
func (p *Plan) named(what, path string, i int) string {
	if name := strings.TrimSpace(p.text.Shown(path + ".name")); name != "" {
		return what + " " + name
	}
	return fmt.Sprintf("%s %d", what, i+1)
}

// number is the number at a path, NaN if there is none.
func (p *Plan) number(path string) float64 { return p.text.Number(path) }

func (p *Plan) positive(path string, otherwise float64) float64 {
	if x := p.number(path); x > 0 && !math.IsInf(x, 0) {
		return x
	}
	return otherwise
}

// Foot is so many feet in the job's unit.
func (p *Plan) Foot(n float64) float64 {
	if p.Imperial {
		return n
	}
	return n * photometry.Foot
}

func (p *Plan) inside(x, y float64) bool { return x >= 0 && y >= 0 && x <= p.Length && y <= p.Width }

func (p *Plan) holds(b room.Box) bool {
	return p.inside(b.Low.X, b.Low.Y) && b.High.X > b.Low.X && b.High.Y > b.Low.Y && !math.IsInf(b.High.X+b.High.Y, 0)
}

// outline reads the room's outline and returns what length and width are where the text does not say.
func (p *Plan) outline() (length, width float64) {
	var o room.Outline
	for i := range min(p.text.Count("room.outline"), mostDrawn) {
		c := room.Vec{X: p.number(fmt.Sprintf("room.outline[%d][0]", i)), Y: p.number(fmt.Sprintf("room.outline[%d][1]", i))}
		if !photometry.Finite(c.X, c.Y) {
			return p.Foot(100), p.Foot(60)
		}
		o = append(o, c)
	}
	if length, width = o.Extent(); !(length > 0 && width > 0) {
		return p.Foot(100), p.Foot(60)
	}
	p.Outline = o
	return length, width
}

// walls are the corners and the walls of the room, which move: of a rectangle those that do not lie at the origin.
func (p *Plan) walls() {
	if p.Outline == nil {
		line := func(x0, y0, x1, y1 float64) []room.Box {
			return []room.Box{{Low: room.Vec{X: x0, Y: y0}, High: room.Vec{X: x1, Y: y1}}}
		}
		p.add(Thing{ID: "room.length", Kind: Wall, Name: "far wall, which sets the length", X: p.Length, Y: p.Width / 2, Boxes: line(p.Length, 0, p.Length, p.Width), xs: []string{"room.length"}})
		p.add(Thing{ID: "room.width", Kind: Wall, Name: "far wall, which sets the width", X: p.Length / 2, Y: p.Width, Boxes: line(0, p.Width, p.Length, p.Width), ys: []string{"room.width"}})
		p.add(Thing{ID: "room", Kind: Corner, Name: "far corner of the room", X: p.Length, Y: p.Width, xs: []string{"room.length"}, ys: []string{"room.width"}, copies: true})
		return
	}
	n := len(p.Outline)
	if n > mostCorners {
		return
	}
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%n]
		wall := Thing{ID: fmt.Sprintf("room.outline[%d].wall", i), Kind: Wall, Name: fmt.Sprintf("wall %d", i+1), X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2,
			Boxes: []room.Box{{Low: room.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y)}, High: room.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y)}}}}
		if a.X == b.X {
			wall.xs = p.along(i, 0)
		} else {
			wall.ys = p.along(i, 1)
		}
		p.add(wall)
	}
	for i, c := range p.Outline {
		p.add(Thing{ID: fmt.Sprintf("room.outline[%d]", i), Kind: Corner, Name: fmt.Sprintf("corner %d", i+1), X: c.X, Y: c.Y, xs: p.along(i, 0), ys: p.along(i, 1), copies: true, goes: n > 4})
	}
}

// along are the coordinates of a corner, x (0) or y (1), and of those that walls without a bend join to it there.
func (p *Plan) along(i, axis int) []string {
	n := len(p.Outline)
	at := func(k int) float64 { return []float64{p.Outline[k].X, p.Outline[k].Y}[axis] }
	path := func(k int) string { return fmt.Sprintf("room.outline[%d][%d]", k, axis) }
	all := []string{path(i)}
	k := (i + 1) % n
	for ; k != i && at(k) == at(i); k = (k + 1) % n {
		all = append(all, path(k))
	}
	for b := (i + n - 1) % n; k != i && b != k && at(b) == at(i); b = (b + n - 1) % n {
		all = append(all, path(b))
	}
	return all
}

func (p *Plan) racks() {
	drawn := 0
	for i := range min(p.text.Count("racks"), mostDrawn) {
		path := fmt.Sprintf("racks[%d]", i)
		at := func(key string, k int) float64 { return p.number(fmt.Sprintf("%s.%s[%d]", path, key, k)) }
		low := room.Vec{X: at("corner", 0), Y: at("corner", 1)}
		first := room.Box{Low: low, High: low.Add(room.Vec{X: at("size", 0), Y: at("size", 1)})}
		if !p.holds(first) {
			continue
		}
		t := Thing{ID: path, Kind: Rack, Name: p.named("rack", path, i), X: low.X, Y: low.Y, Boxes: []room.Box{first}, copies: true, goes: true,
			xs: []string{path + ".corner[0]"}, ys: []string{path + ".corner[1]"}}
		if p.number(path+".bottom") > 0 {
			t.Kind, t.Name = Hanging, p.named("hanging box", path, i)
		}
		step := room.Vec{X: at("repeat.step", 0), Y: at("repeat.step", 1)}
		for k := 1; k < int(min(p.positive(path+".repeat.count", 1), mostDrawn)) && photometry.Finite(step.X, step.Y); k++ {
			if b := (room.Box{Low: first.Low.Add(step.Scale(float64(k))), High: first.High.Add(step.Scale(float64(k)))}); p.holds(b) {
				t.Boxes = append(t.Boxes, b)
			}
		}
		if drawn += len(t.Boxes); drawn > mostDrawn {
			return
		}
		p.add(t)
		p.add(Thing{ID: path + ".size", Of: path, Kind: Size, Name: "far corner of " + t.Name, X: first.High.X, Y: first.High.Y, xs: []string{path + ".size[0]"}, ys: []string{path + ".size[1]"}})
		if len(t.Boxes) > 1 {
			next := t.Boxes[1]
			p.add(Thing{ID: path + ".repeat.step", Of: path, Kind: Next, Name: "the way from one to the next of " + t.Name, X: next.Low.X, Y: next.Low.Y,
				Boxes: []room.Box{next}, xs: []string{path + ".repeat.step[0]"}, ys: []string{path + ".repeat.step[1]"}})
		}
	}
}

// area reads two opposite corners; a missing one is the whole floor, if that is what a missing one means.
func (p *Plan) area(path string) (box room.Box, xs, ys [2]string, first []string, ok bool) {
	at := func(k int) float64 { return p.number(fmt.Sprintf("%s[%d]", path, k)) }
	x0, y0, x1, y1 := at(0), at(1), at(2), at(3)
	if !p.text.Has(path) {
		x0, y0, x1, y1 = 0, 0, p.Length, p.Width
		first = []string{path, "[" + strings.Join([]string{decimal(0), decimal(0), decimal(p.Length), decimal(p.Width)}, ", ") + "]"}
	}
	number := func(k int) string { return fmt.Sprintf("%s[%d]", path, k) }
	xs, ys = [2]string{number(0), number(2)}, [2]string{number(1), number(3)}
	if x0 > x1 {
		x0, x1, xs = x1, x0, [2]string{xs[1], xs[0]}
	}
	if y0 > y1 {
		y0, y1, ys = y1, y0, [2]string{ys[1], ys[0]}
	}
	box = room.Box{Low: room.Vec{X: x0, Y: y0}, High: room.Vec{X: x1, Y: y1}}
	return box, xs, ys, first, p.holds(box)
}

// addArea adds a thing that fills an area, with its two corners.
func (p *Plan) addArea(t Thing, path string) bool {
	box, xs, ys, first, ok := p.area(path)
	if !ok {
		return false
	}
	t.X, t.Y, t.Boxes, t.xs, t.ys, t.first = box.Low.X, box.Low.Y, []room.Box{box}, xs[:], ys[:], first
	p.add(t)
	p.add(Thing{ID: path + ".far", Of: t.ID, Kind: Size, Name: "far corner of " + t.Name, X: box.High.X, Y: box.High.Y, xs: xs[1:], ys: ys[1:], first: first})
	p.add(Thing{ID: path + ".near", Of: t.ID, Kind: Near, Name: "near corner of " + t.Name, X: box.Low.X, Y: box.Low.Y, xs: xs[:1], ys: ys[:1], first: first})
	return true
}

func (p *Plan) grids() {
	for i := range min(p.text.Count("grids"), mostDrawn) {
		path := fmt.Sprintf("grids[%d]", i)
		name := p.named("grid", path, i)
		if p.text.Has(path+".area") || p.text.Has(path+".height") {
			p.addArea(Thing{ID: path, Kind: Area, Name: name, copies: true, goes: true}, path+".area")
			continue
		}
		at := func(key string, k int) float64 { return p.number(fmt.Sprintf("%s.%s[%d]", path, key, k)) }
		a, b := room.Vec{X: at("from", 0), Y: at("from", 1)}, room.Vec{X: at("to", 0), Y: at("to", 1)}
		if !p.inside(a.X, a.Y) || !p.inside(b.X, b.Y) {
			continue
		}
		p.add(Thing{ID: path, Kind: Face, Name: name, X: a.X, Y: a.Y, Boxes: []room.Box{{Low: a, High: b}}, copies: true, goes: true,
			xs: []string{path + ".from[0]", path + ".to[0]"}, ys: []string{path + ".from[1]", path + ".to[1]"}})
		p.add(Thing{ID: path + ".to", Of: path, Kind: Size, Name: "end of " + name, X: b.X, Y: b.Y, xs: []string{path + ".to[0]"}, ys: []string{path + ".to[1]"}})
	}
}

// Grouped tells that the luminaires of a job stand in groups.
func Grouped(t *tomltext.Text) bool { return t.Has("groups") || t.Has("kinds") }

// A hung is where luminaires are said to hang: a layout, or a group.
type hung struct {
	path, name string
	area       bool // it may have one
}

func (p *Plan) hungs() []hung {
	var all []hung
	if Grouped(p.text) {
		for i := range min(p.text.Count("groups"), mostDrawn) {
			path := fmt.Sprintf("groups[%d]", i)
			all = append(all, hung{path, p.named("group", path, i), true})
		}
		return all
	}
	if p.text.Has("layout") {
		all = append(all, hung{path: "layout", name: "layout"})
	}
	for _, system := range job.SystemNames {
		if p.text.Has(system + ".layout") {
			all = append(all, hung{path: system + ".layout", name: "layout of the " + system})
		}
	}
	return all
}

func (p *Plan) layouts() {
	for g, h := range p.hungs() {
		if n := p.text.Count(h.path + ".positions"); n > 0 {
			from := len(p.Luminaires)
			for i := range n {
				p.single(g, h, i)
			}
			p.together(h, p.Luminaires[from:])
			continue
		}
		p.spread(g, h)
	}
}

// together adds luminaires that have places of their own as a thing of which all are parts.
func (p *Plan) together(h hung, all []Luminaire) {
	if len(all) == 0 {
		return
	}
	box := room.Box{Low: all[0].At, High: all[0].At}
	for _, l := range all {
		box.Low = room.Vec{X: min(box.Low.X, l.At.X), Y: min(box.Low.Y, l.At.Y)}
		box.High = room.Vec{X: max(box.High.X, l.At.X), Y: max(box.High.Y, l.At.Y)}
	}
	p.add(Thing{ID: h.path, Kind: Together, Name: h.name, X: box.Low.X, Y: box.Low.Y, Boxes: []room.Box{box}, list: h.path + ".positions",
		copies: h.area, goes: h.area && p.text.Count("groups") > 1})
}

func (p *Plan) turn(h hung) float64 {
	if p.text.Shown(h.path+".lamps_along") == "width" {
		return math.Pi / 2
	}
	return 0
}

// single adds a luminaire that has a place of its own.
func (p *Plan) single(g int, h hung, i int) {
	path := fmt.Sprintf("%s.positions[%d]", h.path, i)
	x, y, turn := p.number(path+"[0]"), p.number(path+"[1]"), p.turn(h)
	if degrees := p.number(path + "[2]"); photometry.Finite(degrees) {
		turn = degrees * math.Pi / 180
	}
	if !p.inside(x, y) {
		return
	}
	if len(p.Luminaires) >= mostDrawn {
		p.Left++
		return
	}
	t := Thing{ID: path, Kind: Single, Name: fmt.Sprintf("luminaire %d of %s", i+1, h.name), X: x, Y: y, xs: []string{path + "[0]"}, ys: []string{path + "[1]"}, copies: true,
		goes: p.text.Count(h.path+".positions") > 1}
	p.add(t)
	p.Luminaires = append(p.Luminaires, Luminaire{Thing: t.ID, Group: g, Number: i + 1, At: room.Vec{X: x, Y: y}, Turn: turn, Long: p.Foot(8)})
}

// spread adds luminaires in rows and columns, or spread evenly, over an area or the room.
func (p *Plan) spread(g int, h hung) {
	rows, columns, n := p.number(h.path+".rows"), p.number(h.path+".columns"), p.number(h.path+".count")
	area, id := room.Box{High: room.Vec{X: p.Length, Y: p.Width}}, ""
	if h.area {
		id = h.path
		if !p.addArea(Thing{ID: id, Kind: Group, Name: h.name, copies: true, goes: p.text.Count("groups") > 1}, h.path+".area") {
			return
		}
		area, _, _, _, _ = p.area(h.path + ".area")
	}
	var places []room.Placement
	switch {
	case rows >= 1 && columns >= 1 && rows*columns <= 100*mostDrawn:
		places = room.RowsIn(area, slices.Repeat([]int{int(columns)}, int(rows)), 0, p.turn(h))
		p.spacing(h, area, int(rows), int(columns))
	case n >= 1 && n <= 100*mostDrawn && p.Outline != nil:
		places = p.Outline.Spread(area, int(n), 0, p.turn(h))
	case n >= 1 && n <= 100*mostDrawn:
		places = room.RowsIn(area, room.EvenRows(area, int(n)), 0, p.turn(h))
	}
	for i, at := range places {
		if len(p.Luminaires) >= mostDrawn {
			p.Left += len(places) - i
			return
		}
		p.Luminaires = append(p.Luminaires, Luminaire{Thing: id, Group: g, Number: i + 1, At: at.Position, Turn: at.Rotation, Long: p.Foot(8)})
	}
}

// spacing adds the handle by which rows and columns come closer together: where the second luminaire of the second row hangs.
func (p *Plan) spacing(h hung, area room.Box, rows, columns int) {
	step := room.Vec{X: (area.High.X - area.Low.X) / float64(columns), Y: (area.High.Y - area.Low.Y) / float64(rows)}
	at := area.Low.Add(room.Vec{X: 1.5 * step.X, Y: 1.5 * step.Y})
	if columns == 1 {
		at.X -= step.X
	}
	if rows == 1 {
		at.Y -= step.Y
	}
	of := ""
	if h.area {
		of = h.path
	}
	p.add(Thing{ID: h.path + ".spacing", Of: of, Kind: Spacing, Name: "spacing of " + h.name, X: at.X, Y: at.Y, Rows: rows, Columns: columns, Boxes: []room.Box{area}})
}

// Resolve takes from the job that was read of the text what only that knows: how long luminaires are, which have failed, and how they are spread.
// Of a job of before, whose text was another, the last is left out.
func (p *Plan) Resolve(j *job.Job, now bool) {
	unit := map[bool]float64{true: photometry.Foot, false: 1}[j.Imperial]
	for g, h := range p.hungs() {
		from := systemOf(j, g, h)
		if from == nil {
			continue
		}
		for i := range p.Luminaires {
			l := &p.Luminaires[i]
			if l.Group != g || l.Number > len(from.Layout.Placements) {
				continue
			}
			if at := from.Layout.Placements[l.Number-1]; now {
				l.At, l.Turn = at.Position.Scale(1/unit), at.Rotation
			}
			if long := max(from.Luminaire.Opening.Length, from.Luminaire.Opening.Width); long > 0 {
				l.Long = long / unit
			}
			if from.Luminaire.Opening.Width > from.Luminaire.Opening.Length {
				l.Turn += math.Pi / 2
			}
			_, l.Failed = slices.BinarySearch(from.Use.Failed, l.Number-1)
		}
	}
}

// systemOf are the luminaires of a job that hang at a place: those of before, else those of after.
func systemOf(j *job.Job, g int, h hung) *job.System {
	switch h.path {
	case "layout", "existing.layout":
		return &j.Existing
	case "proposed.layout":
		return &j.Proposed
	case "replacement.layout":
		return j.Replacement
	}
	if g >= len(j.Groups) {
		return nil
	}
	for _, s := range j.Systems() {
		if found := s.Find(j.Groups[g]); found != nil {
			return found
		}
	}
	return nil
}

// GroupName is what a group of luminaires, or the layout, is called.
func (p *Plan) GroupName(g int) string {
	h := p.hungs()[g]
	if h.path == "layout" {
		return "luminaires"
	}
	return h.name
}
