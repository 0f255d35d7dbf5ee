package options

import (
	"fmt"
	"slices"

	"lampswap/photometry/catalog"
	"lampswap/photometry/codes"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
)

// The signs of the notes.
const (
	signEnded    = "x" // can no longer be bought
	signMemory   = "m"
	signWatts    = "w"
	signDiameter = "d"
	signBeam     = "b"
	signFile     = "f"
	signAmbient  = "c"
	signStart    = "s"
	signHalf     = "h"
	signTotal    = "t"
)

// notes gathers what to know about an option in the fixture of a system.
func notes(j *job.Job, p *Option, host *job.System) []Note {
	var all []Note
	add := func(when bool, sign, format string, args ...any) {
		if when {
			all = append(all, Note{sign, fmt.Sprintf(format, args...)})
		}
	}
	from := &p.From
	for _, n := range endings(j, from) {
		add(true, signEnded, "%s", n.Words(j.Facts.Date))
	}
	lamp, ballast := from.Lamp, from.Ballast
	add(lamp != nil && lamp.FromMemory() && from.LampLumens == lamp.InitialLumens, signMemory,
		"the lumens of the lamp, or what they lose, are from memory in part, unverified")
	listed := ballast != nil && (from.InputWatts == ballast.InputWatts || from.BallastFactor == ballast.BallastFactor)
	add(listed && ballast.FromMemory(), signWatts, "watts, ballast factor or both are from memory or assumed, unverified: take them from the ballast's label")
	all = append(all, shapeNotes(j, p, host)...)
	if from.Losses.Temperature == nil && from.Losses.Total == nil && from.Lamp != nil {
		if e := lighting.Temperature(j, from).Estimate; e != nil {
			add(true, signAmbient, "%s is far from the ambient at which the lamp is rated, %s: %.2f of the light is counted, an estimate, doubt %.2f to %.2f",
				j.Degrees(j.Upkeep.AmbientCelsius), j.Degrees(from.Lamp.RatedAtCelsius), e.Factor, e.Low, e.High)
		}
	}
	add(host.Losses.Total != nil && from.Losses.Total == nil, signTotal, "the total of all losses that the job gives is for another lamp; the factors are computed instead")
	add(p.Empty(), signHalf, "the rest of the fixture's length stays empty; computed as if the lamps burnt in its middle")
	return all
}

// endings are the rules by which the lamp or the ballast of an option can no longer be bought: those of the country, the latest of each kind
// and thing, and the bans on sale of the job's state. Without a date in the job all rules with a date count as in force. They are of the United
// States; of other places none is known here.
func endings(j *job.Job, s *job.System) []codes.Notice {
	if !j.InUnitedStates() {
		return nil
	}
	var all []codes.Notice
	add := func(kind string, touch codes.Touch, state string) {
		notices := codes.NoticesFor(state, []codes.Touch{touch})
		for _, n := range slices.Backward(notices) {
			status := n.Status(j.Facts.Date)
			over := status == codes.InForce || status == codes.Begins || j.Facts.Date.IsZero() && status != codes.Undated
			if n.Kind == kind && n.State == state && over {
				all = append(all, n)
				return
			}
		}
	}
	for _, touch := range s.Touches(false) {
		switch touch {
		case codes.T12Lamp, codes.T8Series700:
			add(codes.LampRule, touch, "")
		case codes.MagneticBallast:
			add(codes.BallastRule, touch, "")
		case codes.LinearFluorescent:
			if j.Facts.State != "" {
				add(codes.SaleBan, touch, j.Facts.State)
			}
		case codes.FluorescentBallast: // those that may be bought
		}
	}
	return all
}

// shapeNotes tells what is assumed of the distribution of light.
func shapeNotes(j *job.Job, p *Option, host *job.System) []Note {
	var all []Note
	lamp := p.From.Lamp
	switch {
	case lamp == nil || p.From.Luminaire.Absolute:
	case host.Section == nil:
		if own := host.Lamp; own == nil || own.Diameter != lamp.Diameter || own.LED != lamp.LED || own.BeamDeg != lamp.BeamDeg {
			all = append(all, Note{signFile, "the light distribution is that of the photometric file, with other lamps; a cross-section would tell the lamp's own"})
		}
	default:
		if lamp.Diameter == 0 && p.From.Tubes.Diameter > 0 && !p.Own() {
			all = append(all, Note{signDiameter, fmt.Sprintf("the tube's diameter is not known: %s taken", j.LampDiameter(p.From.Tubes.Diameter))})
		}
		if lamp.LED && lamp.BeamDeg == 0 {
			all = append(all, Note{signBeam, "the angle into which the tube sends its light is not known: computed as if it were all round"})
		}
	}
	return all
}

// Name says what an option is: 2 x F32T8/HL on is-low.
func (p *Option) Name() string {
	from := &p.From
	part := ""
	switch {
	case p.Called != "":
		return p.Called
	case !p.Any():
		return p.Lamps()
	}
	if p.Empty() {
		part = " in " + p.Filled() + " of the fixture's length"
	}
	switch lamps := p.Lamps(); {
	case from.Luminaire.Absolute:
		return lamps
	case from.Ballast == nil:
		return fmt.Sprintf("%s%s at ballast factor %.3g", lamps, part, from.BallastFactor)
	case from.Ballast.Kind == catalog.KindNone:
		return lamps + part + " without ballast"
	case len(from.Ballast.Parts) > 1:
		return fmt.Sprintf("%s%s on %s, %s", lamps, part, from.Ballast.Kind, from.Ballast.Set())
	case from.Ballast.Count > 1:
		return fmt.Sprintf("%s%s on %d x %s", lamps, part, from.Ballast.Count, from.Ballast.Kind)
	default:
		return fmt.Sprintf("%s%s on %s", lamps, part, from.Ballast.Kind)
	}
}

// Keys are what a job writes to have an option in its fixture: lamp = "F32T8/HL" and so on. A system of the job has none, it is there.
func (p *Option) Keys() []string {
	from := &p.From
	if p.Own() || from.Lamp == nil || from.Ballast == nil {
		return nil
	}
	keys := []string{fmt.Sprintf("lamp = %q", from.Lamp.Name), fmt.Sprintf("lamps = %d", from.Lamps)}
	if from.Section != nil {
		keys = append(keys, fmt.Sprintf("end_to_end = %d", from.Tubes.EndToEnd))
	}
	return append(keys, fmt.Sprintf("ballast = %q", from.Ballast.Kind))
}

// Empty tells that places for lamps in tandem are left empty.
func (p *Option) Empty() bool { return p.Places > 0 && p.From.Tubes.EndToEnd < p.Places }

// Filled says how much of the fixture's length has lamps: half, or 2/3.
func (p *Option) Filled() string {
	if 2*p.From.Tubes.EndToEnd == p.Places {
		return "half"
	}
	return fmt.Sprintf("%d/%d", p.From.Tubes.EndToEnd, p.Places)
}

// Any tells that there are luminaires in the group that is varied: a system of the job may have none there.
func (p *Option) Any() bool { return p.From.Luminaire.Distribution != nil || p.From.Lamps > 0 }

// Lamps says what lamps a luminaire has: 2 x F32T8/HL.
func (p *Option) Lamps() string {
	switch from := &p.From; {
	case !p.Any():
		return "none"
	case from.Luminaire.Absolute:
		return "the luminaire as a whole"
	case from.Lamp != nil:
		return fmt.Sprintf("%d x %s", from.Lamps, from.Lamp.Name)
	default:
		return fmt.Sprintf("%d x %s lm", from.Lamps, number.Thousands(from.LampLumens))
	}
}
