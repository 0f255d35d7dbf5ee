package figures

import (
	"fmt"

	"lampswap/photometry/whole"
)

// OfBuilding are the figures of every space, each named after it, and what the building costs over the years.
func OfBuilding(r *whole.Result) []Named {
	var all []Named
	for i, s := range r.Spaces {
		for _, f := range All(s.Result) {
			all = append(all, Named{FileName(i, s.Name) + "-" + f.Name, f.Figure})
		}
	}
	if cash, ok := Cash(r.Whole); ok {
		cash.Title, cash.Subtitle = r.Building.Title, fmt.Sprintf("Life-cycle cost over %d years", r.Whole.LifeCycle.Terms.Years)
		all = append(all, Named{"life-cycle-cost", cash})
	}
	return all
}
