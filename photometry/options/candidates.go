package options

import (
	"math"
	"reflect"
	"slices"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
	"lampswap/photometry/job"
	"lampswap/photometry/losses"
)

// A candidate is an option before its light is known.
type candidate struct {
	Option
	shape shapeKey
	host  *job.System // whose fixture it is
	tubes fixture.Tubes
}

// A shapeKey names one distinct distribution of light. What does not matter for it, lumens above all, is left out. Lamps in tandem
// make one long lamp.
type shapeKey struct {
	host     int // 0 the existing fixture, 1 the proposed, 2 the replacement
	across   int // 0 for a photometric file
	diameter float64
	beam     float64
	length   float64
}

func shapeOf(host int, s *job.System, t fixture.Tubes) shapeKey {
	if s.Section == nil {
		return shapeKey{host: host}
	}
	k := shapeKey{host, t.Across, t.Diameter, t.BeamAngle, t.LuminousLength}
	if k.beam >= 2*math.Pi {
		k.beam = 0
	}
	if k.length == 0 {
		k.length = s.Section.LuminousLength
	}
	const unit = 1e-9 // m or rad: less is rounding between the units of a job and of the list
	for _, x := range []*float64{&k.diameter, &k.beam, &k.length} {
		*x = math.Round(*x/unit) * unit
	}
	return k
}

// sameFixture tells that two systems have the same fixture at the same places, whatever their lamps.
func sameFixture(a, b *job.System) bool {
	if !reflect.DeepEqual(a.Layout, b.Layout) || (a.Section == nil) != (b.Section == nil) {
		return false
	}
	if a.Section == nil {
		return a.Photometry == b.Photometry
	}
	return reflect.DeepEqual(a.Section, b.Section)
}

// A lister collects the candidates of a job.
type lister struct {
	o      *Options
	narrow Narrow
	all    []candidate
	out    []LeftOut
}

// candidates lists the systems of the job, then what the catalogue knows for the fixtures: the proposed one if it is
// a cross-section; else the proposed file, for as many lamps of the same length, and the existing fixture.
func (o *Options) candidates(narrow Narrow) []candidate {
	l := &lister{o: o, narrow: narrow}
	e, p := &o.before, &o.after
	proposed := 1
	if o.hung(e) && sameFixture(e, p) {
		proposed = 0
	}
	l.own(0, e, func(c *candidate) { c.Existing = true })
	l.own(proposed, p, func(c *candidate) { c.Proposed = true })
	if o.Job.Replacement != nil {
		l.own(2, &o.third, func(c *candidate) { c.Replacement = true })
	}
	l.fixture(proposed, p)
	if proposed == 1 && p.Section == nil && o.hung(e) {
		l.fixture(0, e)
	}
	o.LeftOut = append(o.LeftOut, l.out...)
	return l.all
}

func (l *lister) leaveOut(name string, why Reason) {
	at := slices.IndexFunc(l.out, func(o LeftOut) bool { return o.Reason == why })
	if at < 0 {
		at, l.out = len(l.out), append(l.out, LeftOut{Reason: why})
	}
	if !slices.Contains(l.out[at].Names, name) {
		l.out[at].Names = append(l.out[at].Names, name)
	}
}

// own adds a system of the job as it stands.
func (l *lister) own(host int, s *job.System, mark func(*candidate)) {
	c := candidate{Option: Option{From: *s, Fixture: fixtureName(s)}, shape: shapeOf(host, s, s.Tubes), host: s, tubes: s.Tubes}
	c.Outside = s.Lamp == nil && l.narrow.byLamp() || s.Lamp != nil && !l.narrow.takes(*s.Lamp) ||
		!l.narrow.takesCount(s.Lamps) || !l.narrow.takesBallast(s.Ballast)
	l.add(c, mark)
}

// add appends a candidate, unless it is one of the job's systems again; mark may be nil.
func (l *lister) add(c candidate, mark func(*candidate)) {
	at := slices.IndexFunc(l.all, func(known candidate) bool {
		if l.o.grouped() && (mark != nil || !known.Proposed) {
			return false // what hangs elsewhere makes them two
		}
		return known.Own() && known.equals(c)
	})
	if at < 0 {
		l.all = append(l.all, c)
		at = len(l.all) - 1
	}
	if mark != nil {
		mark(&l.all[at])
	}
}

// equals tells that two candidates are the same lighting in all that can be chosen.
func (c candidate) equals(d candidate) bool {
	a, b := c.From, d.From
	return c.shape == d.shape && sameLamp(a.Lamp, b.Lamp) && a.Lamps == b.Lamps && a.LampLumens == b.LampLumens &&
		a.BallastFactor == b.BallastFactor && a.InputWatts == b.InputWatts && (a.Ballast == nil || b.Ballast == nil || a.Ballast.Kind == b.Ballast.Kind)
}

