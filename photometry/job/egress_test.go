package job_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
)

// packed is the path out of a job with groups.
const packed = "[egress]\ngrid = \"work plane\"\nlevel = \"nfpa101-emergency-minimum\"\n"

// Packs by hand: of the 10,400 lm of four lamps of 2,600 lm, 1,400 lm are a share of 0.135; the existing system keeps its own packs.
func TestPacks(t *testing.T) {
	const way = "[egress]\nluminaires = [1, 8]\ngrid = \"dock\"\n"
	j := read(t, replaced(t, sound, "lamp_lumens = 2800.0\nballast_factor = 0.88", "lamp_lumens = 2600.0\nballast_factor = 1.0", "[upkeep]",
		way+"pack_lumens = 1400.0\npacks = [[3, 700.0]]\n[egress.existing]\npack_lumens = 1100.0\n[upkeep]"))
	p, e := &j.Proposed, &j.Existing
	assert.Equal(t, []job.Pack{{Place: 0, Lumens: 1400}, {Place: 2, Lumens: 700}, {Place: 7, Lumens: 1400}}, p.Emergency)
	assert.Equal(t, []job.Pack{{Place: 0, Lumens: 1100}, {Place: 2, Lumens: 700}, {Place: 7, Lumens: 1100}}, e.Emergency)
	assert.InDelta(t, 0.135, p.EmergencyShare(p.Emergency[0]), 0.0005, "print")
	assert.InEpsilon(t, 700/10400.0, p.EmergencyShare(p.Emergency[1]), rounding)
	assert.InEpsilon(t, 1100/(4*e.LampLumens*e.BallastFactor), e.EmergencyShare(e.Emergency[0]), rounding, "its own lamps, its own packs; the pack burns them without the ballast")
	assert.Equal(t, 3, p.Fed())
	own := read(t, replaced(t, sound, "[upkeep]", way+"light_share = 0.5\n[egress.existing]\nluminaires = [2]\nlight_share = 0.2\n[upkeep]"))
	assert.Equal(t, []job.Pack{{Place: 1, Share: 0.2}}, own.Existing.Emergency)
	assert.Equal(t, []job.Pack{{Place: 0, Share: 0.5}, {Place: 7, Share: 0.5}}, own.Proposed.Emergency)
	assert.NotContains(t, keysOf(own), "egress.light_share")
}

// In a job with groups each names its own; what failed is dark then too.
func TestEgressOfGroups(t *testing.T) {
	const dock = "dimmed_watts = 80.0\n"
	j := read(t, replaced(t, grouped, "[upkeep]", packed+"pack_lumens = 900.0\n[egress.existing]\nlight_share = 0.4\n[upkeep]",
		dock, dock+"[groups.egress]\nluminaires = [1, 3]\n", "[[groups]]\nname = \"bench\"", "[[groups]]\nname = \"bench\"\negress = { packs = [[2, 300]] }"))
	before, after, bench := j.Existing.Find("dock"), j.Proposed.Find("dock"), j.Proposed.Find("bench")
	assert.Equal(t, []job.Pack{{Place: 0, Share: 0.4}, {Place: 2, Share: 0.4}}, before.Emergency)
	assert.Equal(t, []job.Pack{{Place: 0, Share: 0.4}}, before.FedLit(), "the third failed")
	assert.Equal(t, []job.Pack{{Place: 0, Lumens: 900}, {Place: 2, Lumens: 900}}, after.Emergency)
	assert.InEpsilon(t, 900/(4*2800*0.88), after.EmergencyShare(after.Emergency[0]), rounding, "not dimmed: the pack gives its own")
	assert.Equal(t, []job.Pack{{Place: 1, Lumens: 300}}, bench.Emergency)
	assert.Empty(t, j.Existing.Find("shop").Emergency)
	assert.Equal(t, 3, j.Proposed.Fed())
	half := read(t, replaced(t, grouped, "[upkeep]", packed+"[upkeep]", dock, dock+"[groups.egress]\nluminaires = [1]\nlight_share = 0.5\n")).Proposed.Find("dock")
	assert.InEpsilon(t, 0.4, half.EmergencyShare(half.Emergency[0]), rounding, "half of light that is dimmed to 0.8")

	one := replaced(t, sound, "[layout]\nmounting_height = 5.0\nrows = 2\ncolumns = 4\nlamps_along = \"length\"\n", "", "[existing]", "[kinds.a]", "[proposed]", "[kinds.b]",
		"[upkeep]", "[[groups]]\nname = \"all\"\nexisting = \"a\"\nproposed = \"b\"\nmounting_height = 5.0\nrows = 2\ncolumns = 4\n[egress]\nluminaires = [3]\ngrid = \"dock\"\n[upkeep]")
	require.Equal(t, []job.Pack{{Place: 2, Share: 1}}, read(t, one).Proposed.Emergency, "a group alone is a layout")
}

