package survey

import (
	_ "embed"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed rules.csv
var rulesCSV string

// A Published is one published number with its source.
type Published struct {
	Value  float64 // in the unit of its row
	unit   string
	Source string
}

var rules = sync.OnceValue(func() map[string]Published {
	all := map[string]Published{}
	for _, r := range table.Load("rules", rulesCSV, "name", "value", "unit", "source") {
		if _, twice := all[r.Required("name")]; twice {
			r.Fail("name", "stands twice")
		}
		all[r.Text("name")] = Published{r.Number("value"), r.Required("unit"), r.Text("source")}
	}
	return all
})

// rule returns a published number by its name in the table; it panics on a name that is not there.
func rule(name string) Published {
	p, ok := rules()[name]
	if !ok {
		panic("survey: no rule " + name)
	}
	return p
}
