package spaces

import (
	_ "embed"
	"slices"
	"strings"
	"sync"

	"lampswap/photometry"
	"lampswap/photometry/diag"
	"lampswap/photometry/internal/table"
)

//go:embed spaces.csv
var spacesCSV string

// A Space is a kind of space.
type Space struct {
	ID         string   // "retail-sales"
	Name       string   // "Sales area"
	Building   string   // in which the model has it; "any"
	Target     float64  // at which the model aims, lm/ft2
	Levels     []string // ids or groups of package levels that are about it
	CodeSpaces []string // names of buildings and spaces of package codes that are about it
	Notes      string

	sensorSaving float64
	sensor       bool
	sensorRow    string
	source       string
}

var spaces = sync.OnceValue(func() []Space {
	rows := table.Load("spaces", spacesCSV, "id", "space", "building", "target_lm_per_ft2", "levels", "code_spaces", "sensor_saving", "sensor_row", "confidence",
		"source", "notes")
	all := make([]Space, len(rows))
	for i, r := range rows {
		r.Confidence("confidence")
		all[i] = Space{ID: r.Required("id"), Name: r.Required("space"), Building: r.Required("building"), Target: r.Number("target_lm_per_ft2"),
			Levels: listed(r.Text("levels")), CodeSpaces: listed(r.Text("code_spaces")), Notes: r.Text("notes"),
			sensorRow: r.Text("sensor_row"), source: r.Required("source")}
		all[i].sensorSaving, all[i].sensor = r.Optional("sensor_saving")
	}
	return all
})

func listed(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(text, ";")
}

// Spaces returns all kinds of space, by their ids.
func Spaces() []Space { return slices.Clone(spaces()) }

// IDs returns the ids of all kinds of space, in order.
func IDs() []string {
	var all []string
	for _, s := range spaces() {
		all = append(all, s.ID)
	}
	return all
}

// Find returns the kind of space of an id.
func Find(id string) (space Space, ok bool) {
	at, ok := slices.BinarySearchFunc(spaces(), id, func(s Space, id string) int { return strings.Compare(s.ID, id) })
	if !ok {
		return Space{}, false
	}
	return spaces()[at], true
}

// Search returns the kinds of space in which every word turns up, in the id, the name, the building or the notes and in any letter case.
func Search(words ...string) []Space {
	var all []Space
	for _, s := range spaces() {
		text := strings.ToLower(strings.Join([]string{s.ID, s.Name, s.Building, s.Notes}, "\n"))
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, strings.ToLower(w)) }) {
			all = append(all, s)
		}
	}
	return all
}

// mostNear is how many ids are named beside one that is not known.
const mostNear = 5

// Near returns the ids that may have been meant by one that is not known, a few at most: the one that is spelled nearly so, then those
// that have one of its words: their id begins with it, or has it, or their name has.
func Near(id string) []string {
	var all []string
	add := func(id string) {
		if id != "" && !slices.Contains(all, id) && len(all) < mostNear {
			all = append(all, id)
		}
	}
	words := strings.FieldsFunc(strings.ToLower(id), func(r rune) bool { return r == '-' || r == ' ' || r == '_' || r == '/' })
	if len(words) > 1 {
		add(diag.Nearest(strings.Join(words, "-"), IDs()))
	}
	for _, has := range []func(s Space, word string) bool{
		func(s Space, word string) bool { return strings.HasPrefix(s.ID, word) },
		func(s Space, word string) bool { return strings.Contains(s.ID, word) },
		func(s Space, word string) bool { return strings.Contains(strings.ToLower(s.Name), word) },
	} {
		for _, word := range words {
			for _, s := range spaces() {
				if stem := strings.TrimSuffix(word, "s"); len(word) > 2 && has(s, stem) {
					add(s.ID)
				}
			}
		}
	}
	add(diag.Nearest(strings.ToLower(id), IDs()))
	return all
}

// Label names the space for a reader: "Sales area, retail".
func (s Space) Label() string {
	if s.Building == "any" || strings.Contains(strings.ToLower(s.Name), strings.ToLower(s.Building)) {
		return s.Name
	}
	return s.Name + ", " + strings.ToLower(s.Building)
}

// TargetLux is the model's target, lx.
func (s Space) TargetLux() float64 { return s.Target * photometry.Footcandle }

// Source is where the target was read.
func (s Space) Source() string { return s.source }

// SensorSaving is the share of the lighting's power by which the model counts an occupancy sensor there, and where that was read; ok is false where it
// has no row for such a space.
func (s Space) SensorSaving() (share float64, source string, ok bool) {
	return s.sensorSaving, "NREL ComStock, occupancy_sensor_reduction_by_space_type.csv, row " + s.sensorRow + ", commit 75128d3d", s.sensor
}
