package survey

import (
	_ "embed"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed rules.csv
var rulesCSV string

// A published is one published number with its source.
type published struct {
	value  float64 // in the unit of its row
	unit   string
	source string
}

var rules = sync.OnceValue(func() map[string]published {
	all := map[string]published{}
	for _, r := range table.Load("rules", rulesCSV, "name", "value", "unit", "source") {
		if _, twice := all[r.Required("name")]; twice {
			r.Fail("name", "stands twice")
		}
		all[r.Text("name")] = published{r.Number("value"), r.Required("unit"), r.Text("source")}
	}
	return all
})

// rule returns a published number by its name in the table; it panics on a name that is not there.
func rule(name string) published {
	p, ok := rules()[name]
	if !ok {
		panic("survey: no rule " + name)
	}
	return p
}
