package options

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	"lampswap/photometry/internal/cover"
	"lampswap/photometry/internal/crew"
	"lampswap/photometry/internal/memo"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

// A Room is a space of a building.
type Room struct {
	Name   string
	Copies int
	Job    *job.Job
}

// Kinds are the fewest kinds of lamps and ballast with which every space of a building meets its criteria. A kind is what is bought for one
// luminaire: lamps, their number and the ballast, in whatever fixture hangs there.
type Kinds struct {
	Rooms   []Served
	List    []Kind // those chosen first, in the order of the luminaires that they take; then the others, those first that serve most spaces by themselves
	Chosen  int    // how many of the list are chosen
	Choice  Sum    // with the chosen kinds; spaces that nothing serves stay as they are
	Alone   Sum    // the same with each space at its own least energy, whatever the number of kinds
	AsFound Sum    // the existing lighting
	More    []More // what more kinds save, while each of them saves a hundredth at least
}

// A More is the least energy with more kinds than the fewest.
type More struct {
	Sum
	Of []Option
}

// A Sum is what a choice comes to over the spaces, with copies.
type Sum struct {
	Kinds      int
	KW         float64
	KWhPerYear float64
	Cost       *float64 // a year, of energy and demand as far as priced
}

// A Served is a space with the ways to lamp it.
type Served struct {
	Room
	Varied []string // groups whose lamps and ballasts are chosen
	Held   []string // other groups, as they are proposed
	Way    *Option  // the chosen one; nil where nothing serves the space, or nothing is varied
	Parts  []Part   // of the chosen one
	By     *Option  // the least energy of the space by itself; nil likewise
	Stays  bool     // nothing of the list meets every criterion, and the existing lighting does
	Met    bool     // every criterion is met; without any, the space is not darker than it was
	Lacks  Lack     // what it lacks where no way meets every criterion
	All    *Options // that the list and the job have for it
	ways   []way
}

// A Lack is why a space does not meet every criterion.
type Lack int

// What a space may lack.
const (
	LacksNothing Lack = iota
	LacksChange       // nothing is varied there, and as proposed it misses some
	LacksRatios       // nothing meets those that no swap can meet
	LacksAll          // nothing of the list meets what a swap can meet
)

// A Part is what the groups of one fixture get.
type Part struct {
	Groups     []string
	Kind       int // in the list of kinds
	Luminaires int // of one copy
	From       job.System
}

// Keys are what a job writes to have a part, in a kind of its own.
func (p *Part) Keys() []string {
	return append([]string{"fixture = " + strconv.Quote(fixtureName(&p.From))}, (&Option{From: p.From}).Keys()...)
}

// A way lamps all varied groups of a space: each fixture in it with a kind.
type way struct {
	names [2]string // of the kinds, by fixture; equal where there is one fixture or both take one kind
	from  []job.System
}

// A Kind is one kind of lamps and ballast.
type Kind struct {
	Option              // as in the first space that can have it: its lamps, ballast, watts and notes; it has no light
	Luminaires int      // that take it, with copies; 0 where it is not chosen
	Serves     int      // spaces, with copies, that it serves by itself
	Alone      Sum      // of those
	Misses     []string // names of the spaces that it does not serve by itself
	key        string
}

// FindKinds works out which kinds serve a building. narrow.Group names a group that spaces may have; all others then stay as proposed. It
// errs as Find does.
func FindKinds(ctx context.Context, rooms []Room, narrow Narrow, progress lighting.Progress) (*Kinds, error) {
	k := &Kinds{Rooms: make([]Served, len(rooms))}
	named := false
	for i, r := range rooms {
		k.Rooms[i] = Served{Room: r}
		k.Rooms[i].split(narrow.Group)
		named = named || len(k.Rooms[i].Varied) > 0
	}
	if !named {
		return nil, k.nothingVaries(narrow.Group)
	}
	if err := k.light(ctx, narrow, progress); err != nil {
		return nil, err
	}
	k.choose()
	return k, nil
}

// nothingVaries is the error where no space has luminaires to choose for.
func (k *Kinds) nothingVaries(group string) error {
	var names []string
	for _, r := range k.Rooms {
		for _, kind := range r.Job.Proposed.Kinds() {
			if !slices.Contains(names, kind.Group) {
				names = append(names, kind.Group)
			}
		}
	}
	if group == "" {
		return &GroupError{"no luminaire is changed in any space", "a space with another lamp, ballast or luminaire proposed than hangs there; --space NAME looks at one all the same"}
	}
	return &GroupError{fmt.Sprintf("%q is no group whose luminaires are changed", group), "one of " + quoted(names)}
}

