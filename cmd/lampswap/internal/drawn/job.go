// Package drawn draws jobs, files and readings at random for the tests of the command's rooms, any that a person may write and the odd ones
// more often than in life, and looks in what comes of them for numbers that are none.
package drawn

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"

	"lampswap/photometry/spaces"
)

// A Job is the text of a job file that names some of the files that Open opens.
type Job struct {
	Text string
	Fine bool // has numbers of any size, as near to 0 as they may be; else of three digits
}

// A pen writes a job file in its unit of length.
type pen struct {
	*rapid.T
	strings.Builder

	unit                                   float64 // m, of a length
	bounces, fine, groups                  bool
	length, width, height, plane, mounting float64 // of the room, m
	grids                                  []string
	fewest                                 int // luminaires of a system
}

func (p *pen) line(format string, args ...any) { fmt.Fprintf(p, format+"\n", args...) }

// number is from the least to the most, and often one of the two.
func (p *pen) number(name string, least, most float64) float64 {
	between := rapid.Float64Range(least, most)
	if !p.fine {
		between = rapid.Map(rapid.IntRange(0, 1000), func(k int) float64 { return least + (most-least)*float64(k)/1000 })
	}
	return rapid.OneOf(between, rapid.Just(least), rapid.Just(most)).Draw(p.T, name)
}

func (p *pen) count(name string, most int) int {
	return rapid.IntRange(1, most).Draw(p.T, name)
}

// once tells one time in n.
func (p *pen) once(n int, name string) bool { return p.count(name, n) == n }

func (p *pen) word(name string, words ...string) string {
	return rapid.SampledFrom(words).Draw(p.T, name)
}

// meters is a length in the file's unit.
func (p *pen) meters(x float64) string { return dot(x / p.unit) }

// dot writes a number so that TOML reads a float.
func dot(x float64) string {
	text := fmt.Sprint(x)
	if !strings.ContainsAny(text, ".e") {
		text += ".0"
	}
	return text
}

// Any draws a job. Most are read without a fault; some are refused, with faults of their own.
func Any(t *rapid.T) Job {
	p := &pen{T: t, unit: 1, fewest: 1 << 30}
	p.fine = p.once(4, "numbers of any size")
	units := p.word("units", "metric", "imperial")
	if units == "imperial" {
		p.unit = 0.3048
	}
	p.line("units = %q", units)
	p.facts()
	p.bounces = p.once(12, "bounces")
	p.room()
	if p.groups = p.once(3, "groups"); p.groups {
		p.racks()
		p.grouped()
	} else {
		p.line("[layout]")
		p.layout()
		p.racks()
		p.system("existing")
		p.system("proposed")
		if p.once(3, "replacement") {
			p.system("replacement")
		}
	}
	p.upkeep()
	p.calculation()
	p.criteria()
	if !p.groups {
		p.egress()
	}
	p.money()
	if !p.groups && p.once(6, "uncertainty") {
		p.uncertainty()
	}
	return Job{Text: p.String(), Fine: p.fine}
}

func (p *pen) facts() {
	if p.once(3, "facts") {
		p.line("title = %q\nstate = %q\ndate = %q", "drawn", p.word("state", "CA", "TX", "VT", "HI"), p.word("date", "2020-02-29", "2026-04-30", "2031-12-31"))
		p.line("prepared_by = \"A\"\nprepared_for = \"B\"\nnorth = %s", dot(p.number("north", -360, 360)))
	}
}

