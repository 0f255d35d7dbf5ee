package plots_test

import (
	"bytes"
	"fmt"

	"gonum.org/v1/plot/vg"

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
	// Map: Existing. Illuminance: average 200, minimum 160, maximum 240 lx. Map: Proposed. Illuminance: average 230, minimum 190, maximum 270 lx. Map: Change. Change of illuminance: average +30.0, minimum +30.0, maximum +30.0 lx.
}
