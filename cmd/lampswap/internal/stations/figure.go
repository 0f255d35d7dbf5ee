package stations

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
	"lampswap/plots"
)

// planWidthIn is the width of a marked plan, inches: a letter page with its margins.
const planWidthIn = 7.5

// PlanFiles are the marked plans, one an area, as pictures and for print; with the deviations that were found if there are any.
func PlanFiles(j *job.Job, m Measurement, found *verification.Verification, from origin.Origin) ([]files.File, error) {
	var all []files.File
	for i, p := range m.Plans {
		figure, ok := Marked(j, m, p, found)
		if !ok {
			continue
		}
		name := "plan"
		if found != nil {
			name = "deviations"
		}
		if i > 0 {
			name = figures.FileName(i, name+" "+p.Grid)
		}
		for _, format := range []string{"png", "pdf"} {
			var b bytes.Buffer
			if err := figures.Write(&b, figure, format, planWidthIn*vg.Inch, from); err != nil {
				return nil, err
			}
			all = append(all, files.File{Name: name + "." + format, Content: b.Bytes()})
		}
	}
	return all, nil
}

// Drawn are the texts of the job that stand in the marked plans.
func (m Measurement) Drawn(j *job.Job) []string {
	texts := []string{j.Title}
	for _, p := range m.Plans {
		texts = append(texts, p.Grid)
	}
	return texts
}

// Axes tells from where the marked plan counts, and of a face to which side, as seen by who stands before it.
func (p Plan) Axes(u units.Units) string {
	g := p.Points
	if g.Plane != room.Vertical {
		return "x runs along the length of the room, y along its width, from the corner at the lower left."
	}
	sides := "left to right"
	if toTheRight := (room.Vec{X: -g.Normal.Y, Y: g.Normal.X}); g.U.Dot(toTheRight) < 0 {
		sides = "right to left"
	}
	return fmt.Sprintf("Along counts from x %s, y %s: %s as one stands before the face.", u.Tape(g.Origin.X), u.Tape(g.Origin.Y), sides)
}

// Marked marks the stations of an area; ok is false where deviations are asked for and nothing was read there.
func Marked(j *job.Job, m Measurement, p Plan, found *verification.Verification) (figure plots.Stations, ok bool) {
	from := j.Proposed
	if m.System == "existing" {
		from = j.Existing
	}
	figure = plots.Stations{Title: j.Title, Subtitle: "Where to measure: " + p.Grid, Imperial: j.Imperial, Extent: plots.Rect{X1: j.Room.Length, Y1: j.Room.Width}}
	at := func(position room.Vec) (x, y float64) { return position.X, position.Y }
	if g := p.Points; g.NX > 0 && g.Plane == room.Vertical {
		figure.Plane = room.Vertical
		low := g.Origin.Z
		figure.Extent = plots.Rect{Y0: low, X1: float64(g.NX) * g.StepX, Y1: low + float64(g.NY)*g.StepY}
		at = func(position room.Vec) (x, y float64) { return position.Sub(g.Origin).Dot(g.U), position.Z }
	} else {
		figure.NorthDeg = figures.NorthDeg(j)
		figure.Luminaires = figures.MarksOf(from, figure.Extent, func(*job.System, int) bool { return true })
		figure.Racks, figure.Hanging = figures.RacksOf(j, figure.Extent)
		figure.Outline = j.Room.Outline
	}
	if found == nil {
		for _, s := range p.Stations {
			x, y := at(s.Position)
			figure.Stations = append(figure.Stations, plots.Station{X: x, Y: y, Name: s.Name, Kind: kinds[s.Role], Deviation: math.NaN()})
		}
		return figure, true
	}
	figure.Subtitle = fmt.Sprintf("Measured less predicted for the day, %s lighting: %s", found.System, p.Grid)
	figure.Deviations = true
	for _, d := range found.Comparison.Stations {
		if slices.ContainsFunc(p.Stations, func(s survey.Station) bool { return s.Name == d.Station }) {
			x, y := at(found.Positions[d.Station].Position)
			figure.Stations = append(figure.Stations, plots.Station{X: x, Y: y, Name: d.Station, Deviation: d.Ratio - 1, Outlier: d.Outlier})
		}
	}
	return figure, len(figure.Stations) > 0
}

// kinds are the parts that stations have in the survey, as the key of a plan names them.
var kinds = map[survey.Role]string{survey.R: "R, inner bays", survey.Q: "Q, along the long sides", survey.T: "T, at the ends", survey.P: "P, corners", survey.GridPoint: "grid point"}
