package uncertainty

import (
	"cmp"
	"context"
	"math"
	"slices"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
)

// An Uncertainty tells how far the light of each system may be from what is predicted.
type Uncertainty struct {
	Seed       uint64
	Samples    int
	Confidence float64 // of the intervals
	Sides      []Side
	Inputs     []Effect // those that matter most for the average of the proposed lighting first
	Solves     int      // photometric solves that it took besides those of the prediction
	Coarse     bool     // the relative effects were found on coarser grids and patches
}

// An Interval holds a quantity with the stated confidence: probabilistically symmetric, as likely to be missed below as above (JCGM 101,
// 7.7). All but the predicted value are NaN where there is no value.
type Interval struct {
	Predicted           float64
	Low, High           float64
	LowError, HighError float64 // standard errors of the ends, of the Monte Carlo itself
	Median, Mean        float64
	StandardDeviation   float64 // the standard uncertainty
}

// A Probability is a share of the samples, with the standard error that their number leaves.
type Probability struct{ Value, StandardError float64 }

// A Side is one system's part.
type Side struct {
	Name             string
	Average, Minimum Interval // of the work plane, maintained, lx
	Criteria         []Criterion
	AllMet           Probability // every criterion about light, at once; 1 if there is none
	Change           *Interval   // of the average against that of the existing lighting, a share; nil for the existing itself, NaN from no light
	Darker           Probability // than the existing lighting
}

// A Criterion is what one criterion about light has to expect. Power density is not in doubt here and left out.
type Criterion struct {
	levels.Criterion
	Interval // of the criterion's statistic, lx or a ratio
	Met      Probability
}

// An Effect is what one input does alone, all others as predicted.
type Effect struct {
	Input     job.Input
	Sides     []string // names of the systems that it moves; together, where there are several
	Low, High float64  // relative change of the proposed average at the lower and the upper end of the tolerance
	Share     float64  // of the variance of the proposed average: this input's alone over the sum of all alone
	// ChangeShare is the same of the change from the existing to the proposed lighting.
	ChangeShare float64
	// Standard is the relative standard uncertainty of the average of the work plane, one a side, negative where the light falls
	// as the input rises.
	Standard   []float64
	Tolerances []Tolerance // one a system of Sides
}

// A Tolerance is what an input may be off by: an interval in which all is as likely, or a normal distribution. A share of the light, of what dirt
// takes, a reflectance, m or C.
type Tolerance struct {
	Normal      bool
	Low, High   float64 // of the interval
	Standard    float64 // of a normal one
	Origin      Origin
	Least, Most float64 // of the range of a list or an estimate
}

// An Origin is where a tolerance comes from.
type Origin int

// The origins.
const (
	Assumed Origin = iota
	GivenByJob
	LampList // its range, lm
	BallastList
	LampListAtAge
	LEDFading    // before the L70 life, assumed
	LampNotKnown // assumed
	EstimatesDoubt
	ElectronicHolds // the light, assumed
	ComputedSection // by a study of sections
	SectionsOwn     // what other lamps in it do not share
)

// Name is the input in words, with the system where it moves one of several.
func (e Effect) Name() string {
	if len(e.Sides) == 1 {
		return e.Input.String() + ", " + e.Sides[0]
	}
	return e.Input.String()
}

// Run works out how uncertain the light of a job's systems is, the existing one first; progress may be nil. It errs as lighting.Space does.
// The same job and seed give the same bits on any number of processors.
func Run(ctx context.Context, j *job.Job, sides []lighting.Side, progress lighting.Progress) (*Uncertainty, error) {
	m := newDoubts(j, sides)
	if err := m.solve(ctx, progress); err != nil {
		return nil, err
	}
	in := j.Uncertainty
	u := &Uncertainty{Seed: in.Seed, Samples: in.Samples, Confidence: in.Confidence, Solves: m.solves, Coarse: m.coarse}
	drawn := m.draw(in.Seed, in.Samples)
	before := drawn.values(m, 0, workPlaneAverage)
	for i := range sides {
		side, err := m.side(ctx, i, drawn, before)
		if err != nil {
			return nil, err
		}
		u.Sides = append(u.Sides, side)
	}
	u.Inputs = m.effects(in.Confidence)
	return u, nil
}

