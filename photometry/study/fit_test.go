package study_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/wording"
)

// Strips of 2.4 m by 0.1 m in a room of 24 m by 12 m.
func TestLuminairesThatDoNotFitAreTold(t *testing.T) {
	const rows = "rows = 4\ncolumns = 6\n"
	for _, c := range []struct{ name, layout, want string }{
		{"rows end to end, from wall to wall", "rows = 4\ncolumns = 10\n", ""},
		{"two too many in a row", "rows = 4\ncolumns = 12\n",
			"proposed: 8 luminaires reach through a wall, by up to 0.2 m: check the positions and lamps_along|" +
				"proposed: luminaires 1 and 2 reach into one another: check rows, columns or positions, and lamps_along"},
		{"one in a corner", "positions = [[12.0, 6.0], [1.2, 0.0]]\n", ""},
		{"one through the end wall", "positions = [[12.0, 6.0], [0.5, 3.0]]\n",
			"proposed: 1 luminaire reaches through a wall, by up to 0.7 m: check the positions and lamps_along"},
		{"the same place twice", "positions = [[12.0, 6.0], [5.0, 6.0], [12.0, 6.0]]\n", // nor may luminaires of no extent
			"existing: luminaires 1 and 3 reach into one another: check rows, columns or positions, and lamps_along|" +
				"proposed: luminaires 1 and 3 reach into one another: check rows, columns or positions, and lamps_along"},
		{"side by side", "positions = [[12.0, 6.0], [12.0, 6.1]]\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := run(t, `photometry = "diffuse.ies"`, `photometry = "strip.ies"`, rows, c.layout)
			var found []string
			for _, w := range wording.Warnings(r) {
				if strings.Contains(w, "a wall, by up to") || strings.Contains(w, "into one another") {
					found = append(found, w)
				}
			}
			assert.Equal(t, c.want, strings.Join(found, "|"))
		})
	}
}
