package form

import (
	"fmt"
	"math"
	"slices"

	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry"
	"lampswap/photometry/room"
)

// A Sketch is the plan of a job as far as its text tells, in the job's units, so that it can be drawn while the job still has faults.
type Sketch struct {
	imperial              bool
	length, width, height float64
	outline               room.Outline // nil of a rectangle
	racks                 []planRect
	hanging               []planRect
	lamps                 []planLamp
	lines                 []planLine // upright faces
	areas                 []planRect
}

// Places on a plan are in the job's units, y upward as in the job.
type (
	planRect struct{ X, Y, Width, Height float64 }
	planLamp struct {
		X, Y   float64
		AlongY bool
	}
	planLine struct{ X1, Y1, X2, Y2 float64 }
)

// mostSketched bounds what a sketch shows, of each kind.
const mostSketched = 3000

// SketchOf reads the plan from the text of a job.
func SketchOf(t *tomltext.Text) Sketch {
	s := Sketch{imperial: Shown(t, "units") != "metric"}
	length, width := s.addOutline(t)
	s.length, s.width, s.height = positive(t, "room.length", length), positive(t, "room.width", width), positive(t, "room.height", s.foot(18))
	s.addRacks(t)
	s.addLamps(t)
	for i := range min(t.Count("grids"), mostShown) {
		at := func(key string, k int) float64 { return numberAt(t, fmt.Sprintf("grids[%d].%s[%d]", i, key, k)) }
		if t.Has(fmt.Sprintf("grids[%d].area", i)) {
			r := planRect{min(at("area", 0), at("area", 2)), min(at("area", 1), at("area", 3)), math.Abs(at("area", 2) - at("area", 0)), math.Abs(at("area", 3) - at("area", 1))}
			if s.holds(r) {
				s.areas = append(s.areas, r)
			}
			continue
		}
		if l := (planLine{at("from", 0), at("from", 1), at("to", 0), at("to", 1)}); s.inside(l.X1, l.Y1) && s.inside(l.X2, l.Y2) {
			s.lines = append(s.lines, l)
		}
	}
	return s
}

// addOutline reads the room's outline and returns what length and width are where the text does not say.
func (s *Sketch) addOutline(t *tomltext.Text) (length, width float64) {
	var o room.Outline
	for i := range min(t.Count("room.outline"), mostSketched) {
		at := func(k int) float64 { return numberAt(t, fmt.Sprintf("room.outline[%d][%d]", i, k)) }
		c := room.Vec{X: at(0), Y: at(1)}
		if !photometry.Finite(c.X, c.Y) {
			return s.foot(100), s.foot(60)
		}
		o = append(o, c)
	}
	if length, width = o.Extent(); !(length > 0 && width > 0) {
		return s.foot(100), s.foot(60)
	}
	s.outline = o
	return length, width
}

// numberAt is the number at a path, NaN if there is none.
func numberAt(t *tomltext.Text, path string) float64 {
	switch v := t.Value(path).(type) {
	case int64:
		return float64(v)
	case float64:
		return v
	}
	return math.NaN()
}

func positive(t *tomltext.Text, path string, otherwise float64) float64 {
	if x := numberAt(t, path); x > 0 && !math.IsInf(x, 0) {
		return x
	}
	return otherwise
}

// foot is so many feet in the job's unit.
func (s *Sketch) foot(n float64) float64 {
	if s.imperial {
		return n
	}
	return n * photometry.Foot
}

// light is so many footcandles in the job's unit, roundly.
func (s *Sketch) light(fc float64) float64 {
	if s.imperial {
		return fc
	}
	return 10 * fc
}

func (s *Sketch) inside(x, y float64) bool { return x >= 0 && y >= 0 && x <= s.length && y <= s.width }

func (s *Sketch) holds(r planRect) bool {
	return s.inside(r.X, r.Y) && r.Width > 0 && r.Height > 0 && !math.IsInf(r.Width+r.Height, 0)
}

func (s *Sketch) addRacks(t *tomltext.Text) {
	for i := range min(t.Count("racks"), mostShown) {
		at := func(key string, k int) float64 { return numberAt(t, fmt.Sprintf("racks[%d].%s[%d]", i, key, k)) }
		count := 1.0
		if n := numberAt(t, fmt.Sprintf("racks[%d].repeat.count", i)); n >= 1 {
			count = n
		}
		for k := range int(min(count, mostSketched)) {
			step := func(axis int) float64 {
				if k == 0 {
					return 0
				}
				return float64(k) * at("repeat.step", axis)
			}
			r := planRect{at("corner", 0) + step(0), at("corner", 1) + step(1), at("size", 0), at("size", 1)}
			switch {
			case !s.holds(r) || len(s.racks)+len(s.hanging) >= mostSketched:
			case numberAt(t, fmt.Sprintf("racks[%d].bottom", i)) > 0:
				s.hanging = append(s.hanging, r)
			default:
				s.racks = append(s.racks, r)
			}
		}
	}
}

