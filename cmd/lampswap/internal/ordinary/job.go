// Package ordinary draws jobs as the trade has them (shops, offices, stores and halls; hung and surface-mounted; on rows and by the tape; racks
// that touch, overlap and repeat), for tests that change one thing of a job and hold what comes of it against what must come. Unlike those of
// package drawn, every job here is one that a person could mean.
package ordinary

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry/catalog"
)

// A Job is what is drawn, in SI units whatever the units of its text, so that one thing of it can be changed.
type Job struct {
	Seed                             uint64
	Imperial                         bool
	Length, Width, Height, WorkPlane float64  // of the room, m
	Outline                          []Corner // of a room that is no box
	Ceiling, Walls, Floor            float64  // reflectances
	Mounting                         float64  // m
	Rows, Columns                    int      // 0 where Places stand
	AlongWidth                       bool     // the lamps
	Places                           []Place
	Racks                            []Rack
	Existing, Proposed               System
	Hours, CleanMonths, RelampHours  float64 // RelampHours 0: not said
	Atmosphere                       string
	Ambient                          float64 // °C
	Spacing                          float64 // of the work-plane grid, m
	Grids                            []Grid
	Criteria                         []Criterion
	State                            string // "" for none
	Price, Cost                      float64
}

// A Place is where one luminaire hangs, m, and how its lamps lie, degrees counter-clockwise from x.
type Place struct{ X, Y, Rotation float64 }

// A Rack is a block on the floor, or one that hangs with its underside at Bottom, m.
type Rack struct{ X, Y, Long, Wide, High, Reflectance, Transmittance, Bottom float64 }

// A Grid is a vertical grid, m; Facing in degrees.
type Grid struct {
	Name                                          string
	FromX, FromY, ToX, ToY, Low, High, Facing, By float64
}

// A System is lamps in a fixture of the lists.
type System struct {
	Fixture, Lamp string
	Lamps         int
	Ballast       string  // "" where the list is asked for none
	Lumens        float64 // of one lamp, where they are typed; 0 for those of the list
	Burnout       float64 // 0 for none
	ByFigures     bool    // the lamp is described, and not named
}

// A Criterion is a level of the list or, without a name of one, an owner's rule.
type Criterion struct {
	Level           string
	Statistic, Grid string
	AtLeast         bool
	Limit           float64 // lx, W/m² or a ratio
}

type pen struct {
	strings.Builder
	unit float64
}

func (p *pen) line(format string, args ...any) { fmt.Fprintf(p, format+"\n", args...) }

// length writes meters in the text's unit.
func (p *pen) length(x float64) string { return float(x / p.unit) }

// float writes a number so that TOML reads a float.
func float(x float64) string {
	text := fmt.Sprint(x)
	if !strings.ContainsAny(text, ".e") {
		text += ".0"
	}
	return text
}

// Text is the job file.
func (j *Job) Text() string {
	p := &pen{unit: 1}
	units, ambient := "metric", j.Ambient
	if j.Imperial {
		p.unit, units, ambient = 0.3048, "imperial", j.Ambient*9/5+32
	}
	p.line("title = \"drawn %d\"\nunits = %q", j.Seed, units)
	if j.State != "" {
		p.line("state = %q", j.State)
	}
	p.room(j)
	p.line("reflectance = { ceiling = %s, walls = %s, floor = %s }", float(j.Ceiling), float(j.Walls), float(j.Floor))
	p.layout(j)
	for _, r := range j.Racks {
		p.line("[[racks]]\ncorner = [%s, %s]\nsize = [%s, %s, %s]", p.length(r.X), p.length(r.Y), p.length(r.Long), p.length(r.Wide), p.length(r.High))
		p.line("reflectance = %s\ntransmittance = %s", float(r.Reflectance), float(r.Transmittance))
		if r.Bottom > 0 {
			p.line("bottom = %s", p.length(r.Bottom))
		}
	}
	p.system("existing", j.Existing)
	p.system("proposed", j.Proposed)
	p.line("[upkeep]\nhours_per_year = %s\nclean_months = %s\natmosphere = %q\nambient_temperature = %s", float(j.Hours), float(j.CleanMonths), j.Atmosphere, float(ambient))
	if j.RelampHours > 0 {
		p.line("relamp_hours = %s", float(j.RelampHours))
	}
	p.line("[calculation]\nspacing = %s\ninterreflection = true", p.length(j.Spacing))
	for _, g := range j.Grids {
		p.line("[[grids]]\nname = %q\nfrom = [%s, %s]\nto = [%s, %s]", g.Name, p.length(g.FromX), p.length(g.FromY), p.length(g.ToX), p.length(g.ToY))
		p.line("heights = [%s, %s]\nfacing = %s\nspacing = %s", p.length(g.Low), p.length(g.High), float(g.Facing), p.length(g.By))
	}
	p.criteria(j)
	if j.Price > 0 {
		p.line("[energy]\nprice_per_kwh = %s\ninstalled_cost = %s", float(j.Price), float(j.Cost))
	}
	return p.String()
}