// workPlaneAverage and workPlaneMinimum are statistics of the first grid.
var (
	workPlaneAverage = place{0, average}
	workPlaneMinimum = place{0, minimum}
)

// side sums up the samples of one system; before are those of the existing average. It errs if the context ends: a million samples of
// thousands of criteria take hours.
func (m *doubts) side(ctx context.Context, i int, drawn *draws, before []float64) (Side, error) {
	side, confidence := m.sides[i], m.job.Uncertainty.Confidence
	s := Side{Name: side.Name}
	own := drawn.values(m, i, workPlaneAverage)
	s.Average = intervalOf(side.Grids[0].Statistics.Average, own, confidence)
	s.Minimum = intervalOf(side.Grids[0].Statistics.Minimum, drawn.values(m, i, workPlaneMinimum), confidence)
	all := make([]bool, drawn.samples)
	for k := range all {
		all[k] = true
	}
	for _, c := range m.job.Criteria {
		if err := ctx.Err(); err != nil {
			return Side{}, err
		}
		at, ok := m.placeOf(c)
		if !ok {
			continue
		}
		values := drawn.statistic(m, i, at, c.Statistic)
		met := 0
		for k, x := range values {
			if c.Met(x) {
				met++
			} else {
				all[k] = false
			}
		}
		s.Criteria = append(s.Criteria, Criterion{c, intervalOf(side.Statistic(c), values, confidence), share(met, len(values))})
	}
	s.AllMet = share(count(all), len(all))
	if i > 0 {
		change, darker := make([]float64, len(own)), 0
		for k := range own {
			if change[k] = changeOf(before[k], own[k]); change[k] < -Leveled {
				darker++
			}
		}
		interval := intervalOf(changeOf(m.sides[0].Grids[0].Statistics.Average, side.Grids[0].Statistics.Average), change, confidence)
		s.Change, s.Darker = &interval, share(darker, len(change))
	}
	return s, nil
}

// changeOf is the change of an average as a share; NaN from no light.
func changeOf(before, after float64) float64 {
	if !(before > 0) {
		return math.NaN()
	}
	return after/before - 1
}

// Leveled is the rounding by which equal light may look darker, relative.
const Leveled = 1e-9

func count(all []bool) int {
	n := 0
	for _, ok := range all {
		if ok {
			n++
		}
	}
	return n
}

// share is a probability by counting; its standard error is that of a binomial share, √(p (1 - p) / M).
func share(n, of int) Probability {
	p := float64(n) / float64(of)
	return Probability{p, math.Sqrt(p * (1 - p) / float64(of))}
}

// intervalOf sums up the samples of a quantity. The ends are order statistics (JCGM 101, 7.7.2); their standard error is half the distance
// of those one standard deviation of a binomial count to either side.
func intervalOf(predicted float64, values []float64, confidence float64) Interval {
	nan := math.NaN()
	i := Interval{predicted, nan, nan, nan, nan, nan, nan, nan}
	if slices.ContainsFunc(values, math.IsNaN) {
		return i
	}
	n := len(values)
	sum := 0.0
	for _, x := range values {
		sum += x
	}
	i.Mean = sum / float64(n)
	squares := 0.0
	for _, x := range values {
		squares += (x - i.Mean) * (x - i.Mean)
	}
	i.StandardDeviation = math.Sqrt(squares / float64(n-1))
	values = slices.Sorted(slices.Values(values))
	inside := int(confidence*float64(n) + 0.5)
	low := (n - inside + 1) / 2 // the low-th smallest, counted from 1
	i.Low, i.High = values[low-1], values[low+inside-1]
	i.Median = (values[(n-1)/2] + values[n/2]) / 2
	tail := (1 - confidence) / 2
	around := max(1, int(math.Sqrt(float64(n)*tail*(1-tail))+0.5))
	spread := func(at int) float64 {
		return (values[min(at+around, n-1)] - values[max(at-around, 0)]) / 2
	}
	i.LowError, i.HighError = spread(low-1), spread(low+inside-1)
	return i
}

// byWeight sorts effects: what matters most for the proposed average first, then for the change; else the order of the inputs.
func byWeight(a, b Effect) int {
	return cmp.Or(cmp.Compare(b.Share, a.Share), cmp.Compare(b.ChangeShare, a.ChangeShare), cmp.Compare(a.Input, b.Input))
}