// split tells which groups of a space are varied: those that the swap does not leave as they are, of two kinds of fixture at most, those with the
// most luminaires.
func (s *Served) split(group string) {
	j := s.Job
	var first []job.System // of each fixture
	number := map[int]int{}
	of := map[string]int{}
	for _, after := range j.Proposed.Kinds() {
		before := j.Existing.Find(after.Group)
		if group != "" && !strings.EqualFold(group, after.Group) || group == "" && before != nil && study.Stays(before, after) {
			s.Held = append(s.Held, after.Group)
			continue
		}
		at := slices.IndexFunc(first, func(f job.System) bool { return sameHousing(&f, after) })
		if at < 0 {
			at, first = len(first), append(first, *after)
		}
		of[after.Group] = at
		number[at] += len(after.Layout.Placements)
	}
	order := make([]int, len(first))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return number[b] - number[a] })
	kept := order[:min(2, len(order))]
	for _, after := range j.Proposed.Kinds() {
		at, is := of[after.Group]
		switch {
		case !is:
		case slices.Contains(kept, at):
			s.Varied = append(s.Varied, after.Group)
		default:
			s.Held = append(s.Held, after.Group)
		}
	}
}

// sameHousing tells that two systems have the same fixture, wherever it hangs.
func sameHousing(a, b *job.System) bool {
	if (a.Section == nil) != (b.Section == nil) || a.Section != nil && !reflect.DeepEqual(a.Section, b.Section) {
		return false
	}
	return a.Section != nil || a.Photometry == b.Photometry && reflect.DeepEqual(a.Luminaire, b.Luminaire)
}

// keptFixtures is how many bytes of the distributions of cross-sections are kept, for rooms with the same fixtures.
const keptFixtures = 64 << 20

// light works out the ways of every space, some spaces at a time.
func (k *Kinds) light(ctx context.Context, narrow Narrow, progress lighting.Progress) error {
	fixtures := memo.New[*shape](keptFixtures)
	group, ctx := crew.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	var mutex sync.Mutex
	done := 0
	for i := range k.Rooms {
		s := &k.Rooms[i]
		group.Go(func() error {
			if err := s.light(ctx, narrow, fixtures); err != nil {
				return fmt.Errorf("%s: %w", s.Name, err)
			}
			mutex.Lock()
			defer mutex.Unlock()
			if done++; progress != nil {
				progress("spaces", float64(done)/float64(len(k.Rooms)))
			}
			return nil
		})
	}
	return group.Wait()
}

// A lamped is what one group may have: a candidate by the name of its kind, with its light at every point.
type lamped struct {
	option Option
	light  lighting.System
}

// light works out the ways of one space and judges them.
func (s *Served) light(ctx context.Context, narrow Narrow, fixtures *memo.Cache[*shape]) error {
	s.All = &Options{Job: s.Job}
	narrow.Group = ""
	s.All.Narrowed = !reflect.DeepEqual(narrow, Narrow{})
	space, err := lighting.NewSpace(ctx, s.Job, interreflect.Options{})
	if err != nil {
		return err
	}
	existing, err := space.Solve(ctx, &s.Job.Existing)
	if err != nil {
		return err
	}
	s.add(Option{Existing: true, Light: existing, NotAllowed: existing.Outside, Whole: true}, &s.Job.Existing, way{})
	if len(s.Varied) == 0 {
		return s.asProposed(ctx, space)
	}
	held := map[string]lighting.System{}
	for _, name := range s.Held {
		if held[name], err = space.Solve(ctx, s.Job.Proposed.Find(name)); err != nil {
			return err
		}
	}
	housings, err := s.housings(ctx, space, narrow, fixtures)
	if err != nil {
		return err
	}
	s.combine(housings, held)
	s.All.judge()
	s.All.drop(narrow)
	s.All.setAside()
	s.All.rank()
	return nil
}

// asProposed judges a space of which nothing is varied.
func (s *Served) asProposed(ctx context.Context, space *lighting.Space) error {
	light, err := space.Solve(ctx, &s.Job.Proposed)
	if err != nil {
		return err
	}
	s.add(Option{Proposed: true, Light: light, NotAllowed: light.Outside, Whole: true}, &s.Job.Proposed, way{})
	s.All.judge()
	s.All.setAside()
	return nil
}

// A housing is the groups of one fixture, and what all of them may have.
type housing struct {
	groups []string
	host   *job.System
	names  []string            // of kinds, in the order of the catalogue
	by     map[string][]lamped // a group each
}

