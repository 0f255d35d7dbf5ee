package job_test

import (
	"fmt"

	"lampswap/photometry/job"
)

// A job in feet is read into metres; what it leaves out is listed, and what is wrong is told with its place.
func Example() {
	const text = `units = "imperial"
[room]
length = 40.0
width = 20.0
height = 15.0
[layout]
mounting_height = 12.0
rows = 2
columns = 4
[existing]
photometry = "strip.ies"
[proposed]
photometry = "strip.ies"
lamp_lumens = 2700.0
`
	beside := func(string) ([]byte, error) { return []byte(stripIES), nil }
	j, err := job.Read("bay.toml", []byte(text), beside)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f m by %.4f m, %d luminaires\n", j.Room.Length, j.Room.Width, len(j.Proposed.Layout.Placements))
	fmt.Printf("%.0f lm a luminaire before, %.0f lm after\n", j.Existing.LampLumensEach(), j.Proposed.LampLumensEach())
	fmt.Printf("%s = %s: %s\n", j.Defaults[1].Key, j.Defaults[1].Value, j.Defaults[1].Reason)

	_, err = job.Read("bay.toml", []byte("[room]\nlength = -40.0\nwidth = 20.0\nheight = 15.0\n"), beside)
	fmt.Println(err)
	// Output:
	// 12.1920 m by 6.0960 m, 8 luminaires
	// 11600 lm a luminaire before, 10800 lm after
	// room.work_plane = 2.5: the usual height
	// bay.toml:1:1: existing: is missing, want a table [existing]: the lighting before the swap
	// bay.toml:1:1: proposed: is missing, want a table [proposed]: the lighting after the swap
	// bay.toml:2:10: room.length: is -40, want a length above 0 and up to 9842.5 ft
}
