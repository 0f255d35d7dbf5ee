package job_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// grouped is a sound job with three groups of luminaires, on which the tests of their faults are built.
const grouped = `title = "shop"
units = "metric"
[room]
length = 20.0
width = 10.0
height = 6.0
work_plane = 0.8
reflectance = { ceiling = 0.7, walls = 0.5, floor = 0.2 }
[kinds.strip]
photometry = "strip.ies"
lamp = "F32T8/700"
lamps = 4
ballast = "is-normal"
maintenance_category = "III"
[kinds.tube]
photometry = "strip.ies"
lamps = 4
lamp_lumens = 2800.0
ballast_factor = 0.88
input_watts = 112.0
maintenance_category = "III"
[kinds.tube.costs]
lamp_price = 3.0
[[groups]]
name = "dock"
existing = "strip"
proposed = "tube"
mounting_height = 5.0
rows = 2
columns = 4
area = [0.0, 0.0, 10.0, 10.0]
lamps_along = "length"
failed = [3, 8]
failed_watts = 12.0
hours_per_year = 6000.0
control = "occupancy"
control_saving = 0.45
dimmed_to = 0.8
dimmed_watts = 80.0
[[groups]]
name = "shop"
existing = "strip"
proposed = "none"
mounting_height = 4.0
count = 7
lamps_along = "width"
[[groups]]
name = "bench"
existing = "none"
proposed = "tube"
positions = [[15.0, 5.0, 90.0, 3.0], [16.0, 5.0, 0.0, 3.5]]
lamps_along = "length"
[upkeep]
hours_per_year = 4000.0
relamp_hours = 16000.0
clean_months = 24.0
atmosphere = "clean"
ambient_temperature = 20.0
[calculation]
spacing = 0.5
interreflection = false
[energy]
price_per_kwh = 0.11
`

