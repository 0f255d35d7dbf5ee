package tomltext_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/page/tomltext"
)

// A job in tables, with remarks, becomes one in groups; what is not moved stays.
func TestRegroup(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"tables", `title = "x" # mine
[layout] # the swap keeps the positions
mounting_height = 4.0 # high
rows = 2
columns = 3

# before
[existing]
lamp = "F96T12"
[existing.losses]
voltage = 0.9
[proposed]
lamp = "F96T8"
[proposed.costs]
installed_cost = 900.0
lamp_price = 3.0
[upkeep]
`, `title = "x" # mine

# before
[kinds.existing]
lamp = "F96T12"
[kinds.existing.losses]
voltage = 0.9
[kinds.proposed]
lamp = "F96T8"
[kinds.proposed.costs]
lamp_price = 3.0
[upkeep]

[costs.proposed]
installed_cost = 900.0

[[groups]]
name = "all"
existing = "existing"
proposed = "proposed"
columns = 3
mounting_height = 4.0
rows = 2
`},
		{"in lines, a layout of its own, a path out", `layout = { mounting_height = 4.0, count = 3 }
existing.lamp = "F96T12"
proposed = { lamp = "F96T8", layout = { mounting_height = 3.0, positions = [[1, 2], [3, 4]] } }
[egress]
grid = "way"
luminaires = [1, 2]
[egress.existing]
luminaires = [3]
[replacement]
lamps = 1
`, `kinds.existing.lamp = "F96T12"
kinds.proposed = { lamp = "F96T8" }
[egress]
grid = "way"
[egress.existing]
[kinds.replacement]
lamps = 1

[[groups]]
name = "all"
existing = "existing"
proposed = "none"
replacement = "replacement"
count = 3
mounting_height = 4.0
egress = { luminaires = [1, 2], existing = { luminaires = [3] } }

[[groups]]
name = "all, proposed"
existing = "none"
proposed = "proposed"
replacement = "none"
mounting_height = 3.0
positions = [[1, 2], [3, 4]]
egress = { luminaires = [1, 2] }
`},
	} {
		assert.Equal(t, c.want, editTOML(t, c.text, (*tomltext.Text).Regroup), c.name)
	}
	parsed, err := tomltext.Read("[kinds.a]\nlamps = 2\n")
	require.NoError(t, err)
	require.EqualError(t, parsed.Regroup(), "it has [kinds] and [[groups]] already")
	parsed, err = tomltext.Read("layout = 7\nexisting = {}\n")
	require.NoError(t, err)
	require.EqualError(t, parsed.Regroup(), "layout is no table")
}
