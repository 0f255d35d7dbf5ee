package job

import (
	"math"
	"strconv"
	"time"

	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/utility"
)

// Facts are what a proposal says of the job besides its light; each may be empty.
type Facts struct {
	State       string    // of the US, "CA"
	Date        time.Time // of the job, its day in UTC; zero if not given
	PreparedBy  string
	PreparedFor string
	North       *float64 // azimuth of north in the plan, rad counter-clockwise from +x
}

func (r *reader) facts(top *tomlfile.Table) {
	f := &r.job.Facts
	if code, ok := top.Text("state"); ok {
		if state, known := utility.FindState(code); known {
			f.State = state.Code
		} else {
			top.Fault("state", "is "+strconv.Quote(code), "the two letters of a state of the US, as CA")
		}
	}
	f.Date, _ = top.Day("date")
	f.PreparedBy, _ = top.Text("prepared_by")
	f.PreparedFor, _ = top.Text("prepared_for")
	if azimuth, ok := top.Number("north", tomlfile.Between(-360, 360)); ok {
		azimuth *= math.Pi / 180
		f.North = &azimuth
	}
}
