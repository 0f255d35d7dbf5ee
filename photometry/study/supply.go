package study

import (
	"slices"

	"lampswap/photometry/codes"
)

// Notices are the dated rules of the United States and of the job's state about lamps and ballasts that the job touches; none elsewhere.
func (r *Result) Notices() []codes.Notice {
	if !r.Job.InUnitedStates() {
		return nil
	}
	touches := touched(r)
	notices := codes.NoticesFor(r.Job.Facts.State, touches)
	var all []codes.Notice
	for i, n := range notices {
		later := func(touch codes.Touch) bool { // a later rule of the country about the same thing
			return slices.ContainsFunc(notices[i+1:], func(m codes.Notice) bool { return m.Kind == n.Kind && slices.Contains(m.Touches, touch) })
		}
		old := n.Kind != codes.SaleBan && !slices.ContainsFunc(n.Touches, func(touch codes.Touch) bool { return slices.Contains(touches, touch) && !later(touch) })
		if !old {
			all = append(all, n)
		}
	}
	return all
}

// touched gathers what the systems have that a rule may be about: the lamps of all, the ballasts that are there and those that are bought.
func touched(r *Result) []codes.Touch {
	var all []codes.Touch
	for i, side := range r.Sides {
		for _, kind := range side.Kinds() {
			for _, touch := range kind.From.Touches(i > 0) {
				if !slices.Contains(all, touch) {
					all = append(all, touch)
				}
			}
		}
	}
	return all
}

// Bans are the job's state's on the sale of the proposed lamp.
func (r *Result) Bans() []codes.Notice {
	if r.Job.Facts.State == "" || len(r.BannedLamps()) == 0 {
		return nil
	}
	return slices.DeleteFunc(codes.NoticesFor(r.Job.Facts.State, []codes.Touch{codes.LinearFluorescent}), func(n codes.Notice) bool {
		return n.Kind != codes.SaleBan || n.State != r.Job.Facts.State
	})
}

// BannedLamps names the proposed lamps that a ban on sale may be about, each once.
func (r *Result) BannedLamps() []string {
	var names []string
	for _, s := range r.Job.Proposed.Kinds() {
		if slices.Contains(s.Touches(true), codes.LinearFluorescent) && !slices.Contains(names, s.Lamp.Name) {
			names = append(names, s.Lamp.Name)
		}
	}
	return names
}

// supplyWarnings tells of a proposed lamp whose sale the job's state has ended or is ending.
func supplyWarnings(r *Result) []Warning {
	var all []Warning
	for _, side := range r.NewKinds() {
		if r.Job.Facts.State == "" || !slices.Contains(side.From.Touches(true), codes.LinearFluorescent) {
			continue
		}
		for _, n := range codes.NoticesFor(r.Job.Facts.State, []codes.Touch{codes.LinearFluorescent}) {
			if n.Kind == codes.SaleBan && n.State == r.Job.Facts.State {
				all = append(all, Warning{Code: SaleBan, Side: side, Ban: n})
			}
		}
	}
	return all
}
