package job_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/diag"
	"lampswap/photometry/job"
	"lampswap/photometry/losses"
)

// wrongKeys are mistakes in what a job is made of.
var wrongKeys = []wrong{
	{`title = "bay"`, `title = 7`, `dock.toml:1:9: title: is 7, want a text in quotes`},
	{`title = "bay"`, `titel = "bay"`, `dock.toml:1:9: titel: is not a known key, want title, perhaps`},
	{`title = "bay"`, `groups = 7
title = "bay"`, `dock.toml:1:1: kinds: is missing, want tables [kinds.NAME] of the luminaires, as [existing] would have them
dock.toml:1:10: groups: is 7, want one or more tables, [[groups]]
dock.toml:10:2: layout: stands beside [kinds] and [[groups]], want either of the two: a kind has what [layout] would have, and a group says where it hangs
dock.toml:20:2: existing: stands beside [kinds] and [[groups]], want either of the two: a kind has what [existing] would have, and a group says where it hangs
dock.toml:26:2: proposed: stands beside [kinds] and [[groups]], want either of the two: a kind has what [proposed] would have, and a group says where it hangs`},
	{`"metric"`, `"metre"`, `dock.toml:2:9: units: "metre" is not known, want one of imperial, metric (metric?)`},
	{"[room]", "[rooms]", `dock.toml:1:1: room: is missing, want a table [room]: the room's length, width and height
dock.toml:3:2: rooms: is not a known key, want room, perhaps`},
	{`length = 20.0
`, ``, `dock.toml:3:2: room.length: is missing, want the room's length`},
	{`length = 20.0`, `length = "20"`, `dock.toml:4:10: room.length: is the text "20", want a number: a length above 0 and up to 3000 m`},
	{`length = 20.0`, `length = 0`, `dock.toml:4:10: room.length: is 0, want a length above 0 and up to 3000 m`},
	{`length = 20.0`, `length = 1e-300`, `dock.toml:4:10: room.length: is too little for a room, want at least 0.1`},
	{`width = 10.0`, `width = 4000`, `dock.toml:5:9: room.width: is 4000, want a length above 0 and up to 3000 m`},
	{`height = 6.0`, `height = 101`, `dock.toml:6:10: room.height: is 101, want a length above 0 and up to 100 m`},
	{`work_plane = 0.8`, `work_plane = -0.1`, `dock.toml:7:14: room.work_plane: is -0.1, want 0 or a length above 0 and up to 6 m`},
	{`work_plane = 0.8`, `work_plane = 7.0`, `dock.toml:7:14: room.work_plane: is 7, want 0 or a length above 0 and up to 6 m`},
	{`ceiling = 0.7`, `ceiling = 1.5`, `dock.toml:8:27: room.reflectance.ceiling: is 1.5, want a number from 0 to 0.99`},
	{`ceiling = 0.7`, `cieling = 0.7`, `dock.toml:8:27: room.reflectance.cieling: is not a known key, want ceiling, perhaps`},
	{`reflectance = { ceiling = 0.7, walls = 0.5, floor = 0.2 }`, `reflectance = 0.5`, `dock.toml:8:15: room.reflectance: is 0.5, want a table, [room.reflectance]`},
	{`mounting_height = 5.0
`, ``, `dock.toml:9:2: layout.mounting_height: is missing, want the height of the lamps above the floor`},
	{`mounting_height = 5.0`, `mounting_height = 6.1`, `dock.toml:10:19: layout.mounting_height: is 6.1, want a length above 0 and up to 6 m`},
	{`mounting_height = 5.0`, `mounting_height = 0.8`, `dock.toml:10:19: layout.mounting_height: is not above the work plane, want more than 0.8`},
	{`mounting_height = 5.0
rows = 2
columns = 4`, `mounting_height = 2.5
rows = 7
columns = 4`, `dock.toml:10:19: layout.mounting_height: puts luminaire 9 inside a rack 3 high, want luminaires above the racks or between them`},
	{`rows = 2`, `rows = 2.0`, `dock.toml:11:8: layout.rows: is 2 with a decimal point, want a whole number from 1 to 1000`},
	{`rows = 2`, `rows = 0`, `dock.toml:11:8: layout.rows: is 0, want a whole number from 1 to 1000`},
	{`rows = 2
columns = 4
`, ``, `dock.toml:9:2: layout.rows: is missing, want how many rows of luminaires, or positions = [[x, y], ...]
dock.toml:9:2: layout.columns: is missing, want how many columns of luminaires, or positions = [[x, y], ...]`},
	{`rows = 2
columns = 4`, `rows = 1000
columns = 101`, `dock.toml:11:8: layout.rows: makes 101000 luminaires, want at most 100000`},
	{`rows = 2
columns = 4`, `postions = [[1, 2]]`, `dock.toml:9:2: layout.rows: is missing, want how many rows of luminaires, or positions = [[x, y], ...]
dock.toml:9:2: layout.columns: is missing, want how many columns of luminaires, or positions = [[x, y], ...]
dock.toml:11:1: layout.postions: is not a known key, want positions, perhaps`},
	{`rows = 2`, `rows = 2
positions = [[1, 2]]`, `dock.toml:11:8: layout.rows: stands beside positions, want either rows and columns or positions
dock.toml:13:11: layout.columns: stands beside positions, want either rows and columns or positions`},
	{`rows = 2
columns = 4`, `positions = []`, `dock.toml:11:1: layout.positions: is a list of 0, want a list of 1 to 100000 lists of numbers`},
	{`rows = 2
columns = 4`, `positions = [[1.0, 2.0], [21.0, 2.0, 90.0], [1.0, -2.0], [1.0]]`, `dock.toml:11:27: layout.positions[1][0]: is 21, want a place in the room, from 0 to 20
dock.toml:11:51: layout.positions[2][1]: is -2, want a place in the room, from 0 to 10
dock.toml:11:59: layout.positions[3]: is a list of 1, want a list of 2 to 4 numbers`},
	{`rows = 2
columns = 4`, `positions = [[1.0, 2.0, 400.0]]`, `dock.toml:11:25: layout.positions[0][2]: is 400, want a number from -360 to 360`},
	{`mounting_height = 5.0
rows = 2
columns = 4`, `positions = [[1.0, 2.0, 0.0, 6.5], [1.0, 3.0, 0.0, 0.8], [1.0, 4.0, 90.0]]`, `dock.toml:9:2: layout.mounting_height: is missing, want the height of the lamps above the floor
dock.toml:10:30: layout.positions[0][3]: is 6.5, want a length above 0 and up to 6 m`},
	{`mounting_height = 5.0
rows = 2
columns = 4`, `positions = [[1.0, 2.0, 0.0, 0.5], [1.0, 3.0, 0.0, 0.8]]`, `dock.toml:10:30: layout.positions[0][3]: is not above the work plane, want more than 0.8
dock.toml:10:52: layout.positions[1][3]: is not above the work plane, want more than 0.8`},
	{`rows = 2
columns = 4`, `positions = [[1.0, 2.0], [3.0, 3.5, 0.0, 2.5]]`, `dock.toml:11:1: layout.positions: puts luminaire 2 inside a rack 3 high, want luminaires above the racks or between them`},
	{`lamps_along = "length"`, `lamps_along = "lengt"`, `dock.toml:13:15: layout.lamps_along: "lengt" is not known, want one of length, width (length?)`},
	{`[layout]
`, `[layouts]
`, `dock.toml:9:2: layouts: is not a known key, want layout, perhaps
dock.toml:19:2: existing.layout: is missing, want a table [layout] for both systems, or one of its own here
dock.toml:25:2: proposed.layout: is missing, want a table [layout] for both systems, or one of its own here`},
	{`corner = [2.0, 3.0]
`, ``, `dock.toml:14:3: racks[0].corner: is missing, want [x, y] of the corner nearest the origin`},
	{`corner = [2.0, 3.0]`, `corner = [2.0]`, `dock.toml:15:1: racks[0].corner: is a list of 1, want a list of 2 numbers`},
	{`corner = [2.0, 3.0]`, `corner = [2.0, 7.0]`, `dock.toml:15:1: racks[0].corner: puts rack 2 of 2 outside the room, want racks that stand inside it`},
	{`corner = [2.0, 3.0]`, `corner = [-2.0, 3.0]`, `dock.toml:15:11: racks[0].corner[0]: is -2, want a number of at least 0`},
	{`size = [10.0, 1.0, 3.0]
`, ``, `dock.toml:14:3: racks[0].size: is missing, want [along x, along y, height]`},
	{`size = [10.0, 1.0, 3.0]`, `size = [10.0, 0.0, 3.0]`, `dock.toml:16:15: racks[0].size[1]: is 0, want a number above 0`},
	{`size = [10.0, 1.0, 3.0]`, `size = [10.0, 0.0009, 3.0]`, `dock.toml:16:1: racks[0].size: has a side that is next to nothing, want sides of at least 0.001 m (1 mm)`},
	{`size = [10.0, 1.0, 3.0]`, `size = [10.0, 1.0, 6.1]`, `dock.toml:16:1: racks[0].size: is higher than the room, want a height of at most 6`},
	{`reflectance = 0.3
`, `reflectance = 1.0
transmittance = 1.1
`, `dock.toml:17:15: racks[0].reflectance: is 1, want a number from 0 to 0.99
dock.toml:18:17: racks[0].transmittance: is 1.1, want a number from 0 to 1`},
	{`count = 2, `, ``, `dock.toml:18:10: racks[0].repeat.count: is missing, want how many racks, the first counted in`},
	{`count = 2, step = [0.0, 3.0]`, `count = 0`, `dock.toml:18:10: racks[0].repeat.step: is missing, want [x, y] from one rack to the next
dock.toml:18:20: racks[0].repeat.count: is 0, want a whole number from 1 to 10000`},
	{`count = 2, step = [0.0, 3.0]`, `count = 2, step = [0.0]`, `dock.toml:18:23: racks[0].repeat.step: is a list of 1, want a list of 2 numbers`},
	{`count = 2, step = [0.0, 3.0]`, `count = 2, step = [0.0, 0.0]`, `dock.toml:18:23: racks[0].repeat.step: is no step at all, want [x, y] from one rack to the next`},
	{`[existing]
`, `[[racks]]
corner = [0.0, 0.0]
size = [1.0, 1.0, 1.0]
repeat = { count = 9999, step = [0.0, 1e-4] }
[existing]
`, `dock.toml:22:10: racks[1].repeat: makes more than 10000 racks, want fewer`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
`, `dock.toml:19:2: existing.photometry: is missing, want an LM-63 file beside the job file, or fixture = one of industrial-slotted, industrial-solid, strip-4in, strip-5in, strip-reflector, wraparound`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
photometry = "stripe.ies"
`, `dock.toml:20:14: existing.photometry: "stripe.ies" cannot be read (file does not exist), want an LM-63 file beside the job file`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
photometry = "dark.ies"
`, `dock.toml:20:14: existing.photometry: "dark.ies" sends out no light, want a luminaire that does`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
photometry = "broken.ies"
`, `broken.ies:8:6: candela: "17OO" is not a number, want a number`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
photometry = "strip.ies"
fixture = "strip-4in"
`, `dock.toml:21:11: existing.fixture: stands beside photometry, want one of the two`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
fixture = "strip-4"
`, `dock.toml:20:11: existing.fixture: "strip-4" is not a built-in fixture, want strip-4in, perhaps; a section file NAME.toml beside the job, or one of industrial-slotted, industrial-solid, strip-4in, strip-5in, strip-reflector, wraparound`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
fixture = "none.toml"
`, `dock.toml:20:11: existing.fixture: "none.toml" cannot be read (file does not exist), want a section file beside the job file`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
fixture = "bad.toml"
`, `bad.toml:11:15: surfaces[0].reflectance: 1.85 is out of range, want 0 to 0.99`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
fixture = "strip-4in"
end_to_end = 3
`, `dock.toml:23:9: existing.lamps: 4 lamps do not make equal rows of 3 end to end, want a multiple of it, or end_to_end`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
fixture = "strip-4in"
end_to_end = 1
`, `dock.toml:20:11: existing.fixture: strip-4in: lamps across 4, want one of [1 2]`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
photometry = "strip.ies"
end_to_end = 2
`, `dock.toml:21:14: existing.end_to_end: is not a known key, want one of ballast, ballast_factor, beam_angle, cct, costs, cri, fixture, input_watts, lamp, lamp_diameter, lamp_kind, lamp_length, lamp_lumens, lamp_watts, lamps, layout, led_type, losses, maintenance_category, mean_lumens, minimum_temperature, photometry, rated_life_hours, temperature_points, upkeep`},
	{`[existing]
photometry = "strip.ies"
lamp = "F32T8/700"
lamps = 4
ballast = "is-normal"
`, `[existing]
fixture = "strip-4in"
`, `dock.toml:19:2: existing.lamps: is missing, want how many lamps one luminaire has
dock.toml:19:2: existing.lamp: is missing, want a lamp of ` + "`" + `lampswap lamps` + "`" + `, or lamp_lumens
dock.toml:19:2: existing.ballast_factor: is missing, want from the ballast's label, or a ballast of ` + "`" + `lampswap lamps NAME` + "`" + `
dock.toml:19:2: existing.input_watts: is missing, want from the ballast's label, or a ballast of ` + "`" + `lampswap lamps NAME` + "`" + ``},
	{`"F32T8/700"`, `"F32T8"`, `dock.toml:21:8: existing.lamp: "F32T8" is not in the lamp list, want F32T8/700 or F32T8/800 or F32T8/HL`},
	{`"F32T8/700"`, `"F32T8/701"`, `dock.toml:21:8: existing.lamp: "F32T8/701" is not in the lamp list, want F32T8/700, perhaps; a lamp of ` + "`" + `lampswap lamps` + "`" + `, or lamp_lumens`},
	{`"F32T8/700"`, `"candle"`, `dock.toml:21:8: existing.lamp: "candle" is not in the lamp list, want a lamp of ` + "`" + `lampswap lamps` + "`" + `, or lamp_lumens`},
	{`lamp = "F32T8/700"
`, ``, `dock.toml:22:11: existing.ballast: "is-normal" is named without a lamp of the list, or one of its watts, length and diameter, want one of these too, or ballast_factor and input_watts`},
	{`lamps = 4
ballast =`, `lamps = 101
ballast =`, `dock.toml:22:9: existing.lamps: is 101, want a whole number from 1 to 100`},
	{`"is-normal"`, `"is-norml"`, `dock.toml:23:11: existing.ballast: "is-norml" is not in the ballast list for 4 x F32T8/700, want one of is-normal, is-low, is-high, premium-normal, premium-low, premium-high, ps-normal, ps-low, or ballast_factor and input_watts from the ballast's label`},
	{`lamps = 4
ballast = "is-normal"`, `lamps = 5
ballast = "magnetic"`, `dock.toml:23:11: existing.ballast: "magnetic" is not in the ballast list for 5 x F32T8/700, want one of is-normal, is-low, is-high, ps-normal, ps-low, or ballast_factor and input_watts from the ballast's label`},
	{`maintenance_category = "III"
[proposed]`, `maintenance_category = "VII"
[proposed]`, `dock.toml:24:24: existing.maintenance_category: "VII" is not known, want one of I, II, III, IV, V, VI (II?)`},
	{`lamp_lumens = 2800.0`, `lamp_lumens = 0.0`, `dock.toml:28:15: proposed.lamp_lumens: is 0, want a number from 0.001 to 1000000`},
	{`ballast_factor = 0.88`, `ballast_factor = 2.1`, `dock.toml:29:18: proposed.ballast_factor: is 2.1, want a number from 0.1 to 2`},
	{`input_watts = 112.0`, `input_watts = -112.0`, `dock.toml:30:15: proposed.input_watts: is -112, want a number from 0.001 to 100000`},
	{`photometry = "strip.ies"
lamps = 4
lamp_lumens = 2800.0
ballast_factor = 0.88
input_watts = 112.0
`, `photometry = "watts.ies"
`, `dock.toml:25:2: proposed.input_watts: is missing, want the watts of one luminaire; the photometric file does not tell them`},
	{`lamp_lumen_depreciation = 0.9`, `lamp_lumen_depreciation = 0.0, total = 1.6, dirt = 1.0`, `dock.toml:32:38: proposed.losses.lamp_lumen_depreciation: is 0, want a number from 0.001 to 1.5
dock.toml:32:51: proposed.losses.total: is 1.6, want a number from 0.001 to 1.5
dock.toml:32:63: proposed.losses.dirt: is not a known key, want one of lamp_burnout, lamp_lumen_depreciation, luminaire_dirt_depreciation, other, room_surface_dirt_depreciation, temperature, total, voltage`},
	{`hours_per_year = 4000.0`, `hours_per_year = 9000.0`, `dock.toml:34:18: upkeep.hours_per_year: is 9000, want a number from 0 to 8784`},
	{`relamp_hours = 16000.0`, `relamp_hours = 0.0`, `dock.toml:35:16: upkeep.relamp_hours: is 0, want a number from 1 to 200000`},
	{`relamp_hours = 16000.0`, `judged_at = "middle"`, `dock.toml:35:13: upkeep.judged_at: "middle" is not known, want "mid-life", "end", or a number of hours burnt, the same for all lamps, 0 or more`},
	{`relamp_hours = 16000.0`, `judged_at = -1`, `dock.toml:35:13: upkeep.judged_at: is -1, want "mid-life", "end", or a number of hours burnt, the same for all lamps, 0 or more`},
	{`relamp_hours = 16000.0`, `judged_at = true`, `dock.toml:35:13: upkeep.judged_at: is true, want "mid-life", "end", or a number of hours burnt, the same for all lamps, 0 or more`},
	{`relamp_hours = 16000.0`, `judged_at = 250001`, `dock.toml:35:13: upkeep.judged_at: is more than 10 rated lives (F32T8/700 of 20,000 h), want hours that such lamps may burn`},
	{"[upkeep]\nhours", "[existing.upkeep]\nrelamp_hours = 0\n[upkeep]\nhours", `dock.toml:34:16: existing.upkeep.relamp_hours: is 0, want a number from 1 to 200000`},
	{"[upkeep]\nhours", "[proposed.upkeep]\nclean_months = -3\n[upkeep]\nhours", `dock.toml:34:16: proposed.upkeep.clean_months: is -3, want 0 or a number from 0.01 to 240`},
	{"[upkeep]\nhours", "[existing.upkeep]\nhours_per_year = 3000\n[upkeep]\nhours", `dock.toml:34:18: existing.upkeep.hours_per_year: is not a known key, want one of clean_months, relamp_hours`},
	{`clean_months = 24.0`, `clean_months = -1.0`, `dock.toml:36:16: upkeep.clean_months: is -1, want 0 or a number from 0.01 to 240`},
	{`"clean"`, `"tidy"`, `dock.toml:37:14: upkeep.atmosphere: "tidy" is not known, want one of very-clean, clean, medium, dirty, very-dirty`},
	{`ambient_temperature = 20.0`, `ambient_temperature = 90.0`, `dock.toml:38:23: upkeep.ambient_temperature: is 90, want a number from -50 to 80`},
	{`[calculation]
spacing = 0.5`, `[calculation]
spacing = 0.0`, `dock.toml:40:11: calculation.spacing: is 0, want a length above 0 and up to 3000 m`},
	{`[calculation]
spacing = 0.5`, `[calculation]
spacing = 0.001`, `dock.toml:40:11: calculation.spacing: makes a grid of 200000000 points, want at most 10000000`},
	{"[calculation]\nspacing = 0.5\n", "[[racks]]\ncorner = [9.0, 4.5]\nsize = [2.0, 1.0, 3.0]\n[calculation]\nspacing = 20.0\n",
		`dock.toml:43:11: calculation.spacing: puts every point of the work plane inside racks, want a narrower one, with points in the aisles`},
	{`interreflection = false`, `interreflection = "no"`, `dock.toml:41:19: calculation.interreflection: is the text "no", want true or false`},
	{`name = "north face"
`, `name = "work plane"
`, `dock.toml:43:8: grids[0].name: "work plane" is taken, want a name of its own for each grid`},
	{`name = "north face"
`, `name = "dock"
`, `dock.toml:50:8: grids[1].name: "dock" is taken, want a name of its own for each grid`},
	{`from = [2.0, 4.0]
to = [12.0, 4.0]
heights = [0.2, 2.9]
facing = 90.0
`, ``, `dock.toml:42:3: grids[0].from: is missing, want [x, y] in plan
dock.toml:42:3: grids[0].to: is missing, want [x, y] in plan
dock.toml:42:3: grids[0].heights: is missing, want [lowest, highest]
dock.toml:42:3: grids[0].facing: is missing, want the azimuth of the side that receives light, degrees counter-clockwise from +x`},
	{`from = [2.0, 4.0]`, `from = [2.0, 11.0]`, `dock.toml:44:14: grids[0].from[1]: is 11, want a place in the room, from 0 to 10`},
	{`to = [12.0, 4.0]`, `to = [2.0, 4.0]`, `dock.toml:45:1: grids[0].to: is the same point as from, want the other end of the line`},
	{`heights = [0.2, 2.9]`, `heights = [2.9, 0.2]`, `dock.toml:46:1: grids[0].heights: do not rise, want [lowest, highest]`},
	{`heights = [0.2, 2.9]`, `heights = [0.2, 6.9]`, `dock.toml:46:17: grids[0].heights[1]: is 6.9, want a place in the room, from 0 to 6`},
	{`facing = 90.0`, `facing = 80.0`, `dock.toml:47:10: grids[0].facing: is 80, want square to the line from the first point to the other`},
	{`facing = 90.0`, `facing = 400.0`, `dock.toml:47:10: grids[0].facing: is 400, want a number from -360 to 360`},
	{`facing = 90.0
spacing = 0.5`, `facing = 90.0
spacing = 0.001`, `dock.toml:48:11: grids[0].spacing: makes a grid of 27000000 points, want at most 10000000`},
	{`height = 1.0
`, `height = 1.0
quantity = "round"
`, `dock.toml:53:12: grids[1].quantity: "round" is not known, want one of horizontal, vertical, cylindrical`},
	{`height = 1.0
`, `height = 1.0
quantity = "vertical"
`, `dock.toml:49:3: grids[1].facing: is missing, want the azimuth of the side that receives light, degrees counter-clockwise from +x`},
	{`height = 1.0
`, `height = 7.0
quantity = "cylindrical"
facing = 90.0
`, `dock.toml:52:10: grids[1].height: is 7, want a place in the room, from 0 to 6
dock.toml:54:10: grids[1].facing: stands with cylindrical illuminance on an area, want no facing; quantity = "vertical" for surfaces that face one way`},
	{`facing = 90.0
`, `facing = 90.0
quantity = "cylindrical"
`, `dock.toml:48:12: grids[0].quantity: "cylindrical" stands beside a line and its heights, want "vertical", or area and height in place of from, to and heights`},
	{`area = [14.0, 2.0, 18.0, 8.0]
`, ``, `dock.toml:49:3: grids[1].area: is missing, want [x, y, x, y] of two opposite corners`},
	{`area = [14.0, 2.0, 18.0, 8.0]`, `area = [14.0, 2.0, 14.0, 8.0]`, `dock.toml:51:1: grids[1].area: has no extent, want two corners that differ in x and in y`},
	{`area = [14.0, 2.0, 18.0, 8.0]`, `area = [14.0, 2.0, 18.0, 18.0]`, `dock.toml:51:26: grids[1].area[3]: is 18, want a place in the room, from 0 to 10`},
	{`[[criteria]]
level`, `[[observers]]
at = [3.0, 3.5]
looking = 90.0
[[observers]]
name = "observer 1"
at = [21.0, 3.5]
height = 7.0
looking = "north"
[[observers]]
height = 1.7
[[observers]]
at = [1.0, 1.0, 1.2]
looking = nan
[[criteria]]
level`, `dock.toml:55:1: observers[0].at: is in a rack 1.2 above the floor, want a place in an aisle, or a height above the rack
dock.toml:58:8: observers[1].name: "observer 1" is taken, want a name of its own for each observer
dock.toml:59:7: observers[1].at[0]: is 21, want a place in the room, from 0 to 20
dock.toml:60:10: observers[1].height: is 7, want a place in the room, from 0 to 6
dock.toml:61:11: observers[1].looking: is the text "north", want a number from -360 to 360
dock.toml:62:3: observers[2].at: is missing, want [x, y] in plan
dock.toml:62:3: observers[2].looking: is missing, want the azimuth of the line of sight, degrees counter-clockwise from +x
dock.toml:65:1: observers[3].at: is a list of 3, want a list of 2 numbers
dock.toml:66:11: observers[3].looking: is NaN, want a number from -360 to 360`},
	{`statistic = "average"
at_least = 200.0`, `statistic = "ugr"
at_least = 200.0`, `dock.toml:59:8: criteria[1].grid: "dock" stands beside ugr, want no grid: it is of the observers
dock.toml:61:12: criteria[1].at_least: is 200, want a number from 5 to 40`},
	{`grid = "dock"
statistic = "average"
at_least = 200.0`, `statistic = "ugr"
at_least = 22.0`, `dock.toml:60:12: criteria[1].at_least: stands with ugr, of which less is better, want at_most`},
	{`grid = "dock"
statistic = "average"
at_least = 200.0`, `statistic = "cri"
at_most = 80.0`, `dock.toml:60:11: criteria[1].at_most: stands with cri, of which more is better, want at_least`},
	{`level = "warehouse-active-bulky"`, `level = "en2011-faces"`,
		`dock.toml:55:9: criteria[0].level: "en2011-faces" is about cylindrical illuminance, and "work plane" has another, want a grid with quantity = "cylindrical"`},
	{`level = "warehouse-active-bulky"
grid = "work plane"`, `level = "warehouse-active-bulky"
grid = "faces"
[[grids]]
name = "faces"
quantity = "cylindrical"
area = [14.0, 2.0, 18.0, 8.0]
height = 1.2
spacing = 1.0`, `dock.toml:55:9: criteria[0].level: "warehouse-active-bulky" is not about cylindrical illuminance, which "faces" has, want a level that is, en2011-faces say, or a rule of your own`},
	{`level = "warehouse-active-bulky"
grid = "work plane"`, `level = "warehouse-active-bulky"
statistic = "ugr"`, `dock.toml:56:13: criteria[0].statistic: "warehouse-active-bulky" has no limit of ugr, want a level that has one, or a rule of your own`},
	{`level = "warehouse-active-bulky"
grid = "work plane"`, `level = "en2011-store"
statistic = "average"`, `dock.toml:56:13: criteria[0].statistic: "average" is not known, want one of ugr, cri`},
	{`level = "warehouse-active-bulky"`, `level = "warehouse-active-bulk"`, `dock.toml:55:9: criteria[0].level: "warehouse-active-bulk" is not in the list of levels, want warehouse-active-bulky, perhaps; an id of ` + "`" + `lampswap levels` + "`" + ``},
	{`level = "warehouse-active-bulky"`, `name = "mine"
level = "bright"`, `dock.toml:56:9: criteria[0].level: "bright" is not in the list of levels, want an id of ` + "`" + `lampswap levels` + "`" + ``},
	{`level = "warehouse-active-bulky"`, `levl = "warehouse-active-bulky"`, `dock.toml:54:3: criteria[0].at_least: is missing, want at_least or at_most, or a published level
dock.toml:55:8: criteria[0].levl: is not a known key, want level, perhaps`},
	{`grid = "dock"`, `grid = "dok"`, `dock.toml:59:8: criteria[1].grid: "dok" is not known, want one of work plane, north face, dock (dock?)`},
	{`statistic = "average"`, `statistic = "mean"`, `dock.toml:60:13: criteria[1].statistic: "mean" is not known, want one of average, minimum, maximum, average_to_minimum, maximum_to_minimum, power_density, ugr, cri`},
	{`at_least = 200.0
`, ``, `dock.toml:57:3: criteria[1].at_least: is missing, want at_least or at_most, or a published level`},
	{`at_least = 200.0`, `at_least = 200.0
at_most = 300.0`, `dock.toml:62:11: criteria[1].at_most: stands beside at_least, want one of the two; two criteria for both`},
	{`at_least = 200.0`, `at_least = -200.0`, `dock.toml:61:12: criteria[1].at_least: is -200, want a number above 0 and up to 1e9`},
	{`price_per_kwh = 0.11`, `price_per_kwh = -0.11`, `dock.toml:63:17: energy.price_per_kwh: is -0.11, want a number from 0 to 1e12`},
	{`price_per_kwh = 0.11`, `price = 0.11`, `dock.toml:63:9: energy.price: is not a known key, want price_per_kwh, perhaps`},
	{`[energy]
`, `[energy
`, `dock.toml:62:8: expected ']' to close table name, want TOML, one key = value a line`},
	{`[existing]
photometry = "strip.ies"
`, `[existing]
fixture = "strip-4in"
lamp_diameter = 0.4
end_to_end = 0
`, "dock.toml:21:17: existing.lamp_diameter: is 0.4, want 0.1969 to 1.5 in or 5 to 38.1 mm, as \"1.1 in\" or \"28 mm\"; a bare number is in m, 0.005 to 0.0381\n" +
		"dock.toml:22:14: existing.end_to_end: is 0, want a whole number from 1 to 100"},
	{`[existing]
photometry = "strip.ies"
lamp = "F32T8/700"
lamps = 4
ballast = "is-normal"
`, `[existing]
fixture = "strip-4in"
lamps = 2
lamp_lumens = 2800
ballast_factor = 0.9
input_watts = 58
`, "dock.toml:19:2: existing.lamp_diameter: is missing, want the lamp's diameter, as \"1 in\", or a lamp of `lampswap lamps` that has one"},
	{"height = 1.0\n", "height = -1.0\n", `dock.toml:52:10: grids[1].height: is -1, want a place in the room, from 0 to 6`},
	{`height = 1.0`, `height = "floor"`, `dock.toml:52:10: grids[1].height: is the text "floor", want a number: a place in the room, from 0 to 6`},
	{"name = \"dock\"\n", "name = 7\n", "dock.toml:50:8: grids[1].name: is 7, want a text in quotes\n" +
		"dock.toml:59:8: criteria[1].grid: \"dock\" is not known, want one of work plane, north face"},
	{`repeat = { count = 2, step = [0.0, 3.0] }`, `repeat = 2`, `dock.toml:18:10: racks[0].repeat: is 2, want a table, [racks[0].repeat]`},
	{"[upkeep]\nhours_per_year", "[proposed.layout]\nmounting_height = 5\npositions = 8\n[upkeep]\nhours_per_year", `dock.toml:35:13: proposed.layout.positions: is 8, want a list of 1 to 100000 lists of numbers`},
	{`losses = { lamp_lumen_depreciation = 0.9 }`, "losses = 0.7\ncosts = 1000\nlayout = \"same\"\nupkeep = 24", "dock.toml:32:10: proposed.losses: is 0.7, want a table, [proposed.losses]\n" +
		"dock.toml:33:9: proposed.costs: is 1000, want a table, [proposed.costs]\n" +
		"dock.toml:34:10: proposed.layout: is the text \"same\", want a table, [proposed.layout]\n" +
		"dock.toml:35:10: proposed.upkeep: is 24, want a table, [proposed.upkeep]"},
	{`title = "bay"`, "egress = 1\nlife_cycle = 15\nreplacement = \"led\"\nuncertainty = true\ntitle = \"bay\"", "dock.toml:1:10: egress: is 1, want a table, [egress]\n" +
		"dock.toml:2:14: life_cycle: is 15, want a table, [life_cycle]\n" +
		"dock.toml:3:15: replacement: is the text \"led\", want a table, [replacement]\n" +
		"dock.toml:4:15: uncertainty: is true, want a table, [uncertainty]"},
	{"[energy]\nprice_per_kwh = 0.11\n", "[[energy]]\nprice_per_kwh = 0.11\n", `dock.toml:62:3: energy: is a list of 1, want a table, [energy]`},
	{"[upkeep]\n", "[[upkeep]]\n", `dock.toml:33:3: upkeep: is a list of 1, want a table, [upkeep]`},
	{"[calculation]\n", "[[calculation]]\n", `dock.toml:39:3: calculation: is a list of 1, want a table, [calculation]`},
	{"[proposed]", "[proposal]", "dock.toml:1:1: proposed: is missing, want a table [proposed]: the lighting after the swap\n" +
		"dock.toml:25:2: proposal: is not a known key, want proposed, perhaps"},
	{part("[[grids]]", "[[criteria]]"), "[observers]\nname = \"bench\"\n", "dock.toml:42:2: observers: is a table, want one or more tables, [[observers]]\n" +
		"dock.toml:49:8: criteria[1].grid: \"dock\" is not known, want one of work plane"},
	{part("[[grids]]", "[[criteria]]"), "[grids]\nname = \"dock\"\n", "dock.toml:42:2: grids: is a table, want one or more tables, [[grids]]\n" +
		"dock.toml:49:8: criteria[1].grid: \"dock\" is not known, want one of work plane"},
	{part("[[criteria]]", "[energy]"), "[criteria]\nlevel = \"fmr-storage\"\n", `dock.toml:54:2: criteria: is a table, want one or more tables, [[criteria]]`},
	{`[existing]`, `[exsting]`, `dock.toml:1:1: existing: is missing, want a table [existing]: the lighting before the swap
dock.toml:19:2: exsting: is not a known key, want existing, perhaps`},
}

// Ten mistakes in one file are ten faults, in the order of the file.
func TestAllFaultsAtOnce(t *testing.T) {
	text := replaced(t, sound, `title = "bay"`, `title = 7`, `width = 10.0`, `width = "10"`, `walls = 0.5`, `walls = 5`, `lamps_along =`, `lamp_along =`,
		`"F32T8/700"`, `"F32T9/700"`, `lamp_lumens = 2800.0`, `lamp_lumens = -1`, `relamp_hours = 16000.0`, `relamp_hours = "never"`,
		`"warehouse-active-bulky"`, `"warehouse"`, `grid = "dock"`, `grid = "dokc"`, `price_per_kwh = 0.11`, `price_per_kwh = true`)
	_, err := job.Read("dock.toml", []byte(text), open)
	assert.EqualError(t, err, strings.Join([]string{
		`dock.toml:1:9: title: is 7, want a text in quotes`,
		`dock.toml:5:9: room.width: is the text "10", want a number: a length above 0 and up to 3000 m`,
		`dock.toml:8:40: room.reflectance.walls: is 5, want a number from 0 to 0.99`,
		`dock.toml:13:14: layout.lamp_along: is not a known key, want lamps_along, perhaps`,
		"dock.toml:21:8: existing.lamp: \"F32T9/700\" is not in the lamp list, want F32T8/700, perhaps; a lamp of `lampswap lamps`, or lamp_lumens",
		`dock.toml:28:15: proposed.lamp_lumens: is -1, want a number from 0.001 to 1000000`,
		`dock.toml:35:16: upkeep.relamp_hours: is the text "never", want a number from 1 to 200000`,
		"dock.toml:55:9: criteria[0].level: \"warehouse\" is not in the list of levels, want warehouse-inactive, perhaps; an id of `lampswap levels`",
		`dock.toml:59:8: criteria[1].grid: "dokc" is not known, want one of work plane, north face, dock (dock?)`,
		`dock.toml:63:17: energy.price_per_kwh: is true, want a number from 0 to 1e12`,
	}, "\n"))
}

// A fault in a file that both systems name is told once.
func TestFaultOfASharedFile(t *testing.T) {
	_, err := job.Read("dock.toml", []byte(strings.ReplaceAll(sound, "strip.ies", "broken.ies")), open)
	assert.EqualError(t, err, `broken.ies:8:6: candela: "17OO" is not a number, want a number`)
}

func TestEmptyJob(t *testing.T) {
	_, err := job.Read("dock.toml", nil, open)
	assert.EqualError(t, err, `dock.toml:1:1: room: is missing, want a table [room]: the room's length, width and height
dock.toml:1:1: existing: is missing, want a table [existing]: the lighting before the swap
dock.toml:1:1: proposed: is missing, want a table [proposed]: the lighting after the swap`)
}

// Whatever the text, reading neither panics nor gives a job that is not fit to be computed, and every fault has a line.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{sound, contract, minimal, "", "[room\n", "units = \"metric\"\n[room]\nlength = 1e-320\nwidth = 1\nheight = 1\n"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		j, err := job.Read("dock.toml", text, open)
		if err != nil {
			var faults diag.List
			if !errors.As(err, &faults) || j != nil {
				t.Fatalf("%T: %v", err, err)
			}
			for _, fault := range faults {
				if fault.Pos.Line < 1 || fault.Pos.File == "" {
					t.Fatalf("no place: %v", fault)
				}
			}
			return
		}
		for _, s := range []job.System{j.Existing, j.Proposed} {
			if !(s.LampLumensEach() > 0) || !(s.BallastFactor > 0) || !(s.InputWatts > 0) || len(s.Layout.Placements) == 0 || s.Category < losses.CategoryI ||
				!(s.Emitted().Distribution.Flux() > 0) {
				t.Fatalf("not fit to be computed: %+v", s)
			}
		}
	})
}