// wrongGroups are mistakes in kinds and groups.
var wrongGroups = []wrong{
	{"name = \"dock\"", "name = \"dock\"\nnote = 3", `dock.toml:26:8: groups[0].note: is 3, want a text in quotes`},
	{`[kinds.strip]
photometry = "strip.ies"
lamp = "F32T8/700"
lamps = 4
ballast = "is-normal"
maintenance_category = "III"
[kinds.tube]
photometry = "strip.ies"
lamps = 4
lamp_lumens = 2800.0
ballast_factor = 0.88
input_watts = 112.0
maintenance_category = "III"
[kinds.tube.costs]
lamp_price = 3.0
`, ``, `dock.toml:1:1: kinds: is missing, want tables [kinds.NAME] of the luminaires, as [existing] would have them
dock.toml:11:12: groups[0].existing: "strip" is not known, want one of none
dock.toml:12:12: groups[0].proposed: "tube" is not known, want one of none
dock.toml:27:12: groups[1].existing: "strip" is not known, want one of none
dock.toml:35:12: groups[2].proposed: "tube" is not known, want one of none`},
	{`title = "shop"`, `title = "shop"
spaces = 7`, `dock.toml:2:10: spaces: is of a building, want a job of one room here; lampswap check, proposal, plot and batch take buildings, others one space of them by --space NAME`},
	{`title = "shop"`, `title = "shop"
kinds = 7`, `dock.toml:10:2: key kinds already exists as a value, want TOML, one key = value a line`},
	{`title = "shop"`, `title = "shop"
layout = { mounting_height = 4.0, rows = 1, columns = 1 }
existing = { photometry = "strip.ies" }
proposed = { photometry = "strip.ies" }
replacement = { photometry = "strip.ies" }`, `dock.toml:2:10: layout: stands beside [kinds] and [[groups]], want either of the two: a kind has what [layout] would have, and a group says where it hangs
dock.toml:3:12: existing: stands beside [kinds] and [[groups]], want either of the two: a kind has what [existing] would have, and a group says where it hangs
dock.toml:4:12: proposed: stands beside [kinds] and [[groups]], want either of the two: a kind has what [proposed] would have, and a group says where it hangs
dock.toml:5:15: replacement: stands beside [kinds] and [[groups]], want either of the two: a kind has what [replacement] would have, and a group says where it hangs`},
	{`[kinds.tube.costs]
lamp_price = 3.0`, `[kinds.tube.costs]
lamp_price = 3.0
installed_cost = 1
rebate = 1
other_per_year = 1
residual = 1`, `dock.toml:24:18: kinds.tube.costs.installed_cost: stands with one kind of luminaire, want what a system costs as a whole in [costs.proposed], [costs.replacement] or [costs.existing]
dock.toml:25:10: kinds.tube.costs.rebate: stands with one kind of luminaire, want what a system costs as a whole in [costs.proposed], [costs.replacement] or [costs.existing]
dock.toml:26:18: kinds.tube.costs.other_per_year: stands with one kind of luminaire, want what a system costs as a whole in [costs.proposed], [costs.replacement] or [costs.existing]
dock.toml:27:12: kinds.tube.costs.residual: stands with one kind of luminaire, want what a system costs as a whole in [costs.proposed], [costs.replacement] or [costs.existing]`},
	{`[kinds.tube]
`, `[kinds.tube]
layout = { mounting_height = 4.0, rows = 1, columns = 1 }
`, `dock.toml:16:10: kinds.tube.layout: is not a known key, want one of ballast, ballast_factor, beam_angle, cct, costs, cri, fixture, input_watts, lamp, lamp_diameter, lamp_kind, lamp_length, lamp_lumens, lamp_watts, lamps, led_type, losses, maintenance_category, mean_lumens, minimum_temperature, photometry, rated_life_hours, temperature_points, upkeep`},
	{`[kinds.tube]
photometry = "strip.ies"`, `[kinds.tube]
photometry = "stripe.ies"`, `dock.toml:16:14: kinds.tube.photometry: "stripe.ies" cannot be read (file does not exist), want an LM-63 file beside the job file`},
	{`[kinds.tube.costs]`, `[kinds.none]
photometry = "strip.ies"
[kinds.tube.costs]`, `dock.toml:22:2: kinds.none: is the word for no luminaires, want another name`},
	{`[kinds.tube.costs]`, `[kinds.spare]
photometry = "stripe.ies"
[kinds.tube.costs]`, `dock.toml:23:14: kinds.spare.photometry: "stripe.ies" cannot be read (file does not exist), want an LM-63 file beside the job file`},
	{`name = "dock"
existing = "strip"
proposed = "tube"`, `name = "dock"`, `dock.toml:24:3: groups[0].existing: is missing, want a kind of luminaire, or "none"
dock.toml:24:3: groups[0].proposed: is missing, want a kind of luminaire, or "none"`},
	{`name = "dock"
existing = "strip"
proposed = "tube"`, `name = "dock"
existing = "stripe"
proposed = 7`, `dock.toml:26:12: groups[0].existing: "stripe" is not known, want one of strip, tube, none (strip?)
dock.toml:27:12: groups[0].proposed: is 7, want a text in quotes`},
	{`name = "shop"`, `name = "Dock"`, `dock.toml:41:8: groups[1].name: "Dock" is the name of another group too, want a name of its own for each group`},
	{`name = "shop"
existing = "strip"
proposed = "none"
mounting_height = 4.0
count = 7
lamps_along = "width"
[[groups]]
name = "bench"
`, `name = "Group 3"
existing = "strip"
proposed = "none"
mounting_height = 4.0
count = 7
lamps_along = "width"
[[groups]]
`, `dock.toml:47:3: groups[2].name: is missing, want a name of its own for each group: "group 3", its number, is the name of another`},
	{`name = "shop"`, `name = "shop"
note = 7`, `dock.toml:42:8: groups[1].note: is 7, want a text in quotes`},
	{`name = "shop"`, `name = " "`, `dock.toml:41:8: groups[1].name: is blank, want a text`},
	{`name = "shop"`, `name = "shop"
colour = "red"`, `dock.toml:42:10: groups[1].colour: is not a known key, want one of area, columns, control, control_saving, count, dimmed_to, dimmed_watts, egress, existing, failed, failed_watts, hours_per_year, lamps_along, mounting_height, name, note, positions, proposed, replacement, rows, shifts`},
	{`existing = "strip"
proposed = "none"`, `existing = "none"
proposed = "none"`, `dock.toml:43:12: groups[1].proposed: leaves the group without luminaires before and after, want a kind of luminaire in one system at least`},
	{`rows = 2
columns = 4
area`, `rows = 0
columns = 4
area`, `dock.toml:29:8: groups[0].rows: is 0, want a whole number from 1 to 1000`},
	{`rows = 2
columns = 4
area`, `rows = 2
area`, `dock.toml:24:3: groups[0].columns: is missing, want how many columns of luminaires, or positions = [[x, y], ...]`},
	{`rows = 2
columns = 4
area`, `rows = 2
columns = 4
count = 8
area`, `dock.toml:31:9: groups[0].count: stands beside the places themselves, want a count alone, or rows and columns, or positions`},
	{`rows = 2
columns = 4
area`, `area`, `dock.toml:24:3: groups[0].count: is missing, want how many luminaires, spread evenly; or rows and columns, or positions = [[x, y], ...]`},
	{`area = [0.0, 0.0, 10.0, 10.0]`, `area = [0.0, 0.0, 21.0, -1.0]`, `dock.toml:31:19: groups[0].area[2]: is 21, want a place in the room, from 0 to 20
dock.toml:31:25: groups[0].area[3]: is -1, want a place in the room, from 0 to 10`},
	{`area = [0.0, 0.0, 10.0, 10.0]`, `area = [0.0, 0.0, 0.0, 10.0]`, `dock.toml:31:1: groups[0].area: has no extent, want two corners that differ in x and in y`},
	{`area = [0.0, 0.0, 10.0, 10.0]`, `area = [0.0, 0.0, 10.0]`, `dock.toml:31:1: groups[0].area: is a list of 3, want a list of 4 numbers`},
	{`positions = [[15.0`, `area = [0.0, 0.0, 10.0, 10.0]
count = 2
positions = [[15.0`, `dock.toml:51:1: groups[2].area: stands beside positions, want either of the two
dock.toml:52:9: groups[2].count: stands beside the places themselves, want a count alone, or rows and columns, or positions`},
	{`positions = [[15.0, 5.0, 90.0, 3.0]`, `positions = [[15.0, 5.0, 90.0, 6.5]`, `dock.toml:51:32: groups[2].positions[0][3]: is 6.5, want a length above 0 and up to 6 m`},
	{`count = 7`, `count = 0`, `dock.toml:45:9: groups[1].count: is 0, want a whole number from 1 to 100000`},
	{`count = 7`, `count = 7.5`, `dock.toml:45:9: groups[1].count: is 7.5, want a whole number from 1 to 100000`},
	{`mounting_height = 4.0
count = 7`, `count = 7`, `dock.toml:40:3: groups[1].mounting_height: is missing, want the height of the lamps above the floor`},
	{`mounting_height = 4.0
count = 7`, `mounting_height = 0.5
count = 7`, `dock.toml:44:19: groups[1].mounting_height: is not above the work plane, want more than 0.8`},
	{`lamps_along = "width"`, `lamps_along = "up"`, `dock.toml:46:15: groups[1].lamps_along: "up" is not known, want one of length, width`},
	{`failed = [3, 8]`, `failed = 9`, `dock.toml:33:10: groups[0].failed: is 9, and the group has 8 luminaires, want no more than these`},
	{`failed = [3, 8]`, `failed = [3, 9]`, `dock.toml:33:14: groups[0].failed[1]: is 9, and the group has 8 luminaires, want no more than these`},
	{`failed = [3, 8]`, `failed = [0, 3, 3, 9]`, `dock.toml:33:11: groups[0].failed[0]: is 0, want numbers from 1, in the order of positions, or along x and then row by row
dock.toml:33:17: groups[0].failed[2]: is 3 a second time, want each once
dock.toml:33:20: groups[0].failed[3]: is 9, and the group has 8 luminaires, want no more than these`},
	{`failed = [3, 8]`, `failed = -1`, `dock.toml:33:10: groups[0].failed: is -1, want a whole number from 0 to 100000`},
	{`failed = [3, 8]
`, ``, `dock.toml:24:3: groups[0].failed: is missing, want how many of the existing luminaires give no light, beside failed_watts`},
	{`failed_watts = 12.0`, `failed_watts = -1`, `dock.toml:34:16: groups[0].failed_watts: is -1, want a number from 0 to 100000`},
	{`failed_watts = 12.0`, `failed_watts = 200`, `dock.toml:34:16: groups[0].failed_watts: is more than the 112 W of one that is lit, want what the ballast of a failed luminaire still draws`},
	{`positions = [[15.0`, `failed = 1
positions = [[15.0`, `dock.toml:51:10: groups[2].failed: stands with a group that has no existing luminaires, want a group that has some`},
	{`hours_per_year = 6000.0`, `hours_per_year = 9000.0`, `dock.toml:35:18: groups[0].hours_per_year: is 9000, want a number from 0 to 8784`},
	{`control = "occupancy"`, `control = "sensor"`, `dock.toml:36:11: groups[0].control: "sensor" is not known, want one of none, occupancy, daylight, dimming, schedule`},
	{`control = "occupancy"
`, ``, `dock.toml:36:18: groups[0].control_saving: stands without a control, want control = "occupancy", "daylight", "dimming" or "schedule" beside it`},
	{`control = "occupancy"`, `control = "none"`, `dock.toml:37:18: groups[0].control_saving: stands without a control, want control = "occupancy", "daylight", "dimming" or "schedule" beside it`},
	{`control_saving = 0.45`, `control_saving = 1.2`, `dock.toml:37:18: groups[0].control_saving: is 1.2, want a number from 0 to 0.99`},
	{`count = 7`, `count = 7
control = "daylight"
control_saving = 0.2`, `dock.toml:46:11: groups[1].control: stands with a group that has no proposed luminaires, want a group that has some`},
	{`count = 7`, `count = 7
dimmed_to = 0.5`, `dock.toml:46:13: groups[1].dimmed_to: stands with a group that has no proposed luminaires, want a group that has some`},
	{`dimmed_to = 0.8`, `dimmed_to = 0`, `dock.toml:38:13: groups[0].dimmed_to: is 0, want a number from 0.01 to 1`},
	{`dimmed_to = 0.8
`, ``, `dock.toml:24:3: groups[0].dimmed_to: is missing, want at what share of their light the luminaires are set, beside dimmed_watts`},
	{`dimmed_watts = 80.0`, `dimmed_watts = 113`, `dock.toml:39:16: groups[0].dimmed_watts: is more than the 112 W at full output, want what one luminaire draws when it is dimmed`},
	{`dimmed_watts = 80.0`, `dimmed_watts = 0`, `dock.toml:39:16: groups[0].dimmed_watts: is 0, want a number from 0.001 to 100000`},
	{`[upkeep]`, `[egress]
luminaires = [1]
grid = "work plane"
[uncertainty]
[upkeep]`, `dock.toml:54:1: egress.luminaires: stands in a job with groups, want [groups.egress] of the group in which they hang, with their numbers there`},
	{`name = "bench"
existing = "none"`, `name = "bench"
existing = "none"
replacement = "tub"`, `dock.toml:50:15: groups[2].replacement: "tub" is not known, want one of strip, tube, none (tube?)`},
}

