package job

import (
	"math"
	"strconv"
	"strings"
	"time"

	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/spaces"
	"lampswap/photometry/utility"
)

// Facts are what a proposal says of the job besides its light; each may be empty.
type Facts struct {
	State       string    // of the US, "CA"
	Date        time.Time // of the job, its day in UTC; zero if not given
	PreparedBy  string
	PreparedFor string
	North       *float64 // azimuth of north in the plan, rad counter-clockwise from +x
	Offer       Offer
}

// InUnitedStates tells that law and codes of the United States are of use to a job: it names a state, or is in feet and footcandles.
func (j *Job) InUnitedStates() bool { return j.Imperial || j.Facts.State != "" }

// space reads what kind of space the room is.
func (r *reader) space(t *tomlfile.Table) {
	id, ok := t.Text("space")
	if !ok {
		return
	}
	space, known := spaces.Find(id)
	if !known {
		want := "an id of `lampswap levels --spaces`"
		if near := spaces.Near(id); near != nil {
			want = strings.Join(near, ", ") + ", perhaps; " + want
		}
		t.Fault("space", strconv.Quote(id)+" is not in the list of spaces", want)
		return
	}
	r.job.Space = &space
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
	r.offer(top)
}
