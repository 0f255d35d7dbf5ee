package ordinary

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
	"lampswap/photometry/levels"
)

const (
	foot = 0.3048
	inch = 0.0254
)

// A hand draws one job; each seed has a stream of its own, so that one job can be drawn again by itself.
type hand struct{ *rand.Rand }

func (h hand) between(least, most float64) float64 { return least + (most-least)*h.Float64() }

// once tells one time in n.
func (h hand) once(n int) bool { return h.IntN(n) == 0 }

func pick[T any](h hand, from []T) T { return from[h.IntN(len(from))] }

// tape is a length as a tape measure gives it: to the inch, or to the centimeter.
func (h hand) tape(j *Job, least, most float64) float64 {
	step := 0.01
	if j.Imperial {
		step = inch
	}
	return max(step, math.Round(h.between(least, most)/step)*step)
}

// A kind of place: least and most of its length, width and height, m, and how far lamps hang below its ceiling at most.
type kind struct {
	length, width, height [2]float64
	drop                  float64
	racks                 bool
}

var kinds = map[string]kind{
	"shop":   {[2]float64{6, 18}, [2]float64{4, 12}, [2]float64{2.5, 4.5}, 1.2, false},
	"office": {[2]float64{4, 20}, [2]float64{3, 12}, [2]float64{2.4, 3.2}, 0.4, false},
	"stores": {[2]float64{12, 30}, [2]float64{8, 20}, [2]float64{4.5, 8}, 2, true},
	"hall":   {[2]float64{50, 92}, [2]float64{25, 60}, [2]float64{6, 12}, 3, true},
}

// Draw draws the job of a seed. Large halls come only where they are asked for: their light takes seconds.
func Draw(seed uint64, halls bool) *Job {
	h := hand{rand.New(rand.NewPCG(seed, 41))}
	j := &Job{Seed: seed, Imperial: h.once(2)}
	names := []string{"shop", "shop", "office", "stores"}
	if halls && h.once(60) {
		names = []string{"hall"}
	}
	k := kinds[pick(h, names)]
	j.Length, j.Width, j.Height = h.tape(j, k.length[0], k.length[1]), h.tape(j, k.width[0], k.width[1]), h.tape(j, k.height[0], k.height[1])
	j.WorkPlane = pick(h, []float64{0, 0.76, 0.85, 2.5 * foot})
	j.Ceiling, j.Walls, j.Floor = h.percent(10, 85), h.percent(10, 70), h.percent(10, 40)
	j.Mounting = j.Height
	if !h.once(3) { // else at the ceiling
		j.Mounting = j.Height - h.tape(j, 0, min(k.drop, j.Height-j.WorkPlane-1))
	}
	h.layout(j)
	if k.racks && !h.once(4) {
		h.racks(j)
	}
	j.Existing, j.Proposed = h.system(true), h.system(false)
	if h.once(4) {
		j.Proposed.Fixture = j.Existing.Fixture
	}
	if h.once(8) {
		j.Existing.Burnout = h.between(0.5, 1)
	}
	j.Hours, j.CleanMonths, j.Atmosphere = pick(h, []float64{2000, 4000, 8760}), pick(h, []float64{0, 6, 24, 36}), pick(h, []string{"very-clean", "clean", "medium", "dirty"})
	if h.once(3) {
		j.RelampHours = pick(h, []float64{8000, 16000, 24000})
	}
	j.Ambient = pick(h, []float64{25, 25, 25, 20, 5, -10, -23})
	j.Spacing = apart(max(j.Length, j.Width), 4+h.IntN(8), j.Length, j.Width)
	h.faces(j)
	h.criteria(j)
	if j.Imperial && h.once(3) {
		j.State = pick(h, []string{"OH", "CA", "VT", "TX"})
	}
	if h.once(2) {
		j.Price, j.Cost = 0.02+h.percent(1, 30), float64(100*h.IntN(200))
	}
	return j
}

func (h hand) percent(least, most int) float64 { return float64(least+h.IntN(most-least+1)) / 100 }

// apart is a spacing of about n points over an extent, away from where a millionth makes one point more in any of the lengths.
func apart(extent float64, n int, lengths ...float64) float64 {
	for shift := 0.37; ; shift += 0.0137 {
		spacing := extent / (float64(n) - shift)
		if !slices.ContainsFunc(lengths, func(l float64) bool { return math.Abs(l/spacing-math.Round(l/spacing)) < 1e-3 }) {
			return spacing
		}
	}
}

func (h hand) layout(j *Job) {
	j.AlongWidth = h.once(3)
	j.Rows, j.Columns = 1+h.IntN(max(1, int(j.Width/2.5))), 1+h.IntN(max(1, int(j.Length/3)))
	if h.once(2) {
		return
	}
	// each moved as far as a tape in a hurry is off
	rotation := 0.0
	if j.AlongWidth {
		rotation = 90
	}
	step := 0.01
	if j.Imperial {
		step = inch
	}
	for r := range j.Rows {
		for c := range j.Columns {
			x := (float64(c)+0.5)*j.Length/float64(j.Columns) + h.between(-0.09, 0.09)
			y := (float64(r)+0.5)*j.Width/float64(j.Rows) + h.between(-0.09, 0.09)
			j.Places = append(j.Places, Place{math.Round(x/step) * step, math.Round(y/step) * step, rotation})
		}
	}
	j.Rows, j.Columns = 0, 0
}

