package study

import (
	"fmt"
	"slices"

	"lampswap/photometry/levels"
	"lampswap/photometry/utility"
)

// BindingRules says which light level binds where, in the United States: rules about the kind of space that the room is, or about every workplace, of
// the country and of the job's state. What is not known is said. They are none for a job elsewhere. The JSON carries them.
func (r *Result) BindingRules() []string {
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
			all = append(all, r.ruleWords(rule))
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

// ruleWords are a rule's, which has its numbers as published; a job in meters has them in its own unit beside.
func (r *Result) ruleWords(rule levels.Rule) string {
	text := fmt.Sprintf("%s: %s", rule.Place, rule.Says)
	if l, ok := levels.Find(rule.Level); ok && !r.Job.Imperial {
		text += fmt.Sprintf(" In this job's unit: %s.", asks(r.Job, l))
	}
	return text + " Source: " + rule.Source
}