// housings are the kinds that the varied groups may have, fixture by fixture.
func (s *Served) housings(ctx context.Context, space *lighting.Space, narrow Narrow, fixtures *memo.Cache[*shape]) ([]*housing, error) {
	var all []*housing
	for _, name := range s.Varied {
		after := s.Job.Proposed.Find(name)
		at := slices.IndexFunc(all, func(h *housing) bool { return sameHousing(h.host, after) })
		if at < 0 {
			at, all = len(all), append(all, &housing{host: after, by: map[string][]lamped{}})
		}
		h := all[at]
		found, err := s.group(ctx, space, name, narrow, fixtures)
		if err != nil {
			return nil, err
		}
		h.groups = append(h.groups, name)
		for _, l := range found {
			key := l.option.kind()
			if len(h.by[key]) == len(h.groups) {
				continue // of two fixtures that a group may have, the one that comes first
			}
			if len(h.groups) == 1 {
				h.names = append(h.names, key)
			}
			h.by[key] = append(h.by[key], l)
		}
		h.names = slices.DeleteFunc(h.names, func(key string) bool { return len(h.by[key]) < len(h.groups) })
	}
	return all, nil
}

// group are the kinds that one group may have, each with its light.
func (s *Served) group(ctx context.Context, space *lighting.Space, name string, narrow Narrow, fixtures *memo.Cache[*shape]) ([]lamped, error) {
	o := &Options{Job: s.Job}
	if err := o.vary(name); err != nil {
		return nil, err
	}
	candidates := o.candidates(narrow)
	solver := solverIn(space, o)
	solver.points, solver.fixtures = true, fixtures
	if err := solver.prepare(ctx, candidates); err != nil {
		return nil, err
	}
	var all []lamped
	for _, c := range candidates {
		if c.Existing && !c.Proposed || c.Replacement && !c.Proposed || c.Outside {
			continue
		}
		p, light, out, err := solver.varied(ctx, c)
		switch {
		case err != nil:
			return nil, err
		case out != nil:
			o.LeftOut = append(o.LeftOut, *out)
			continue
		}
		p.NotAllowed = lighting.Temperature(s.Job, &p.From).Outside
		p.Notes = notes(s.Job, &p, c.host)
		all = append(all, lamped{p, light})
	}
	s.All.LeftOut = append(s.All.LeftOut, o.LeftOut...)
	return all, nil
}

// kind is what a candidate's kind is known by: lamps, their number, how much of the fixture they fill, ballast and watts.
func (p *Option) kind() string {
	from := &p.From
	if from.Luminaire.Absolute || !p.Any() {
		return fmt.Sprintf("%.6g W", from.InputWatts)
	}
	key := fmt.Sprintf("%d %.6g W", from.Lamps, from.InputWatts)
	if p.Empty() {
		key += fmt.Sprintf(" %d/%d", from.Tubes.EndToEnd, p.Places)
	}
	if from.Lamp != nil {
		key += " " + from.Lamp.Name
	} else {
		key += fmt.Sprintf(" %.0f lm", from.LampLumens)
	}
	if b := from.Ballast; b != nil {
		return key + fmt.Sprintf(" %s %d %s", b.Kind, b.Count, b.Set())
	}
	return key + fmt.Sprintf(" %.3g", from.BallastFactor)
}

// combine adds every way to lamp the fixtures.
func (s *Served) combine(fixtures []*housing, held map[string]lighting.System) {
	first := fixtures[0]
	for _, a := range first.names {
		if len(fixtures) == 1 {
			s.combined([]*housing{first}, way{names: [2]string{a, a}}, held)
			continue
		}
		for _, b := range fixtures[1].names {
			s.combined(fixtures, way{names: [2]string{a, b}}, held)
		}
	}
}

