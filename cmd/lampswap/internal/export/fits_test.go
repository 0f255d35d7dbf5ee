package export

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// The largest grids that a workbook takes, and the first that it does not.
func TestFits(t *testing.T) {
	floor := func(length, width float64) room.Grid {
		return room.HorizontalGrid("floor", room.Vec{}, room.Vec{X: length, Y: width}, 0, 1)
	}
	small := room.Room{Length: 2, Width: 2, Height: 3}
	for name, c := range map[string]struct {
		job  job.Job
		want string
	}{
		"columns":             {job.Job{Room: small, Spacing: 2, Grids: []room.Grid{floor(16383, 1)}}, ""},
		"a column more":       {job.Job{Room: small, Spacing: 2, Grids: []room.Grid{floor(16384, 1)}}, `"floor" has 16384 points in a row, and a sheet takes 16383: choose a wider spacing, or --format csv --grid "floor"`},
		"rows":                {job.Job{Room: small, Spacing: 2, Grids: []room.Grid{floor(1, 349521)}}, ""},
		"a row more":          {job.Job{Room: small, Spacing: 2, Grids: []room.Grid{floor(1, 349522)}}, `"floor" has 349522 rows of points, and a sheet takes 349521: choose a wider spacing, or --format csv --grid "floor"`},
		"rows of four tables": {job.Job{Room: small, Spacing: 2, Replacement: &job.System{}, Grids: []room.Grid{floor(1, 262141)}}, `"floor" has 262141 rows of points, and a sheet takes 262140: choose a wider spacing, or --format csv --grid "floor"`},
		"points":              {job.Job{Room: room.Room{Length: 1000, Width: 500, Height: 3}, Spacing: 1}, ""},
		"a point more": {job.Job{Room: room.Room{Length: 1000, Width: 500, Height: 3}, Spacing: 1, Grids: []room.Grid{floor(1, 1)}},
			"the grids have 500001 points, and a workbook takes 500000: choose a wider spacing, or --format csv --grid NAME for one of them"},
	} {
		err := Fits(&c.job)
		if c.want == "" {
			assert.NoError(t, err, name)
			continue
		}
		assert.EqualError(t, err, c.want, name)
	}
}
