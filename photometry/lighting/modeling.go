package lighting

import (
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// A Modeling is how much of the light comes from aside, which gives form to what is upright: the cylindrical
// illuminance over the horizontal one at the same points (EN 12464-1 has it, from memory). Both are
// maintained averages, lx; of other grids than cylinders both are 0.
type Modeling struct{ Cylindrical, Horizontal float64 }

// Ratio is no number where there is no light, or the grid is none of cylinders.
func (m Modeling) Ratio() float64 { return m.Cylindrical / m.Horizontal }

func (m Modeling) times(factor float64) Modeling {
	return Modeling{factor * m.Cylindrical, factor * m.Horizontal}
}

// Of a large grid every third point stands for it, both ways.
const (
	manyPoints = 900
	everyThird = 3
)

// twinsOf are grids of level surfaces at the points of a job's grids of cylinders, or at some of these, in
// their order.
func twinsOf(j *job.Job) []room.Grid {
	var all []room.Grid
	for _, g := range j.Grids {
		if g.Quantity() != room.Cylindrical {
			continue
		}
		g.Normal = room.Vec{Z: 1}
		if n := stride(g); n > 1 { // the middle of three by three cells is that of the one in the middle
			g.NX, g.NY, g.StepX, g.StepY = g.NX/n, g.NY/n, float64(n)*g.StepX, float64(n)*g.StepY
		}
		all = append(all, g)
	}
	return all
}

func stride(g room.Grid) int {
	if g.NX*g.NY > manyPoints && min(g.NX, g.NY) >= everyThird {
		return everyThird
	}
	return 1
}

// model finds the modeling of grids of cylinders by their twins.
func model(grids, twins []Grid, kept float64) {
	for i := range grids {
		g := &grids[i]
		if g.Quantity() != room.Cylindrical {
			continue
		}
		twin := twins[0]
		twins = twins[1:]
		twin.maintain(kept)
		n := stride(g.Grid)
		same := make([]float64, len(twin.Maintained))
		for k := range same {
			same[k] = g.Maintained[(n*(k/twin.NX)+n/2)*g.NX+n*(k%twin.NX)+n/2]
		}
		g.Modeling = Modeling{room.Summarize(same).Average, twin.Statistics.Average}
	}
}
