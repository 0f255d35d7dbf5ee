package audit

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/room"
)

// From makes the sheet of a building, and says what of it a sheet does not hold.
func From(name string, b *building.Building) (content []byte, lost []string, err error) {
	f := from{b: b, u: units.Of(b.Whole)}
	for _, s := range b.Spaces {
		f.space(s)
	}
	head := formColumns()
	for _, column := range []string{"group", "copies"} {
		if f.needs[column] {
			head = append(head, column)
		}
	}
	content, err = write(name, head, f.rows, !b.Imperial, nil)
	return content, f.lost, err
}

// A from gathers the rows of a sheet.
type from struct {
	b     *building.Building
	u     units.Units
	rows  []map[string]string
	needs map[string]bool // columns that the form does not have
	lost  []string
}

func (f *from) need(column string) {
	if f.needs == nil {
		f.needs = map[string]bool{}
	}
	f.needs[column] = true
}

// number is a number without the noise of its units.
func exact(x float64) string { return strconv.FormatFloat(number.Round(x, 1e-9), 'g', -1, 64) }

func (f *from) length(meters float64) string { return exact(meters / f.u.Meter) }

// loses notes what of a space a sheet does not hold.
func (f *from) loses(s building.Space, format string, args ...any) {
	f.lost = append(f.lost, s.Name+": "+fmt.Sprintf(format, args...))
}

// space writes the rows of a space: what is of the room in the first.
func (f *from) space(s building.Space) {
	first := len(f.rows)
	for i, group := range s.Job.Groups {
		f.group(s, i, group)
	}
	room := f.rows[first]
	r := s.Job.Room
	room["length"], room["width"], room["height"] = f.length(r.Length), f.length(r.Width), f.length(r.Height)
	percent := func(x float64) string { return exact(100 * x) }
	room["reflectances"] = percent(r.Reflectance.Ceiling) + "/" + percent(r.Reflectance.Walls) + "/" + percent(r.Reflectance.Floor)
	if s.Job.Space != nil {
		room["type"] = s.Job.Space.ID
	}
	if s.Copies > 1 {
		room["copies"] = strconv.Itoa(s.Copies)
		f.need("copies")
	}
	f.levels(s, first)
	if len(r.Outline) > 0 {
		f.loses(s, "its outline: the sheet has a rectangle of its length and width")
	}
	if n := len(s.Job.Racks); n > 0 {
		f.loses(s, "its %d racks", n)
	}
	if len(s.Job.Grids) > 0 {
		f.loses(s, "its grids but for the work plane")
	}
	if s.Job.Replacement != nil {
		f.loses(s, "its replacement")
	}
}

// group writes the row of a group.
func (f *from) group(s building.Space, i int, group string) {
	row := map[string]string{"space": s.Name}
	f.rows = append(f.rows, row)
	before, after := s.Job.Existing.Find(group), s.Job.Proposed.Find(group)
	row["existing"], row["proposed"] = f.kind(s, before), f.kind(s, after)
	if len(s.Job.Groups) > 1 && group != fmt.Sprintf("group %d", i+1) {
		row["group"] = group
		f.need("group")
	}
	there := before
	if there == nil {
		there = after
	}
	if there == nil { // it hangs in the replacement alone
		row["count"] = "0"
		return
	}
	row["count"], row["mounting_height"] = strconv.Itoa(len(there.Layout.Placements)), f.length(there.Layout.MountingHeight)
	if low, high := there.Layout.Heights(); high > low {
		f.loses(s, "the different heights of %s; their mean stands there", group)
	}
	if !spreadEvenly(s.Job.Room, there.Layout) {
		f.loses(s, "the places of %s: the sheet has their number, spread evenly over the room", group)
	}
	if before != nil {
		if n := len(before.Use.Failed); n > 0 {
			row["failed"] = strconv.Itoa(n)
		}
	}
	row["hours"] = exact(there.Hours(s.Job))
	row["note"] = there.Use.Note
	if after != nil {
		if c := after.Use.Control; c != "" && c != none {
			row["control"] = c
		}
		if saving := after.Use.ControlSaving; saving > 0 {
			row["control_saving"] = exact(saving)
		}
		if after.Use.DimmedTo > 0 {
			f.loses(s, "to how much %s is dimmed", group)
		}
	}
}

// spreadEvenly tells that luminaires hang where a number alone would put them.
func spreadEvenly(r room.Room, l job.Layout) bool {
	box := room.Box{High: room.Vec{X: r.Length, Y: r.Width}}
	even := room.RowsIn(box, room.EvenRows(box, len(l.Placements)), l.MountingHeight, 0)
	return slices.EqualFunc(even, l.Placements, func(a, b room.Placement) bool { return a.Position.X == b.Position.X && a.Position.Y == b.Position.Y })
}

// kind is the cell of a kind of luminaire: its name, or what the lists have of it.
func (f *from) kind(s building.Space, k *job.System) string {
	switch {
	case k == nil:
		return none
	case k.Kind != "":
		return k.Kind
	case k.Lamp == nil || k.Lamp.Typed || k.Section == nil:
		f.loses(s, "%s, which the lists do not have: name it as one of [kinds]", k.KindName())
		return k.KindName()
	}
	cell := fmt.Sprintf("%d %s %s", k.Lamps, k.Lamp.Name, k.Section.Name)
	if k.Ballast != nil && k.Ballast.Count > 0 {
		cell += " " + k.Ballast.Kind
	}
	return cell
}

// levels writes what is required: a level, or the owner's average on the work plane, one a row.
func (f *from) levels(s building.Space, first int) {
	said := map[string]bool{}
	row := first
	for _, c := range s.Job.Criteria {
		cell := c.Level
		if cell == "" && c.Statistic == levels.Average && c.AtLeast && c.Grid == s.Job.Room.WorkPlaneGrid(s.Job.Spacing).Name {
			cell = exact(c.RequiredIn(s.Job.Imperial))
		}
		switch {
		case cell == "" || math.IsNaN(c.Required):
			f.loses(s, "the criterion %q", c.Name)
		case said[cell]:
		case row >= len(f.rows):
			f.loses(s, "the criterion %q: the sheet has one a row", c.Name)
		default:
			f.rows[row]["level"] = cell
			said[cell] = true
			row++
		}
	}
}
