package options

import (
	"slices"
	"time"

	"lampswap/photometry/codes"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
)

// A Note is something to know about an option, with what belongs to it.
type Note struct {
	Sign
	Rule              codes.Notice // by which it ended
	On                time.Time    // the day for which it did
	Factor, Low, High float64      // of the light: the estimate, and between what it may be
	Ambient, Rated    float64      // °C
	Diameter          float64      // m
}

// A Sign is the kind of a note, a letter; scripts rely on it.
type Sign string

// The signs, with what a note has beside its own.
const (
	Ended           Sign = "x" // can no longer be bought: Rule, On
	FromMemory      Sign = "m" // lumens, or what they lose
	WattsFromMemory Sign = "w" // or the ballast factor
	DiameterTaken   Sign = "d" // that of the tube is not known: Diameter
	BeamUnknown     Sign = "b"
	OfFile          Sign = "f" // the distribution is that of a photometric file with other lamps
	FarFromRating   Sign = "c" // Factor, Low, High, Ambient, Rated
	HalfEmpty       Sign = "h" // a part of the fixture's length
	TotalForAnother Sign = "t" // the job's total loss
)

// notes gathers what to know about an option in the fixture of a system.
func notes(j *job.Job, p *Option, host *job.System) []Note {
	var all []Note
	add := func(when bool, n Note) {
		if when {
			all = append(all, n)
		}
	}
	from := &p.From
	for _, rule := range endings(j, from) {
		all = append(all, Note{Sign: Ended, Rule: rule, On: j.Facts.Date})
	}
	lamp, ballast := from.Lamp, from.Ballast
	add(lamp != nil && lamp.FromMemory() && from.LampLumens == lamp.InitialLumens, Note{Sign: FromMemory})
	listed := ballast != nil && (from.InputWatts == ballast.InputWatts || from.BallastFactor == ballast.BallastFactor)
	add(listed && ballast.FromMemory(), Note{Sign: WattsFromMemory})
	all = append(all, shapeNotes(p, host)...)
	if from.Losses.Temperature == nil && from.Losses.Total == nil && from.Lamp != nil {
		if a := lighting.Temperature(j, from); a.Estimate != nil {
			e := a.Estimate
			all = append(all, Note{Sign: FarFromRating, Factor: e.Factor, Low: e.Low, High: e.High, Ambient: a.AmbientCelsius, Rated: a.RatedAtCelsius})
		}
	}
	add(host.Losses.Total != nil && from.Losses.Total == nil, Note{Sign: TotalForAnother})
	add(p.Empty(), Note{Sign: HalfEmpty})
	return all
}

// shapeNotes tell what is assumed of the distribution of light.
func shapeNotes(p *Option, host *job.System) []Note {
	lamp := p.From.Lamp
	if lamp == nil || p.From.Luminaire.Absolute {
		return nil
	}
	if host.Section == nil {
		if own := host.Lamp; own == nil || own.Diameter != lamp.Diameter || own.LED != lamp.LED || own.BeamDeg != lamp.BeamDeg {
			return []Note{{Sign: OfFile}}
		}
		return nil
	}
	var all []Note
	if lamp.Diameter == 0 && p.From.Tubes.Diameter > 0 && !p.Own() {
		all = append(all, Note{Sign: DiameterTaken, Diameter: p.From.Tubes.Diameter})
	}
	if lamp.LED && lamp.BeamDeg == 0 {
		all = append(all, Note{Sign: BeamUnknown})
	}
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
