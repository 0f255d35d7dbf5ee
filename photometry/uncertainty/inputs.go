package uncertainty

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
)

// A spread is the distribution of what an input may differ from its value, which is 0 here: rectangular between low and high, or normal
// with mean 0 and held between them.
type spread struct {
	normal    bool
	low, high float64
	standard  float64
}

// negligible is what no input is in doubt by, a share, a reflectance, m or C: less would be lost in the rounding of a solve, and the slope
// through two solves with it.
const negligible = 1e-6

// none is an input that is not in doubt.
func (s spread) none() bool {
	return s.low > -negligible && s.high < negligible || s.normal && s.standard < negligible
}

// at is the quantile of a probability above 0 and below 1.
func (s spread) at(u float64) float64 {
	if s.normal {
		return min(max(s.standard*distuv.UnitNormal.Quantile(u), s.low), s.high)
	}
	return s.low + u*(s.high-s.low)
}

// ends are the limits of a rectangular spread, and what holds a normal one with the confidence.
func (s spread) ends(confidence float64) (low, high float64) {
	if s.normal {
		return s.at((1 - confidence) / 2), s.at((1 + confidence) / 2)
	}
	return s.low, s.high
}

func limits(low, high float64) spread { return spread{low: low, high: high} }

func normal(standard float64) spread {
	return spread{normal: true, low: math.Inf(-1), high: math.Inf(1), standard: standard}
}

// within is the spread held between two limits. A rectangular one that they cut is the narrower one between them.
func (s spread) within(low, high float64) spread {
	s.low, s.high = min(max(s.low, low), 0), max(min(s.high, high), 0)
	return s
}

// A quantity is one thing that is drawn: what an input of one system, or of one kind of luminaire in it, may differ, or of all that share it.
type quantity struct {
	input      job.Input
	slot       int         // which of a sample's random numbers is its own
	members    []int       // that it moves: sides of the result by a geometric input, else kinds of luminaire
	spreads    []spread    // one a member there is
	tolerances []Tolerance // likewise
}

// geometric tells that it bends the light of whole systems.
func (q *quantity) geometric() bool { return q.input >= firstGeometric }

// doubts is the model of a result in doubt.
type doubts struct {
	job        *job.Job
	sides      []lighting.Side
	kinds      []kind // of luminaire, of all sides in their order
	quantities []quantity
	responses  []response                   // one a kind
	shapes     [][][gridStatistics]geometry // of each side and grid
	solves     int
	coarse     bool
}

// A kind is the luminaires of one kind in a side; a side without groups has one.
type kind struct {
	lighting.Side
	side int
}

// of are the numbers of the kinds of a side.
func (m *doubts) of(side int) (from, to int) {
	from = slices.IndexFunc(m.kinds, func(k kind) bool { return k.side == side })
	to = from
	for to < len(m.kinds) && m.kinds[to].side == side {
		to++
	}
	return from, to
}

// mostSides is how many systems a job may compare; the random numbers of one do not depend on whether another is there.
const mostSides = 3

// slot is the number of the random number of an input that a member is the first to have.
func slot(input job.Input, member int) int {
	if member < mostSides {
		return int(input)*mostSides + member
	}
	return member*job.Inputs + int(input)
}

// slots is how many random numbers a sample takes.
func (m *doubts) slots() int { return max(mostSides, len(m.kinds)) * job.Inputs }

func newDoubts(j *job.Job, sides []lighting.Side) *doubts {
	m := &doubts{job: j, sides: sides}
	for i, side := range sides {
		for _, k := range side.Kinds() {
			m.kinds = append(m.kinds, kind{k, i})
		}
		m.shapes = append(m.shapes, make([][gridStatistics]geometry, len(side.Grids)))
	}
	for input := range job.Input(job.Inputs) {
		members := make([]lighting.Side, len(m.kinds))
		for i, k := range m.kinds {
			members[i] = k.Side
		}
		if input >= firstGeometric {
			members = sides
		}
		m.doubt(input, members)
	}
	for i := range m.kinds {
		m.responses = append(m.responses, m.responseOf(i))
	}
	return m
}

// doubt adds the quantities of an input: one for all members that share it.
func (m *doubts) doubt(input job.Input, members []lighting.Side) {
	spreads, told := make([]spread, len(members)), make([]Tolerance, len(members))
	left := make([]int, len(members))
	for i, member := range members {
		spreads[i], told[i] = m.spreadOf(input, member)
		left[i] = i
	}
	for len(left) > 0 {
		first := left[0]
		q := quantity{input: input, slot: slot(input, first), spreads: make([]spread, len(members)), tolerances: told}
		left = slices.DeleteFunc(left, func(i int) bool {
			together := i == first || shared(input, members[first].From, members[i].From)
			if together && !spreads[i].none() {
				q.members, q.spreads[i] = append(q.members, i), spreads[i]
			}
			return together
		})
		if len(q.members) > 0 {
			m.quantities = append(m.quantities, q)
		}
	}
}

// spreadOf settles the distribution of an input of a system: as the job gives it, else the range of a list or estimate, else as assumed.
func (m *doubts) spreadOf(input job.Input, side lighting.Side) (spread, Tolerance) {
	t := m.job.Uncertainty.Of(systemOf(side))[input]
	s, from := rangeOf(m.job, input, side)
	if from.Origin == Assumed || t.Given {
		s, from = limits(-t.Size, t.Size), Tolerance{Origin: Assumed}
		if t.Normal {
			s = normal(t.Size)
		}
		if t.Given {
			from.Origin = GivenByJob
		}
	}
	s = m.possible(s, input, side)
	if notInvolved(input, side) {
		s = spread{}
	}
	if from.Normal, from.Standard = s.normal, s.standard; !s.normal {
		from.Low, from.High = s.low, s.high
	}
	return s, from
}

