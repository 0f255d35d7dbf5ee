package options

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"reflect"
	"slices"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/study"
)

// Options are all the ways to lamp the job's fixtures that the catalogue knows, best first.
type Options struct {
	Job     *job.Job
	Group   string // whose proposed luminaires are other ones in each row; all else stays as it is
	List    []Option
	LeftOut []LeftOut
	Solves  int // photometric solves that it took: one a distinct distribution

	// Unmeetable tells of each criterion of the job that the existing lighting misses it and that no row of the list meets it either.
	Unmeetable []bool
	Narrowed   bool // the list has not all that the catalogue knows

	held []job.System // the proposed groups, in which the one that is varied has its place; nil in a job of one kind, all lit and at full output
	// the systems in the group that is varied; of no luminaires where they have none there
	before, after, third job.System
}

// An Option is one lamp, number of lamps and ballast in the job's fixture, with its light. The systems of the job are
// options too.
type Option struct {
	From        job.System // the luminaires of the group
	Fixture     string     // whose light distribution: a cross-section or a photometric file
	Existing    bool
	Proposed    bool
	Replacement bool
	Outside     bool            // not among what was asked for; shown for comparison
	NotAllowed  *losses.Outside // why it must not be used; nil if it may
	Places      int             // for these lamps in tandem; 0 with a photometric file

	Light      lighting.System // Grids have statistics only
	KW         float64
	KWhPerYear float64
	EnergyCost *float64 // a year, of energy and demand as far as priced; nil where the job gives no price
	Verdicts   []Verdict
	Meets      bool    // every criterion; without any, not darker than the existing lighting
	MeetsRest  bool    // every criterion but ratios that no row meets: where luminaires hang decides those, not what lamps are in them
	OfExisting float64 // maintained average of the work plane over that of the existing lighting; NaN if that gives no light
	Darker     bool    // than the existing lighting
	Front      bool    // no other that meets every criterion gives as much light for less, or more for as much
	Notes      []Note

	Whole bool     // all lighting of a space of a building as it is, or as proposed
	Each  []Option // what each fixture of a space has, where there are two
	way   int      // to lamp a space of a building
}

// A Verdict is what an option reaches of the criterion of that place in the job.
type Verdict struct {
	Value float64 // lx, or a ratio; NaN where the ratio has no value
	Met   bool
}

// A LeftOut could not be an option.
type LeftOut struct {
	Reason
	Names  []string // of lamps, or of the fixture
	Option *Option  // where it is more than a lamp that does not go in
}

// A Reason is why something could not be an option, with what belongs to it.
type Reason struct {
	Why    Why
	Lamps  int
	Length float64 // of a lamp, m
	Fills  float64 // the length of the fixture, m
	Lumens float64 // of a lamp
	Least  float64 // ambient, °C
	Text   string
}

// A Why is the kind of a reason.
type Why int

// The kinds, with what a reason has beside its own.
const (
	AbsoluteFile   Why = iota // photometry of the luminaire as a whole serves no other lamps
	LampsUntold               // nothing tells the lamps of a photometric file
	FileServes                // Lamps of Length only; these were told by Lumens, if there are any
	WrongLength               // Length does not fill Fills
	TooThick                  // for the lampholders of Text
	TooCold                   // Least of the lamp
	BallastTooCold            // Least of ballasts of the technology Text
	Misfit                    // Text: the fault of lamps in a cross-section
	Dark                      // no light leaves the fixture
)

// Narrow says which options are asked for. The zero value takes all. The systems of the job are always shown.
type Narrow struct {
	Group      string   // whose proposed luminaires are varied; may be left out where the job has no more than one
	Lamps      []string // names or families of lamps, or parts of them, in any letter case; one must fit
	Ballasts   []string // likewise of kinds of ballasts
	Counts     []int    // numbers of lamps in a luminaire
	LED, NoLED bool
	LeastLight float64 // lx, maintained average of the work plane
	NotDarker  bool    // than the existing lighting
	Buyable    bool    // leave out what can no longer be bought
}

