package job

import (
	"errors"
	"fmt"
	"math"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/diag"
	"lampswap/photometry/fixture"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/lm63"
	"lampswap/photometry/losses"
)

// system reads one of the two systems; shared is the layout that both have unless this one has its own.
func (r *reader) system(t *tomlfile.Table, shared *Layout, roomGood bool) System {
	s := System{}
	if !t.Exists() {
		return s
	}
	defer t.Done()
	own := t.Table("layout")
	switch {
	case own.Exists():
		shared = r.layout(own, roomGood)
	case !r.file.Root().Has("layout"):
		t.Missing("layout", "a table [layout] for both systems, or one of its own here")
	}
	r.kind(t, &s)
	if shared != nil {
		s.Layout = *shared
	}
	return s
}

// kind reads what luminaires are, wherever they hang.
func (r *reader) kind(t *tomlfile.Table, s *System) {
	s.Losses = r.overrides(t.Table("losses"))
	s.Costs = r.costs(t.Table("costs"))
	s.Care = r.care(t.Table("upkeep"))
	s.OutputPoints = r.outputPoints(t)
	section := r.fixture(t)
	measured := r.photometry(t, s)
	known := len(r.job.Defaults)
	diameter := 0.0
	s.Lamp, diameter = r.lamp(t, section)
	if measured != nil && measured.Absolute() { // which ignores the lamp, and so what was taken for it
		r.job.Defaults = r.job.Defaults[:known]
	}
	r.lampLumens(t, s, measured)
	r.lampAges(t, s)
	r.section(t, s, section, diameter)
	r.ballast(t, s, measured)
	r.category(t, s)
	if measured != nil && measured.Absolute() {
		r.absolute(t, s)
	}
}

func (r *reader) warn(t *tomlfile.Table, format string, args ...any) {
	r.job.Warnings = append(r.job.Warnings, strings.TrimSuffix(t.Path(""), ".")+": "+fmt.Sprintf(format, args...))
}

// photometry asks for the photometric file and returns it, or nil if there is none to be had.
func (r *reader) photometry(t *tomlfile.Table, s *System) *lm63.File {
	name, ok := t.Text("photometry")
	switch {
	case ok && t.Has("fixture"):
		t.Fault("fixture", "stands beside photometry", "one of the two")
		return nil
	case !ok && !t.Has("photometry") && !t.Has("fixture"):
		t.Missing("photometry", "an LM-63 file beside the job file, or fixture = one of "+strings.Join(fixture.Builtin(), ", "))
	}
	if !ok {
		return nil
	}
	data, err := r.files(name)
	if err != nil {
		t.Fault("photometry", strconv.Quote(name)+" cannot be read ("+Reason(err)+")", "an LM-63 file beside the job file")
		return nil
	}
	beside := func(tilt string) ([]byte, error) { return r.files(path.Join(path.Dir(filepath.ToSlash(name)), tilt)) }
	file, luminaire, err := r.shelf.file(name, data, beside)
	if err != nil {
		if faults, ok := errors.AsType[diag.List](err); ok {
			r.foreign(faults)
		} else {
			t.Fault("photometry", strconv.Quote(name)+": "+err.Error(), "a photometric file that can be used")
		}
		return nil
	}
	s.Luminaire = luminaire
	if !(s.Luminaire.Distribution.Flux() > 0) {
		t.Fault("photometry", strconv.Quote(name)+" sends out no light", "a luminaire that does")
		return nil
	}
	if !r.judged(t, name, file, luminaire) {
		return nil
	}
	s.Photometry = name
	for _, w := range file.Warnings {
		r.warn(t, "%s", w)
	}
	return file
}

// foreign notes the faults of a file that the job names, once for both systems.
func (r *reader) foreign(faults diag.List) {
	for _, fault := range faults {
		if !slices.ContainsFunc(r.file.Faults, func(known *diag.Error) bool { return known.Error() == fault.Error() }) {
			r.file.Faults = append(r.file.Faults, fault)
		}
	}
}

// Reason is an error of the file system without the path that the user knows already.
func Reason(err error) string {
	for inner := err; inner != nil; inner = errors.Unwrap(inner) {
		err = inner
	}
	return err.Error()
}

// lampLumens settles how many lamps a luminaire has and what one gives: from the job, else the lamp list, else the file.
func (r *reader) lampLumens(t *tomlfile.Table, s *System, file *lm63.File) {
	absolute := file != nil && file.Absolute()
	var ok bool
	if s.Lamps, ok = t.Count("lamps", 1, mostLamps); !ok && !t.Has("lamps") && file != nil {
		s.Lamps = file.Lamps
		if !absolute {
			r.default_(t, "lamps", strconv.Itoa(s.Lamps), "as in the photometric file")
		}
	} else if !t.Has("lamps") && t.Has("fixture") {
		t.Missing("lamps", "how many lamps one luminaire has")
	}
	if s.LampLumens, ok = t.Number("lamp_lumens", tomlfile.Between(leastLumens, mostLumens)); ok || t.Has("lamp_lumens") || absolute {
		return
	}
	switch {
	case s.Lamp != nil && !s.Lamp.Typed:
		s.LampLumens = s.Lamp.InitialLumens
		if why := s.Lamp.InitialFrom(); why != "" {
			r.default_(t, "lamp_lumens", strconv.FormatFloat(s.LampLumens, 'g', -1, 64), why)
		}
	case t.Has("lamp"):
	case file != nil:
		s.LampLumens = file.LumensPerLamp
		r.default_(t, "lamp_lumens", strconv.FormatFloat(s.LampLumens, 'g', -1, 64), "as in the photometric file")
	case t.Has("fixture"):
		t.Missing("lamp", "a lamp of `lampswap lamps`, or lamp_lumens")
	}
}

// category settles how the luminaire gathers dirt.
func (r *reader) category(t *tomlfile.Table, s *System) {
	if word, ok := t.Word("maintenance_category", losses.CategoryNames()...); ok {
		s.Category, _ = losses.ParseCategory(word)
		return
	}
	if s.Luminaire.Distribution == nil || t.Has("maintenance_category") {
		return
	}
	if category, ok := losses.ParseCategory(s.SuggestedCategory); ok {
		s.Category = category
		r.default_(t, "maintenance_category", strconv.Quote(category.String()), "of the fixture's cross-section")
		return
	}
	d := s.Luminaire.Distribution
	upward := d.FluxBetween(math.Pi/2, math.Pi) / d.Flux()
	s.Category = losses.SuggestCategory(upward)
	r.default_(t, "maintenance_category", strconv.Quote(s.Category.String()),
		fmt.Sprintf("from %.0f percent upward light; a bare strip is I", 100*upward))
}

// absolute makes what absolute photometry ignores count for nothing, and says so.
func (r *reader) absolute(t *tomlfile.Table, s *System) {
	for _, key := range append([]string{"lamp_lumens", "lamps", "ballast_factor", "ballast", "lamp"}, lampKeys[1:]...) {
		if t.Has(key) {
			r.warn(t, "%s is ignored: %s is absolute photometry, of the luminaire as a whole", key, s.Photometry)
		}
	}
	s.BallastFactor, s.BallastOrigin, s.BallastFrom = 1, losses.FromDefault, losses.InsideAbsolute
	s.Lamp, s.Lamps, s.LampLumens = nil, 1, s.Luminaire.LampLumens
}
