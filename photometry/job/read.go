package job

import (
	"fmt"
	"math"
	"strconv"

	"lampswap/photometry"
	"lampswap/photometry/diag"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/room"
)

// Bounds that a job must keep, so that a slip of the pen is refused before it is computed, and every result of what is not is a number.
const (
	leastShare    = 0.001 // of light or of a loss factor
	leastLumens   = 0.001 // lm, of a lamp
	mostLumens    = 1e6
	leastWatts    = 0.001 // W, of a luminaire
	mostWatts     = 1e5
	leastMonths   = 0.01   // between cleanings
	mostMoney     = 1e12   // in any currency, of a kWh too
	mostRequired  = 1e9    // in any unit
	mostLength    = 3000.0 // m
	leastRoom     = 0.1    // m, of the room's length, width and height
	mostHeight    = 100.0  // m
	mostLamps     = 100
	mostLines     = 1000    // rows, columns
	mostPlaces    = 100_000 // luminaires of a system
	mostTables    = 10_000  // racks with their repeats, grids, criteria
	mostPoints    = 10_000_000
	usualPlaneFt  = 2.5
	usualPlaneM   = 0.76
	usualSpacingM = 0.5
)

// Files opens a file that the job names, relative to the job file.
type Files func(name string) ([]byte, error)

// ReadFile reads the job file at the path; the files that it names are looked for beside it. The error is a diag.List unless
// the file cannot be opened.
func ReadFile(path string) (*Job, error) {
	text, err := ReadText(path)
	if err != nil {
		return nil, err
	}
	return Read(path, text, Beside(path))
}

// Read reads a job from the text of its file. The error is a diag.List with every fault found.
func Read(name string, text []byte, files Files) (*Job, error) { return read(name, text, files, nil) }

func read(name string, text []byte, files Files, shelf *Shelf) (*Job, error) {
	if len(text) > MaxBytes {
		return nil, diag.List{{Pos: diag.Pos{File: name, Line: 1, Column: 1}, Wrong: "the file is too long", Want: fmt.Sprintf("at most %d bytes", MaxBytes)}}
	}
	inputs := NewSources(text, files)
	r := &reader{file: tomlfile.Read(name, text), files: inputs.Open, shelf: shelf, job: &Job{shelf: shelf}, before: &System{}}
	if top := r.file.Root(); top.Has("spaces") {
		top.Fault("spaces", "is of a building", "a job of one room here; lampswap check, proposal, plot and batch take buildings, others one space of them by --space NAME")
	} else {
		r.read()
	}
	if err := r.file.Err(); err != nil {
		return nil, err
	}
	r.job.InputsDigest, r.job.InputNames = inputs.Digest(), inputs.Names()
	return r.job, nil
}

// A reader carries what the parts of a reading share.
type reader struct {
	file  *tomlfile.File
	files Files
	shelf *Shelf // may be nil
	job   *Job

	schedules  []*Schedule         // of the job and of its groups
	fed        map[string]standbys // by group: its luminaires on emergency power; nil in a job without groups
	ofBuilding bool                // the job is a room of a building, which has the money
	building   bool                // it is the building's money that is read

	before *System // the luminaires that those being read replace; empty where none are known

	points    float64     // of the grids so far
	crowded   bool        // they are more than may be; said once
	places    []place     // of the job's criteria, in their order
	outside   []room.Rack // what lies outside the room's outline
	grouped   bool        // the job has [[groups]], not a [layout]
	gridNames []string    // of all that the file names, the faulty ones too, so that a criterion for one is no second fault
}

