package uncertainty

import (
	"math"
	"math/rand/v2"
	"runtime"
	"slices"

	"lampswap/photometry/internal/crew"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
)

// draws are the samples: of each kind of luminaire the relative light, and how far each geometric input of each side is off.
type draws struct {
	samples int
	light   [][]float64            // kind, sample
	off     [][][geometric]float64 // side, sample
}

// draw makes the samples, each from a stream of its own, so that their order and the number of processors do not matter. Every input of every
// member has its own random number in each sample, in doubt or not: to change one tolerance does not change what is drawn for another.
func (m *doubts) draw(seed uint64, samples int) *draws {
	d := &draws{samples: samples, light: make([][]float64, len(m.kinds)), off: make([][][geometric]float64, len(m.sides))}
	for i := range m.kinds {
		d.light[i] = make([]float64, samples)
	}
	for i := range m.sides {
		d.off[i] = make([][geometric]float64, samples)
	}
	parallel(samples, func(from, to int) {
		source := rand.NewPCG(seed, 0)
		u, dirt := make([]float64, m.slots()), make([]float64, len(m.kinds))
		for k := from; k < to; k++ {
			source.Seed(seed, uint64(k))
			for i := range u {
				u[i] = (float64(source.Uint64()>>11) + 0.5) / (1 << 53) // above 0 and below 1
			}
			m.sample(d, k, u, dirt)
		}
	})
	return d
}

// sample draws one; dirt is room for that of the room's surfaces, which height moves too.
func (m *doubts) sample(d *draws, k int, u, dirt []float64) {
	for i := range m.kinds {
		d.light[i][k], dirt[i] = 1, 0
	}
	for n := range m.quantities {
		q := &m.quantities[n]
		for _, i := range q.members {
			x := q.spreads[i].at(u[q.slot])
			switch {
			case q.geometric():
				d.off[i][k][q.input-firstGeometric] = x
			case q.input == job.RoomSurfaceDirt:
				dirt[i] = x
			default:
				d.light[i][k] *= m.responses[i].scale(q.input, x)
			}
		}
	}
	for i, kind := range m.kinds {
		d.light[i][k] *= m.responses[i].soiled(dirt[i], d.off[kind.side][k][job.MountingHeight-firstGeometric])
	}
}