func (s *Sketch) addLamps(t *tomltext.Text) {
	if !grouped(t) {
		s.addHung(t, "layout.")
		return
	}
	for i := range min(t.Count("groups"), mostShown) {
		s.addHung(t, fmt.Sprintf("groups[%d].", i))
	}
}

// addHung adds the luminaires of a layout, or of a group: in its area, or in the room.
func (s *Sketch) addHung(t *tomltext.Text, prefix string) {
	alongY := Shown(t, prefix+"lamps_along") == "width"
	add := func(x, y float64) {
		if s.inside(x, y) && len(s.lamps) < mostSketched {
			s.lamps = append(s.lamps, planLamp{x, y, alongY})
		}
	}
	number := func(key string) float64 { return numberAt(t, prefix+key) }
	if n := t.Count(prefix + "positions"); n > 0 {
		for i := range min(n, mostSketched) {
			add(number(fmt.Sprintf("positions[%d][0]", i)), number(fmt.Sprintf("positions[%d][1]", i)))
		}
		return
	}
	area := room.Box{High: room.Vec{X: s.length, Y: s.width}}
	if x0, y0, x1, y1 := number("area[0]"), number("area[1]"), number("area[2]"), number("area[3]"); s.inside(x0, y0) && s.inside(x1, y1) && x0 != x1 && y0 != y1 {
		area = room.Box{Low: room.Vec{X: min(x0, x1), Y: min(y0, y1)}, High: room.Vec{X: max(x0, x1), Y: max(y0, y1)}}
	}
	var inRows []int
	switch rows, columns, n := number("rows"), number("columns"), number("count"); {
	case rows >= 1 && columns >= 1 && rows*columns <= mostSketched:
		inRows = slices.Repeat([]int{int(columns)}, int(rows))
	case n >= 1 && n <= mostSketched:
		inRows = room.EvenRows(area, int(n))
	}
	for _, p := range room.RowsIn(area, inRows, 0, 0) {
		add(p.Position.X, p.Position.Y)
	}
}

// faceOfRack is an upright place to look at: the near long side of the first rack, else a strip along the wall.
func (s *Sketch) faceOfRack() []string {
	facing, high := "facing = 90.0", "heights = "+numbers(s.foot(2), min(s.foot(8), s.height))
	if len(s.racks) == 0 {
		return []string{"from = " + numbers(0, s.foot(0.5)), "to = " + numbers(s.length, s.foot(0.5)), high, facing, "spacing = " + plainDecimal(s.foot(2))}
	}
	r := s.racks[0]
	return []string{"from = " + numbers(r.X, r.Y+r.Height), "to = " + numbers(r.X+r.Width, r.Y+r.Height), high, facing, "spacing = " + plainDecimal(s.foot(2))}
}

// A PlanView is what the page draws.
type PlanView struct {
	ViewBox       string
	Length, Width float64
	Racks, Areas  []planRect
	Hanging       []planRect
	Outline       string // points of a polygon; "" of a rectangle
	Lamps         []planLine
	Lines         []planLine
	Words         string // for a reader who cannot see it
}

// View turns y downward, as pictures have it.
func (s *Sketch) View() PlanView {
	margin := max(s.length, s.width) * 0.01
	v := PlanView{ViewBox: fmt.Sprintf("%.4g %.4g %.5g %.5g", -margin, -margin, s.length+2*margin, s.width+2*margin), Length: s.length, Width: s.width}
	flip := func(r planRect) planRect { return planRect{r.X, s.width - r.Y - r.Height, r.Width, r.Height} }
	for _, r := range s.racks {
		v.Racks = append(v.Racks, flip(r))
	}
	for _, r := range s.hanging {
		v.Hanging = append(v.Hanging, flip(r))
	}
	for _, c := range s.outline {
		v.Outline += fmt.Sprintf("%.6g,%.6g ", c.X, s.width-c.Y)
	}
	for _, r := range s.areas {
		v.Areas = append(v.Areas, flip(r))
	}
	for _, l := range s.lines {
		v.Lines = append(v.Lines, planLine{l.X1, s.width - l.Y1, l.X2, s.width - l.Y2})
	}
	half := s.foot(4)
	for _, l := range s.lamps {
		y := s.width - l.Y
		if l.AlongY {
			v.Lamps = append(v.Lamps, planLine{l.X, y - half, l.X, y + half})
		} else {
			v.Lamps = append(v.Lamps, planLine{l.X - half, y, l.X + half, y})
		}
	}
	unit := Unit("length", s.imperial)
	v.Words = fmt.Sprintf("Plan of the room, %.4g by %.4g %s, with %d luminaires and %d racks", s.length, s.width, unit, len(s.lamps), len(s.racks)+len(s.hanging))
	return v
}
