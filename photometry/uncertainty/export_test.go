package uncertainty

import (
	"context"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
)

// LinearModel runs the sampler on light of 1 lx that up to six inputs scale, with rectangular shares of these half-widths and normal ones of these
// standard deviations: as long as they are small the light is their sum.
func LinearModel(seed uint64, samples int, confidence float64, rectangular, deviations []float64) Interval {
	return intervalOf(1, LinearSamples(seed, samples, rectangular, deviations), confidence)
}

// LinearSamples are the samples of LinearModel, in their order.
func LinearSamples(seed uint64, samples int, rectangular, deviations []float64) []float64 {
	m := oneSide()
	inputs := []job.Input{job.LampLumens, job.BallastFactor, job.LampDepreciation, job.TemperatureEstimate, job.Voltage, job.Photometry}
	add := func(s spread) {
		input := inputs[len(m.quantities)]
		m.quantities = append(m.quantities, quantity{input: input, slot: slot(input, 0), members: []int{0}, spreads: []spread{s}})
	}
	for _, halfWidth := range rectangular {
		add(limits(-halfWidth, halfWidth))
	}
	for _, deviation := range deviations {
		add(normal(deviation))
	}
	return m.draw(seed, samples).values(m, 0, workPlaneAverage)
}

// oneSide is a side of 1 lx whose light nothing bends.
func oneSide() *doubts {
	one := lighting.System{Grids: []lighting.Grid{{Statistics: room.Statistics{Average: 1, Minimum: 1, Maximum: 1}}}}
	side := lighting.Side{Name: "existing", From: &job.System{}, System: &one}
	return &doubts{sides: []lighting.Side{side}, kinds: []kind{{side, 0}}, responses: []response{unbent()}, shapes: [][][gridStatistics]geometry{make([][gridStatistics]geometry, 1)}}
}

// unbent is the response of light that no dirt takes from.
func unbent() response {
	return response{surfaceDirt: curve{step: 1, values: []float64{0, 0}}}
}

// SectionStandards are the standard deviations taken for light computed from a cross-section.
func SectionStandards(of *job.System) (common, own float64) {
	d := sectionStandard(of)
	return d.common, d.own
}

// A Geometry tells how light follows reflectances and mounting height, as the Monte Carlo takes it.
type Geometry struct {
	doubts *doubts
	Coarse bool
	Solves int
}

// GeometryOf makes the solves of the uncertainty of a job's systems.
func GeometryOf(ctx context.Context, j *job.Job, sides []lighting.Side) (*Geometry, error) {
	m := newDoubts(j, sides)
	err := m.solve(ctx, nil)
	return &Geometry{m, m.coarse, m.solves}, err
}

// At is the relative maintained average and minimum of a grid of the proposed lighting with ceiling, walls and floor reflectance and mounting height off
// by that much.
func (g *Geometry) At(grid int, off [4]float64) (averageRatio, minimumRatio float64) {
	r := &g.doubts.responses[1]
	soiled := r.soiled(0, off[3])
	shape := &g.doubts.shapes[1][grid]
	return soiled * shape[average].at(&off), soiled * shape[minimum].at(&off)
}

// Extreme is the least, or the greatest, sum of some kinds' light over all points, each kind's light times its value of a sample.
func Extreme(parts, light [][]float64, greatest bool, sample int) float64 {
	which := minimum
	if greatest {
		which = maximum
	}
	return extreme(parts, light, which)(sample)
}
