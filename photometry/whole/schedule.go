package whole

import (
	"reflect"
	"slices"
	"strings"

	"lampswap/photometry/building"
	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

// A Kind is a row of the schedule: one kind of luminaire, how many there are before and after, and what comes in and goes out with it. Kinds of
// equal content are one, whatever they are called.
type Kind struct {
	Name   string // of the kind; several names of one content are joined, one name of several contents is told apart by a space
	System *job.System
	By     [3]int // luminaires of each side, with all copies
	Spaces []InSpace

	Lamps, Ballasts, Sockets int     // that come in
	LampsOut, BallastsOut    int     // that go out
	Dismounted, Mounted      int     // luminaires that are taken down for good, and new ones that are put up as a whole
	Length                   float64 // of strip with new lamps, m

	// What the lamps that come in cost, and the disposal of those that go out, by the costs of their kinds; nil where these do not tell.
	LampsCost, DisposalCost *float64

	names        []string
	bought, gone sum
}

// A sum is what lamps cost whose price is told, and how many they are.
type sum struct {
	lamps int
	cost  float64
}

// add adds lamps at a price; 0 is none that is told.
func (s *sum) add(lamps int, price float64) {
	if price > 0 {
		s.lamps, s.cost = s.lamps+lamps, s.cost+float64(lamps)*price
	}
}

// of is the cost of a number of lamps; nil where it is not told of all of them.
func (s sum) of(lamps int) *float64 {
	if lamps == 0 || s.lamps != lamps {
		return nil
	}
	return &s.cost
}

// An InSpace is how many luminaires of a kind a space has, with its copies.
type InSpace struct {
	Name string
	By   [3]int
}

// Mercury tells that the lamps that go out hold mercury.
func (k Kind) Mercury() bool { return k.LampsOut > 0 && (k.System.Lamp == nil || !k.System.Lamp.LED) }

// MayHoldPCB tells that ballasts that go out may hold it: all that are not known to be electronic.
func (k Kind) MayHoldPCB() bool {
	b := k.System.Ballast
	return k.BallastsOut > 0 && (b == nil || strings.HasPrefix(b.Kind, "magnetic"))
}

// schedule counts luminaires kind by kind, and what the swap brings in and takes out.
func (r *Result) schedule() []Kind {
	t := takeOff{}
	for _, s := range r.Spaces {
		for _, group := range s.Space.Job.Groups {
			t.add(s, s.Space.Job.Existing.Find(group), s.Space.Job.Proposed.Find(group))
		}
	}
	for third := 2; third < len(r.Whole.Sides); third++ { // what comes in and goes out with it is not counted: that is of the swap
		for _, s := range r.Spaces {
			for _, kind := range s.Sides[s.Counted(third)].From.Kinds() {
				t.count(s, third, kind)
			}
		}
	}
	t.call()
	return t.kinds
}

// A takeOff gathers the rows of a schedule.
type takeOff struct{ kinds []Kind }

// of is the row of a kind, which begins one where it is new.
func (t *takeOff) of(s *job.System) *Kind {
	name := s.KindName()
	at := slices.IndexFunc(t.kinds, func(k Kind) bool { return equal(k.System, s) })
	if at < 0 {
		t.kinds = append(t.kinds, Kind{System: s})
		at = len(t.kinds) - 1
	}
	k := &t.kinds[at]
	if !slices.Contains(k.names, name) {
		k.names = append(k.names, name)
	}
	return k
}

// add counts a group of a space in one system and the other; nil where it has no luminaires.
func (t *takeOff) add(s Space, before, after *job.System) {
	stays := before != nil && after != nil && study.Stays(before, after)
	if before != nil {
		n := s.Copies * len(before.Layout.Placements)
		k := t.count(s, 0, before)
		if !stays {
			k.LampsOut += n * lampsOf(before)
			k.gone.add(n*lampsOf(before), before.Costs.LampDisposal)
			if !keepsBallast(before, after) {
				k.BallastsOut += n * ballastsOf(before)
			}
			if after == nil || after.Luminaire.Absolute && after.Photometry != before.Photometry {
				k.Dismounted += n
			}
		}
	}
	if after != nil {
		n := s.Copies * len(after.Layout.Placements)
		k := t.count(s, 1, after)
		if stays {
			return
		}
		k.Lamps += n * lampsOf(after)
		k.bought.add(n*lampsOf(after), after.Costs.LampPrice)
		k.Sockets += 2 * n * lampsOf(after)
		if !keepsBallast(before, after) {
			k.Ballasts += n * ballastsOf(after)
		}
		if before == nil || after.Luminaire.Absolute && after.Photometry != before.Photometry {
			k.Mounted += n
		}
		k.Length += float64(n) * lengthOf(after)
	}
}

// count counts luminaires of a side of a space.
func (t *takeOff) count(s Space, side int, from *job.System) *Kind {
	n, k := s.Copies*len(from.Layout.Placements), t.of(from)
	k.By[side] += n
	k.inSpace(s.Name).By[side] += n
	return k
}

// in is the row's count of a space.
func (k *Kind) inSpace(space string) *InSpace {
	at := slices.IndexFunc(k.Spaces, func(s InSpace) bool { return s.Name == space })
	if at < 0 {
		k.Spaces = append(k.Spaces, InSpace{Name: space})
		at = len(k.Spaces) - 1
	}
	return &k.Spaces[at]
}

// call gives every row its name: those of one content joined, one name of several contents told apart by the first space that has it.
func (t *takeOff) call() {
	times := map[string]int{}
	for i := range t.kinds {
		k := &t.kinds[i]
		k.LampsCost, k.DisposalCost = k.bought.of(k.Lamps), k.gone.of(k.LampsOut)
		t.kinds[i].Name = strings.Join(t.kinds[i].names, ", ")
		times[t.kinds[i].Name]++
	}
	for i := range t.kinds {
		if k := &t.kinds[i]; times[k.Name] > 1 {
			k.Name += " (" + k.Spaces[0].Name + ")"
		}
	}
}

// equal tells that two kinds have one content: the same photometry, lamps and ballast, with the same light and watts. What their upkeep costs and
// how their light is lost does not matter to whoever buys them.
func equal(a, b *job.System) bool {
	return a.Lamps == b.Lamps && a.LampLumens == b.LampLumens && a.BallastFactor == b.BallastFactor && a.InputWatts == b.InputWatts &&
		same(a.Lamp, b.Lamp, func(x, y *catalog.Lamp) bool { return x.Same(*y) }) &&
		same(a.Ballast, b.Ballast, func(x, y *catalog.Ballast) bool { return x.Name == y.Name && x.Count == y.Count }) &&
		same(a.Section, b.Section, func(x, y *fixture.Section) bool { return reflect.DeepEqual(x, y) }) &&
		(a.Section != nil || reflect.DeepEqual(a.Luminaire, b.Luminaire))
}

// same tells that two things are both unknown, or both known and equal.
func same[T any](a, b *T, equal func(a, b *T) bool) bool {
	if a == nil || b == nil {
		return a == b
	}
	return equal(a, b)
}

// lampsOf is how many lamps a luminaire has; none where it is known as a whole alone.
func lampsOf(s *job.System) int {
	if s.Luminaire.Absolute {
		return 0
	}
	return s.Lamps
}

// ballastsOf is how many ballasts or drivers feed a luminaire: one where the job does not say.
func ballastsOf(s *job.System) int {
	switch {
	case s.Luminaire.Absolute:
		return 0
	case s.Ballast != nil:
		return s.Ballast.Count
	case s.Lamp != nil && s.Lamp.LEDType == catalog.OnLine:
		return 0
	}
	return 1
}

// keepsBallast tells that the lamps that come run on the ballast that is there.
func keepsBallast(before, after *job.System) bool {
	if before == nil || after == nil {
		return false
	}
	if old, now := before.Ballast, after.Ballast; old != nil && now != nil {
		return old.Count > 0 && old.Count == now.Count && old.Name == now.Name
	}
	return after.Lamp != nil && after.Lamp.LEDType == catalog.OnBallast
}

// lengthOf is how long a luminaire shines, m: the strip of lamps in it; 0 where that is not known or it is no strip.
func lengthOf(s *job.System) float64 {
	if s.Luminaire.Absolute {
		return 0
	}
	return s.Luminaire.Opening.Length
}

// Alone is a building of one room, for its schedule alone.
func Alone(found *study.Result) *Result {
	r := &Result{Building: &building.Building{Whole: found.Job}, Whole: found,
		Spaces: []Space{{&building.Space{Name: found.Job.Title, Copies: 1, Job: found.Job}, found}}}
	r.Schedule = r.schedule()
	return r
}

// Outgoing is what is to be disposed of by what it may hold: lamps with mercury, ballasts that may hold PCB and others, and luminaires that are
// taken down whole.
type Outgoing struct{ Mercury, PCB, Electronic, Dismounted int }

// Outgoing counts what goes out by the schedule.
func (r *Result) Outgoing() Outgoing {
	var out Outgoing
	for _, k := range r.Schedule {
		if k.Mercury() {
			out.Mercury += k.LampsOut
		}
		if k.MayHoldPCB() {
			out.PCB += k.BallastsOut
		} else {
			out.Electronic += k.BallastsOut
		}
		out.Dismounted += k.Dismounted
	}
	return out
}