// wrongEgress are mistakes in what burns on emergency power.
var wrongEgress = []wrong{
	{priced, "[egress]\nluminaires = [1]\ngrid = \"dock\"\nlight_share = 0.2\npack_lumens = 1400\n", `dock.toml:66:15: egress.pack_lumens: stands beside light_share, want one of the two: the lumens of a pack, or the share of the luminaire's light that it gives`},
	{priced, "[egress]\nluminaires = [1]\ngrid = \"dock\"\npack_lumens = 14000\n", `dock.toml:65:15: egress.pack_lumens: is more than the 9,944 lm that the lamps of a luminaire in "all" give, want the lumens of its pack, of the label
dock.toml:65:15: egress.pack_lumens: is more than the 9,856 lm that the lamps of a luminaire in "all" give, want the lumens of its pack, of the label`},
	{priced, "[egress]\nluminaires = [1]\ngrid = \"dock\"\npack_lumens = 0\n", `dock.toml:65:15: egress.pack_lumens: is 0, want a number from 0.001 to 1000000`},
	{priced, "[egress]\npacks = [[1, 14000]]\ngrid = \"dock\"\n", `dock.toml:63:1: egress.packs: is more than the 9,944 lm that the lamps of a luminaire in "all" give, want the lumens of its pack, of the label
dock.toml:63:1: egress.packs: is more than the 9,856 lm that the lamps of a luminaire in "all" give, want the lumens of its pack, of the label`},
	{priced, "[egress]\npacks = [[1.5, 1400], [0, 700], [2, -1], [3]]\ngrid = \"dock\"\n", `dock.toml:63:11: egress.packs[0][0]: is 1.5, want a luminaire's number, from 1 to 100000
dock.toml:63:24: egress.packs[1][0]: is 0, want a luminaire's number, from 1 to 100000
dock.toml:63:37: egress.packs[2][1]: is -1, want a number from 0.001 to 1000000
dock.toml:63:43: egress.packs[3]: is a list of 1, want a list of 2 numbers`},
	{priced, "[egress]\nluminaires = [1]\npacks = [[1, 1400]]\ngrid = \"dock\"\n", `dock.toml:64:1: egress.packs: names luminaire 1 twice, want each once`},
	{priced, "[egress]\npacks = [[9, 1400]]\ngrid = \"dock\"\n", `dock.toml:63:1: egress.packs: names luminaire 9, want a number up to 8, that each system has`},
	{priced, "[egress]\npacks = 1400\ngrid = \"dock\"\n", `dock.toml:63:9: egress.packs: is 1400, want a list of 1 to 100000 lists of numbers`},
	{priced, "[egress]\ngrid = \"dock\"\nexisting = 7\nproposed = [1]\n", `dock.toml:62:2: egress.luminaires: is missing, want the numbers of the luminaires that stay lit, 1 for the first of the layout, counted along x, then row by row
dock.toml:64:12: egress.existing: is 7, want a table, [egress.existing]
dock.toml:65:1: egress.proposed: is a list of 1, want a table, [egress.proposed]`},
	{priced, "[egress]\ngrid = \"dock\"\nluminaires = [1]\n[egress.existing]\nluminaires = [12]\n", `dock.toml:66:1: egress.existing.luminaires: names luminaire 12, want a number up to 8, that each system has`},
	{priced, "[egress]\ngrid = \"dock\"\nluminaires = [1]\n[egress.replacement]\nluminaires = [1]\n", `dock.toml:65:2: egress.replacement: is not a known key, want one of existing, grid, level, light_share, luminaires, pack_lumens, packs, proposed`},
	{priced, "[egress]\ngrid = \"dock\"\nluminaires = [1]\n[egress.proposed]\ngrid = \"dock\"\n", `dock.toml:66:8: egress.proposed.grid: is not a known key, want one of light_share, luminaires, pack_lumens, packs`},
}

