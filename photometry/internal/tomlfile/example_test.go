package tomlfile_test

import (
	"fmt"

	"lampswap/photometry/internal/tomlfile"
)

// Three mistakes are found in one reading.
func Example() {
	file := tomlfile.Read("dock.toml", []byte(`[room]
length = 36.5
width = "18"
heigth = 5.0
`))
	room := file.Root().Table("room")
	length, _ := room.Number("length", tomlfile.Positive)
	room.Number("width", tomlfile.Positive)
	if _, ok := room.Number("height", tomlfile.Positive); !ok {
		room.Missing("height", "the room's height")
	}
	room.Done()
	fmt.Println(length)
	fmt.Println(file.Err())
	// Output:
	// 36.5
	// dock.toml:1:2: room.height: is missing, want the room's height
	// dock.toml:3:9: room.width: is the text "18", want a number above 0
	// dock.toml:4:10: room.heigth: is not a known key, want height, perhaps
}