// parallel does work on blocks of a range, on all processors.
func parallel(n int, work func(from, to int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	var group crew.Group
	for w := range workers {
		group.Go(func() error {
			work(w*n/workers, (w+1)*n/workers)
			return nil
		})
	}
	_ = group.Wait() // no block fails
}

// values are the samples of a statistic of a side, lx.
func (d *draws) values(m *doubts, side int, at place) []float64 {
	level := d.levels(m, side, at)
	shape := &m.shapes[side][at.grid][at.statistic]
	values := make([]float64, d.samples)
	parallel(d.samples, func(from, to int) {
		for k := from; k < to; k++ {
			values[k] = level(k) * shape.at(&d.off[side][k])
		}
	})
	return values
}

// levels are those of a statistic in each sample, with the geometry as predicted.
func (d *draws) levels(m *doubts, side int, at place) func(sample int) float64 {
	from, to := m.of(side)
	if to == from+1 {
		predicted, light := at.statistic.of(m.sides[side].Grids[at.grid].Statistics), d.light[from]
		return func(k int) float64 { return predicted * light[k] }
	}
	light := d.light[from:to]
	if at.statistic == average {
		return func(k int) float64 {
			sum := 0.0
			for i, of := range light {
				sum += m.kinds[from+i].Grids[at.grid].Statistics.Average * of[k]
			}
			return sum
		}
	}
	var parts [][]float64 // the maintained light of each kind at every point
	for _, k := range m.kinds[from:to] {
		parts = append(parts, k.Grids[at.grid].Maintained)
	}
	return extreme(parts, light, at.statistic)
}

// statistic are the samples of any statistic of a grid: lx, or a ratio, NaN over a minimum of 0. An average is never below the minimum, nor
// above the maximum, whose changes are found one by one.
func (d *draws) statistic(m *doubts, side, grid int, which levels.Statistic) []float64 {
	at := func(s gridStatistic) []float64 { return d.values(m, side, place{grid, s}) }
	over := func(above, below []float64) []float64 {
		for k := range above {
			if below[k] == 0 {
				above[k] = math.NaN()
				continue
			}
			above[k] = max(1, above[k]/below[k])
		}
		return above
	}
	switch which {
	case levels.Average:
		return at(average)
	case levels.Minimum:
		return at(minimum)
	case levels.Maximum:
		return at(maximum)
	case levels.AverageToMinimum:
		return over(at(average), at(minimum))
	case levels.MaximumToMinimum:
		return over(at(maximum), at(minimum))
	case levels.PowerDensity, levels.Glare, levels.ColorRendering: // of no grid
	}
	panic("uncertainty: no statistic of a grid")
}

// effects finds what each quantity does alone to the average of the work plane, by the midpoint rule over its distribution. What does nothing to
// any system is left out.
func (m *doubts) effects(confidence float64) []Effect {
	const proposed = 1
	var all []Effect
	var change []float64
	total, totalChange := 0.0, 0.0
	for n := range m.quantities {
		q := &m.quantities[n]
		e := Effect{Input: q.input, Standard: make([]float64, len(m.sides))}
		light := make([][]float64, len(m.sides))
		for i := range m.sides {
			light[i] = m.alone(q, i)
			e.Standard[i] = deviation(light[i])
			if low, high := m.ends(q, i, confidence); high < low {
				e.Standard[i] = -e.Standard[i]
			}
		}
		if !slices.ContainsFunc(e.Standard, func(x float64) bool { return x != 0 }) {
			continue // a reflectance where no light bounces, an ambient that does not matter
		}
		for _, i := range q.members {
			name := m.sides[min(i, len(m.sides)-1)].Name
			if !q.geometric() {
				name = m.kinds[i].Name
			}
			e.Sides, e.Tolerances = append(e.Sides, name), append(e.Tolerances, q.tolerances[i])
		}
		low, high := m.ends(q, proposed, confidence)
		e.Low, e.High = low-1, high-1
		against := light[proposed]
		for k := range against {
			against[k] /= light[0][k]
		}
		alone := deviation(against)
		e.Share, change = e.Standard[proposed]*e.Standard[proposed], append(change, alone*alone)
		total, totalChange = total+e.Share, totalChange+alone*alone
		all = append(all, e)
	}
	for i := range all {
		if total > 0 {
			all[i].Share /= total
		}
		if totalChange > 0 {
			all[i].ChangeShare = change[i] / totalChange
		}
	}
	slices.SortStableFunc(all, byWeight)
	return all
}

// alone is the relative average of the work plane of a side at the middles of equally likely parts of a quantity's distribution.
func (m *doubts) alone(q *quantity, side int) []float64 {
	const parts = 2000
	light := make([]float64, parts)
	for k := range light {
		light[k] = m.factor(q, side, func(s spread) float64 { return s.at((float64(k) + 0.5) / parts) })
	}
	return light
}

// ends are the relative average of the work plane of a side at the ends of a quantity's tolerance.
func (m *doubts) ends(q *quantity, side int, confidence float64) (low, high float64) {
	low = m.factor(q, side, func(s spread) float64 { x, _ := s.ends(confidence); return x })
	high = m.factor(q, side, func(s spread) float64 { _, x := s.ends(confidence); return x })
	return low, high
}

// deviation is the standard deviation of a whole population.
func deviation(values []float64) float64 {
	sum := 0.0
	for _, x := range values {
		sum += x
	}
	mean := sum / float64(len(values)) // exact where all are 1
	squares := 0.0
	for _, x := range values {
		squares += (x - mean) * (x - mean)
	}
	return math.Sqrt(squares / float64(len(values)))
}
