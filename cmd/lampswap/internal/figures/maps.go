package figures

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
	"lampswap/plots"
)

// leastChange is the share of the existing average that the scale of a change map reaches at least, so that a trifle does not look like a change.
const leastChange = 0.05

// MapNames are the maps of a grid, in the order of its sheet; the last is there where a job has one.
var MapNames = []string{"existing", "proposed", "change", "replacement"}

// LightSheet is the existing, the proposed and the change map of a grid on one sheet, and behind them that of a replacement, if the job compares one.
func LightSheet(r *study.Result, i int) plots.Sheet {
	e := r.Existing().Grids[i]
	sheet := plots.Sheet{Title: r.Job.Title, Subtitle: fmt.Sprintf("Maintained illuminance, %s", e.Label())}
	known := func(title string, sides ...lighting.Side) string {
		if slices.ContainsFunc(sides, func(s lighting.Side) bool { return s.Outside != nil }) {
			return title + ": NOT KNOWN"
		}
		return title
	}
	var light [][]float64
	for k, side := range r.Sides {
		g := side.Grids[i]
		m := lightMap(r, g, g.Maintained, *side.From)
		m.Title = known(typeset.Capital(side.Name), side)
		m.Required, m.Of = requiredOf(r.Job, e.Name)
		m.Caption = verdictWords(r, e.Name, k, side.Outside != nil)
		light, sheet.Maps = append(light, g.Maintained), append(sheet.Maps, m)
	}
	scale := plots.Levels(r.Job.Imperial, light...)
	for k := range sheet.Maps {
		sheet.Maps[k].Levels = scale
	}
	least := leastChange * e.Statistics.Average
	change := lightMap(r, e, plots.Difference(light[0], light[1]), r.Job.Proposed)
	change.Title = known("Change, proposed less existing", r.Sides[:2]...)
	change.Change, change.Levels = true, plots.ChangeLevels(r.Job.Imperial, change.Values, []float64{-least, least})
	sheet.Maps = slices.Insert(sheet.Maps, 2, change)
	return sheet
}

// requiredOf is the most light, lx, that the criteria ask for on a grid, and of what: its average or its minimum; 0 if none does.
func requiredOf(j *job.Job, grid string) (most float64, of string) {
	for _, c := range j.Criteria {
		if c.Grid != grid || !c.AtLeast || c.Statistic != levels.Average && c.Statistic != levels.Minimum {
			continue
		}
		if lux := c.RequiredIn(false); lux > most {
			most, of = lux, "the "+c.Statistic.String()
		}
	}
	return most, of
}

// verdictWords says of each criterion about a grid whether the existing (0), the proposed (1) or a replacement's (2) light meets it.
func verdictWords(r *study.Result, grid string, side int, unknown bool) string {
	var all []string
	for _, v := range r.Verdicts {
		if v.Grid != grid || !v.Statistic.OfGrid() && v.Statistic != levels.Glare {
			continue
		}
		by := v.By[side]
		word := map[bool]string{true: "met", false: "MISSED"}[by.Met]
		if unknown || !by.Met && by.Why != "" {
			word = "NOT KNOWN"
		}
		limit := map[bool]string{true: "at least ", false: "at most "}[v.AtLeast] + wording.Quantity(r.Job, v.Criterion, v.RequiredIn(false), v.Finer(r.Job.Imperial))
		all = append(all, v.Statistic.Words()+" "+limit+": "+word)
	}
	if len(all) == 0 {
		return ""
	}
	return typeset.Capital(strings.Join(all, "; ")) + "."
}

// alone is one map of a sheet as a figure of its own.
func alone(r *study.Result, sheet plots.Sheet, i int) plots.Map {
	m := sheet.Maps[i]
	m.Subtitle = sheet.Subtitle + ": " + strings.ToLower(m.Title[:1]) + m.Title[1:]
	m.Title = r.Job.Title
	return m
}

// lightMap is a map of values on a grid, with what hangs and stands there; on emergency power with the luminaires that burn.
func lightMap(r *study.Result, g lighting.Grid, lux []float64, s job.System) plots.Map {
	m := plots.NewMap(g.Grid, lux)
	m.Imperial = r.Job.Imperial
	if g.Plane == room.Vertical {
		return m
	}
	m.NorthDeg = NorthDeg(r.Job)
	burns := func(kind *job.System, i int) bool {
		return !g.Emergency || slices.ContainsFunc(kind.Emergency, func(p job.Pack) bool { return p.Place == i })
	}
	m.Luminaires, m.Outline = MarksOf(s, m.Extent, burns), r.Job.Room.Outline
	m.Racks, m.Hanging = RacksOf(r.Job, m.Extent)
	return m
}

// NorthDeg is the azimuth of north in the plan, degrees; nil if the job does not say.
func NorthDeg(j *job.Job) *float64 {
	if j.Facts.North == nil {
		return nil
	}
	degrees := *j.Facts.North * 180 / math.Pi
	return &degrees
}

// MarksOf are the luminaires of a system that hang over the extent of a plan and that burn; those that failed are marked.
func MarksOf(s job.System, extent plots.Rect, burns func(kind *job.System, i int) bool) []plots.Mark {
	var marks []plots.Mark
	for _, kind := range s.Kinds() {
		for i, p := range kind.Layout.Placements {
			if o := kind.Luminaire.Opening; burns(kind, i) && within(p.Position.X, p.Position.Y, extent) {
				_, failed := slices.BinarySearch(kind.Use.Failed, i)
				marks = append(marks, plots.Mark{X: p.Position.X, Y: p.Position.Y, Length: o.Length, Width: o.Width, Rotation: p.Rotation, Failed: failed})
			}
		}
	}
	return marks
}

// RacksOf are the parts of the racks within the extent of a plan: of those that stand, and of those that hang.
func RacksOf(j *job.Job, extent plots.Rect) (stand, hang []plots.Rect) {
	for _, rack := range j.Racks {
		far := rack.Far()
		if !(rack.Corner.X < extent.X1 && rack.Corner.Y < extent.Y1 && far.X > extent.X0 && far.Y > extent.Y0) {
			continue
		}
		part := plots.Rect{X0: max(rack.Corner.X, extent.X0), Y0: max(rack.Corner.Y, extent.Y0), X1: min(far.X, extent.X1), Y1: min(far.Y, extent.Y1)}
		if rack.Hangs() {
			hang = append(hang, part)
		} else {
			stand = append(stand, part)
		}
	}
	return stand, hang
}

// within tells whether a place lies on the map.
func within(x, y float64, e plots.Rect) bool { return x >= e.X0 && x <= e.X1 && y >= e.Y0 && y <= e.Y1 }
