package job

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/diag"
	"lampswap/photometry/fixture"
	"lampswap/photometry/internal/tomlfile"
)

// fixture asks for the cross-section of a system; nil if there is none to be had.
func (r *reader) fixture(t *tomlfile.Table) *fixture.Section {
	name, ok := t.Text("fixture")
	if !ok {
		return nil
	}
	return r.findSection(t, name)
}

// section computes the photometry of a fixture from its cross-section with lamps of a diameter, m; 0 if it is not known.
func (r *reader) section(t *tomlfile.Table, s *System, section *fixture.Section, diameter float64) {
	if !t.Has("fixture") {
		return
	}
	endToEnd, tandem := t.Count("end_to_end", 1, mostLamps)
	if section == nil {
		return
	}
	tubes := fixture.Tubes{Lumens: s.LampLumens, Diameter: diameter, EndToEnd: endToEnd}
	if diameter == 0 && !t.Has("lamp_diameter") {
		tubes.Diameter = r.usualDiameter(t, s)
	}
	if !tandem && s.Lamps > 0 {
		tubes.EndToEnd = section.FewestEndToEnd(s.Lamps)
		if !t.Has("end_to_end") {
			if r.tooLong(t, s, section, tubes.EndToEnd) {
				return
			}
			r.default_(t, "end_to_end", strconv.Itoa(tubes.EndToEnd), "the fewest lamps in tandem that fit the fixture's width")
		}
	}
	if s.Lamp != nil {
		r.shape(t, s.Lamp, section, &tubes)
	}
	if s.Lamps == 0 || s.LampLumens == 0 || tubes.Diameter == 0 {
		return
	}
	if s.Lamps%tubes.EndToEnd != 0 {
		t.Fault("lamps", strconv.Itoa(s.Lamps)+" lamps do not make equal rows of "+strconv.Itoa(tubes.EndToEnd)+" end to end", "a multiple of it, or end_to_end")
		return
	}
	tubes.Across = s.Lamps / tubes.EndToEnd
	r.solve(t, s, section, tubes)
}

// tooLong refuses lamps of which nobody said that they stand in tandem, where that would make a longer body than is made.
func (r *reader) tooLong(t *tomlfile.Table, s *System, section *fixture.Section, endToEnd int) bool {
	if s.Lamp == nil || endToEnd == 1 || float64(endToEnd)*s.Lamp.NominalLength <= max(longestBody, section.LuminousLength) {
		return false
	}
	most := slices.Max(section.Across())
	t.Fault("lamps", fmt.Sprintf("%d lamps of %s do not fit: %s holds at most %d side by side, and %d in tandem are %s long", s.Lamps,
		r.job.LampLength(s.Lamp.NominalLength), section.Name, most, endToEnd, r.job.LampLength(float64(endToEnd)*s.Lamp.NominalLength)),
		"as many as the fixture holds, another fixture, or end_to_end if they do stand in tandem")
	return true
}

// longestBody is the longest body of a strip fixture, m: 8 ft, and a little. Source: common practice, no source.
const longestBody = 2.5

// usualDiameter is that of a lamp of which nothing tells it, m: an LED tube's is a T8's. Of a fluorescent lamp it must be told.
func (r *reader) usualDiameter(t *tomlfile.Table, s *System) float64 {
	switch {
	case s.Lamp != nil && s.Lamp.LED:
		r.default_(t, "lamp_diameter", `"1 in"`, "that of a T8 tube, as most LED tubes have")
		s.Lamp.Diameter = fixture.DiameterT8
		return fixture.DiameterT8
	case s.LampLumens > 0 && (s.Lamp != nil || !t.Has("lamp")):
		r.need(t, "lamp_diameter", `the lamp's diameter, as "1 in", or a lamp of `+"`lampswap lamps` that has one")
	}
	return 0
}

// shape puts the lamp's beam and length into the tubes.
func (r *reader) shape(t *tomlfile.Table, lamp *catalog.Lamp, section *fixture.Section, tubes *fixture.Tubes) {
	tubes.BeamAngle = lamp.BeamDeg * math.Pi / 180
	if lamp.LED && lamp.BeamDeg == 0 && !t.Has("beam_angle") {
		r.default_(t, "beam_angle", "360", "not known: computed as if the tube shone all round")
	}
	tubes.LuminousLength = lamp.NominalLength * float64(tubes.EndToEnd)
	if lamp.NominalLength == 0 && !t.Has("lamp_length") && tubes.EndToEnd > 0 {
		row, why := section.LuminousLength, "the row of lamps is as long as the fixture's luminous length"
		if e := r.before; lamp.LED && e.Section != nil && e.Section.Name == section.Name && e.Tubes.LuminousLength > 0 {
			row, why = e.Tubes.LuminousLength, "the row of lamps is as long as the existing one"
			if longest := row / float64(e.Tubes.EndToEnd); row > longest*float64(tubes.EndToEnd) {
				row, why = longest*float64(tubes.EndToEnd), "as long as the existing lamp"
			}
			tubes.LuminousLength, lamp.NominalLength = row, row/float64(tubes.EndToEnd)
		}
		r.default_(t, "lamp_length", strconv.Quote(fmt.Sprintf("%.4g in", row/float64(tubes.EndToEnd)/photometry.Inch)), why)
	}
	if lamp.Diameter > section.LargestDiameter*(1+1e-9) {
		t.Fault("lamp", fmt.Sprintf("%s is %.4g in thick", lamp.Name, lamp.Diameter/photometry.Inch),
			fmt.Sprintf("a lamp of at most %.4g in, which the lampholders of %s take", section.LargestDiameter/photometry.Inch, section.Name))
	}
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
	if r.largerThanRoom(luminaire.Opening) {
		t.Fault("fixture", fmt.Sprintf("with its lamps is %s long, which the room does not hold", r.job.LampLength(luminaire.Opening.Length)), "a luminaire that fits into the room")
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
		t.Fault("fixture", strconv.Quote(name)+" cannot be read ("+Reason(err)+")", "a section file beside the job file")
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