// A job of kinds and groups has a part in each system for every group that hangs there.
func TestGroups(t *testing.T) {
	j := read(t, grouped)
	assert.Equal(t, []string{"dock", "shop", "bench"}, j.Groups)
	require.Len(t, j.Existing.Parts, 2)
	require.Len(t, j.Proposed.Parts, 2)
	dock, shop, bench := j.Existing.Find("dock"), j.Existing.Find("shop"), j.Proposed.Find("bench")
	assert.Nil(t, j.Proposed.Find("shop"), "taken down")
	assert.Nil(t, j.Existing.Find("bench"))
	assert.Equal(t, []string{"strip", "strip", "tube", "tube"}, []string{dock.Kind, shop.Kind, bench.Kind, j.Proposed.Parts[0].Kind})
	assert.Equal(t, 15, j.Existing.Number())
	assert.Equal(t, 10, j.Proposed.Number())
	assert.False(t, j.OneKind())

	assert.Equal(t, room.Vec{X: 1.25, Y: 2.5, Z: 5}, dock.Layout.Placements[0].Position, "half a spacing from the sides of its area")
	assert.Zero(t, dock.Layout.Rows, "not those of the room")
	assert.Equal(t, room.Placement{Position: room.Vec{X: 15, Y: 5, Z: 3}, Rotation: radians(90)}, bench.Layout.Placements[0])
	assert.Len(t, shop.Layout.Placements, 7)
	assert.Contains(t, j.Defaults, job.Default{Key: "groups[1].rows", Value: "1", Reason: "with columns = 7: a count alone is spread evenly over the room, assumed: give rows and columns, or positions, where they hang"})

	assert.Equal(t, []int{2, 7}, dock.Use.Failed)
	assert.Len(t, dock.Lit(), 6)
	assert.Equal(t, dock.Layout.Placements[7], dock.Dark()[1])
	assert.Equal(t, 6*112.0+2*12, dock.Watts())
	assert.Equal(t, 8*112.0, dock.AllLitWatts())
	assert.Equal(t, 6000.0, dock.HoursBurnt(j))
	after := j.Proposed.Find("dock")
	assert.Empty(t, after.Use.Failed, "they are lit again")
	assert.Equal(t, 8*80.0, after.Watts())
	assert.Equal(t, 8*112.0, after.ConnectedWatts())
	assert.Equal(t, 0.8, after.Output())
	assert.InEpsilon(t, 3300.0, after.HoursBurnt(j), rounding)
	assert.Equal(t, 4000.0, shop.HoursBurnt(j))
	assert.Equal(t, 3.0, after.Costs.LampPrice)
	assert.InEpsilon(t, (8*5+7*4)/15.0, j.Existing.Layout.MountingHeight, rounding, "alike in lumens")
	assert.Equal(t, []string{"groups[2]: the luminaires hang at heights from 3 to 3.5 m: the lumen method takes their mean, 3.25, and a pitched ceiling counts as flat, at the room's height of 6"}, j.Warnings)
}

