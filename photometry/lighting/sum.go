package lighting

import (
	"math"
	"slices"

	"lampswap/photometry/interreflect"
	"lampswap/photometry/room"
)

// Sum is the light of a system of which each kind of luminaire is known by itself, with every point of its
// grids.
func Sum(parts []System) System { return sum(parts) }

// Together is Sum with the light of every group as a part, be it one alone; where there is none it is dark on
// the grids of another system.
func Together(parts []System, like System) System {
	if len(parts) > 0 {
		s := sum(parts)
		s.Parts = parts
		return s
	}
	dark := System{
		Parts: []System{}, Grids: slices.Clone(like.Grids), Observers: slices.Clone(like.Observers),
		ColorRendering: math.NaN(), LumenMethod: like.LumenMethod,
	}
	for i := range dark.Grids {
		g := &dark.Grids[i]
		g.Direct, g.Interreflected, g.Maintained, g.feeds = nothing(g.Direct), nothing(g.Direct), nothing(g.Direct),
			nil
		g.Modeling, g.Statistics = Modeling{}, room.Summarize(g.Maintained)
	}
	for i := range dark.Observers {
		dark.Observers[i].Light = dark.Observers[i].Times(0)
	}
	dark.LumenMethod.InitialAverage, dark.LumenMethod.MaintainedAverage = 0, 0
	return dark
}

// sum adds the light of luminaires of several kinds: it is the sum of what each of them gives. One kind is
// its own sum.
func sum(parts []System) System {
	if len(parts) == 1 {
		return parts[0]
	}
	agreed := func(of func(*System) float64) float64 {
		first := of(&parts[0])
		for i := range parts {
			if of(&parts[i]) != first {
				return math.NaN()
			}
		}
		return first
	}
	s := System{Parts: parts, ColorRendering: math.Inf(1),
		InputWattsEach: agreed(func(p *System) float64 { return p.InputWattsEach }),
		LampLumensEach: agreed(func(p *System) float64 { return p.LampLumensEach }),
		Efficiency:     agreed(func(p *System) float64 { return p.Efficiency }),
		UpwardShare:    agreed(func(p *System) float64 { return p.UpwardShare }),
	}
	for i, p := range parts {
		s.Luminaires += p.Luminaires
		s.Failed += p.Failed
		s.PowerDensity += p.PowerDensity
		s.AllLit += p.AllLit
		if s.Outside == nil {
			s.Outside = p.Outside
		}
		s.ColorRendering = min(s.ColorRendering, p.ColorRendering) // not a number if either is none
		if i == 0 {
			s.Observers = slices.Clone(p.Observers)
			s.Grids, s.Balance = copied(p.Grids), balanced(nil, p.Balance)
			continue
		}
		for g := range s.Grids {
			s.Grids[g].add(p.Grids[g])
		}
		for o := range s.Observers {
			s.Observers[o].Light = s.Observers[o].Add(p.Observers[o].Light)
		}
		s.Balance = balanced(s.Balance, p.Balance)
	}
	for g := range s.Grids {
		s.Grids[g].Statistics = room.Summarize(s.Grids[g].Maintained)
	}
	s.LumenMethod = sumOfMethod(parts)
	s.Losses = parts[0].Losses
	for _, p := range parts[1:] {
		s.Losses = s.Losses.Common(p.Losses)
	}
	return s
}

// copied are grids whose light can be added to.
func copied(grids []Grid) []Grid {
	out := slices.Clone(grids)
	for i := range out {
		out[i].Direct, out[i].Interreflected, out[i].Maintained = slices.Clone(out[i].Direct),
			slices.Clone(out[i].Interreflected), slices.Clone(out[i].Maintained)
	}
	return out
}

// add adds the light of another system on the same grid.
func (g *Grid) add(other Grid) {
	g.Modeling.Cylindrical += other.Modeling.Cylindrical
	g.Modeling.Horizontal += other.Modeling.Horizontal
	for i := range g.Direct {
		g.Direct[i] += other.Direct[i]
		g.Interreflected[i] += other.Interreflected[i]
		g.Maintained[i] += other.Maintained[i]
	}
	g.feeds = nil // they are of one kind
}

// balanced is an account of light with another added; nil where no light bounces.
func balanced(b, more *interreflect.Balance) *interreflect.Balance {
	if more == nil {
		return b
	}
	if b == nil {
		whole := *more
		return &whole
	}
	b.Emitted, b.Arrived, b.Absorbed, b.Bounces = b.Emitted+more.Emitted, b.Arrived+more.Arrived,
		b.Absorbed+more.Absorbed, max(b.Bounces, more.Bounces)
	return b
}

// sumOfMethod adds the averages of the lumen method. Its ratios, reflectances and coefficient are means, each
// kind counting by the lumens of its lamps, as mounting heights do; spacing is that of no kind alone.
func sumOfMethod(parts []System) LumenMethod {
	m := LumenMethod{
		SpacingCriterionAlong: math.NaN(), SpacingCriterionAcross: math.NaN(), SpacingToHeightAlong: math.NaN(),
		SpacingToHeightAcross: math.NaN(),
	}
	lumens := 0.0
	for _, p := range parts {
		l := p.LumenMethod
		m.InitialAverage += l.InitialAverage
		m.MaintainedAverage += l.MaintainedAverage
		weight := float64(p.Luminaires) * p.LampLumensEach
		lumens += weight
		m.RoomCavityRatio += weight * l.RoomCavityRatio
		m.CeilingCavityRatio += weight * l.CeilingCavityRatio
		m.FloorCavityRatio += weight * l.FloorCavityRatio
		m.EffectiveCeilingReflectance += weight * l.EffectiveCeilingReflectance
		m.EffectiveFloorReflectance += weight * l.EffectiveFloorReflectance
		m.CoefficientOfUtilization += weight * l.CoefficientOfUtilization
	}
	for _, x := range []*float64{
		&m.RoomCavityRatio, &m.CeilingCavityRatio, &m.FloorCavityRatio, &m.EffectiveCeilingReflectance,
		&m.EffectiveFloorReflectance, &m.CoefficientOfUtilization,
	} {
		*x /= lumens
	}
	return m
}