// Find works out every option of a job; progress may be nil. It makes one photometric solve for each distinct distribution of
// light (fixture, lamps side by side, their diameter, beam and lit length) and scales it, since light is linear in lumens and ballast
// factor. It errs as study.Run does.
func Find(ctx context.Context, j *job.Job, narrow Narrow, progress lighting.Progress) (*Options, error) {
	o := &Options{Job: j}
	if err := o.vary(narrow.Group); err != nil {
		return nil, err
	}
	narrow.Group = ""
	o.Narrowed = !reflect.DeepEqual(narrow, Narrow{})
	candidates := o.candidates(narrow)
	s, err := newSolver(ctx, o, progress)
	if err != nil {
		return nil, err
	}
	if err := s.prepare(ctx, candidates); err != nil {
		return nil, err
	}
	for _, c := range candidates {
		option, why, err := s.option(ctx, c)
		switch {
		case err != nil:
			return nil, err
		case why != nil:
			o.LeftOut = append(o.LeftOut, *why)
		default:
			o.List = append(o.List, option)
		}
	}
	o.Solves = s.solves
	o.judge()
	o.drop(narrow)
	o.setAside()
	o.front()
	o.rank()
	return o, nil
}

// judge holds each option against the criteria and against the existing lighting.
func (o *Options) judge() {
	before := o.Existing().Light.Grids[0].Statistics.Average
	for i := range o.List {
		p := &o.List[i]
		p.OfExisting = math.NaN()
		if before > 0 {
			p.OfExisting = p.Average() / before
		}
		p.Darker = study.Darker(before, p.Average())
		p.Meets = p.NotAllowed == nil && (len(o.Job.Criteria) > 0 || !p.Darker)
		for _, c := range o.Job.Criteria {
			v := Verdict{Value: p.Light.Statistic(c)}
			v.Met = study.Keeps(&p.Light, c, v.Value)
			p.Verdicts = append(p.Verdicts, v)
			p.Meets = p.Meets && v.Met
		}
	}
}

// setAside finds the criteria that no swap can meet.
func (o *Options) setAside() {
	o.Unmeetable = make([]bool, len(o.Job.Criteria))
	for i := range o.Job.Criteria {
		o.Unmeetable[i] = !slices.ContainsFunc(o.List, func(p Option) bool { return (p.May() || p.Own()) && p.Verdicts[i].Met })
	}
	for i := range o.List {
		p := &o.List[i]
		p.MeetsRest = len(o.Job.Criteria) > 0 && o.misses(p) == 0
	}
}

// Aside tells of a criterion that no swap can meet as it is a ratio, which more light does not change. A level of light out of reach still
// tells the nearer row from the farther.
func (o *Options) Aside(criterion int) bool {
	return o.Unmeetable[criterion] && o.Job.Criteria[criterion].Statistic.Ratio()
}

// misses is how many criteria an option misses, but for those set aside.
func (o *Options) misses(p *Option) int {
	n := 0
	for i := range o.Job.Criteria {
		if !p.Verdicts[i].Met && !o.Aside(i) {
			n++
		}
	}
	return n
}

// Existing is the existing lighting.
func (o *Options) Existing() *Option {
	return &o.List[slices.IndexFunc(o.List, func(p Option) bool { return p.Existing })]
}

// Average returns the maintained average of the work plane, lx.
func (p *Option) Average() float64 { return p.Light.Grids[0].Statistics.Average }

// Minimum returns the maintained minimum of the work plane, lx.
func (p *Option) Minimum() float64 { return p.Light.Grids[0].Statistics.Minimum }

// Own tells that the option is a system of the job as it stands.
func (p *Option) Own() bool { return p.Existing || p.Proposed || p.Replacement }

// Any tells that there are luminaires in the group that is varied: a system of the job may have none there.
func (p *Option) Any() bool { return p.From.Luminaire.Distribution != nil || p.From.Lamps > 0 }

// Empty tells that places for lamps in tandem are left empty.
func (p *Option) Empty() bool { return p.Places > 0 && p.From.Tubes.EndToEnd < p.Places }

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

// May tells whether the option is one to choose: asked for and allowed.
func (p *Option) May() bool { return !p.Outside && p.NotAllowed == nil }

