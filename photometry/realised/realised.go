package realised

import (
	"math"
	"slices"

	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

// A Result is the saving that readings tell, beside the promised one. kWh are of a year, with all copies.
type Result struct {
	Building           *building.Building
	Groups             []Group
	Promised, Realised float64 // saving, with the heating and cooling factor
	ReadOfPromised     float64 // what of the promised saving is of groups whose power and hours were read in both systems
	NotRead            []string
	Samples            []Sample
	Unlike             []Unlike
	Because            Because // what of realised less promised comes from what
	Half               float64 // half the width of the realised saving's interval by how its readings scatter, with Z
	ByHours            float64 // what of the realised saving comes of fewer hours than before in groups that have no control, kWh
}

// A Group is a group of luminaires of a space in both systems.
type Group struct {
	Space, Name        string
	Existing, Proposed Use
	Stays              bool // the swap leaves its luminaires as they are: nothing need be read
}

// A Use is what the luminaires of a group draw in a year: as promised, and as read where something was.
type Use struct {
	There                       bool // the group has luminaires in the system
	Number, ReadNumber          int  // that give light, with all copies
	Watts, ReadWatts            float64
	Hours, ReadHours            float64
	KWh, ReadKWh                float64
	WattsRead, HoursRead, Count bool
	Readings                    int // of hours
}

// Read tells that both power and hours were read.
func (u Use) Read() bool { return !u.There || u.WattsRead && u.HoursRead }

// A Sample is how many luminaires of a kind are to be logged.
type Sample struct {
	Kind           string
	Number, Needed int
	Logged         int // readings of the hours of proposed luminaires
}

// Quantities of a sample, where nobody says otherwise.
const (
	Z         = 1.645 // 90 percent confidence, both sides
	Variation = 0.5   // coefficient of variation that is expected of hours, assumed
	Precision = 0.10  // relative
)

// SampleSize is how many of a number of like things are to be logged: (z cv / e)^2 with the correction for a finite number. A number of 0 is taken
// for one without end.
func SampleSize(z, cv, e float64, number int) int {
	n := z * cv / e
	n *= n
	if number > 0 {
		n = n * float64(number) / (n + float64(number))
	}
	return int(math.Ceil(n - 1e-9))
}

// Of works out what readings of a building tell.
func Of(b *building.Building, readings []Reading) *Result {
	r := &Result{Building: b}
	factor := 1 + b.Whole.Tariff.HeatingCooling
	var variances float64
	for _, s := range b.Spaces {
		for _, name := range s.Job.Groups {
			g := Group{Space: s.Name, Name: name}
			for _, side := range []struct {
				use    *Use
				system *job.System
				name   string
				sign   float64
			}{{&g.Existing, &s.Job.Existing, "existing", 1}, {&g.Proposed, &s.Job.Proposed, "proposed", -1}} {
				some := of(readings, s.Name, name, side.name)
				*side.use = use(s, side.system.Find(name), some)
				r.Unlike = append(r.Unlike, unlike(*side.use, s.Copies, some)...)
				r.Because.add(because(*side.use), side.sign*factor)
				variances += factor * factor * variance(*side.use, some)
			}
			before, after := s.Job.Existing.Find(name), s.Job.Proposed.Find(name)
			g.Stays = before != nil && after != nil && study.Stays(before, after) && g.Existing.KWh == g.Proposed.KWh
			r.Groups = append(r.Groups, g)
			r.ByHours += factor * g.byHours(after)
			promised := (g.Existing.KWh - g.Proposed.KWh) * factor
			r.Promised += promised
			r.Realised += (g.Existing.ReadKWh - g.Proposed.ReadKWh) * factor
			if g.Stays || g.Existing.Read() && g.Proposed.Read() {
				r.ReadOfPromised += promised
			} else {
				r.NotRead = append(r.NotRead, s.Name+": "+name)
			}
		}
	}
	r.Half = Z * math.Sqrt(variances)
	r.samples()
	return r
}

// byHours is what fewer hours than before save in a group without a control, kWh: not the swap's doing, as far as the job tells.
func (g Group) byHours(after *job.System) float64 {
	if after == nil || after.Use.ControlSaving > 0 || !g.Existing.HoursRead || !g.Proposed.HoursRead {
		return 0
	}
	return float64(g.Proposed.ReadNumber) * g.Proposed.ReadWatts * (g.Existing.ReadHours - g.Proposed.ReadHours) / 1000
}

// of are the readings of a group in a system.
func of(all []Reading, space, group, system string) []Reading {
	var some []Reading
	for _, r := range all {
		if r.Space == space && r.Group == group && r.System == system {
			some = append(some, r)
		}
	}
	return some
}

// use is what luminaires draw: as promised, and with the mean of what was read.
func use(s building.Space, k *job.System, readings []Reading) Use {
	if k == nil {
		return Use{}
	}
	lit := len(k.Lit())
	u := Use{There: true, Number: s.Copies * lit, Hours: k.HoursBurnt(s.Job)}
	if lit > 0 {
		u.Watts = k.Watts() / float64(lit)
	}
	u.KWh = float64(u.Number) * u.Watts * u.Hours / 1000
	u.ReadNumber, u.ReadWatts, u.ReadHours = u.Number, u.Watts, u.Hours
	if x, ok := mean(readings, func(r Reading) float64 { return r.Watts }); ok {
		u.ReadWatts, u.WattsRead = x, true
	}
	if x, ok := mean(readings, func(r Reading) float64 { return r.Hours }); ok {
		u.ReadHours, u.HoursRead = x, true
	}
	for _, r := range readings {
		if !math.IsNaN(r.Hours) {
			u.Readings++
		}
		if r.Count >= 0 {
			u.ReadNumber, u.Count = s.Copies*r.Count, true
		}
	}
	u.ReadKWh = float64(u.ReadNumber) * u.ReadWatts * u.ReadHours / 1000
	return u
}

// mean is that of what was read; ok is false where nothing was.
func mean(readings []Reading, of func(Reading) float64) (float64, bool) {
	sum, n := 0.0, 0
	for _, r := range readings {
		if x := of(r); !math.IsNaN(x) {
			sum, n = sum+x, n+1
		}
	}
	return sum / float64(n), n > 0
}

// samples count, kind by kind of the proposed luminaires, how many are to be logged and how many were.
func (r *Result) samples() {
	n := 0
	for _, s := range r.Building.Spaces {
		for _, group := range s.Job.Groups {
			g := r.Groups[n]
			n++
			k := s.Job.Proposed.Find(group)
			if k == nil || g.Stays {
				continue
			}
			name := k.KindName()
			at := slices.IndexFunc(r.Samples, func(x Sample) bool { return x.Kind == name })
			if at < 0 {
				r.Samples = append(r.Samples, Sample{Kind: name})
				at = len(r.Samples) - 1
			}
			r.Samples[at].Number += s.Copies * len(k.Layout.Placements)
			r.Samples[at].Logged += g.Proposed.Readings
		}
	}
	for i := range r.Samples {
		r.Samples[i].Needed = SampleSize(Z, Variation, Precision, r.Samples[i].Number)
	}
}

// Proven tells that every group was read in both systems, enough luminaires of each kind, that no reading is unlike the job, that what was read scatters
// little enough, and that the saving is no less than promised, without what hours alone saved.
func (r *Result) Proven() bool {
	for _, s := range r.Samples {
		if s.Logged < s.Needed {
			return false
		}
	}
	return len(r.NotRead) == 0 && len(r.Unlike) == 0 && r.Precise() && r.counted() >= r.Promised*(1-1e-9)
}

// Missed tells that all was read as it should be, and that the saving is less than promised by more than readings scatter.
func (r *Result) Missed() bool {
	return len(r.NotRead) == 0 && len(r.Unlike) == 0 && r.counted()+r.Half < r.Promised*(1-1e-9)
}

// counted is the saving that proves something: fewer hours than before, where no control was promised, are not the swap's doing.
func (r *Result) counted() float64 { return r.Realised - max(0, r.ByHours) }

// Precise tells that readings scatter no more than a sample is planned for.
func (r *Result) Precise() bool { return r.Half <= Precision*math.Abs(r.Realised) }