// What is left out of a group is listed.
func TestGroupDefaults(t *testing.T) {
	j := read(t, replaced(t, grouped, "failed = [3, 8]\nfailed_watts = 12.0\n", "failed = 3\n", "control_saving = 0.45\n", "", "dimmed_watts = 80.0\n", "", "name = \"shop\"\n", "",
		"work_plane = 0.8", "work_plane = 0.8\nspace = \"office-open\"", "[kinds.tube.costs]", "[kinds.spare]\nphotometry = \"strip.ies\"\nlamps = 1\n[kinds.tube.costs]"))
	want := map[string]string{"groups[0].failed": "[2, 5, 7]", "groups[0].failed_watts": "0", "groups[0].control_saving": "0", "groups[0].dimmed_watts": "89.6", "groups[1].name": `"group 2"`}
	for _, d := range j.Defaults {
		if value, ok := want[d.Key]; ok {
			assert.Equal(t, value, d.Value, d.Key)
			delete(want, d.Key)
		}
		if d.Key == "groups[0].control_saving" {
			assert.Contains(t, d.Reason, "no saving is taken that the job does not give; a model counts", "and its source")
		}
	}
	assert.Empty(t, want)
	assert.Equal(t, []int{1, 4, 6}, j.Existing.Find("dock").Use.Failed)
	assert.Contains(t, j.Warnings, "kinds.spare: counts for nothing: no group is of this kind")
}

