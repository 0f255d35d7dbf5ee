package study

import (
	"strings"

	"lampswap/photometry/levels"
)

// CountsSensors tells that the job counts a saving of an occupancy sensor.
func (r *Result) CountsSensors() bool {
	for _, side := range r.NewKinds() {
		if u := side.From.Use; u.Control == "occupancy" && u.ControlSaving > 0 {
			return true
		}
	}
	return false
}

// SpaceLevels are the published levels about the kind of space, of where the job is: in the United States those of the country, of the job's
// state and of no one country, elsewhere all but those.
func (r *Result) SpaceLevels() []levels.Level {
	if r.Job.Space == nil {
		return nil
	}
	var all []levels.Level
	for _, id := range r.Job.Space.Levels {
		l, _ := levels.Find(id) // they are in the list: tested in package spaces
		here := l.Place == "" || l.Place == "US" || l.Place == "US-"+r.Job.Facts.State
		if !r.Job.InUnitedStates() {
			here = !strings.HasPrefix(l.Place, "US")
		}
		if here {
			all = append(all, l)
		}
	}
	return all
}
