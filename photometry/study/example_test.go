package study_test

import (
	"context"
	"fmt"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// The light of a bay before and after a swap to lamps of fewer lumens.
func Example() {
	const text = `units = "metric"
[room]
length = 24.0
width = 12.0
height = 5.0
[layout]
mounting_height = 4.0
rows = 4
columns = 6
[existing]
photometry = "strip.ies"
[proposed]
photometry = "strip.ies"
lamp_lumens = 1800.0
input_watts = 48.0
[calculation]
spacing = 1.0
[[criteria]]
name = "lease"
at_least = 90.0
`
	j, err := job.Read("bay.toml", []byte(text), func(string) ([]byte, error) { return []byte(bay.Diffuse), nil })
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := study.Run(context.Background(), j, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(wording.Verdict(r))
	fmt.Printf("lumen method: %s before, %s after\n", j.Light(r.Existing().LumenMethod.MaintainedAverage), j.Light(r.Proposed().LumenMethod.MaintainedAverage))
	fmt.Printf("%.0f kWh saved a year\n", r.Energy.SavedKWhPerYear)
	// Output:
	// The proposed lighting maintains 114 lx on the work plane, 10 percent less than the existing 126 lx (every lamp at 40 percent of its rated life; existing and proposed lamps' loss assumed): darker than before, but enough: it meets every criterion.
	// lumen method: 121 lx before, 109 lx after
	// 1152 kWh saved a year
}