func (p *pen) room() {
	least, most := 1.0, 40.0
	if p.once(30, "tiny") { // smaller than most luminaires, which are refused then
		least = 0.1
	}
	if p.bounces { // light close to the surfaces, and flat rooms, take patches without number: minutes
		least, most = 3, 12
	}
	p.length, p.width, p.height = p.number("length", least, most), p.number("width", least, most), p.number("height", least, most)
	lowest, highest := 0.05, 1.0
	p.plane = p.number("work plane", 0, 0.9) * p.height
	if p.bounces {
		lowest, highest, p.plane = 0.3, 0.7, 0.5*p.plane
	}
	p.mounting = p.plane + (p.height-p.plane)*p.number("mounting", lowest, highest)
	p.line("[room]\nlength = %s\nwidth = %s\nheight = %s\nwork_plane = %s", p.meters(p.length), p.meters(p.width), p.meters(p.height), p.meters(p.plane))
	if p.once(3, "kind of space") {
		p.line("space = %q", p.word("space", spaces.IDs()...))
	}
	p.line("reflectance = { ceiling = %s, walls = %s, floor = %s }", dot(p.number("ceiling", 0, 0.99)), dot(p.number("walls", 0, 0.99)), dot(p.number("floor", 0, 0.99)))
}

// layout writes where luminaires hang, below a header that stands already.
func (p *pen) layout() {
	p.line("mounting_height = %s\nlamps_along = %q", p.meters(p.mounting), p.word("lamps along", "length", "width"))
	if p.once(3, "positions") {
		var places []string
		for range p.count("luminaires", 4) {
			place := p.meters(p.length*p.number("x", 0, 1)) + ", " + p.meters(p.width*p.number("y", 0, 1))
			if p.once(3, "turned") {
				place += ", " + dot(p.number("rotation", -360, 360))
				if !p.bounces && p.once(3, "own height") { // beside a rack, into which it reaches, its light would be lost
					place += ", " + p.meters(p.plane+(p.mounting-p.plane)*p.number("of the mounting", 0.5, 1))
				}
			}
			places = append(places, "["+place+"]")
		}
		p.fewest = min(p.fewest, len(places))
		p.line("positions = [%s]", strings.Join(places, ", "))
		return
	}
	rows, columns := p.count("rows", 3), p.count("columns", 3)
	p.fewest = min(p.fewest, rows*columns)
	p.line("rows = %d\ncolumns = %d", rows, columns)
}

func (p *pen) racks() {
	for p.once(6, "rack") {
		long, wide, high := p.length*p.number("rack length", 0.01, 1), p.width*p.number("rack width", 0.01, 0.5), p.mounting*p.number("rack height", 0.01, 0.99)
		x, y := (p.length-long)*p.number("rack x", 0, 1), (p.width-wide)*p.number("rack y", 0, 0.5)
		p.line("[[racks]]\ncorner = [%s, %s]\nsize = [%s, %s, %s]", p.meters(x), p.meters(y), p.meters(long), p.meters(wide), p.meters(high))
		p.line("reflectance = %s\ntransmittance = %s", dot(p.number("rack reflectance", 0, 0.99)), dot(p.number("transmittance", 0, 1)))
		if p.once(2, "repeat") {
			p.line("repeat = { count = 2, step = [0.0, %s] }", p.meters(p.width*0.4))
		}
	}
}

// fittings are lamps and ballasts of the lists that go together, in a fixture of the lists.
var fittings = []string{
	"fixture = \"strip-4in\"\nlamp = \"F96T12\"\nlamps = 2\nballast = \"magnetic\"",
	"fixture = \"strip-5in\"\nlamp = \"F32T8/800\"\nlamps = 4\nballast = \"is-normal\"",
	"fixture = \"strip-4in\"\nlamp = \"F32T8/700\"\nlamps = 2\nballast = \"is-low\"\nend_to_end = 2",
	"fixture = \"wraparound\"\nlamp = \"F32T8/HL\"\nlamps = 2\nballast = \"is-normal\"",
}

