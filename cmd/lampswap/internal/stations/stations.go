// Package stations answers where to measure in a job: its plans, their form to fill in and their marked plans.
package stations

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/metrology"
	"lampswap/photometry/room"
	"lampswap/photometry/survey"
)

// Kinds of plans of where to measure.
const (
	Auto        = "auto"    // the survey's stations in an empty room with a regular layout, aisles among racks, else a grid
	planSurvey  = "survey"  // the stations of the survey formulas
	planGrid    = "grid"    // the grid of EN 12464-1
	planIndex   = "index"   // as many points as the room index asks for
	planAisles  = "aisles"  // along the center lines of the aisles, and three heights of the faces
	planCeiling = "ceiling" // the survey's stations under a luminous or louvered ceiling
)

// Kinds are the kinds of plans that can be asked for.
var Kinds = []string{Auto, planSurvey, planAisles, planGrid, planIndex, planCeiling}

// A Plan is one plan with the criteria's name of what it measures.
type Plan struct {
	Grid string // "work plane", or the name of one of the job's grids
	survey.Plan
	Points room.Grid // of a plan that is a grid; no points for the survey's stations
}

// Wanted is what is asked of a measurement.
type Wanted struct {
	Kind     string   // of plan, one of Kinds
	Grids    []string // of the job's own, besides the work plane
	Stations int      // of the work plane, how many there may be; 0 leaves it to the plan
	Spacing  float64  // at most, m; 0 leaves it to the plan
	Copies   int      // like rooms; 0 is one
	Within   float64  // what the scatter of readings may leave the average uncertain by, relative and expanded; 0 where Stations or the plan says how many
}

// A Measurement is where to measure in a job, and what a reader must know.
type Measurement struct {
	System string // whose layout it is: "existing" or "proposed"
	Kind   string
	Plans  []Plan
	Notes  []string
	// Acceptance is of many like rooms how many to measure; nil of one
	Acceptance *metrology.Acceptance
	wanted     Wanted
}

// Of plans the measurement of a system: the work plane by the kind of plan, and those of the job's own grids that are named.
func Of(j *job.Job, system string, w Wanted) (Measurement, error) {
	kind := w.Kind
	from := &j.Proposed
	if system == "existing" {
		from = &j.Existing
	}
	m := Measurement{System: system, Kind: kind}
	m.count(w)
	aisles := survey.Aisles(j.Room, j.Boxes(), j.Room.WorkPlane, 2*lampsAbove(j, from))
	if err := m.choose(j, from, len(aisles)); err != nil {
		return m, err
	}
	if err := m.workPlane(j, from, aisles); err != nil {
		return m, err
	}
	return m, m.grids(j, from, w.Grids)
}

// count settles how many stations are wanted, and of how many rooms.
func (m *Measurement) count(w Wanted) {
	if w.Within > 0 && w.Stations == 0 {
		w.Stations = metrology.Enough(usualScatter, w.Within, mostForWithin)
		m.Notes = append(m.Notes, fmt.Sprintf("about %d stations: the scatter of readings leaves their average uncertain by %.3g percent, expanded, if they scatter by %.0f percent about their "+
			"prediction (assumed, our choice); what they do is in what they prove, with the meter's part, which no number of stations makes smaller",
			w.Stations, 100*w.Within, 100*usualScatter))
	}
	m.wanted = w
	if w.Copies > 1 {
		a := metrology.AcceptanceOf(w.Copies)
		m.Acceptance = &a
		m.Notes = append(m.Notes, acceptanceWords(a))
	}
}