func (h hand) racks(j *Job) {
	long, wide := h.tape(j, 0.3*j.Length, 0.8*j.Length), h.tape(j, 0.6, 1.4)
	high := min(h.tape(j, 0.3*j.Mounting, 0.9*j.Mounting), j.Mounting-0.3)
	reflectance, transmittance := h.percent(10, 60), 0.0
	if h.once(5) {
		transmittance = h.percent(10, 60)
	}
	x, y := h.tape(j, 0, j.Length-long), h.tape(j, 0, 0.2*j.Width)
	if h.once(3) {
		y = 0 // along the wall
	}
	step := pick(h, []float64{wide, 0.5 * wide, wide + 2.4, wide + 3}) // touch, overlap, aisles
	for n := 1 + h.IntN(4); n > 0 && y+wide <= j.Width; n-- {
		j.Racks = append(j.Racks, Rack{X: x, Y: y, Long: long, Wide: wide, High: high, Reflectance: reflectance, Transmittance: transmittance})
		y += step
	}
	if len(j.Racks) > 0 && h.once(5) {
		j.Racks = append(j.Racks, j.Racks[len(j.Racks)-1]) // listed twice
	}
}

// faces are vertical grids: along a wall, and on the face of a rack.
func (h hand) faces(j *Job) {
	if h.once(3) {
		y := h.between(0.2, 0.8) * j.Width
		j.Grids = append(j.Grids, Grid{"bench", 0.1 * j.Length, y, 0.9 * j.Length, y, 0.2, 0.7 * j.Mounting, pick(h, []float64{90, -90}), 0.8 * j.Length / 4.6})
	}
	if len(j.Racks) > 0 && h.once(2) {
		r := j.Racks[h.IntN(len(j.Racks))]
		y := r.Y + r.Wide
		if y < j.Width-0.5 && !covered(j, r) {
			j.Grids = append(j.Grids, Grid{"face", r.X, y, r.X + r.Long, y, 0.1, r.High - 0.1, 90, r.Long / 5.6})
		}
	}
}

// covered tells that another rack stands on the far side of one.
func covered(j *Job, r Rack) bool {
	return slices.ContainsFunc(j.Racks, func(o Rack) bool { return o.Y <= r.Y+r.Wide && o.Y+o.Wide > r.Y+r.Wide })
}

// longestBody is about 8 ft: a strip of three of its lamps in tandem is none that is made.
const longestBody = 2.5 // m

// system is a lamp and ballast of the lists that go together: T12 before, anything after.
func (h hand) system(existing bool) System {
	for {
		l := pick(h, catalog.Lamps())
		if existing != (len(l.Family) > 3 && slices.Contains([]string{"F96T12", "F96T12/ES", "F96T12/HO", "F96T12/HO/ES", "F40T12", "F34T12"}, l.Family)) {
			continue
		}
		s := System{Fixture: pick(h, fixture.Builtin()), Lamp: l.Name, Lamps: pick(h, []int{1, 2, 2, 2, 3, 4})}
		if s.Fixture == "wraparound" {
			s.Lamps = 2 // the pair under its lens
		}
		if section, ok := fixture.Find(s.Fixture); ok && float64(section.FewestEndToEnd(s.Lamps))*l.NominalLength > longestBody {
			continue
		}
		if ballasts := catalog.BallastsFor(l, s.Lamps); len(ballasts) > 0 {
			s.Ballast = pick(h, ballasts).Kind
		} else if !l.LED {
			continue
		}
		return s
	}
}

func (h hand) criteria(j *Job) {
	for range h.IntN(4) {
		c := Criterion{Grid: "work plane"}
		switch h.IntN(6) {
		case 0:
			c.Level = pick(h, levels.Names())
		case 1:
			c.Statistic, c.AtLeast, c.Limit = "minimum", true, h.between(20, 300)
		case 2:
			c.Statistic, c.Limit = "maximum_to_minimum", h.between(2, 8)
		case 3:
			c.Statistic, c.Grid, c.Limit = "power_density", "", h.between(3, 20)
		default:
			c.Statistic, c.AtLeast, c.Limit = "average", true, h.between(50, 600)
		}
		if !slices.ContainsFunc(j.Criteria, func(o Criterion) bool { return o.Level == c.Level && (c.Level != "" || o.Statistic == c.Statistic) }) {
			j.Criteria = append(j.Criteria, c)
		}
	}
}

// Name tells the job's seed, for a test's name.
func (j *Job) Name() string { return fmt.Sprintf("seed %d", j.Seed) }
