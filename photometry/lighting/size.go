package lighting

import (
	"fmt"

	"lampswap/photometry"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
)

// mostWork is how long the light of a job may take, s of a processor.
const mostWork = 20 * 60

// A TooLargeError says that the light of a job would take longer than anybody waits.
type TooLargeError struct {
	Seconds float64 // of a processor, about
	Fits    string  // what would do
}

// Error tells the times, and what would fit.
func (e *TooLargeError) Error() string {
	return fmt.Sprintf(
		"the light of this job would take a processor about %.0f minutes, and %d is the most: %s", e.Seconds/60,
		mostWork/60, e.Fits,
	)
}

// Seconds of a processor, measured on a slow virtual one. They are estimates, right to a factor of two or so.
const (
	perDirect = 8e-9 // a luminaire at a point in the open
	perShadow = 5e-6 // a luminaire on a row of points among racks
	perGather = 1e-4 // the surfaces of the room at a point,
	perBehind = 2e-6 // and a rack more, in view or not
	mostRacks = 150  // that count so: those behind others are in nobody's view
)

// fits errs with a *TooLargeError if the light of a job would take too long, with the coarsest of a few
// remedies that is enough.
func fits(j *job.Job, options interreflect.Options) error {
	work := seconds(j, options, j.Spacing)
	if work <= mostWork {
		return nil
	}
	e := &TooLargeError{
		Seconds: work,
		Fits: "work out a part of the floor by itself, or leave out the light that bounces (interreflection " +
			"= false)",
	}
	for _, coarser := range []float64{1.5, 2, 3, 4, 6, 10} {
		if spacing := coarser * j.Spacing; seconds(j, options, spacing) <= mostWork {
			unit, per := "m", 1.0
			if j.Imperial {
				unit, per = "ft", photometry.Foot
			}
			e.Fits = fmt.Sprintf(
				"points on the work plane every %.3g %s ([calculation] spacing) would fit, or a part of the floor by "+
					"itself",
				spacing/per, unit,
			)
			break
		}
	}
	return e
}

// seconds estimates how long the light of a job takes a processor with points of the work plane so far apart.
func seconds(j *job.Job, options interreflect.Options, spacing float64) float64 {
	grid := j.Room.WorkPlaneGrid(spacing)
	points, rows := float64(grid.NX)*float64(grid.NY), float64(grid.NY)
	for _, g := range j.Grids {
		points, rows = points+float64(g.NX)*float64(g.NY), rows+float64(g.NY)
	}
	racks, luminaires := float64(len(j.Boxes())), 0.0
	for _, s := range sourcesOf(j) {
		if s.Placements != nil && (racks > 0 || j.Existing.Layout.Rows == 0) { // else all share the light of one
			luminaires += float64(len(s.Placements))
		}
	}
	work := perDirect * luminaires * points
	if racks > 0 {
		work += perShadow * luminaires * rows
	}
	if !j.Interreflection {
		return work
	}
	work += interreflect.Seconds(j.Room, j.Racks, options)
	if racks > 0 {
		work += (perGather + perBehind*min(racks, mostRacks)) * points
	}
	return work
}