// sameLamp tells that two lamps are one, by name or by all their figures.
func sameLamp(a, b *catalog.Lamp) bool {
	return a == b || a != nil && b != nil && a.Same(*b)
}

func fixtureName(s *job.System) string {
	if s.Section != nil {
		return s.Section.Name
	}
	return s.Photometry
}

// How far a row of lamps may be from the length of the fixture, m: the names of lamps are nominal, but a T5 lamp, two inches
// shorter than the T8 lamp of its class, does not fit. A fixture whose lamps are not named is known by its lit length, which is up to
// two inches short of the lamps' room.
const (
	lampSlack = 1 * photometry.Inch
	litSlack  = 2.5 * photometry.Inch
)

// rowLength returns the length of a fixture's row of lamps, by how much another row may miss it, and how many of its lamps make the row
// (0 if that cannot be told). lumens tell the lamps if they are not named, else they are 0. length is 0 if nothing tells it.
func rowLength(s *job.System) (length, slack float64, endToEnd int, lumens float64) {
	switch {
	case s.Section != nil && s.Lamp != nil && s.Lamp.NominalLength > 0:
		return s.Lamp.NominalLength * float64(s.Tubes.EndToEnd), lampSlack, s.Tubes.EndToEnd, 0
	case s.Section != nil:
		return shapeOf(0, s, s.Tubes).length, litSlack, s.Tubes.EndToEnd, 0
	case s.Lamp != nil && s.Lamp.NominalLength > 0:
		endToEnd = max(1, int(math.Round(s.Luminaire.Opening.Length/s.Lamp.NominalLength)))
		return s.Lamp.NominalLength * float64(endToEnd), lampSlack, endToEnd, 0
	}
	lit := s.Luminaire.Opening.Length
	if like, n := nearestLamp(s, lit); n > 0 {
		return like.NominalLength * float64(n), lampSlack, n, s.LampLumens
	}
	return lit, litSlack, 0, 0
}

// nearestLamp finds, of the lamps that fill a lit length, one or more end to end, the one whose lumens are the nearest to the system's, within a factor
// of 1.5; n is 0 if there is none.
func nearestLamp(s *job.System, lit float64) (nearest catalog.Lamp, n int) {
	least := math.Log(1.5)
	for _, lamp := range catalog.Lamps() {
		endToEnd := int(math.Round(lit / lamp.NominalLength))
		if endToEnd < 1 || s.Lamps%endToEnd != 0 || math.Abs(float64(endToEnd)*lamp.NominalLength-lit) > litSlack {
			continue
		}
		if off := math.Abs(math.Log(s.LampLumens / lamp.InitialLumens)); off < least {
			least, nearest, n = off, lamp, endToEnd
		}
	}
	return nearest, n
}

// fixture adds what the catalogue knows for the fixture of a system.
func (l *lister) fixture(host int, s *job.System) {
	name := fixtureName(s)
	if s.Luminaire.Absolute {
		l.leaveOut(name, Reason{Why: AbsoluteFile})
		return
	}
	length, slack, own, lumens := rowLength(s)
	if length == 0 || s.Section == nil && own == 0 {
		l.leaveOut(name, Reason{Why: LampsUntold})
		return
	}
	if s.Section == nil {
		l.leaveOut(name, Reason{Why: FileServes, Lamps: s.Lamps, Length: length / float64(own), Lumens: lumens})
	}
	for _, lamp := range catalog.Lamps() {
		if !l.narrow.takes(lamp) {
			continue
		}
		tandem := int(math.Round(length / lamp.NominalLength))
		switch {
		case tandem < 1 || math.Abs(float64(tandem)*lamp.NominalLength-length) > slack:
			l.leaveOut(lamp.Name, Reason{Why: WrongLength, Length: lamp.NominalLength, Fills: length})
		case s.Section == nil && tandem != own:
		case losses.BelowLeast(l.o.Job.Upkeep.AmbientCelsius, lamp.LeastAmbientCelsius):
			l.leaveOut(lamp.Name, Reason{Why: TooCold, Least: lamp.LeastAmbientCelsius})
		case s.Section == nil:
			l.feed(host, s, lamp, fixture.Tubes{}, s.Lamps, 0)
		case l.diameter(lamp) > s.Section.LargestDiameter*(1+1e-9):
			l.leaveOut(lamp.Name, Reason{Why: TooThick, Text: name})
		default:
			l.arrange(host, s, lamp, tandem)
		}
	}
}

// arrange adds the numbers of one lamp that the cross-section has room for: side by side, and in tandem with places left empty.
func (l *lister) arrange(host int, s *job.System, lamp catalog.Lamp, tandem int) {
	for _, across := range s.Section.Across() {
		for endToEnd := 1; endToEnd <= tandem; endToEnd++ {
			tubes := fixture.Tubes{Across: across, EndToEnd: endToEnd, Diameter: l.diameter(lamp), Lumens: lamp.InitialLumens,
				BeamAngle: lamp.BeamDeg * math.Pi / 180, LuminousLength: lamp.NominalLength * float64(endToEnd)}
			l.feed(host, s, lamp, tubes, across*endToEnd, tandem)
		}
	}
}

