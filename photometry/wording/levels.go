package wording

import (
	"fmt"
	"slices"

	"lampswap/photometry/codes"
	"lampswap/photometry/levels"
	"lampswap/photometry/study"
	"lampswap/photometry/utility"
)

// Binding says which light level binds where, in the United States: rules about the kind of space that the room is, or about every workplace, of
// the country and of the job's state. What is not known is said. They are none for a job elsewhere. The JSON carries them.
func Binding(r *study.Result) []string {
	all := []string{}
	if !r.Job.InUnitedStates() {
		return all
	}
	space := ""
	if r.Job.Space != nil {
		space = r.Job.Space.ID
	}
	state, named := utility.FindState(r.Job.Facts.State)
	of := func(rule levels.Rule) bool { return named && rule.Of == "US-"+state.Code }
	own := false
	for _, rule := range levels.Rules() {
		if rule.Concerns(space) && (rule.Of == "US" || of(rule)) {
			all = append(all, ruleOf(r, rule))
			own = own || of(rule)
		}
	}
	switch {
	case !named:
		all = append(all, "States with plans of their own may ask for more (Washington and California do): give state = \"..\" and ask the state.")
	case !own && slices.ContainsFunc(levels.Rules(), of):
		all = append(all, state.Name+": its rules go by the kind of space, and none of those listed is known to be about this one; ask the state and the local authority.")
	case !own:
		all = append(all, state.Name+": no rule of the state's own is known here; ask the state and the local authority.")
	}
	if r.Job.Space == nil {
		all = append(all, "The job does not say what kind of space the room is, so no level for one is named: give [room] space, one of `lampswap levels --spaces`.")
	}
	return all
}

// ruleOf are a rule's, which has its numbers as published; a job in meters has them in its own unit beside.
func ruleOf(r *study.Result, rule levels.Rule) string {
	text := fmt.Sprintf("%s: %s", rule.Place, rule.Says)
	if l, ok := levels.Find(rule.Level); ok && !r.Job.Imperial {
		text += fmt.Sprintf(" In this job's unit: %s.", asks(r.Job, l))
	}
	return text + " Source: " + rule.Source
}

// Space say what is known of the kind of space that the room is, and what is not; none where the job does not say. The JSON carries them.
func Space(r *study.Result) []string {
	space := r.Job.Space
	if space == nil {
		return nil
	}
	all := []string{fmt.Sprintf("%s: %s. A model of power limits aims at %s there: a model's target and no level that binds; the proposed lighting maintains %s on the work plane. Source: %s",
		space.ID, space.Label(), target(r), r.Job.Light(r.Proposed().Grids[0].Statistics.Average), space.Source())}
	if share, source, ok := space.SensorSaving(); ok {
		here := "nothing of it is in the figures here"
		if r.CountsSensors() {
			here = "the figures here have the saving that the job gives for its own"
		}
		all = append(all, fmt.Sprintf("An occupancy sensor there is counted as %.0f percent less power in a model; %s. Source: %s", 100*share, here, source))
	}
	found := r.SpaceLevels()
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

// target is the model's aim, in the job's unit and as published.
func target(r *study.Result) string {
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
