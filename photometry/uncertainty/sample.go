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

// draws are the samples: of each side the relative light, and how far each geometric input is off.
type draws struct {
	samples int
	light   [][]float64            // side, sample
	off     [][][geometric]float64 // side, sample
}

// draw makes the samples, each from a stream of its own, so that their order and the number of processors do not matter. Every input of every
// side has its own random number in each sample, in doubt or not: to change one tolerance does not change what is drawn for another.
func (m *doubts) draw(seed uint64, samples int) *draws {
	d := &draws{samples: samples, light: make([][]float64, len(m.sides)), off: make([][][geometric]float64, len(m.sides))}
	for i := range m.sides {
		d.light[i], d.off[i] = make([]float64, samples), make([][geometric]float64, samples)
	}
	parallel(samples, func(from, to int) {
		source := rand.NewPCG(seed, 0)
		var u [job.Inputs * mostSides]float64
		for k := from; k < to; k++ {
			source.Seed(seed, uint64(k))
			for i := range u {
				u[i] = (float64(source.Uint64()>>11) + 0.5) / (1 << 53) // above 0 and below 1
			}
			m.sample(d, k, &u)
		}
	})
	return d
}

func (m *doubts) sample(d *draws, k int, u *[job.Inputs * mostSides]float64) {
	var dirt [mostSides]float64 // of the room's surfaces, which height moves too
	for i := range m.sides {
		d.light[i][k] = 1
	}
	for n := range m.quantities {
		q := &m.quantities[n]
		for _, i := range q.sides {
			x := q.spreads[i].at(u[q.slot])
			switch {
			case q.input >= firstGeometric:
				d.off[i][k][q.input-firstGeometric] = x
			case q.input == job.RoomSurfaceDirt:
				dirt[i] = x
			default:
				d.light[i][k] *= m.responses[i].scale(q.input, x)
			}
		}
	}
	for i := range m.sides {
		d.light[i][k] *= m.responses[i].soiled(dirt[i], d.off[i][k][job.MountingHeight-firstGeometric])
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
	predicted := at.statistic.of(m.sides[side].Grids[at.grid].Statistics)
	shape := &m.responses[side].shapes[at.grid][at.statistic]
	values := make([]float64, d.samples)
	parallel(d.samples, func(from, to int) {
		for k := from; k < to; k++ {
			values[k] = predicted * d.light[side][k] * shape.at(&d.off[side][k])
		}
	})
	return values
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
	case levels.PowerDensity: // of no grid
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
		for _, i := range q.sides {
			e.Sides, e.Tolerances = append(e.Sides, m.sides[i].Name), append(e.Tolerances, q.tolerances[i])
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
		light[k] = 1
		if !q.spreads[side].none() {
			light[k] = m.responses[side].factor(q.input, q.spreads[side].at((float64(k)+0.5)/parts), workPlaneAverage)
		}
	}
	return light
}

// ends are the relative average of the work plane of a side at the ends of a quantity's tolerance.
func (m *doubts) ends(q *quantity, side int, confidence float64) (low, high float64) {
	if q.spreads[side].none() {
		return 1, 1
	}
	x1, x2 := q.spreads[side].ends(confidence)
	r := &m.responses[side]
	return r.factor(q.input, x1, workPlaneAverage), r.factor(q.input, x2, workPlaneAverage)
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