func (r *reader) read() {
	top := r.file.Root()
	j := r.job
	r.head(top)
	roomGood := r.room(r.required(top, "room", "the room's length, width and height"))
	r.racks(top, roomGood)
	upkeep := top.Table("upkeep")
	if r.grouped = top.Has("groups") || top.Has("kinds"); r.grouped {
		j.Upkeep = r.upkeep(upkeep, r.schedule(top, upkeep, "hours_per_year"))
		r.groups(top, roomGood)
	} else {
		shared := r.layout(top.Table("layout"), roomGood)
		j.Upkeep = r.upkeep(upkeep, r.schedule(top, upkeep, "hours_per_year"))
		r.systems(top, shared, roomGood)
	}
	r.ages(upkeep)
	r.calculation(top.Table("calculation"))
	r.grids(top, roomGood)
	r.observers(top, roomGood)
	r.criteria(top)
	r.egress(top.Table("egress"))
	r.sameNames()
	r.contradictions()
	if r.ofBuilding {
		r.terms(top)
	} else {
		r.money(top)
	}
	r.uncertainty(top.Table("uncertainty"))
	top.Done()
}

// head reads what the job says of itself.
func (r *reader) head(top *tomlfile.Table) {
	r.units(top)
	if title, ok := top.Text("title"); ok {
		r.job.Title = title
	} else {
		r.job.Title = "Untitled job"
		r.default_(top, "title", strconv.Quote(r.job.Title), "no title given")
	}
	r.facts(top)
}

// systems reads the systems of a job with one kind of luminaire in each.
func (r *reader) systems(top *tomlfile.Table, shared *Layout, roomGood bool) {
	j := r.job
	j.Groups = []string{oneGroup}
	r.before = &j.Existing
	j.Existing = r.system(r.required(top, "existing", "the lighting before the swap"), shared, roomGood)
	j.Proposed = r.system(r.required(top, "proposed", "the lighting after the swap"), shared, roomGood)
	if t := top.Table("replacement"); t.Exists() {
		replacement := r.system(t, shared, roomGood)
		j.Replacement = &replacement
	}
	for _, s := range j.Systems() {
		s.Group = oneGroup
	}
}

// oneGroup is what the luminaires of a job with one layout are called.
const oneGroup = "all"

// need notes that a key is missing if it is.
func (r *reader) need(t *tomlfile.Table, key, want string) {
	if !t.Has(key) {
		t.Missing(key, want)
	}
}

// required asks for a table that must be there.
func (r *reader) required(top *tomlfile.Table, key, want string) *tomlfile.Table {
	t := top.Table(key)
	r.need(top, key, "a table ["+key+"]: "+want)
	return t
}

func (r *reader) units(top *tomlfile.Table) {
	word, ok := top.Word("units", "imperial", "metric")
	r.job.Imperial = word != "metric"
	if !ok && !top.Has("units") {
		r.default_(top, "units", `"imperial"`, "feet and footcandles")
	}
}

// default_ lists a default that was used. value is as the file would have it.
func (r *reader) default_(t *tomlfile.Table, key, value, reason string) {
	r.job.Defaults = append(r.job.Defaults, Default{t.Path(key), value, reason})
}

// unit returns the length of the job's unit, m.
func (r *reader) unit() float64 {
	if r.job.Imperial {
		return photometry.Foot
	}
	return 1
}

// meters asks for a length above 0, in the job's unit, and returns it in m. The limit is in m.
func (r *reader) meters(t *tomlfile.Table, key string, most float64) (float64, bool) {
	x, ok := t.Number(key, r.lengths(0, most))
	return x * r.unit(), ok
}

// lengths is the rule for a length from least to most, m, worded in the job's unit; a least of 0 is left out itself.
func (r *reader) lengths(least, most float64) tomlfile.Rule {
	u := r.unit()
	name := map[bool]string{true: "ft", false: "m"}[r.job.Imperial]
	rule := tomlfile.Rule{Holds: func(x float64) bool { return x*u >= least-slack && x*u <= most+slack }}
	rule.Want = fmt.Sprintf("a length from %.5g to %.5g %s", least/u, most/u, name)
	if least == 0 {
		rule.Want = fmt.Sprintf("a length above 0 and up to %.5g %s", most/u, name)
		rule.Holds = func(x float64) bool { return x > 0 && x*u <= most+slack }
	}
	return rule
}

