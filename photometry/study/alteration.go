package study

import (
	"reflect"

	"lampswap/photometry/job"
)

// An Alteration is how many luminaires a system touches of those that hang in the room: the facts that an energy code's rule of alterations asks
// for. The rule itself, and what it counts as touched, is the code's own.
type Alteration struct {
	System   string // "proposed", "replacement"
	Existing int    // luminaires before the swap, the failed ones too

	// Each existing luminaire is one of these.
	Changed    int // gets other lamps, another ballast or fixture, or another place
	TakenDown  int
	Repaired   int // stays, but had failed and is lit again
	Controlled int // stays, but is switched or dimmed by something new
	Stays      int

	Added              int     // new ones where none hung
	LoadBefore, LoadKW float64 // connected, kW: all lit and at full output
}

// Touched is how many of the existing luminaires are changed, taken down or repaired.
func (a Alteration) Touched() int { return a.Changed + a.TakenDown + a.Repaired }

// Share is the part of the room's luminaires that is touched.
func (a Alteration) Share() float64 { return float64(a.Touched()) / float64(a.Existing) }

// Alterations are those of the proposed system and of the replacement if there is one.
func (r *Result) Alterations() []Alteration {
	connected := func(s *job.System) float64 {
		watts := 0.0
		for _, kind := range s.Kinds() {
			watts += kind.ConnectedWatts()
		}
		return watts / 1000
	}
	var all []Alteration
	existing := &r.Job.Existing
	for _, side := range r.Sides[1:] {
		a := Alteration{System: side.Name, Existing: existing.Number(), LoadBefore: connected(existing), LoadKW: connected(side.From)}
		for _, group := range r.Job.Groups {
			a.count(existing.Find(group), side.From.Find(group))
		}
		all = append(all, a)
	}
	return all
}

// count adds the luminaires of a group before and after, either of which may be none.
func (a *Alteration) count(before, after *job.System) {
	number := func(s *job.System) int {
		if s == nil {
			return 0
		}
		return len(s.Layout.Placements)
	}
	n, m := number(before), number(after)
	switch {
	case n == 0 || m == 0 || !sameLuminaire(before, after) || !reflect.DeepEqual(before.Layout.Placements, after.Layout.Placements):
		a.Changed += min(n, m)
		a.TakenDown += max(0, n-m)
		a.Added += max(0, m-n)
	default:
		failed := len(before.Use.Failed)
		a.Repaired += failed
		if u := after.Use; u.Control != "" && u.Control != "none" || u.DimmedTo > 0 {
			a.Controlled += n - failed
		} else {
			a.Stays += n - failed
		}
	}
}
