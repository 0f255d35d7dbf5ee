package study

import (
	"fmt"

	"lampswap/photometry/levels"
	"lampswap/photometry/utility"
)

// BindingRules says which light level binds where: that no federal rule sets one for a working warehouse, what the job's state asks, and
// what the usual target is. A state that the table does not know is said to be so. The JSON carries it.
func (r *Result) BindingRules() []string {
	state, named := utility.FindState(r.Job.Facts.State)
	rules := levels.Rules()
	var all []string
	found := false
	for i, rule := range rules {
		own := named && rule.Place == state.Name
		if i == 0 || own || i == len(rules)-1 {
			all = append(all, fmt.Sprintf("%s: %s Source: %s", rule.Place, rule.Says, rule.Source))
		}
		found = found || own
	}
	switch {
	case !named:
		all = append(all, "States with plans of their own may ask for more (Washington and California do): give state = \"..\" and ask the state.")
	case !found:
		all = append(all, state.Name+": no rule of the state's own is known here; ask the state and the local authority.")
	}
	return all
}