// wrongEgressOfGroups are those of groups.
var wrongEgressOfGroups = []wrong{
	{"[upkeep]", packed + "[upkeep]", `dock.toml:53:2: egress.luminaires: is missing, want in a group at least: [groups.egress] luminaires, the numbers of those that stay lit, as they are counted in the group`},
	{"count = 7\n", "count = 7\negress = [1, 2]\n", `dock.toml:46:1: groups[1].egress: is a list of 2, want a table, [groups[1].egress]`},
	{"count = 7\n", "count = 7\nlamps = 3\negress = { lamps = 1 }\n", `dock.toml:46:9: groups[1].lamps: is not a known key, want lamps_along, perhaps
dock.toml:47:10: groups[1].egress.packs: stands in a job without [egress], want [egress] with the grid that is the path out
dock.toml:47:20: groups[1].egress.lamps: is not a known key, want one of existing, light_share, luminaires, pack_lumens, packs, proposed`},
	{"count = 7\n", "count = 7\n[groups.egress]\nluminaires = [1, 2]\n", `dock.toml:47:1: groups[1].egress.luminaires: stands in a job without [egress], want [egress] with the grid that is the path out
dock.toml:48:15: groups[1].egress.lamps_along: is not a known key, want one of existing, light_share, luminaires, pack_lumens, packs, proposed`},
	{"dimmed_watts = 80.0\n", "dimmed_watts = 80.0\n[groups.egress]\nluminaires = [1, 12]\n[egress]\ngrid = \"work plane\"\n", `dock.toml:41:1: groups[0].egress.luminaires: names luminaire 12, want a number up to 8, that each system has`},
	{"dimmed_watts = 80.0\n", "dimmed_watts = 80.0\n[groups.egress]\nluminaires = [1, 1]\ngrid = \"work plane\"\n[egress]\ngrid = \"work plane\"\n", `dock.toml:41:1: groups[0].egress.luminaires: names luminaire 1 twice, want each once
dock.toml:42:8: groups[0].egress.grid: is not a known key, want one of existing, light_share, luminaires, pack_lumens, packs, proposed`},
	{"dimmed_watts = 80.0\n", "dimmed_watts = 80.0\n[groups.egress]\nluminaires = [1]\n[egress]\ngrid = \"work plane\"\n[egress.proposed]\npacks = [[1, 200]]\n", `dock.toml:45:1: egress.proposed.packs: stands in a job with groups, want [groups.egress] of the group in which they hang, with their numbers there`},
	{"dimmed_watts = 80.0\n", "dimmed_watts = 80.0\n[groups.egress]\nluminaires = [1]\n[egress]\ngrid = \"work plane\"\npack_lumens = 10200\n", `dock.toml:44:15: egress.pack_lumens: is more than the 9,944 lm that the lamps of a luminaire in "dock" give, want the lumens of its pack, of the label
dock.toml:44:15: egress.pack_lumens: is more than the 9,856 lm that the lamps of a luminaire in "dock" give, want the lumens of its pack, of the label`},
}