// shortOf is how far the option is from the criterion that it misses most, as a part of the requirement, but for those set aside; 0 if it
// misses none.
func (o *Options) shortOf(p *Option) float64 {
	worst := 0.0
	for i, c := range o.Job.Criteria {
		if p.Verdicts[i].Met || o.Aside(i) {
			continue
		}
		short := -c.Margin(p.Verdicts[i].Value)
		if math.IsNaN(short) {
			short = math.Inf(1)
		}
		worst = max(worst, short)
	}
	if len(o.Job.Criteria) == 0 && !p.Meets {
		return 1 - p.OfExisting
	}
	return worst
}

// The parts of the list, in their order.
const (
	PartMeets = iota
	PartMeetsRest
	PartMisses
	PartCompared
)

// Part is the part of the list that an option belongs to.
func (p *Option) Part() int {
	switch {
	case !p.May():
		return PartCompared
	case p.Meets:
		return PartMeets
	case p.MeetsRest:
		return PartMeetsRest
	}
	return PartMisses
}

// load is what an option draws, rounded to a milliwatt, so that the rounding of two ways to the same watts decides nothing.
func (p *Option) load() float64 { return math.Round(p.KW * 1e6) }

// rank sorts: what meets every criterion by energy, then light; then what meets all that a swap can, likewise; then what misses more, the
// fewest criteria first, then the nearest to them; then what is shown for comparison. What is equal in all of that keeps the order of the catalogue.
func (o *Options) rank() {
	slices.SortStableFunc(o.List, func(a, b Option) int {
		byEnergy := cmp.Or(cmp.Compare(a.load(), b.load()), cmp.Compare(b.Average(), a.Average()))
		byNeed := 0
		if a.Part() == PartMisses {
			byNeed = cmp.Or(cmp.Compare(o.misses(&a), o.misses(&b)), cmp.Compare(o.shortOf(&a), o.shortOf(&b)))
		}
		return cmp.Or(cmp.Compare(a.Part(), b.Part()), byNeed, byEnergy)
	})
}

// front marks the trade-off front, watts against light, of the best part of the list: what meets every criterion, or all that a swap can, or
// else all that may be chosen.
func (o *Options) front() {
	part := PartMisses
	for i := range o.List {
		part = min(part, o.List[i].Part())
	}
	for i := range o.List {
		p := &o.List[i]
		p.Front = p.Part() == part && !slices.ContainsFunc(o.List, func(q Option) bool {
			return q.Part() == part && q.load() <= p.load() && q.Average() >= p.Average() && (q.load() < p.load() || q.Average() > p.Average())
		})
	}
}

// Met tells whether some option that may be chosen meets every criterion.
func (o *Options) Met() bool { return len(o.List) > 0 && o.List[0].Part() == PartMeets }

// Nearest returns the option that comes nearest to meeting every criterion where none does that may be chosen; nil where one does, or where
// none may be chosen.
func (o *Options) Nearest() *Option {
	if len(o.List) == 0 || o.Met() || !o.List[0].May() {
		return nil
	}
	return &o.List[0]
}

// Points are the options that may be chosen, and the systems of the job, in the order of the list.
func (o *Options) Points() []*Option {
	var points []*Option
	for i := range o.List {
		if p := &o.List[i]; p.May() || p.Own() {
			points = append(points, p)
		}
	}
	return points
}

// drop takes out what falls short of what was asked for in what only its light, or its notes, can tell.
func (o *Options) drop(n Narrow) {
	o.List = slices.DeleteFunc(o.List, func(p Option) bool { return !p.Own() && n.misses(&p) })
	for i := range o.List {
		p := &o.List[i]
		p.Outside = p.Outside || n.misses(p)
	}
}

func (n Narrow) misses(p *Option) bool {
	return p.Average() < n.LeastLight || n.NotDarker && p.Darker || n.Buyable && p.Ended()
}

// Ended tells that the option has a lamp or a ballast that can no longer be bought.
func (p *Option) Ended() bool {
	return slices.ContainsFunc(p.Notes, func(n Note) bool { return n.Sign == Ended })
}