// upTo is the rule for 0 and numbers up to a large one, which is worded with its power of ten.
func upTo(most float64) tomlfile.Rule {
	rule := tomlfile.Between(0, most)
	rule.Want = "a number from 0 to 1e" + strconv.Itoa(int(math.Round(math.Log10(most))))
	return rule
}

// orZero is the rule for 0 and the numbers from least to most.
func orZero(least, most float64) tomlfile.Rule {
	rule := tomlfile.Between(least, most)
	return tomlfile.Rule{Want: "0 or " + rule.Want, Holds: func(x float64) bool { return x == 0 || rule.Holds(x) }}
}

// show writes a length, m, in the job's unit, as the file would have it.
func (r *reader) show(meters float64) string {
	return strconv.FormatFloat(meters/r.unit(), 'g', 6, 64)
}

// room reads the room and tells whether its extent is known, so that places in it can be judged.
func (r *reader) room(t *tomlfile.Table) bool {
	rm := &r.job.Room
	var ok [3]bool
	ok[0], ok[1] = r.extent(t)
	rm.Height, ok[2] = r.meters(t, "height", mostHeight)
	for i, extent := range []float64{rm.Length, rm.Width, rm.Height} {
		key := []string{"length", "width", "height"}[i]
		if key == "height" || !t.Has("outline") {
			r.need(t, key, "the room's "+key)
		}
		if ok[i] && extent < leastRoom {
			t.Fault(key, "is too little for a room", "at least "+r.show(leastRoom))
			ok[i] = false
		}
	}
	if t.Has("work_plane") {
		most := mostHeight
		if ok[2] {
			most = rm.Height
		}
		rule := r.lengths(0, most)
		rule.Want = "0 or " + rule.Want
		holds := rule.Holds
		rule.Holds = func(x float64) bool { return x == 0 || holds(x) }
		plane, _ := t.Number("work_plane", rule)
		rm.WorkPlane = room.Snap(plane * r.unit())
	} else {
		rm.WorkPlane = usualPlaneM
		if r.job.Imperial {
			rm.WorkPlane = usualPlaneFt * photometry.Foot
		}
		r.default_(t, "work_plane", r.show(rm.WorkPlane), "the usual height")
	}
	rm.Reflectance = r.reflectances(t)
	r.space(t)
	r.outside = rm.Outside()
	t.Done()
	return ok[0] && ok[1] && ok[2]
}

func (r *reader) reflectances(t *tomlfile.Table) room.Reflectances {
	sub := t.Table("reflectance")
	ask := func(key string, usual float64, reason string) float64 {
		if x, ok := sub.Number(key, tomlfile.Between(0, 0.99)); ok {
			return x
		}
		if !sub.Has(key) && t.Exists() {
			r.default_(sub, key, strconv.FormatFloat(usual, 'g', -1, 64), reason)
		}
		return usual
	}
	const assumed = "a usual value of a room in use, assumed; look at the surfaces"
	rho := room.Reflectances{Ceiling: ask("ceiling", 0.5, assumed), Walls: ask("walls", 0.3, assumed), Floor: ask("floor", 0.2, assumed)}
	sub.Done()
	return rho
}

func (r *reader) calculation(t *tomlfile.Table) {
	j := r.job
	var ok bool
	if j.Spacing, ok = r.meters(t, "spacing", mostLength); !ok {
		j.Spacing = usualSpacingM
		if j.Imperial {
			j.Spacing = 2 * photometry.Foot
		}
		if !t.Has("spacing") {
			r.default_(t, "spacing", r.show(j.Spacing), "grid spacing on the work plane")
		}
	}
	if j.Interreflection, ok = t.Bool("interreflection"); !ok && !t.Has("interreflection") {
		j.Interreflection = true
		r.default_(t, "interreflection", "true", "light that bounces is part of the light")
	}
	if r.fewPoints(t, j.Room.Length, j.Room.Width, j.Spacing) && !j.Room.WorkPlaneGrid(j.Spacing).Open(j.Boxes()) {
		t.Fault("spacing", "puts every point of the work plane "+r.hidden(), "a narrower one, with points in the aisles")
	}
	t.Done()
}