// choose settles the kind of plan.
func (m *Measurement) choose(j *job.Job, from *job.System, aisles int) error {
	regular := from.Layout.Rows > 0
	racks := slices.ContainsFunc(j.Racks, func(k room.Rack) bool { return !k.Hangs() || survey.InTheWay(k, j.Room.WorkPlane) })
	switch {
	case m.Kind == planAisles && (!racks || aisles == 0):
		return exit.Usagef("--plan aisles needs racks with straight ways between them, and there are none: want --plan survey or grid")
	case (m.Kind == planSurvey || m.Kind == planCeiling) && j.Room.Outline != nil:
		return exit.Usagef("--plan %s needs a rectangular room, and this one has an outline: want --plan grid", m.Kind)
	case m.Kind == planSurvey && !regular:
		return exit.Usagef("--plan survey needs a layout of rows and columns, and the %s one has positions: want --plan grid", m.System)
	case m.Kind != Auto:
	case racks && aisles > 0:
		m.Kind = planAisles
		m.Notes = append(m.Notes, "the survey's stations are for an empty room: here the aisles are walked along their center lines")
	case !regular || len(j.Racks) > 0 || j.Room.Outline != nil:
		m.Kind = planGrid
		m.Notes = append(m.Notes, "the survey's stations are for an empty rectangular room with a regular layout: here a grid is measured")
	default:
		m.Kind = planSurvey
	}
	return nil
}

// How much readings of an installation in order scatter about its prediction, as far as a number of stations hangs on it, and the most stations that
// come of it: our choice.
const (
	usualScatter  = 0.1
	mostForWithin = 2000
)

// acceptanceWords is how many of many like rooms to measure, and the risk of each side.
func acceptanceWords(a metrology.Acceptance) string {
	may := "all are accepted if none of them misses"
	if a.May > 0 {
		may = fmt.Sprintf("all are accepted if no more than %d of them miss", a.May)
	}
	return fmt.Sprintf("of %d like rooms draw %d at random and measure them: %s, and refused otherwise; the owner's risk, that all are accepted though %d miss, is %.1f percent, "+
		"the contractor's, that all are refused though no more than %d miss, %.1f percent (hypergeometric law; bounds of 10 and 5 percent are our choice, as in plans of limiting quality, "+
		"ISO 2859-2, from memory, unverified). A room misses where a criterion is missed or not proven",
		a.Population, a.Read, may, a.Bad, 100*a.Accepted, a.Good, 100*a.Refused)
}

// lampsAbove is how high luminaires hang above the work plane, m; a foot at least, below which nothing is walked.
func lampsAbove(j *job.Job, from *job.System) float64 {
	return max(from.Layout.MountingHeight-j.Room.WorkPlane, photometry.Foot)
}

func latticeOf(j *job.Job, from *job.System) survey.Lattice {
	return survey.Lattice{Length: j.Room.Length, Width: j.Room.Width, WorkPlane: j.Room.WorkPlane, Rows: from.Layout.Rows, Columns: from.Layout.Columns,
		LampsAlongY: from.Layout.LampsAlongY, LuminousLength: from.Luminaire.Opening.Length}
}