// systemOf is the name of the system of a side, or of the luminaires of one kind in it.
func systemOf(side lighting.Side) string {
	name, _, _ := strings.Cut(side.Name, ",")
	return name
}

// notInvolved tells that an input does not exist for a system, whatever its tolerance.
func notInvolved(input job.Input, side lighting.Side) bool {
	lampAndBallast := input == job.LampLumens || input == job.BallastFactor
	ambient := input == job.AmbientTemperature && (side.From.Losses.Temperature != nil || side.From.Losses.Total != nil)
	return lampAndBallast && side.From.Luminaire.Absolute || ambient || input == job.LampsInFixture && side.From.Section == nil
}

// unknownDepreciation is the half-width for the depreciation of a lamp of which nothing is known, a share of the light: assumed.
const unknownDepreciation = 0.05

// rangeOf is what the lists and estimates behind a system tell of an input; Assumed if that is nothing.
func rangeOf(j *job.Job, input job.Input, side lighting.Side) (s spread, from Tolerance) {
	system, lamp, ballast := side.From, side.From.Lamp, side.From.Ballast
	of := func(s spread, origin Origin) (spread, Tolerance) { return s, Tolerance{Origin: origin} }
	between := func(s spread, origin Origin, least, most float64) (spread, Tolerance) {
		return s, Tolerance{Origin: origin, Least: least, Most: most}
	}
	about := func(low, value, high float64) spread { return limits(min(low/value-1, 0), max(high/value-1, 0)) }
	depreciation := side.Losses.LampLumenDepreciation
	switch {
	case input == job.LampLumens && lamp != nil && system.LampLumens == lamp.InitialLumens &&
		lamp.InitialLumensLow < lamp.InitialLumensHigh:
		return between(about(lamp.InitialLumensLow, system.LampLumens, lamp.InitialLumensHigh), LampList, lamp.InitialLumensLow, lamp.InitialLumensHigh)
	case input == job.BallastFactor && ballast != nil && system.BallastFactor == ballast.BallastFactor &&
		ballast.BallastFactorLow < ballast.BallastFactorHigh:
		return between(about(ballast.BallastFactorLow, system.BallastFactor, ballast.BallastFactorHigh), BallastList, ballast.BallastFactorLow,
			ballast.BallastFactorHigh)
	case input == job.LampDepreciation && lamp != nil && depreciation.From == losses.FromTable && !lamp.L70 &&
		lamp.DepreciationLow < lamp.DepreciationHigh:
		at := func(share float64) float64 {
			return losses.LampLumenDepreciation(1, share, false, lighting.LampAge(j, system)).Value
		}
		low, high := at(lamp.DepreciationLow), at(lamp.DepreciationHigh)
		return between(about(low, depreciation.Value, high), LampListAtAge, low, high)
	case input == job.LampDepreciation && depreciation.From == losses.FromTable && lamp != nil && lamp.L70:
		return of(limits(-unknownDepreciation, unknownDepreciation), LEDFading)
	case input == job.LampDepreciation && depreciation.From == losses.FromDefault:
		return of(limits(-unknownDepreciation, unknownDepreciation), LampNotKnown)
	case input == job.TemperatureEstimate && side.Losses.Temperature.From == losses.FromEstimate:
		e := lighting.Temperature(j, system).Estimate
		return between(about(e.Low, e.Factor, e.High), EstimatesDoubt, e.Low, e.High)
	case input == job.Voltage && (lamp != nil && lamp.LED || ballast != nil && !strings.Contains(ballast.Kind, "magnetic")):
		return of(limits(0, 0), ElectronicHolds)
	case input == job.Photometry && system.Section != nil:
		return of(normal(sectionStandard(system).common), ComputedSection)
	case input == job.LampsInFixture && system.Section != nil:
		return of(normal(sectionStandard(system).own), SectionsOwn)
	}
	return spread{}, Tolerance{}
}

// possible holds a spread within what the room allows: reflectances that exist, luminaires below the ceiling, above the racks under them
// and no more than half way down to the work plane.
func (m *doubts) possible(s spread, input job.Input, side lighting.Side) spread {
	const mostReflectance = 0.99 // as in a job file
	rho := m.job.Room.Reflectance
	at := map[job.Input]float64{job.CeilingReflectance: rho.Ceiling, job.WallReflectance: rho.Walls, job.FloorReflectance: rho.Floor}
	if value, ok := at[input]; ok {
		return s.within(-value, mostReflectance-value)
	}
	if input == job.AmbientTemperature {
		return s
	}
	if input != job.MountingHeight {
		return s.within(-1, math.Inf(1)) // no less than no light, or no dirt
	}
	low, high := math.Inf(-1), math.Inf(1) // all luminaires move alike
	places := placesOf(side.From)
	for _, p := range places {
		z := p.Position.Z
		low, high = max(low, (z+m.job.Room.WorkPlane)/2-z), min(high, m.job.Room.Height-z)
	}
	for _, rack := range m.job.Racks {
		far := rack.Far()
		for _, p := range places {
			if p.Position.X > rack.Corner.X && p.Position.X < far.X && p.Position.Y > rack.Corner.Y && p.Position.Y < far.Y {
				if rack.Hangs() && p.Position.Z <= rack.Corner.Z {
					high = min(high, rack.Corner.Z-p.Position.Z)
					continue
				}
				low = max(low, min(far.Z, p.Position.Z)-p.Position.Z)
			}
		}
	}
	return s.within(low, high)
}

// placesOf are those of all luminaires of a system.
func placesOf(s *job.System) []room.Placement {
	var all []room.Placement
	for _, k := range s.Kinds() {
		all = append(all, k.Layout.Placements...)
	}
	return all
}
