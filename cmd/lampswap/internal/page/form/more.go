package form

import (
	"path"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/job"
)

// The parts that a job may have or not, each of a table of its own: what takes it out is a button.

// thirdPart is the replacement, new luminaires in place of the old.
func (m former) thirdPart() Part {
	p := Part{id: "third", heading: "A replacement beside the swap", folded: true, note: "New luminaires in place of the old, compared with the swap."}
	if !m.t.Has("replacement") {
		p.adds = []Option{{Value: "add-replacement", Label: "Compare a replacement"}}
		return p
	}
	const prefix = "replacement."
	p.fields = m.systemFields(prefix)
	p.sections = []section{{"A lamp by its own figures", lampFields(prefix)}, {"It hangs otherwise", layoutFields(prefix + "layout.")},
		{"Light loss factors that you know better", lossFields(prefix)}, {"What it costs", costFields(prefix + "costs.")}, {"Its own upkeep", careFields(prefix)}}
	p.adds = []Option{{Value: "drop-replacement", Label: "Take the replacement out"}}
	return p
}

// costFields are all that a system costs.
func costFields(prefix string) []Field {
	return append(wholeCostFields(prefix), keepingFields(prefix)...)
}

// wholeCostFields are what a system costs as a whole.
func wholeCostFields(prefix string) []Field {
	return []Field{
		{Path: prefix + "installed_cost", label: "Installed", unit: "price"},
		{Path: prefix + "rebate", label: "Rebate", unit: "in all"},
		{Path: prefix + "other_per_year", label: "Other upkeep", unit: "a year"},
		{Path: prefix + "residual", label: "Worth at the end", unit: "price"},
	}
}

// keepingFields are what it costs to keep luminaires up.
func keepingFields(prefix string) []Field {
	return []Field{
		{Path: prefix + "lamp_price", label: "A lamp", unit: "price"},
		{Path: prefix + "lamp_labor", label: "To replace one", unit: "price"},
		{Path: prefix + "lamp_disposal", label: "Its disposal", unit: "price"},
		{Path: prefix + "cleaning", label: "Cleaning, a luminaire", unit: "price"},
		{Path: prefix + "ballast_cost", label: "A ballast, replaced", unit: "price"},
		{Path: prefix + "ballast_life_hours", label: "A ballast burns", unit: "h"},
	}
}

// costsPart is what the systems cost; in a job with groups that of each as a whole, since upkeep stands with the kinds.
func (m former) costsPart() Part {
	p := Part{id: "costs", heading: "What each system costs", folded: true}
	if !grouped(m.t) {
		p.note = "To install, and to keep up; the swap's installed cost stands above or here."
		p.pairs = [][2][]Field{{costFields("existing.costs."), costFields("proposed.costs.")}}
		return p
	}
	p.note = "Of each system as a whole; what it takes to keep luminaires up stands with their kinds."
	p.pairs = [][2][]Field{{wholeCostFields("costs.existing."), wholeCostFields("costs.proposed.")}}
	p.sections = []section{{"The replacement", wholeCostFields("costs.replacement.")}}
	return p
}

// egressPart is the way out on emergency power.
func (m former) egressPart() Part {
	p := Part{id: "egress", heading: "The way out on emergency power", folded: true, note: "Which luminaires stay lit, and the floor grid that is the way out. Defer to the local code and whoever enforces it."}
	if !m.t.Has("egress") {
		p.adds = []Option{{Value: "add-egress", Label: "Add a way out"}}
		return p
	}
	p.fields = []Field{
		{Path: "egress.grid", label: "The way out is the grid", kind: choice, blank: "not said", choices: m.gridsOf()},
		{Path: "egress.level", label: "Level", kind: words, list: "levels", hint: "Blank: the building code's."},
	}
	p.fields = append(p.fields, standbyFields("egress.", !grouped(m.t))...)
	for _, system := range job.SystemNames {
		p.sections = append(p.sections, section{"What differs: " + system, standbyFields("egress."+system+".", !grouped(m.t))})
	}
	p.adds = []Option{{Value: "drop-egress", Label: "Take the way out out"}}
	return p
}

// standbyFields tell which luminaires stay lit, and how bright.
func standbyFields(prefix string, numbered bool) []Field {
	var all []Field
	if numbered {
		all = fedFields(prefix)
	}
	return append(all, Field{Path: prefix + "light_share", label: "Each keeps", unit: "of its light"}, Field{Path: prefix + "pack_lumens", label: "Or its battery pack gives", unit: "lm"})
}

// fedFields are the luminaires that stay lit, by their numbers.
func fedFields(prefix string) []Field {
	return []Field{
		{Path: prefix + "luminaires", label: "Stay lit, by number", kind: list, hint: "Counted along x, then row by row. As 1, 12, 40."},
		{Path: prefix + "packs", label: "With packs of their own", kind: rows, columns: []string{"", ""}, hint: "On each line a luminaire's number and its lumens."},
	}
}

// doubtPart is how far the figures of the job may be off.
func (m former) doubtPart() Part {
	p := Part{id: "doubt", heading: "How far the figures may be off", folded: true, note: "The light is then told with how far it may be off, by many samples. Each figure has a half-width, or a " +
		"standard deviation; what is blank is assumed, and listed."}
	if !m.t.Has("uncertainty") {
		p.adds = []Option{{Value: "add-uncertainty", Label: "Ask how far the light may be off"}}
		return p
	}
	p.fields = append([]Field{
		{Path: "uncertainty.confidence", label: "Confidence", unit: "of 1"},
		{Path: "uncertainty.samples", label: "Samples", kind: whole},
		{Path: "uncertainty.seed", label: "Seed", kind: whole, hint: "The same samples every time."},
	}, toleranceFields("uncertainty.", tolerances)...)
	for _, system := range job.SystemNames {
		p.sections = append(p.sections, section{"Of one system: " + system, toleranceFields("uncertainty."+system+".", tolerances[:ownTolerances])})
	}
	p.adds = []Option{{Value: "drop-uncertainty", Label: "Leave this out"}}
	return p
}