func (m *Measurement) workPlane(j *job.Job, from *job.System, aisles []survey.Aisle) error {
	long, wide := j.Room.Rectangle()
	index := survey.RoomIndex(long, wide, from.Layout.MountingHeight-j.Room.WorkPlane)
	five, ten, source := survey.PointsByRoomIndex(index)
	standard := survey.RoomGrid(workPlaneName, j.Room, true)
	band := "0.5 m"
	if j.Imperial {
		band += " (1.6 ft)"
	}
	if j.Room.Outline != nil {
		band += " along the walls and what is outside the outline"
	} else {
		band += " along the walls"
	}
	m.Notes = append(m.Notes, fmt.Sprintf("EN 12464-1 asks for %d x %d points on this work plane, a band of %s left out", standard.NX, standard.NY, band),
		fmt.Sprintf("the room index is %.2f: %d points for an average within 5 percent, %d within 10 (%s)", index, five, ten, source))
	p, boxes := Plan{Grid: workPlaneName}, j.Boxes()
	// as many points of all of length by width leave a number of them in the room
	whole := func(points int) int {
		return int(math.Ceil(float64(points)*(j.Room.Length*j.Room.Width/j.Room.Area()) - 1e-9))
	}
	switch m.Kind {
	case planSurvey, planCeiling:
		lattice := latticeOf(j, from)
		lattice.LuminousCeiling = m.Kind == planCeiling
		var err error
		if p.Plan, err = survey.NewPlan(lattice); err != nil {
			return exit.Usage(err)
		}
		if more := m.wanted.Stations - len(p.Stations); m.Kind == planSurvey && len(j.Racks) == 0 && (m.wanted.Stations == 0 || more > 0) {
			p.Plan = p.WithBays(lattice, max(more, 0))
		}
		p.Plan = p.Clear(j.Room, j.Racks).Walked()
		if len(j.Racks) > 0 {
			m.Notes = append(m.Notes, "with racks the survey's formula does not give the average of the room: --plan grid does")
		}
	case planAisles:
		w := survey.Walk{Stations: m.wanted.Stations, Spacing: m.wanted.Spacing, Height: lampsAbove(j, from)}
		if from.Layout.Rows > 0 {
			lattice := latticeOf(j, from)
			w.Lattice = &lattice
		}
		p.Plan = survey.AislePlan(j.Room, aisles, j.Boxes(), w)
	case planIndex:
		p.Points = room.HorizontalGrid(workPlaneName, room.Vec{}, room.Vec{X: j.Room.Length, Y: j.Room.Width}, j.Room.WorkPlane, survey.SpacingFor(whole(five), j.Room.Length, j.Room.Width))
		p.Plan = survey.GridPlan(p.Points, "g", j.Boxes())
	default:
		switch w := m.wanted; {
		case w.Spacing > 0:
			standard = room.HorizontalGrid(workPlaneName, room.Vec{}, room.Vec{X: j.Room.Length, Y: j.Room.Width}, j.Room.WorkPlane, w.Spacing)
		case w.Stations > 0:
			standard = room.HorizontalGrid(workPlaneName, room.Vec{}, room.Vec{X: j.Room.Length, Y: j.Room.Width}, j.Room.WorkPlane,
				survey.SpacingFor(whole(w.Stations), j.Room.Length, j.Room.Width))
		default:
			boxes = append(boxes, survey.Band(j.Room)...)
		}
		p.Points = standard
		p.Plan = survey.GridPlan(standard, "g", boxes)
	}
	m.Plans = append(m.Plans, p)
	m.unheeded(p)
	if p.Points.NX > 0 && from.Layout.Rows > 0 {
		for _, step := range latticeOf(j, from).InStep(p.Points) {
			m.Notes = append(m.Notes, step.Words())
		}
	}
	return nil
}

// unheeded tells what of the wanted number and spacing the work plane's plan does not keep to.
func (m *Measurement) unheeded(p Plan) {
	w := m.wanted
	if fixed := m.Kind == planSurvey || m.Kind == planCeiling || m.Kind == planIndex; fixed && w.Spacing > 0 {
		m.Notes = append(m.Notes, "the spacing that was asked for does not hold on the work plane, whose stations have places of their own by this plan: --plan grid keeps to it")
	}
	if n := len(p.Stations); w.Stations > 0 && n > w.Stations {
		m.Notes = append(m.Notes, fmt.Sprintf("the work plane has %d stations, more than the %d that were asked for: fewer do not keep to the plan or the spacing", n, w.Stations))
	}
}

const workPlaneName = "work plane"

// AllGrids stands for the names of all the job's grids.
const AllGrids = "all"

// grids plans those of the job's grids that are named, each with a letter of its own before its stations' names.
func (m *Measurement) grids(j *job.Job, from *job.System, names []string) error {
	var known []string
	for _, g := range j.Grids {
		known = append(known, g.Name)
	}
	for _, name := range names {
		if name != AllGrids && !slices.Contains(known, name) {
			return exit.Usagef("--grid %q is none of the job's grids, want one of %s", name, strings.Join(append(known, AllGrids), ", "))
		}
	}
	if len(names) == 0 && len(known) > 0 {
		m.Notes = append(m.Notes, "the job's own grids can be measured too: --grid "+strconv.Quote(known[0])+", or --grid all")
	}
	for i, g := range j.Grids {
		if g.Quantity() == room.Cylindrical { // no meter reads it at once
			m.Notes = append(m.Notes, g.Name+": cylindrical illuminance is the mean over all ways that a meter may face, and has no stations")
			continue
		}
		if !slices.Contains(names, g.Name) && !slices.Contains(names, AllGrids) {
			continue
		}
		points, sampled, err := m.pointsOf(g, lampsAbove(j, from))
		if err != nil {
			return err
		}
		p := Plan{Grid: g.Name, Points: points, Plan: survey.GridPlan(points, prefix(i), j.Boxes())}
		p.Sampled = p.Sampled || sampled
		m.Plans = append(m.Plans, p)
	}
	return nil
}