// combined adds one way, with the light of all groups.
func (s *Served) combined(fixtures []*housing, w way, held map[string]lighting.System) {
	got := map[string]lamped{}
	p := Option{}
	for f, h := range fixtures {
		for g, name := range h.groups {
			l := h.by[w.names[f]][g]
			got[name] = l
			if g == 0 {
				w.from, p.Each = append(w.from, l.option.From), append(p.Each, l.option)
			}
			if p.NotAllowed == nil {
				p.NotAllowed = l.option.NotAllowed
			}
			for _, n := range l.option.Notes {
				if !slices.ContainsFunc(p.Notes, func(o Note) bool { return reflect.DeepEqual(o, n) }) {
					p.Notes = append(p.Notes, n)
				}
			}
		}
		if f == 0 {
			p.From, p.Fixture, p.Places, p.Proposed = got[h.groups[0]].option.From, got[h.groups[0]].option.Fixture, got[h.groups[0]].option.Places, true
		}
		p.Proposed = p.Proposed && !slices.ContainsFunc(h.groups, func(name string) bool { return !got[name].option.Proposed })
	}
	system := s.Job.Proposed
	system.Parts = nil
	var parts []lighting.System
	for _, kind := range s.Job.Proposed.Kinds() {
		if l, is := got[kind.Group]; is {
			system.Parts, parts = append(system.Parts, l.option.From), append(parts, l.light)
		} else {
			system.Parts, parts = append(system.Parts, *kind), append(parts, held[kind.Group])
		}
	}
	if len(parts) == 1 {
		system = system.Parts[0]
	}
	p.Light = lighting.Sum(parts)
	s.add(p, &system, w)
}

// add adds a way with what it draws.
func (s *Served) add(p Option, system *job.System, w way) {
	(&solver{job: s.Job}).price(&p, system)
	p.Light = statistics(p.Light)
	p.way = len(s.ways)
	s.ways = append(s.ways, w)
	s.All.List = append(s.All.List, p)
}

// serving are the ways that serve a space: those that meet every criterion, else those that meet all that a swap can.
func (s *Served) serving() []*Option {
	var all []*Option
	if len(s.Varied) == 0 {
		return nil
	}
	best := PartMisses
	for i := range s.All.List {
		if p := &s.All.List[i]; !p.Existing {
			best = min(best, p.Part())
		}
	}
	for i := range s.All.List {
		if p := &s.All.List[i]; best < PartMisses && p.Part() == best && !p.Existing {
			all = append(all, p)
		}
	}
	return all
}

// choose finds the fewest kinds that serve all spaces that anything serves.
func (k *Kinds) choose() {
	number := map[string]int{}
	var needs [][]cover.Way
	var served []*Served
	for i := range k.Rooms {
		s := &k.Rooms[i]
		need := k.need(s, number)
		s.tell(len(need) > 0)
		if len(need) > 0 {
			needs, served = append(needs, need), append(served, s)
		}
	}
	kinds, ways := cover.Fewest(needs)
	for i, s := range served {
		options := s.serving()
		s.Way, s.By = options[ways[i]], options[cover.Cheapest(needs[i], func(cover.Way) bool { return true })]
		k.take(s, number)
	}
	k.sum(needs, served)
	k.more(needs, served, len(kinds))
	k.sort(kinds, served)
}

// need are the ways of a space as the search takes them; kinds that come up are noted with their numbers.
func (k *Kinds) need(s *Served, number map[string]int) []cover.Way {
	var need []cover.Way
	for _, p := range s.serving() {
		w := s.ways[p.way]
		var way cover.Way
		for i, name := range w.names {
			at, known := number[name]
			if !known {
				at = len(k.List)
				number[name] = at
				part := *p
				part.From, part.Each, part.Light = w.from[min(i, len(w.from)-1)], nil, lighting.System{}
				k.List = append(k.List, Kind{Option: part, key: name})
			}
			way.Kinds[i] = at
		}
		const milli = 1e3 // of a kWh, or of the currency
		way.Price[0] = int64(math.Round(p.KWhPerYear * float64(s.Copies) * milli))
		if p.EnergyCost != nil {
			way.Price[1] = int64(math.Round(*p.EnergyCost * float64(s.Copies) * milli))
		}
		need = append(need, way)
	}
	return need
}

// tell notes what is lacking where no way meets every criterion.
func (s *Served) tell(served bool) {
	switch {
	case len(s.Varied) == 0:
		if s.Met = s.Gets().Meets; !s.Met {
			s.Lacks = LacksChange
		}
	case served && s.serving()[0].Part() == PartMeets:
		s.Met = true
	case served:
		s.Lacks = LacksRatios
	case s.Existing().Meets:
		s.Stays, s.Met = true, true
	default:
		s.Lacks = LacksAll
	}
}

// take notes what the groups of a space get.
func (k *Kinds) take(s *Served, number map[string]int) {
	w := s.ways[s.Way.way]
	for f, from := range w.from {
		part := Part{Kind: number[w.names[f]], From: from}
		for _, name := range s.Varied {
			if after := s.Job.Proposed.Find(name); sameHousing(after, s.Job.Proposed.Find(from.Group)) {
				part.Groups = append(part.Groups, name)
				part.Luminaires += len(after.Layout.Placements)
			}
		}
		s.Parts = append(s.Parts, part)
		k.List[part.Kind].Luminaires += s.Copies * part.Luminaires
	}
}

