package ledger

import (
	"fmt"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// groupColumns are those of a table of groups.
var groupColumns = []string{"kind", "number", "W each", "h a year", "kW", "kWh a year"}

// Groups is a table of the groups of luminaires in each system, what they draw and burn. It has no section where a job has one group of which
// there is nothing particular to say.
func Groups(r *study.Result) Ledger {
	l := Ledger{Name: "Groups of luminaires", Named: true, Columns: groupColumns}
	plain := len(r.Job.Groups) == 1 && r.Job.OneKind() && !OwnHours(r.Job)
	for _, kind := range r.Job.Kinds() {
		plain = plain && (kind.Use.Control == "" || kind.Use.Control == "none")
	}
	if plain {
		return l
	}
	return groupsOf(r.Job, r.Sides)
}

// groupsOf is the table of all groups of a job.
func groupsOf(j *job.Job, sides []lighting.Side) Ledger {
	l := Ledger{Name: "Groups of luminaires", Named: true, Columns: groupColumns}
	for _, side := range sides {
		s := Section{Name: side.Name}
		for _, name := range j.Groups {
			s.Rows = append(s.Rows, groupRow(j, name, side.From.Find(name)))
		}
		l.Sections = append(l.Sections, s)
	}
	return l
}

// OwnHours tells that a group burns for hours of its own.
func OwnHours(j *job.Job) bool {
	for _, kind := range j.Kinds() {
		if kind.Use.HoursPerYear != nil {
			return true
		}
	}
	return false
}

func groupRow(j *job.Job, name string, from *job.System) Row {
	if from == nil {
		return Row{name, []Cell{Word("none")}}
	}
	hung := count(len(from.Layout.Placements))
	if n := len(from.Use.Failed); n > 0 {
		hung.Text += fmt.Sprintf(", %d failed", n)
	}
	watts := from.InputWatts
	each := number.Decimals(0)(watts)
	if from.Use.DimmedTo > 0 {
		watts = from.Use.DimmedWatts
		each = fmt.Sprintf("%.0f, dimmed to %.3g", watts, from.Use.DimmedTo)
	}
	hours := from.HoursBurnt(j)
	burnt := number.Thousands(hours)
	if from.Use.ControlSaving > 0 {
		burnt += fmt.Sprintf(", %s saves %.0f %%", from.Use.Control, 100*from.Use.ControlSaving)
	} else if from.Use.Control != "" && from.Use.Control != "none" {
		burnt += ", " + from.Use.Control
	}
	kw := from.Watts() / 1000
	return Row{name, []Cell{Word(KindName(from)), hung, {each, watts}, {burnt, hours}, {number.Decimals(2)(kw), kw}, {number.Thousands(kw * hours), kw * hours}}}
}

// KindName is what luminaires of one kind are called: their name in the job, or their lamps and fixture.
func KindName(from *job.System) string { return from.KindName() }