func (p *pen) system(side string) {
	p.line("[%s]", side)
	if p.once(3, side+" of the lists") {
		p.line("%s", p.word(side+" fitting", fittings...))
	} else {
		p.line("photometry = %q\nlamps = %d\nlamp_lumens = %s\nballast_factor = %s\ninput_watts = %s", p.word(side+" file", names...), p.count("lamps", 6),
			dot(p.number("lumens", 1e-3, 1e6)), dot(p.number("ballast factor", 0.1, 2)), dot(p.number("watts", 1e-3, 1e5)))
	}
	if p.once(3, side+" category") {
		p.line("maintenance_category = %q", p.word("category", "I", "III", "V", "VI"))
	}
	if p.once(5, side+" data sheet") {
		p.line("temperature_points = [[%s, %s], [%s, 1.0]]", dot(p.number("cold", -50, 20)), dot(p.number("cold light", 0.01, 1)), dot(p.number("warm", 20.001, 90)))
	}
	if p.once(5, side+" losses") {
		p.line("[%s.losses]", side)
		for _, key := range []string{"lamp_lumen_depreciation", "luminaire_dirt_depreciation", "room_surface_dirt_depreciation", "lamp_burnout", "temperature", "voltage", "other", "total"} {
			if p.once(4, key) {
				p.line("%s = %s", key, dot(p.number(key, 0.001, 1.5)))
			}
		}
	}
	if p.once(3, side+" costs") {
		p.line("[%s.costs]", side)
		for _, key := range []string{"lamp_price", "lamp_labor", "lamp_disposal", "cleaning", "other_per_year", "residual"} {
			if whole := key == "other_per_year" || key == "residual"; p.once(2, key) && (!whole || !p.groups) {
				p.line("%s = %s", key, dot(p.number(key, 0, 1e6)))
			}
		}
		if !p.groups {
			p.line("installed_cost = %s", dot(p.number("installed", 0, 1e6)))
		}
		p.line("ballast_cost = %s\nballast_life_hours = %s", dot(p.number("ballast cost", 0, 1e6)), dot(p.number("ballast life", 1, 1e6)))
	}
	if !p.groups && p.once(6, side+" layout") {
		p.line("[%s.layout]", side)
		p.layout()
	}
}

// grouped writes two kinds of luminaire and up to three groups of them.
func (p *pen) grouped() {
	p.system("kinds.a")
	p.system("kinds.b")
	n := p.count("groups of luminaires", 3)
	for i := range n {
		before, after := p.word("before", "a", "b", "none"), p.word("after", "a", "b", "none")
		if i == 0 {
			before, after = "a", "b"
		}
		p.line("[[groups]]\nname = \"group <%d>\"\nexisting = %q\nproposed = %q", i, before, after)
		if n == 3 && p.once(3, "third system") {
			p.line("replacement = %q", p.word("instead", "a", "b"))
		}
		if p.once(2, "a count") {
			p.line("mounting_height = %s\ncount = %d", p.meters(p.mounting), p.count("luminaires", 7))
		} else {
			p.layout()
		}
		if before != "none" && p.once(2, "failed") {
			p.line("failed = %d\nfailed_watts = 0", p.count("dark", 2)-1)
		}
		if p.once(3, "own hours") {
			p.line("hours_per_year = %s", dot(p.number("hours of the group", 0, 8784)))
		}
		if after != "none" && p.once(2, "controlled") {
			p.line("control = \"occupancy\"\ncontrol_saving = %s\ndimmed_to = %s", dot(p.number("saved", 0, 0.99)), dot(p.number("dimmed", 0.01, 1)))
		}
	}
}

func (p *pen) upkeep() {
	p.line("[upkeep]\nhours_per_year = %s\nclean_months = %s\natmosphere = %q", dot(p.number("hours", 0, 8784)), dot(p.word64("months", 0, 0.01, 24, 240)),
		p.word("atmosphere", "very-clean", "clean", "medium", "dirty", "very-dirty"))
	least, most := -50.0, 80.0
	if p.unit != 1 {
		least, most = -60, 180
	}
	p.line("ambient_temperature = %s", dot(p.number("ambient", least, most)))
	if p.once(3, "judged") {
		p.line("judged_at = %s", p.word("judged at", `"mid-life"`, `"end"`, "0", "4800", "20000.0"))
	}
	if p.once(2, "relamped") {
		p.line("relamp_hours = %s\nrelamping = %q", dot(p.number("relamp hours", 1, 200000)), p.word("relamping", "group", "spot"))
	}
}

func (p *pen) word64(name string, values ...float64) float64 {
	return rapid.SampledFrom(values).Draw(p.T, name)
}
