// Package audit is the sheet of a walk-through: a row a group of luminaires, carried on paper or on a tablet, which becomes the file of a building
// and can be made of one.
package audit

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"lampswap/photometry/fixture"
	"lampswap/photometry/spaces"
)

// A column of the sheet.
type column struct {
	name  string
	about string
	form  bool // the empty form has it
	words func() []string
}

// columns are those that a sheet may have, in the order of the form.
var columns = []column{
	{"space", "name of the room, in each of its rows; several rows of one name are groups of one room", true, nil},
	{"type", "kind of space, an id of `lampswap levels --spaces`; blank: no code and no level is looked for", true, spaces.IDs},
	{"length", "of the room, ft (m in a metric sheet); in the first row of the room, blank in the others", true, nil},
	{"width", "as the length", true, nil},
	{"height", "of the ceiling above the floor, as the length", true, nil},
	{"reflectances", "ceiling/walls/floor in percent, as 50/30/20; blank: 50/30/20 is assumed", true, nil},
	{"existing", "what hangs there: a kind's name, or lamps in one luminaire, lamp, fixture and ballast, as 2 F96T12 strip-4in magnetic; none where nothing hangs", true, usualKinds},
	{"proposed", "what comes in its place, likewise; none is taken down; blank: it stays as it is", true, usualKinds},
	{"count", "luminaires of the row", true, nil},
	{"failed", "of these, how many give no light; blank: 0", true, nil},
	{"mounting_height", "of the lamps above the floor, ft (m); blank: at the ceiling", true, nil},
	{"hours", "a year in which they burn; blank: 4,000 or what [upkeep] of the building says", true, nil},
	{"control", "after the swap: none, occupancy, daylight, dimming, schedule; blank: none", true, func() []string { return []string{"none", "occupancy", "daylight", "dimming", "schedule"} }},
	{"control_saving", "share of the hours that the control saves, 0 to 0.99, or in percent as 45%; blank: 0", true, nil},
	{"level", "what is required: a level of `lampswap levels`, or the average on the work plane in fc (lx); blank: not judged", true, nil},
	{"note", "what whoever reads it should know", true, nil},
	{"group", "name of the group, where the room has several; blank: they are numbered", false, nil},
	{"copies", "rooms alike; blank: 1", false, nil},
}

// usualKinds are cells that name common luminaires by the lists.
func usualKinds() []string {
	var all []string
	for _, f := range fixture.Builtin() {
		for _, cell := range []string{"2 F96T12 %s magnetic", "2 F96T12/ES %s magnetic", "2 F96T12/HO %s magnetic", "1 F96T12 %s magnetic", "4 F32T8/800 %s is-normal",
			"4 F32T8/800 %s is-low", "4 LED-T8-4FT-18.5W-B %s"} {
			all = append(all, fmt.Sprintf(cell, f))
		}
	}
	return append(all, none)
}

// none is the cell of a group without luminaires before or after.
const none = "none"

func columnNames() []string {
	var all []string
	for _, c := range columns {
		all = append(all, c.name)
	}
	return all
}

// formColumns are the names of those that the form has.
func formColumns() []string {
	var all []string
	for _, c := range columns {
		if c.form {
			all = append(all, c.name)
		}
	}
	return all
}

// Is tells whether a file is a sheet by its name: .csv or .xlsx.
func Is(name string) bool {
	return slices.Contains([]string{".csv", ".xlsx"}, strings.ToLower(path.Ext(name)))
}
