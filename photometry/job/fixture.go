package job

import (
	"bytes"
	"errors"
	"math"
	"path"
	"strconv"
	"strings"

	"lampswap/photometry/diag"
	"lampswap/photometry/fixture"
	"lampswap/photometry/internal/tomlfile"
)

// section computes the photometry of a fixture from its cross-section: a built-in one, or a section file beside the job.
func (r *reader) section(t *tomlfile.Table, s *System) {
	if !t.Has("fixture") {
		return
	}
	endToEnd, tandem := t.Count("end_to_end", 1, mostLamps)
	diameter, hasDiameter := t.Number("lamp_diameter", r.lengths(0.005, 0.3))
	name, ok := t.Text("fixture")
	if !ok {
		return
	}
	section := r.findSection(t, name)
	if section == nil {
		return
	}
	tubes := fixture.Tubes{Lumens: s.LampLumens, Diameter: diameter * r.unit(), EndToEnd: endToEnd}
	if s.Lamp != nil {
		tubes.HalfAngle = s.Lamp.BeamDeg / 2 * math.Pi / 180
		if !hasDiameter {
			tubes.Diameter = s.Lamp.Diameter
		}
	}
	if tubes.Diameter == 0 && s.LampLumens > 0 && (s.Lamp != nil || !t.Has("lamp")) {
		r.need(t, "lamp_diameter", "the lamp's diameter, or a lamp of `lampswap lamps` that has one")
	}
	if !tandem && s.Lamps > 0 {
		tubes.EndToEnd = section.FewestEndToEnd(s.Lamps)
		if !t.Has("end_to_end") {
			r.default_(t, "end_to_end", strconv.Itoa(tubes.EndToEnd), "the fewest lamps in tandem that fit the fixture's width")
		}
	}
	if s.Lamps == 0 || s.LampLumens == 0 || tubes.Diameter == 0 {
		return
	}
	if s.Lamps%tubes.EndToEnd != 0 {
		t.Fault("lamps", strconv.Itoa(s.Lamps)+" lamps do not make equal rows of "+strconv.Itoa(tubes.EndToEnd)+" end to end", "a multiple of it, or end_to_end")
		return
	}
	tubes.Across = s.Lamps / tubes.EndToEnd
	if s.Lamp != nil {
		tubes.LuminousLength = s.Lamp.NominalLength * float64(tubes.EndToEnd)
	}
	r.solve(t, s, section, tubes)
}

func (r *reader) solve(t *tomlfile.Table, s *System, section *fixture.Section, tubes fixture.Tubes) {
	luminaire, result, err := r.shelf.section(section, tubes)
	var faults diag.List
	switch {
	case errors.As(err, &faults):
		for _, f := range faults {
			t.Fault("fixture", section.Name+": "+strings.TrimSpace(f.Key+" "+f.Wrong), f.Want)
		}
		return
	case err != nil:
		t.Fault("fixture", section.Name+": "+err.Error(), "a fixture that sends out light")
		return
	}
	s.Luminaire, s.Photometry = luminaire, "computed from the cross-section "+section.Name+", an estimate"
	s.SuggestedCategory = section.SuggestedCategory(result)
	s.Section, s.Tubes = section, tubes
	for _, d := range section.Defaults {
		r.warn(t, "%s: %s", section.Name, d)
	}
}

func (r *reader) findSection(t *tomlfile.Table, name string) *fixture.Section {
	if section, ok := fixture.Find(name); ok {
		return section
	}
	if path.Ext(name) != ".toml" {
		want := "a section file NAME.toml beside the job, or one of " + strings.Join(fixture.Builtin(), ", ")
		if near := diag.Nearest(name, fixture.Builtin()); near != "" {
			want = near + ", perhaps; " + want
		}
		t.Fault("fixture", strconv.Quote(name)+" is not a built-in fixture", want)
		return nil
	}
	data, err := r.files(name)
	if err != nil {
		t.Fault("fixture", strconv.Quote(name)+" cannot be read ("+reason(err)+")", "a section file beside the job file")
		return nil
	}
	section, err := fixture.Read(name, bytes.NewReader(data))
	var faults diag.List
	switch {
	case errors.As(err, &faults):
		r.foreign(faults)
		return nil
	case err != nil:
		t.Fault("fixture", strconv.Quote(name)+": "+err.Error(), "a section file that can be read")
		return nil
	}
	return section
}
