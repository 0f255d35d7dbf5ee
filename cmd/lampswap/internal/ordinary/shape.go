package ordinary

import (
	"math"
	"math/rand/v2"
	"slices"
)

// A Corner is one of a room's outline, m.
type Corner struct{ X, Y float64 }

// An area is a rectangle in plan, m.
type area struct{ x0, y0, x1, y1 float64 }

func (a area) meets(b area) bool { return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 }

// grown is an area with a margin all round.
func (a area) grown(by float64) area { return area{a.x0 - by, a.y0 - by, a.x1 + by, a.y1 + by} }

// halfBody is half of the longest body that hangs, and some: a luminaire whose middle is as far from a wall does not reach through it.
const halfBody = 1.35 // m

// Shaped is the job of a seed in a room that is no box: an L, a T or a U, often with a box that hangs. Luminaires, racks and grids that would
// be outside are left out. It is nil where nothing is left to light the room.
func Shaped(seed uint64) *Job {
	j := Draw(seed, false)
	h := hand{rand.New(rand.NewPCG(seed, 43))}
	var cuts []area
	deep := func(of float64) float64 { return h.tape(j, 0.2*of, 0.5*of) }
	x, y := deep(j.Length), deep(j.Width)
	switch l, w := j.Length, j.Width; h.IntN(3) {
	case 0: // an L
		j.Outline = []Corner{{0, 0}, {l, 0}, {l, w - y}, {l - x, w - y}, {l - x, w}, {0, w}}
		cuts = []area{{l - x, w - y, l, w}}
	case 1: // a T, whose stem is a third at least
		left, right := 0.66*x, 0.66*deep(l)
		j.Outline = []Corner{{left, 0}, {l - right, 0}, {l - right, w - y}, {l, w - y}, {l, w}, {0, w}, {0, w - y}, {left, w - y}}
		cuts = []area{{0, 0, left, w - y}, {l - right, 0, l, w - y}}
	default: // a U, wound the other way
		from := h.tape(j, 0.2*l, 0.45*l)
		to := from + h.tape(j, 0.15*l, 0.35*l)
		j.Outline = []Corner{{0, 0}, {0, w}, {from, w}, {from, w - y}, {to, w - y}, {to, w}, {l, w}, {l, 0}}
		cuts = []area{{from, w - y, to, w}}
	}
	j.placed()
	outside := func(a area) bool { return slices.ContainsFunc(cuts, a.meets) }
	j.Places = slices.DeleteFunc(j.Places, func(p Place) bool { return outside(area{p.X, p.Y, p.X, p.Y}.grown(halfBody)) })
	j.Racks = slices.DeleteFunc(j.Racks, func(r Rack) bool { return outside(area{r.X, r.Y, r.X + r.Long, r.Y + r.Wide}) })
	j.Grids = slices.DeleteFunc(j.Grids, func(g Grid) bool { return outside(area{g.FromX, g.FromY, g.ToX, g.ToY}.grown(0.01)) })
	if least, most := j.WorkPlane+0.6, j.Mounting-0.7; h.once(2) && least < most {
		long, wide := h.tape(j, 0.15*j.Length, 0.5*j.Length), h.tape(j, 0.1*j.Width, 0.4*j.Width)
		bottom := h.tape(j, least, most)
		box := Rack{h.tape(j, 0, j.Length-long), h.tape(j, 0, j.Width-wide), long, wide, min(h.tape(j, 0.1, 0.5), j.Mounting-0.15-bottom), h.percent(10, 60), 0, bottom}
		if !outside(area{box.X, box.Y, box.X + long, box.Y + wide}) {
			j.Racks = append(j.Racks, box)
		}
	}
	if len(j.Places) == 0 {
		return nil
	}
	return j
}

// placed puts luminaires in rows and columns at the places where they hang.
func (j *Job) placed() {
	rotation := 0.0
	if j.AlongWidth {
		rotation = 90
	}
	for r := range j.Rows {
		for c := range j.Columns {
			x, y := (float64(c)+0.5)*j.Length/float64(j.Columns), (float64(r)+0.5)*j.Width/float64(j.Rows)
			j.Places = append(j.Places, Place{math.Round(x/inch) * inch, math.Round(y/inch) * inch, rotation})
		}
	}
	j.Rows, j.Columns = 0, 0
}
