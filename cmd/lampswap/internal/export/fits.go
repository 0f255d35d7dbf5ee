package export

import (
	"fmt"

	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// Bounds of a workbook.
const (
	mostColumns = 1 << 14 // of a sheet, by its format
	mostRows    = 1 << 20
	mostPoints  = 500_000 // on all grids: it takes 2 KB a point to write
)

// Fits errs if the grids of a job do not fit in a workbook, before their light is worked out.
func Fits(j *job.Job) error {
	grids := append([]room.Grid{j.Room.WorkPlaneGrid(j.Spacing)}, j.Grids...)
	tables, points := len(j.Systems())+1, 0 // of the systems and of the change
	for _, g := range grids {
		points += g.NX * g.NY
		switch {
		case g.NX+1 > mostColumns:
			return fmt.Errorf("%q has %d points in a row, and a sheet takes %d: choose a wider spacing, or --format csv --grid %q", g.Name, g.NX, mostColumns-1, g.Name)
		case tables*(g.NY+3) > mostRows-3:
			return fmt.Errorf("%q has %d rows of points, and a sheet takes %d: choose a wider spacing, or --format csv --grid %q", g.Name, g.NY, (mostRows-3)/tables-3, g.Name)
		}
	}
	if points > mostPoints {
		return fmt.Errorf("the grids have %d points, and a workbook takes %d: choose a wider spacing, or --format csv --grid NAME for one of them", points, mostPoints)
	}
	return nil
}