func (p *pen) room(j *Job) {
	p.line("[room]\nheight = %s\nwork_plane = %s", p.length(j.Height), p.length(j.WorkPlane))
	if j.Outline == nil {
		p.line("length = %s\nwidth = %s", p.length(j.Length), p.length(j.Width))
		return
	}
	corners := make([]string, len(j.Outline))
	for i, c := range j.Outline {
		corners[i] = fmt.Sprintf("[%s, %s]", p.length(c.X), p.length(c.Y))
	}
	p.line("outline = [%s]", strings.Join(corners, ", "))
}

func (p *pen) layout(j *Job) {
	along := map[bool]string{false: "length", true: "width"}[j.AlongWidth]
	p.line("[layout]\nmounting_height = %s\nlamps_along = %q", p.length(j.Mounting), along)
	if j.Rows > 0 {
		p.line("rows = %d\ncolumns = %d", j.Rows, j.Columns)
		return
	}
	places := make([]string, len(j.Places))
	for i, at := range j.Places {
		places[i] = fmt.Sprintf("[%s, %s, %s]", p.length(at.X), p.length(at.Y), float(at.Rotation))
	}
	p.line("positions = [%s]", strings.Join(places, ", "))
}

func (p *pen) system(side string, s System) {
	p.line("[%s]\nfixture = %q\nlamps = %d", side, s.Fixture, s.Lamps)
	if s.ByFigures {
		p.figures(s)
		s.Ballast = ""
	} else {
		p.line("lamp = %q", s.Lamp)
	}
	if s.Ballast != "" {
		p.line("ballast = %q", s.Ballast)
	}
	if s.Lumens > 0 {
		p.line("lamp_lumens = %s", float(s.Lumens))
	}
	if s.Burnout > 0 {
		p.line("[%s.losses]\nlamp_burnout = %s", side, float(s.Burnout))
	}
}

// figures describes a lamp of the list and its ballast as their data sheets do.
func (p *pen) figures(s System) {
	l, _ := catalog.FindLamp(s.Lamp)
	p.line("lamp_lumens = %s\nlamp_length = \"%v mm\"\nrated_life_hours = %s", float(l.InitialLumens), 1000*l.NominalLength, float(l.RatedLifeHours))
	if l.Diameter > 0 {
		p.line("lamp_diameter = \"%v mm\"", 1000*l.Diameter)
	}
	if l.LED {
		p.line("lamp_kind = \"led\"\nled_type = %q\nlamp_watts = %s", l.LEDType, float(l.RatedWatts))
		if l.BeamDeg > 0 {
			p.line("beam_angle = %s", float(l.BeamDeg))
		}
	} else {
		b, _ := catalog.FindBallast(l, s.Lamps, s.Ballast)
		p.line("lamp_kind = \"fluorescent\"\nmean_lumens = %s\nballast_factor = %s\ninput_watts = %s", float(l.Mean()), float(b.BallastFactor), float(b.InputWatts))
	}
	if at := l.LeastAmbientCelsius; !math.IsNaN(at) {
		if p.unit != 1 {
			at = at*9/5 + 32
		}
		p.line("minimum_temperature = %s", float(at))
	}
}

func (p *pen) criteria(j *Job) {
	for i, c := range j.Criteria {
		if c.Level != "" {
			p.line("[[criteria]]\nlevel = %q", c.Level)
			continue
		}
		limit, direction := c.Limit, "at_most"
		switch {
		case strings.Contains(c.Statistic, "_to_"):
		case j.Imperial: // lx and W/m² alike go by the square of the foot
			limit *= 0.3048 * 0.3048
		}
		if c.AtLeast {
			direction = "at_least"
		}
		p.line("[[criteria]]\nname = \"rule %d\"\nstatistic = %q\n%s = %s", i+1, c.Statistic, direction, float(limit))
		if c.Grid != "" {
			p.line("grid = %q", c.Grid)
		}
	}
}
