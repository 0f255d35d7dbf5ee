package plots_test

import (
	"bytes"
	"fmt"

	"gonum.org/v1/plot/vg"

	"lampswap/photometry"
	"lampswap/photometry/room"
	"lampswap/plots"
)

func Example() {
	hall := room.Room{Length: 12, Width: 6, WorkPlane: 0.76}
	before := plots.NewMap(hall.WorkPlaneGrid(3), []float64{180, 240, 240, 180, 160, 220, 220, 160}) // lx
	before.Title = "Existing"
	after := plots.NewMap(hall.WorkPlaneGrid(3), []float64{210, 270, 270, 210, 190, 250, 250, 190})
	after.Title = "Proposed"
	change := plots.NewMap(hall.WorkPlaneGrid(3), plots.Difference(before.Values, after.Values))
	change.Title, change.Change = "Change", true

	sheet := plots.Sheet{Title: "Light before and after", Maps: []plots.Map{before, after, change}}
	var file bytes.Buffer
	if err := plots.Write(&file, sheet, "pdf", 6.5*vg.Inch, 0); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(plots.Levels(false, before.Values, after.Values))
	fmt.Println(sheet.Describe())
	// Output:
	// [160 180 200 220 240 260 280]
	// Map: Existing. Illuminance: average 200 lx, minimum 160 lx, maximum 240 lx. Map: Proposed. Illuminance: average 230 lx, minimum 190 lx, maximum 270 lx. Map: Change. Change of illuminance: average +30.0 lx, least gain 30.0 lx, largest gain 30.0 lx.
}

func ExampleYears() {
	figure := plots.Years{
		Title: "Light through the years", Imperial: true,
		Levels: []plots.Level{{Name: "owner's lease", Value: 30 * photometry.Footcandle}},
		Courses: []plots.Course{
			{Name: "Existing", Role: plots.Existing, Years: []float64{0, 4, 4, 8}, Values: []float64{400, 300, 400, 300}}, // lx; relamped after 4 years
			{Name: "Proposed", Role: plots.Proposed, Years: []float64{0, 8}, Values: []float64{430, 380}},
		},
	}
	fmt.Println(figure.Describe())
	// Output:
	// Chart: Light through the years. Existing falls below 30 fc after 3.1 years. Proposed does not fall below 30 fc in the 8 years shown. 30 fc is owner's lease.
}

func ExampleFront() {
	figure := plots.Front{Title: "Power against light", Imperial: true, Options: []plots.Option{
		{Name: "2 × F96T12, magnetic", Role: plots.Existing, Power: 173, Light: 290},
		{Name: "4 × F32T8, normal", Role: plots.Proposed, Power: 112, Light: 340, Meets: true},
		{Name: "4 × F32T8, high", Power: 148, Light: 440, Meets: true},
	}}
	fmt.Println(figure.Describe())
	// Output:
	// Chart: Power against light. 2 of 3 options meet every criterion. Existing: 173 W, 26.9 fc. Proposed: 112 W, 31.6 fc.
}

func ExampleCash() {
	figure := plots.Cash{Title: "What each system costs", Currency: "USD", Parts: []string{"Investment", "Energy", "Relamping"}, Ways: []plots.Way{
		{Name: "Existing", Costs: []float64{0, 61800, 14200}},
		{Name: "Proposed", Costs: []float64{17000, 37300, 6900}},
	}}
	fmt.Println(figure.Describe())
	// Output:
	// Chart: What each system costs. Existing: $76,000. Proposed: $61,200, $14,800 less than Existing.
}

func ExampleEffects() {
	figure := plots.Effects{Title: "Which input matters most", Central: 320, Effects: []plots.Effect{
		{Name: "Dirt", Input: "0.84 to 0.94", Low: 302, High: 338}, // lx
		{Name: "Mounting height", Input: "4.7 to 5.1 m", Low: 324, High: 316},
	}}
	fmt.Println(figure.Describe())
	// Output:
	// Chart: Which input matters most. Dirt: 302 to 338 lx. Mounting height: 324 to 316 lx.
}

func ExampleStations() {
	figure := plots.Stations{Title: "Readings", Deviations: true, Extent: plots.Rect{X1: 12, Y1: 6}, Stations: []plots.Station{
		{X: 3, Y: 3, Kind: "inner bay", Deviation: 0.04},
		{X: 9, Y: 3, Kind: "inner bay", Deviation: -0.22, Outlier: true},
	}}
	fmt.Println(figure.Describe())
	// Output:
	// Plan: Readings. Mean of the deviations −9.0 %; lowest −22 % at station 2, highest +4 % at station 1. Outliers: 2.
}