// feed adds a number of one lamp on each ballast for it.
func (l *lister) feed(host int, s *job.System, lamp catalog.Lamp, tubes fixture.Tubes, lamps, places int) {
	if !l.narrow.takesCount(lamps) {
		return
	}
	for _, ballast := range catalog.BallastsFor(lamp, lamps) {
		if !l.narrow.takesBallast(&ballast) {
			continue
		}
		if start, ok := ballast.Starting(); ok && losses.BelowLeast(l.o.Job.Upkeep.AmbientCelsius, start.FromCelsiusLow) {
			l.leaveOut(lamp.Name, Reason{Why: BallastTooCold, Least: start.FromCelsiusLow, Text: start.Technology})
			continue
		}
		from := job.System{Group: s.Group, Use: l.o.use(ballast.InputWatts), Photometry: s.Photometry, Layout: s.Layout, Section: s.Section, Tubes: tubes, Category: s.Category, Care: s.Care, Emergency: l.o.after.Emergency,
			Lamp: &lamp, Ballast: &ballast, Lamps: lamps, LampLumens: lamp.InitialLumens,
			BallastFactor: ballast.BallastFactor, InputWatts: ballast.InputWatts,
			BallastOrigin: losses.FromTable, BallastFrom: losses.Listed(ballast.Origin())}
		stated(l.o, s, &from)
		l.add(candidate{Option: Option{From: from, Fixture: fixtureName(s), Places: places}, shape: shapeOf(host, s, tubes), host: s, tubes: tubes}, nil)
	}
}

// diameter returns a lamp's diameter, m: of the list, else as the job gives it for that lamp, else that of a T8 tube.
func (l *lister) diameter(lamp catalog.Lamp) float64 {
	if lamp.Diameter > 0 {
		return lamp.Diameter
	}
	for _, s := range []*job.System{&l.o.after, &l.o.before} {
		if s.Lamp != nil && s.Lamp.Name == lamp.Name && s.Tubes.Diameter > 0 {
			return s.Tubes.Diameter
		}
	}
	return fixture.DiameterT8
}

func (n Narrow) byLamp() bool { return len(n.Lamps) > 0 || n.LED || n.NoLED }

func (n Narrow) takes(lamp catalog.Lamp) bool {
	if n.LED && !lamp.LED || n.NoLED && lamp.LED {
		return false
	}
	return fits(n.Lamps, lamp.Name, lamp.Family)
}

func (n Narrow) takesCount(lamps int) bool {
	return len(n.Counts) == 0 || slices.Contains(n.Counts, lamps)
}

func (n Narrow) takesBallast(b *catalog.Ballast) bool {
	return len(n.Ballasts) == 0 || b != nil && fits(n.Ballasts, b.Kind)
}

// fits tells that one of the words is a part of one of the names, or that there is no word.
func fits(words []string, names ...string) bool {
	return len(words) == 0 || slices.ContainsFunc(words, func(w string) bool {
		return slices.ContainsFunc(names, func(name string) bool { return strings.Contains(strings.ToLower(name), strings.ToLower(w)) })
	})
}

// stated gives an option in a system's fixture the loss factors that the job gives and that hold for it. Dirt, burnout, voltage and
// others are of the fixture and the room; what the job states of a lamp's lumens holds for that lamp, of its temperature for
// its family, and a total for its lamp, with the ballast factor of the option in it.
func stated(all *Options, host, option *job.System) {
	h := host.Losses
	o := job.Overrides{LuminaireDirtDepreciation: h.LuminaireDirtDepreciation, RoomSurfaceDirtDepreciation: h.RoomSurfaceDirtDepreciation,
		LampBurnout: h.LampBurnout, Voltage: h.Voltage, Other: h.Other}
	for _, s := range []*job.System{&all.before, &all.after} { // the proposed system's word comes last and counts
		if s.Lamp == nil {
			continue
		}
		if given := s.Losses.LampLumenDepreciation; given != nil && sameLamp(s.Lamp, option.Lamp) {
			o.LampLumenDepreciation = given
		}
		if given := s.Losses.Temperature; given != nil && s.Lamp.Family == option.Lamp.Family {
			o.Temperature = given
		}
		if s.OutputPoints != nil && s.Lamp.Family == option.Lamp.Family {
			option.OutputPoints = s.OutputPoints
		}
	}
	if given := h.Total; given != nil && sameLamp(host.Lamp, option.Lamp) {
		total := *given * option.BallastFactor / host.BallastFactor
		o.Total = &total
	}
	option.Losses = o
}