// ownTolerances is how many of the tolerances a system may have of its own; they come first.
const ownTolerances = 7

var tolerances = []struct{ key, label, unit string }{
	{"lamp_lumens", "Lamp lumens", "%"}, {"ballast_factor", "Ballast factor", "%"}, {"lamp_depreciation", "Lamp depreciation", "%"},
	{"temperature", "Estimate for the temperature", "%"}, {"voltage", "Line voltage, its light", "%"}, {"photometry", "Photometry", "%"},
	{"lamps_in_fixture", "Lamps in the fixture", "%"},
	{"luminaire_dirt", "Luminaire dirt", "%"}, {"room_surface_dirt", "Room surface dirt", "%"}, {"ambient_temperature", "Ambient temperature", "degrees"},
	{"mounting_height", "Mounting height", "length"}, {"reflectance.ceiling", "Ceiling reflectance", "0–1"}, {"reflectance.walls", "Wall reflectance", "0–1"},
	{"reflectance.floor", "Floor reflectance", "0–1"},
}

func toleranceFields(prefix string, of []struct{ key, label, unit string }) []Field {
	var all []Field
	for _, t := range of {
		all = append(all, Field{Path: prefix + t.key, label: t.label + ", half-width", unit: t.unit}, Field{Path: prefix + t.key + "_standard", label: t.label + ", standard deviation", unit: t.unit})
	}
	return all
}

// firmPart is who offers the work.
func (m former) firmPart() Part {
	p := Part{id: "firm", heading: "Your firm", folded: true, fields: []Field{
		{Path: "firm.name", label: "Name", kind: words},
		{Path: "firm.address", label: "Address", kind: texts, hint: "A line each."},
		{Path: "firm.phone", label: "Phone", kind: words},
		{Path: "firm.email", label: "Email", kind: words},
		{Path: "firm.license", label: "License", kind: words},
		{Path: "firm.logo", label: "Logo", kind: choice, blank: "none", choices: m.logos(), hint: "A JPEG, PNG or SVG file beside the job, or taken in below."},
	}}
	if m.t.Has("firm") {
		p.adds = []Option{{Value: "drop-firm", Label: "Take your firm out"}}
	}
	return p
}

// offerPart is what the proposal says besides the figures.
func (m former) offerPart() Part {
	return Part{id: "offer", heading: "The offer", folded: true, fields: []Field{
		{Path: "notes", label: "Notes", kind: paragraph, hint: "Paragraphs of the proposal; Markdown will do."},
		{Path: "offer.work", label: "The work, in its order", kind: steps, hint: "A step on each line, and when: Lift and fixtures | Monday."},
		{Path: "offer.warranty", label: "Warranty", kind: texts, hint: "A sentence on each line."},
		{Path: "offer.valid_until", label: "Valid until", kind: words, hint: "As 2026-12-31."},
		{Path: "offer.acceptance", label: "Lines to sign on", kind: truth, blank: "none (usual)", choices: []Option{{Value: "true", Label: "yes"}, {Value: "false", Label: "none"}}},
	}}
}

// photosPart are the photographs, which are pictures at hand.
func (m former) photosPart() Part {
	p := Part{id: "photos", heading: "Photographs", folded: true, note: "JPEG or PNG files beside the job, or taken in below as its files are.", list: "photos", element: "Photograph",
		elements: m.elements("photos", m.photoFields)}
	if m.freePicture() != "" {
		p.adds = []Option{{Value: "add-photo", Label: "Add a photograph"}}
	}
	return p
}

func (m former) photoFields(prefix string) []Field {
	return []Field{{Path: prefix + "file", label: "File", kind: choice, choices: m.pictures()}, {Path: prefix + "caption", label: "Below it", kind: words}}
}

// pictures are those at hand.
func (m former) pictures() []Option {
	return named(slices.DeleteFunc(slices.Concat(m.uploaded, m.beside), func(name string) bool { return !isPicture(name) }))
}

// logos are those that may be a logo.
func (m former) logos() []Option {
	return named(slices.DeleteFunc(slices.Concat(m.uploaded, m.beside), func(name string) bool { return !isLogo(name) }))
}

// freePicture is a picture at hand that the job does not name, "" if there is none.
func (m former) freePicture() string {
	for _, o := range m.pictures() {
		if !NamesPicture(m.t, o.Value) {
			return o.Value
		}
	}
	return ""
}

// NamesPicture tells that a job names a picture, as a photograph or as the firm's logo.
func NamesPicture(t *tomltext.Text, name string) bool {
	return Shown(t, "firm.logo") == name || taken(t, "photos", "file")[name]
}

func isPicture(name string) bool {
	return slices.Contains([]string{".jpg", ".jpeg", ".png"}, strings.ToLower(path.Ext(name)))
}

// isLogo tells that a file may be a logo: a picture, or a drawing.
func isLogo(name string) bool {
	return isPicture(name) || strings.EqualFold(path.Ext(name), ".svg")
}
