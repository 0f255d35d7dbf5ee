package verification_test

import (
	"context"
	"fmt"
	"strings"

	"lampswap/photometry/job"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
	"lampswap/photometry/wording"
)

// Invented readings after a swap, held against what the lease asks.
func Example() {
	const text = `units = "metric"
[room]
length = 24.0
width = 12.0
height = 5.0
[layout]
mounting_height = 4.5
rows = 2
columns = 6
[existing]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-4in"
lamp = "F32T8/800"
lamps = 4
ballast = "is-normal"
[calculation]
spacing = 1.0
interreflection = false
[[criteria]]
name = "lease"
at_least = 150.0
`
	j, err := job.Read("bay.toml", []byte(text), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := survey.NewPlan(survey.Lattice{Length: j.Room.Length, Width: j.Room.Width, WorkPlane: j.Room.WorkPlane, Rows: 2, Columns: 6})
	if err != nil {
		fmt.Println(err)
		return
	}
	var file strings.Builder
	file.WriteString("station,reading_lx\n")
	shown := map[survey.Role]float64{survey.R: 205, survey.Q: 170, survey.T: 165, survey.P: 135}
	for _, s := range plan.Stations {
		fmt.Fprintf(&file, "%s,%v\n", s.Name, shown[s.Role])
	}
	readings, err := survey.Read("bay.csv", strings.NewReader(file.String()))
	if err != nil {
		fmt.Println(err)
		return
	}
	meter, _ := metrology.ClassMeter("A")
	conditions := survey.NotNoted()
	conditions.HoursBurnt, conditions.MonthsSinceCleaning, conditions.Daylight = 100, 0, survey.Dark
	v, _, err := verification.Run(context.Background(), j, verification.Survey{System: "proposed", Readings: readings, Meter: meter,
		Areas: []verification.Area{{Grid: "work plane", Plan: plan}}, Conditions: conditions, Confidence: 0.95}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(wording.Readings(v))
	d := v.Areas[0].Decisions[0]
	fmt.Printf("%s: %s as found, accepted from %.0f lx; kept up to the end of relamping and cleaning %v\n", d.Name, d.Found.Outcome, d.Found.AcceptanceLimit, d.Carried.Outcome)
	// Output:
	// The measured average is 181 ± 25 lx (14 percent of it, k = 1.96), 108 percent of what is predicted for the day (18 stations); every criterion tested is met as found, at 95 percent confidence.
	// lease: met as found, accepted from 171 lx; kept up to the end of relamping and cleaning missed
}
