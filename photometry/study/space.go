package study

import (
	"fmt"
	"strings"

	"lampswap/photometry/codes"
	"lampswap/photometry/levels"
)

// SpaceWords say what is known of the kind of space that the room is, and what is not; none where the job does not say. The JSON carries them.
func (r *Result) SpaceWords() []string {
	space := r.Job.Space
	if space == nil {
		return nil
	}
	all := []string{fmt.Sprintf("%s: %s. A model of power limits aims at %s there: a model's target and no level that binds; the proposed lighting maintains %s on the work plane. Source: %s",
		space.ID, space.Label(), r.target(), r.Job.Light(r.Proposed.Grids[0].Statistics.Average), space.Source())}
	if share, source, ok := space.SensorSaving(); ok {
		here := "nothing of it is in the figures here"
		if r.sensors() {
			here = "the figures here have the saving that the job gives for its own"
		}
		all = append(all, fmt.Sprintf("An occupancy sensor there is counted as %.0f percent less power in a model; %s. Source: %s", 100*share, here, source))
	}
	found := r.spaceLevels()
	for _, l := range found {
		name := "Published level "
		if l.FromMemory() {
			name = "Level from memory "
		}
		all = append(all, fmt.Sprintf("%s%s: %s. %s", name, l.ID, asks(r.Job, l), standing(l)))
	}
	if len(found) == 0 {
		all = append(all, "No published level about such a space is listed for where this is, which does not show that none binds.")
	}
	switch {
	case !r.Job.InUnitedStates():
		all = append(all, "The energy codes listed are of the United States: none is held against a job in meters that names no state and no code.")
	case len(codes.LimitsAbout(space.CodeSpaces)) == 0:
		all = append(all, "No energy code's limit of power density for such a space is listed, which is no limit of zero and no leave to pass one: see the adopted code.")
	}
	return all
}

// sensors tells that the job counts a saving of an occupancy sensor.
func (r *Result) sensors() bool {
	for _, side := range r.newKinds() {
		if u := side.From.Use; u.Control == "occupancy" && u.ControlSaving > 0 {
			return true
		}
	}
	return false
}

// target is the model's aim, in the job's unit and as published.
func (r *Result) target() string {
	if r.Job.Imperial {
		return fmt.Sprintf("%.4g fc", r.Job.Space.Target)
	}
	return fmt.Sprintf("%s (%.4g lm/ft2 as published)", r.Job.Light(r.Job.Space.TargetLux()), r.Job.Space.Target)
}

// standing says whose a level is and how far it is to be trusted.
func standing(l levels.Level) string {
	text := "Source: " + l.Citation() + "; " + l.LegalStatus
	if caveat := l.Caveat(); caveat != "" {
		text += "; " + caveat
	}
	return text
}

// spaceLevels are the published levels about the kind of space, of where the job is: in the United States those of the country, of the job's
// state and of no one country, elsewhere all but those.
func (r *Result) spaceLevels() []levels.Level {
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

// SpaceLevels are the ids of the published levels that SpaceWords tell of.
func (r *Result) SpaceLevels() []string {
	all := []string{}
	if r.Job.Space != nil {
		for _, l := range r.spaceLevels() {
			all = append(all, l.ID)
		}
	}
	return all
}