// A group without a kind of its own in the replacement is as proposed there; a system of one group alone is that group.
func TestGroupsOfAReplacement(t *testing.T) {
	j := read(t, replaced(t, grouped, "name = \"bench\"\nexisting = \"none\"", "name = \"bench\"\nexisting = \"none\"\nreplacement = \"none\""))
	require.NotNil(t, j.Replacement)
	assert.Nil(t, j.Replacement.Parts)
	assert.Equal(t, "dock", j.Replacement.Group)
	assert.Equal(t, "tube", j.Replacement.Kind)
	assert.Contains(t, keysOf(j), "groups[0].replacement")
	assert.Len(t, j.Kinds(), 5)
	j = read(t, replaced(t, grouped, "name = \"bench\"\n", "name = \"bench\"\nreplacement = \"none\"\n")+"[[rebates]]\nper = \"kw\"\namount = 1\n")
	assert.Contains(t, j.Warnings, "rebates: they count for the proposed system; what is paid for the replacement is rebate in [costs.replacement]")
}

// What a tube takes over from the lamp before it, it takes where all its groups have the same; else the job must say, whatever the groups' order.
func TestWhatAKindTakesOver(t *testing.T) {
	const (
		kinds = `units = "metric"
room = { length = 20.0, width = 10.0, height = 6.0 }
[kinds]
long = { fixture = "strip-4in", lamp = "F96T12", lamps = 2, ballast = "magnetic" }
short = { fixture = "strip-4in", lamp = "F40T12", lamps = 2, ballast = "magnetic" }
tube = { fixture = "strip-4in", lamp_kind = "led", led_type = "A", lamp_lumens = 2000.0, lamp_watts = 15.0, lamps = 2, ballast = "magnetic" }
`
		long  = "[[groups]]\nexisting = \"long\"\nproposed = \"tube\"\nmounting_height = 5.0\ncount = 4\n"
		short = "[[groups]]\nexisting = \"short\"\nproposed = \"tube\"\nmounting_height = 5.0\ncount = 4\n"
		added = "[[groups]]\nexisting = \"none\"\nproposed = \"tube\"\nmounting_height = 5.0\ncount = 4\n"
		stays = "[[groups]]\nexisting = \"long\"\nproposed = \"long\"\nmounting_height = 5.0\ncount = 4\n"
	)
	for inches, groups := range map[float64][]string{96: {long, long + long, stays + long}, 48: {short, short + stays}} {
		for _, text := range groups {
			var tube *job.System
			for _, s := range read(t, kinds+text).Proposed.Kinds() {
				if s.Kind == "tube" {
					tube = s
				}
			}
			require.NotNil(t, tube)
			require.NotNil(t, tube.Ballast, text)
			assert.InEpsilon(t, inches*photometry.Inch, tube.Lamp.NominalLength, rounding, text)
		}
	}
	for _, text := range []string{long + short, short + long, long + added, added + long} {
		_, err := shelf.Read("dock.toml", []byte(kinds+text), open)
		assert.ErrorContains(t, err, `kinds.tube.ballast: "magnetic" may be a ballast for`, text)
	}
}

