package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/job"
	"lampswap/photometry/room"
	"lampswap/photometry/survey"
)

// Kinds of plans of where to measure.
const (
	planAuto    = "auto"    // the survey's stations in an empty room with a regular layout, else a grid
	planSurvey  = "survey"  // the stations of the survey formulas
	planGrid    = "grid"    // the grid of EN 12464-1
	planIndex   = "index"   // as many points as the room index asks for
	planCeiling = "ceiling" // the survey's stations under a luminous or louvered ceiling
)

var planKinds = []string{planAuto, planSurvey, planGrid, planIndex, planCeiling}

// A measuringPlan is one plan with the criteria's name of what it measures.
type measuringPlan struct {
	Grid string // "work plane", or the name of one of the job's grids
	survey.Plan
	Points room.Grid // of a plan that is a grid; no points for the survey's stations
}

// A measuring is where to measure in a job, and what a reader must know.
type measuring struct {
	System string // whose layout it is: "existing" or "proposed"
	Kind   string
	Plans  []measuringPlan
	Notes  []string
}

// measuringOf plans the measurement of a system: the work plane by the kind of plan, and those of the job's own grids that are named.
func measuringOf(j *job.Job, system, kind string, names []string) (measuring, error) {
	from := &j.Proposed
	if system == "existing" {
		from = &j.Existing
	}
	m := measuring{System: system, Kind: kind}
	regular := from.Layout.Rows > 0
	if kind == planAuto {
		m.Kind = planSurvey
		if !regular || len(j.Racks) > 0 {
			m.Kind = planGrid
			m.Notes = append(m.Notes, "the survey's stations are for an empty room with a regular layout: here a grid is measured, aisle by aisle")
		}
	}
	if m.Kind == planSurvey && !regular {
		return m, usageError{fmt.Errorf("--plan survey needs a layout of rows and columns, and the %s one has positions: want --plan grid", system)}
	}
	if err := m.workPlane(j, from); err != nil {
		return m, err
	}
	return m, m.grids(j, names)
}

func latticeOf(j *job.Job, from *job.System) survey.Lattice {
	return survey.Lattice{Length: j.Room.Length, Width: j.Room.Width, WorkPlane: j.Room.WorkPlane, Rows: from.Layout.Rows, Columns: from.Layout.Columns,
		LampsAlongY: from.Layout.LampsAlongY, LuminousLength: from.Luminaire.Opening.Length}
}

func (m *measuring) workPlane(j *job.Job, from *job.System) error {
	index := survey.RoomIndex(j.Room.Length, j.Room.Width, from.Layout.MountingHeight-j.Room.WorkPlane)
	five, ten, source := survey.PointsByRoomIndex(index)
	standard := survey.RoomGrid(workPlaneName, j.Room, true)
	m.Notes = append(m.Notes, fmt.Sprintf("EN 12464-1 asks for %d x %d points on this work plane, a band of 0.5 m (1.6 ft) along the walls left out", standard.NX, standard.NY),
		fmt.Sprintf("the room index is %.2f: %d points for an average within 5 percent, %d within 10 (%s)", index, five, ten, source))
	p := measuringPlan{Grid: workPlaneName}
	switch m.Kind {
	case planSurvey, planCeiling:
		lattice := latticeOf(j, from)
		lattice.LuminousCeiling = m.Kind == planCeiling
		var err error
		if p.Plan, err = survey.NewPlan(lattice); err != nil {
			return usageError{err}
		}
		p.Plan = p.Clear(j.Room, j.Racks)
		if len(j.Racks) > 0 {
			m.Notes = append(m.Notes, "with racks the survey's formula does not give the average of the room: --plan grid does")
		}
	case planIndex:
		p.Points = room.HorizontalGrid(workPlaneName, room.Vec{}, room.Vec{X: j.Room.Length, Y: j.Room.Width}, j.Room.WorkPlane, survey.SpacingFor(five, j.Room.Length, j.Room.Width))
		p.Plan = survey.GridPlan(p.Points, "g", j.Racks)
	default:
		p.Points = standard
		p.Plan = survey.GridPlan(standard, "g", j.Racks)
	}
	m.Plans = append(m.Plans, p)
	if p.Points.NX > 0 && from.Layout.Rows > 0 {
		for _, step := range latticeOf(j, from).InStep(p.Points) {
			m.Notes = append(m.Notes, step.Words())
		}
	}
	return nil
}

const workPlaneName = "work plane"

// allGrids stands for the names of all the job's grids.
const allGrids = "all"

// grids plans those of the job's grids that are named, each with a letter of its own before its stations' names.
func (m *measuring) grids(j *job.Job, names []string) error {
	var known []string
	for _, g := range j.Grids {
		known = append(known, g.Name)
	}
	for _, name := range names {
		if name != allGrids && !slices.Contains(known, name) {
			return usageError{fmt.Errorf("--grid %q is none of the job's grids, want one of %s", name, strings.Join(append(known, allGrids), ", "))}
		}
	}
	if len(names) == 0 && len(known) > 0 {
		m.Notes = append(m.Notes, "the job's own grids can be measured too: --grid "+strconv.Quote(known[0])+", or --grid all")
	}
	for i, g := range j.Grids {
		if !slices.Contains(names, g.Name) && !slices.Contains(names, allGrids) {
			continue
		}
		points, err := coarser(g)
		if err != nil {
			return err
		}
		m.Plans = append(m.Plans, measuringPlan{Grid: g.Name, Points: points, Plan: survey.GridPlan(points, prefix(i), j.Racks)})
	}
	return nil
}

// coarser covers the extent of a grid with points as far apart as EN 12464-1 allows.
func coarser(g room.Grid) (room.Grid, error) {
	length, height := float64(g.NX)*g.StepX, float64(g.NY)*g.StepY
	far := g.Origin.Add(g.U.Scale(length))
	if g.Plane == room.Vertical {
		return survey.FaceGrid(g.Name, g.Origin, far, g.Origin.Z, g.Origin.Z+height, math.Atan2(g.Normal.Y, g.Normal.X))
	}
	return survey.AreaGrid(g.Name, g.Origin, far.Add(g.V.Scale(height)), g.Origin.Z), nil
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

// stations are those of all plans, in order.
func (m measuring) stations() []survey.Station {
	var all []survey.Station
	for _, p := range m.Plans {
		all = append(all, p.Stations...)
	}
	return all
}

// unitOf is the unit of the job's readings.
func unitOf(j *job.Job) survey.Unit {
	if j.Imperial {
		return survey.Footcandles
	}
	return survey.Lux
}
