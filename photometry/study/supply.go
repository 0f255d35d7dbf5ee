package study

import (
	"slices"
	"strings"
	"time"

	"lampswap/photometry/codes"
	"lampswap/photometry/job"
)

// supplyCautions are the dated rules of the country and of the job's state about lamps and ballasts that the job touches.
func supplyCautions(r *Result) []string {
	touches := touched(r)
	notices := codes.NoticesFor(r.Job.Facts.State, touches)
	var all []string
	for i, n := range notices {
		later := func(touch codes.Touch) bool { // a later rule of the country about the same thing
			return slices.ContainsFunc(notices[i+1:], func(m codes.Notice) bool { return m.Kind == n.Kind && slices.Contains(m.Touches, touch) })
		}
		old := n.Kind != codes.SaleBan && !slices.ContainsFunc(n.Touches, func(touch codes.Touch) bool { return slices.Contains(touches, touch) && !later(touch) })
		if !old {
			all = append(all, n.Words(r.Job.Facts.Date))
		}
	}
	return all
}

// touched gathers what the systems have that a rule may be about: the lamps of all, the ballasts that are there and those that are bought.
func touched(r *Result) []codes.Touch {
	var all []codes.Touch
	for _, side := range r.Sides() {
		for _, touch := range touchesOf(side.From, side.Name != "existing") {
			if !slices.Contains(all, touch) {
				all = append(all, touch)
			}
		}
	}
	return all
}

func touchesOf(s *job.System, bought bool) []codes.Touch {
	if s.Lamp == nil || s.Lamp.LED {
		return nil
	}
	all := []codes.Touch{codes.LinearFluorescent}
	if strings.Contains(s.Lamp.Name, "T12") {
		all = append(all, codes.T12Lamp)
	}
	if s.Lamp.Name == "F32T8/700" {
		all = append(all, codes.T8Series700)
	}
	if bought {
		all = append(all, codes.FluorescentBallast)
	}
	if s.Ballast != nil && strings.Contains(s.Ballast.Kind, "magnetic") {
		all = append(all, codes.MagneticBallast)
	}
	return all
}

// bans are the job's state's on the sale of the proposed lamp.
func (r *Result) bans() []codes.Notice {
	if r.Job.Facts.State == "" || !slices.Contains(touchesOf(&r.Job.Proposed, true), codes.LinearFluorescent) {
		return nil
	}
	return slices.DeleteFunc(codes.NoticesFor(r.Job.Facts.State, []codes.Touch{codes.LinearFluorescent}), func(n codes.Notice) bool {
		return n.Kind != codes.SaleBan || n.State != r.Job.Facts.State
	})
}

// dated says when a notice holds from, as far as known, as seen from a day.
func dated(n codes.Notice, on time.Time) string {
	switch {
	case !n.From.Known():
		return "from a date that was not found"
	case !on.IsZero() && n.Status(on) == codes.InForce:
		return "since " + n.From.String()
	}
	return "from " + n.From.String()
}

// supplyWarnings tells of a proposed lamp whose sale the job's state has ended or is ending.
func supplyWarnings(r *Result) []string {
	var all []string
	for _, side := range r.Sides()[1:] {
		if r.Job.Facts.State == "" || !slices.Contains(touchesOf(side.From, true), codes.LinearFluorescent) {
			continue
		}
		for _, n := range codes.NoticesFor(r.Job.Facts.State, []codes.Touch{codes.LinearFluorescent}) {
			if n.Kind == codes.SaleBan && n.State == r.Job.Facts.State {
				all = append(all, side.Name+": a swap to "+side.From.Lamp.Name+" buys a lamp that may be impossible to replace there: "+n.Words(r.Job.Facts.Date))
			}
		}
	}
	return all
}