// One group that fills a room is what a layout is.
func TestOneGroupIsALayout(t *testing.T) {
	one := replaced(t, sound, "[layout]\nmounting_height = 5.0\nrows = 2\ncolumns = 4\nlamps_along = \"length\"\n", "", "[existing]", "[kinds.a]", "[proposed]", "[kinds.b]",
		"[upkeep]", "[[groups]]\nname = \"all\"\nexisting = \"a\"\nproposed = \"b\"\nmounting_height = 5.0\nrows = 2\ncolumns = 4\nlamps_along = \"length\"\n[upkeep]")
	a, b := read(t, sound), read(t, one)
	assert.True(t, b.OneKind())
	b.Existing.Kind, b.Proposed.Kind = "", ""
	b.Existing.Lamp, b.Proposed.Lamp = a.Existing.Lamp, a.Proposed.Lamp // figures that are NaN equal nothing
	assert.Equal(t, a.Existing, b.Existing)
	assert.Equal(t, a.Proposed, b.Proposed)
}

// All luminaires of several kinds may hang at the ceiling: their mean is no hair above it, whatever the numbers.
func TestGroupsAtTheCeiling(t *testing.T) {
	for mm := 1400; mm < 4000; mm += 13 {
		height := strconv.FormatFloat(float64(mm)/1000, 'f', -1, 64)
		j := read(t, replaced(t, grouped, "height = 6.0", "height = "+height, "mounting_height = 5.0", "mounting_height = "+height, "mounting_height = 4.0",
			"mounting_height = "+height, "[[15.0, 5.0, 90.0, 3.0], [16.0, 5.0, 0.0, 3.5]]", "[[15.0, 5.0, 90.0, "+height+"], [16.0, 5.0, 0.0, "+height+"]]"))
		for _, s := range j.Systems() {
			require.Equal(t, j.Room.Height, s.Layout.MountingHeight, "%s m", height)
		}
	}
}
