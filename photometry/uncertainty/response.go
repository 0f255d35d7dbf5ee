package uncertainty

import (
	"math"
	"slices"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
)

// The statistics of a grid that are followed; ratios are made of them.
type gridStatistic int

const (
	average gridStatistic = iota
	minimum
	maximum
)

const gridStatistics = maximum + 1

func (g gridStatistic) of(s room.Statistics) float64 {
	return [gridStatistics]float64{average: s.Average, minimum: s.Minimum, maximum: s.Maximum}[g]
}

// A place is a statistic of a grid, by the grid's number.
type place struct {
	grid      int
	statistic gridStatistic
}

// geometric inputs bend the light in a way that only a photometric solve can tell; the others scale it.
const (
	firstGeometric = job.CeilingReflectance
	geometric      = job.Inputs - int(firstGeometric)
)

// A response is how the light of one kind of luminaire follows the inputs that scale it.
type response struct {
	dirt        float64 // logarithm of the luminaire dirt factor as computed
	surfaceDirt curve   // that of the room surface dirt factor, over how far the luminaires hang above their height
	ambient     curve
}

// A geometry is how a statistic follows the geometric inputs: a bend for each, and what two reflectances do together beyond the product
// of their bends,
//
//	Π (1 + a x + b x²) × (1 + c x y + d x z + e y z)
type geometry struct {
	bends [geometric]bend
	mixed [len(pairs)]float64
}

// pairs are the geometric inputs that are moved together: the reflectances, between which light goes back and forth.
var pairs = [...][2]int{{0, 1}, {0, 2}, {1, 2}}

// at is the relative value of the statistic.
func (s *geometry) at(off *[geometric]float64) float64 {
	product, together := 1.0, 1.0
	for n, x := range off {
		product *= s.bends[n].at(x)
	}
	for k, p := range pairs {
		together += s.mixed[k] * off[p[0]] * off[p[1]]
	}
	return product * max(together, 0)
}

// A bend is the relative change a x + b x² of a statistic.
type bend struct{ a, b float64 }

func (b bend) at(x float64) float64 { return max(0, 1+x*(b.a+x*b.b)) }

// through is the bend through 0 at 0 and two other changes.
func through(x1, y1, x2, y2 float64) bend {
	s1, s2 := y1/x1, y2/x2
	b := (s2 - s1) / (x2 - x1)
	return bend{s1 - b*x1, b}
}

// A curve is straight lines between even steps; the zero value is 1 everywhere.
type curve struct {
	from, step float64
	values     []float64
}

func (c curve) at(x float64) float64 {
	if len(c.values) == 0 {
		return 1
	}
	t := min(max((x-c.from)/c.step, 0), float64(len(c.values)-1))
	i := min(int(t), len(c.values)-2)
	return c.values[i] + (t-float64(i))*(c.values[i+1]-c.values[i])
}

func (m *doubts) responseOf(i int) response {
	return response{dirt: math.Log(m.kinds[i].Losses.LuminaireDirtDepreciation.Value), surfaceDirt: m.surfaceDirt(i), ambient: m.ambient(i)}
}

// ambient tabulates the light of a kind over the ambient, relative to that of the job's.
func (m *doubts) ambient(kind int) curve {
	s, of := m.spreadFor(job.AmbientTemperature, kind), m.kinds[kind]
	if s.none() {
		return curve{}
	}
	other := *m.job
	return tabulated(s, func(x float64) float64 {
		other.Upkeep.AmbientCelsius = m.job.Upkeep.AmbientCelsius + x
		return lighting.Temperature(&other, of.From).Factor.Value / of.Losses.Temperature.Value
	})
}

// surfaceDirt tabulates the logarithm of the room surface dirt factor over the mounting height: it hangs on the room cavity ratio, which
// grows in proportion to the height above the work plane. A factor that the job gives does not.
func (m *doubts) surfaceDirt(i int) curve {
	side := m.kinds[i]
	s := m.spreadFor(job.MountingHeight, side.side)
	cavity, known := side.From.Layout.MountingHeight-m.job.Room.WorkPlane, side.Losses.RoomSurfaceDirtDepreciation
	if s.none() || known.From != losses.FromTable || side.Losses.TotalOverride != nil {
		level := math.Log(known.Value)
		return curve{step: 1, values: []float64{level, level}}
	}
	return tabulated(s, func(x float64) float64 {
		return math.Log(lighting.RoomSurfaceDirt(m.job, side.From, side.UpwardShare, side.LumenMethod.RoomCavityRatio*(1+x/cavity)).Value)
	})
}

// spreadFor is the spread of an input of a member; none where it is not in doubt.
func (m *doubts) spreadFor(input job.Input, member int) spread {
	for _, q := range m.quantities {
		if q.input == input && slices.Contains(q.members, member) {
			return q.spreads[member]
		}
	}
	return spread{}
}

// tabulated is a function over a spread as a curve.
func tabulated(s spread, value func(x float64) float64) curve {
	const steps = 64
	low, high := s.ends(0.9999)
	c := curve{from: low, step: (high - low) / steps}
	for k := range steps + 1 {
		c.values = append(c.values, value(low+c.step*float64(k)))
	}
	return c
}

// soiled is the relative light where dirt takes more by a share and the luminaires hang higher by so much, of the room's surfaces.
func (r *response) soiled(dirt, higher float64) float64 {
	return math.Exp(r.surfaceDirt.at(higher)*(1+dirt) - r.surfaceDirt.at(0))
}

// scale is the relative light at a value of an input that scales it.
func (r *response) scale(input job.Input, x float64) float64 {
	if input == job.LuminaireDirt {
		return math.Exp(r.dirt * x)
	}
	if input == job.RoomSurfaceDirt {
		return r.soiled(x, 0)
	}
	if input == job.AmbientTemperature {
		return r.ambient.at(x)
	}
	return max(0, 1+x)
}

// factor is the relative average of the work plane of a side at a value of one input, all others as predicted.
func (m *doubts) factor(q *quantity, side int, at func(spread) float64) float64 {
	from, to := m.of(side)
	if q.geometric() {
		if q.spreads[side].none() {
			return 1
		}
		x := at(q.spreads[side])
		bent := m.shapes[side][0][average].bends[q.input-firstGeometric].at(x)
		if q.input == job.MountingHeight {
			bent *= m.mean(from, to, func(k int) float64 { return m.responses[k].soiled(0, x) })
		}
		return bent
	}
	return m.mean(from, to, func(k int) float64 {
		if q.spreads[k].none() {
			return 1
		}
		return m.responses[k].scale(q.input, at(q.spreads[k]))
	})
}

// mean is that of some kinds of one side, each counting by its part of the average of the work plane.
func (m *doubts) mean(from, to int, of func(kind int) float64) float64 {
	if to == from+1 {
		return of(from)
	}
	sum, whole := 0.0, 0.0
	for k := from; k < to; k++ {
		part := m.kinds[k].Grids[0].Statistics.Average
		sum, whole = sum+part*of(k), whole+part
	}
	if !(whole > 0) {
		return of(from) // no light, which nothing moves
	}
	return sum / whole
}

// placeOf returns the grid that a criterion looks at; ok is false where it is about no light.
func (m *doubts) placeOf(c levels.Criterion) (grid int, ok bool) {
	if !c.Statistic.OfGrid() {
		return 0, false
	}
	for i, g := range m.sides[0].Grids {
		if g.Name == c.Grid {
			return i, true
		}
	}
	return 0, false
}