// pointsOf are the points of one of the job's grids to read: all that EN 12464-1 asks for where --plan grid is asked for or they are few,
// else a sample, of a face three heights by a few columns.
func (m *Measurement) pointsOf(g room.Grid, above float64) (points room.Grid, sampled bool, err error) {
	const few = 30
	points, err = coarser(g)
	spacing := cmp.Or(m.wanted.Spacing, above)
	switch {
	case err != nil || m.wanted.Kind == planGrid:
		return points, false, err
	case g.Plane == room.Vertical:
		return survey.FacePoints(g, spacing), true, nil
	case points.NX*points.NY > few:
		length, width := float64(g.NX)*g.StepX, float64(g.NY)*g.StepY
		points.NX, points.NY = max(room.Cells(length, spacing), 3), room.Cells(width, 2*spacing)
		points.StepX, points.StepY = length/float64(points.NX), width/float64(points.NY)
		return points, true, nil
	}
	return points, false, nil
}

// coarser covers the extent of a grid with points as far apart as EN 12464-1 allows.
func coarser(g room.Grid) (room.Grid, error) {
	length, height := float64(g.NX)*g.StepX, float64(g.NY)*g.StepY
	far := g.Origin.Add(g.U.Scale(length))
	if g.Plane == room.Vertical {
		return survey.FaceGrid(g.Name, g.Origin, far, g.Origin.Z, g.Origin.Z+height, math.Atan2(g.Normal.Y, g.Normal.X))
	}
	points := survey.AreaGrid(g.Name, g.Origin, far.Add(g.V.Scale(height)), g.Origin.Z)
	points.Normal = g.Normal
	return points, nil
}

// prefix is the i-th letter for the names of a grid's stations: a, b, ... then a2, b2, and no g, which is the work plane's.
func prefix(i int) string {
	const letters = "abcdefhijklmnopqrstuvwxyz"
	name := letters[i%len(letters) : i%len(letters)+1]
	if i >= len(letters) {
		name += fmt.Sprint(i/len(letters) + 1)
	}
	return name
}

// Stations are those of all plans, in order.
func (m Measurement) Stations() []survey.Station {
	var all []survey.Station
	for _, p := range m.Plans {
		all = append(all, p.Stations...)
	}
	return all
}

// Unit is the unit of the job's readings.
func Unit(j *job.Job) survey.Unit {
	if j.Imperial {
		return survey.Footcandles
	}
	return survey.Lux
}

// Files are the form and the marked plan.
func Files(j *job.Job, m Measurement) ([]files.File, error) {
	var form bytes.Buffer
	plans := make([]survey.Plan, len(m.Plans))
	for i, p := range m.Plans {
		plans[i] = p.Plan
	}
	from := origin.Of(j.InputsDigest)
	comments := append(append(Heading(j, m.System), survey.Instructions(Unit(j))...), from.Full())
	if err := survey.Form(Unit(j), plans...).Write(&form, comments...); err != nil {
		return nil, err
	}
	drawings, err := PlanFiles(j, m, nil, from)
	return append([]files.File{{Name: FormName, Content: form.Bytes()}}, drawings...), err
}

// Heading is what a file of stations begins with: whose light is to be measured.
func Heading(j *job.Job, system string) []string {
	return []string{j.Title, fmt.Sprintf("with the %s luminaires burning", system)}
}

// Daylights are what can be said of daylight in the readings.
var Daylights = map[string]survey.Daylight{"": survey.DaylightUnknown, "dark": survey.Dark, "subtracted": survey.DaylightSubtracted, "present": survey.DaylightPresent}