// Existing is the existing lighting of a space.
func (s *Served) Existing() *Option { return s.All.Existing() }

// Gets is how a space is lit in the end: in the way that was chosen, as proposed where nothing is varied, else as it is.
func (s *Served) Gets() *Option {
	switch {
	case s.Way != nil:
		return s.Way
	case len(s.Varied) == 0:
		return &s.All.List[slices.IndexFunc(s.All.List, func(p Option) bool { return p.Proposed })]
	}
	return s.All.Existing()
}

// Met tells whether every space meets every criterion that it has.
func (k *Kinds) Met() bool {
	return !slices.ContainsFunc(k.Rooms, func(s Served) bool { return !s.Met })
}

// plus adds a space as it is lamped in one way.
func (sum *Sum) plus(p *Option, copies int) {
	sum.KW += float64(copies) * p.KW
	sum.KWhPerYear += float64(copies) * p.KWhPerYear
	if p.EnergyCost != nil {
		cost := float64(copies) * *p.EnergyCost
		if sum.Cost != nil {
			cost += *sum.Cost
		}
		sum.Cost = &cost
	}
}

// sum adds up each space at its own least energy, and what each kind does by itself.
func (k *Kinds) sum(needs [][]cover.Way, served []*Served) {
	for i := range k.Rooms {
		s := &k.Rooms[i]
		k.AsFound.plus(s.All.Existing(), s.Copies)
		k.Choice.plus(s.Gets(), s.Copies)
		alone := s.By
		if alone == nil {
			alone = s.Gets()
		}
		k.Alone.plus(alone, s.Copies)
	}
	kinds := map[int]bool{}
	for i := range served {
		at := cover.Cheapest(needs[i], func(cover.Way) bool { return true })
		kinds[needs[i][at].Kinds[0]], kinds[needs[i][at].Kinds[1]] = true, true
	}
	k.Alone.Kinds = len(kinds)
	for n := range k.List {
		kind := &k.List[n]
		for i, s := range served {
			at := cover.Cheapest(needs[i], func(w cover.Way) bool { return w.Kinds == [2]int{n, n} })
			if at < 0 {
				kind.Misses = append(kind.Misses, s.Name)
				continue
			}
			kind.Serves += s.Copies
			kind.Alone.plus(s.serving()[at], s.Copies)
		}
	}
}

// mostKinds is how many kinds a choice of more than the fewest may have, and worth the share of energy that each must save.
const (
	mostKinds = 4
	worth     = 0.01
)

// more finds what more kinds than the fewest save.
func (k *Kinds) more(needs [][]cover.Way, served []*Served, fewest int) {
	rest := k.Choice
	for _, s := range served {
		rest.KW, rest.KWhPerYear = rest.KW-float64(s.Copies)*s.Way.KW, rest.KWhPerYear-float64(s.Copies)*s.Way.KWhPerYear
	}
	before := k.Choice.KWhPerYear
	for n := fewest + 1; n <= min(mostKinds, k.Alone.Kinds) && before-k.Alone.KWhPerYear >= worth*before; n++ {
		kinds, ways := cover.AtMost(needs, n)
		m := More{Sum: Sum{Kinds: len(kinds), KW: rest.KW, KWhPerYear: rest.KWhPerYear}}
		for i, s := range served {
			m.plus(s.serving()[ways[i]], s.Copies)
		}
		if before-m.KWhPerYear < worth*before {
			return
		}
		for _, kind := range kinds {
			m.Of = append(m.Of, k.List[kind].Option)
		}
		m.Cost = nil // of the spaces served alone
		k.More, before = append(k.More, m), m.KWhPerYear
	}
}

// sort puts the chosen kinds first, and tells the parts where theirs went.
func (k *Kinds) sort(chosen []int, served []*Served) {
	k.Chosen, k.Choice.Kinds = len(chosen), len(chosen)
	order := make([]int, len(k.List))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		p, q := &k.List[a], &k.List[b]
		if p.Luminaires != q.Luminaires {
			return q.Luminaires - p.Luminaires
		}
		if p.Serves != q.Serves {
			return q.Serves - p.Serves
		}
		return cmp.Compare(p.Alone.KWhPerYear, q.Alone.KWhPerYear)
	})
	to := make([]int, len(order))
	list := make([]Kind, len(order))
	for now, before := range order {
		to[before], list[now] = now, k.List[before]
	}
	k.List = list
	for _, s := range served {
		for i := range s.Parts {
			s.Parts[i].Kind = to[s.Parts[i].Kind]
		}
	}
}
