package survey

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/diag"
	"lampswap/photometry/room"
)

// A Unit is that of the readings in a file; its lengths are in feet or in meters with it.
type Unit int

// The units that a file of readings may have.
const (
	Lux         Unit = iota // and meters
	Footcandles             // and feet
)

// LuxEach is how many lx one of the unit is.
func (u Unit) LuxEach() float64 {
	if u == Footcandles {
		return photometry.Footcandle
	}
	return 1
}

func (u Unit) meter() float64 {
	if u == Footcandles {
		return photometry.Foot
	}
	return 1
}

// String is the unit as the header of a file has it.
func (u Unit) String() string {
	if u == Footcandles {
		return "fc"
	}
	return "lx"
}

// length is the unit of length as the header has it.
func (u Unit) length() string {
	if u == Footcandles {
		return "ft"
	}
	return "m"
}

// A Reading is one line of a file: what a meter showed at a station, or that nothing was read there.
type Reading struct {
	Station    string
	Position   room.Vec // m; NaN where the file does not say
	FacingDeg  float64  // azimuth of the side that receives light, for a vertical sensor; NaN for one that looks up
	Value      float64  // lx; NaN: not taken
	Step       float64  // lx, of the last digit as it was written; NaN where nothing was
	Key        string   // of the station that was planned (Station.Key); empty where the file does not say
	MeterUnit  string   // of what the meter showed, "fc" or "lx"; empty where it was not written down
	StruckOut  string   // why the reading does not count; empty for one that does
	Time, Note string
	Photo      string   // name of a picture beside the file
	Pos        diag.Pos // of the line
}

// Taken tells whether a value was read.
func (r Reading) Taken() bool { return !math.IsNaN(r.Value) }

// Counts tells whether a value was read and stands.
func (r Reading) Counts() bool { return r.Taken() && r.StruckOut == "" }

// Placed tells whether the file says where in plan the reading was taken; the height may still be NaN.
func (r Reading) Placed() bool { return !math.IsNaN(r.Position.X) && !math.IsNaN(r.Position.Y) }

// at tells whether the file says that the reading was taken where a station was planned.
func (r Reading) at(s Station) bool {
	off := r.Position.Sub(s.Position)
	if math.IsNaN(off.Z) {
		off.Z = 0
	}
	return off.Length() < sameSpot
}

// Normal returns the unit vector out of the sensor.
func (r Reading) Normal() room.Vec {
	if math.IsNaN(r.FacingDeg) {
		return room.Vec{Z: 1}
	}
	a := r.FacingDeg * math.Pi / 180
	return room.Vec{X: math.Cos(a), Y: math.Sin(a)}
}

// Readings are the lines of a file, in its order. A station may have several: then it was read several times.
type Readings struct {
	Unit  Unit // of the file; the readings here are in lx and m
	Lines []Reading
}

// Form returns the empty readings of some plans, one line a station, ready to be written and filled in.
func Form(unit Unit, plans ...Plan) Readings {
	form := Readings{Unit: unit}
	for _, p := range plans {
		for _, s := range p.Stations {
			form.Lines = append(form.Lines, Reading{Station: s.Name, Key: s.Key(), Position: s.Position, FacingDeg: s.facingDeg(), Value: math.NaN(), Step: math.NaN()})
		}
	}
	return form
}

// facingDeg is the azimuth of a sensor that stands upright, NaN of one that looks up.
func (s Station) facingDeg() float64 {
	if math.Abs(s.Normal.Z) > 0.5 {
		return math.NaN()
	}
	return math.Atan2(s.Normal.Y, s.Normal.X)*180/math.Pi + 0 // no -0
}

// Shown returns the readings as those of a meter that shows the unit, wherever the file's own lines do not say what it shows.
func (r Readings) Shown(unit Unit) Readings {
	all := Readings{Unit: r.Unit, Lines: slices.Clone(r.Lines)}
	for i := range all.Lines {
		if l := &all.Lines[i]; l.MeterUnit == "" {
			l.MeterUnit = unit.String()
			l.Value *= unit.LuxEach() / r.Unit.LuxEach()
			l.Step *= unit.LuxEach() / r.Unit.LuxEach()
		}
	}
	return all
}

// Corrected returns the readings times the calibration factor of the meter.
func (r Readings) Corrected(factor float64) Readings {
	all := Readings{Unit: r.Unit, Lines: slices.Clone(r.Lines)}
	for i := range all.Lines {
		all.Lines[i].Value *= factor
		all.Lines[i].Step *= factor
	}
	return all
}

// StepOf returns the step of the display in a value that readings make up by weights, lx: the steps of the stations, each the coarsest of its
// readings, by the same weights. It is NaN where nothing is known of it.
func (r Readings) StepOf(weights map[string]float64) float64 {
	steps := map[string]float64{}
	for _, l := range r.Lines {
		if l.Counts() {
			steps[l.Station] = max(steps[l.Station], l.Step)
		}
	}
	sum := 0.0
	for _, name := range slices.Sorted(maps.Keys(weights)) {
		sum += weights[name] * steps[name]
	}
	return sum
}

// UnitNoted tells whether all readings say what unit their meter showed.
func (r Readings) UnitNoted() bool {
	return !slices.ContainsFunc(r.Lines, func(l Reading) bool { return l.Taken() && l.MeterUnit == "" })
}

// Agree tells whether a station was read more than once, with readings that differ by no more than 10 percent, our choice.
func (r Readings) Agree(station string) bool {
	values := r.byStation()[station]
	return len(values) > 1 && slices.Max(values) <= (1+mostApart)*slices.Min(values) && !r.Copied(station)
}

// Copied tells whether a station has several lines that count and are alike in value, time, note and photo: one line copied, as far as
// can be told, and no second reading.
func (r Readings) Copied(station string) bool {
	type line struct {
		value             float64
		time, note, photo string
	}
	alike := map[line]int{}
	for _, l := range r.Lines {
		if l.Station == station && l.Counts() {
			alike[line{l.Value, l.Time, l.Note, l.Photo}]++
		}
	}
	for _, n := range alike {
		return len(alike) == 1 && n > 1
	}
	return false
}

// mostApart is how far readings of one station may lie apart to bear each other out.
const mostApart = 0.1

// Stations returns the names of the stations, each once, in the order of the file.
func (r Readings) Stations() []string {
	var names []string
	seen := map[string]bool{}
	for _, l := range r.Lines {
		if !seen[l.Station] {
			seen[l.Station] = true
			names = append(names, l.Station)
		}
	}
	return names
}

// Means returns the mean reading of each station, lx; a station without a reading is left out.
func (r Readings) Means() map[string]float64 {
	means := map[string]float64{}
	for name, values := range r.byStation() {
		means[name] = mean(values)
	}
	return means
}

func (r Readings) byStation() map[string][]float64 {
	all := map[string][]float64{}
	for _, l := range r.Lines {
		if l.Counts() {
			all[l.Station] = append(all[l.Station], l.Value)
		}
	}
	return all
}

// Scatter returns the relative standard deviation of one reading about the mean of its station, pooled over all stations that were read
// more than once, and its degrees of freedom (0 and NaN if there are none):
//
//	s² = Σ (E / mean - 1)² / ν,  ν = Σ (n - 1)
//
// Source: GUM (JCGM 100:2008) 4.2.4, pooled standard deviation; from memory of the text.
func (r Readings) Scatter() (relative float64, freedom int) {
	sum := 0.0
	all := r.byStation()
	for _, name := range r.Stations() { // in order, for the same bits every time
		values := all[name]
		m := mean(values)
		if len(values) < 2 || !(m > 0) {
			continue
		}
		for _, v := range values {
			sum += (v/m - 1) * (v/m - 1)
		}
		freedom += len(values) - 1
	}
	if freedom == 0 {
		return math.NaN(), 0
	}
	return math.Sqrt(sum / float64(freedom)), freedom
}

func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

const (
	// A reading this near a planned station, m, was taken there.
	sameSpot = 0.05
	// A reading this far from the station whose name it bears, m, is worth a word: our choice.
	farFromStation = 0.3
)

// Match returns the readings with the stations' spelling of their names (letter case is not told apart) and with their positions
// where the file gives none. A name that is not among the stations stays, if the file says where it was; else it is a fault with its
// place, as is a key of no station's place or of another station than the name's, and a strange name at the very spot of a planned station. The notes tell of readings that were taken away from their
// station; the file's position is kept for them.
func (r Readings) Match(stations []Station) (matched Readings, notes []Note, err error) {
	names := make([]string, len(stations))
	byFold := map[string]Station{}
	for i, s := range stations {
		names[i] = s.Name
		byFold[strings.ToLower(s.Name)] = s
	}
	var faults diag.List
	matched = Readings{Unit: r.Unit, Lines: slices.Clone(r.Lines)}
	for i := range matched.Lines {
		if len(faults) == mostFaults {
			break
		}
		l := &matched.Lines[i]
		s, known := byFold[strings.ToLower(l.Station)]
		if l.Key != "" {
			at := slices.IndexFunc(stations, func(s Station) bool { return sameKey(s.Key(), l.Key) })
			switch known = at >= 0; {
			case known:
				s = stations[at]
				if other, named := byFold[strings.ToLower(l.Station)]; named && l.Taken() && other.Name != s.Name && !l.at(s) {
					faults.Add(l.Pos, "key", fmt.Sprintf("is that of %s, and the line is named %s", s.Name, other.Name),
						"the key of the station that was read, or none")
					continue
				}
			case !l.Taken(): // of a grid that is not looked at
				continue
			default:
				faults.Add(l.Pos, "key", fmt.Sprintf("%q was planned at a place where no station is now", l.Station),
					"the job, plan, grids and number of stations for which the form was written, or no key")
				continue
			}
		}
		switch {
		case !known && !l.Placed():
			faults.Add(l.Pos, "station", fmt.Sprintf("%q is not in the plan and has no x and y", l.Station), nearestName(l.Station, names))
		case !known:
			if near := slices.IndexFunc(stations, func(s Station) bool { return inPlan(s.Position, l.Position) < sameSpot }); near >= 0 {
				faults.Add(l.Pos, "station", fmt.Sprintf("%q is not in the plan but lies where %s lies", l.Station, names[near]),
					names[near])
			}
		case !l.Placed():
			l.Station, l.Position, l.FacingDeg = s.Name, s.Position, s.facingDeg()
		default:
			l.Station = s.Name
			if math.IsNaN(l.Position.Z) {
				l.Position.Z = s.Position.Z
			}
			if l.Key != "" && l.Position.Sub(s.Position).Length() < sameSpot { // rounded for a tape
				l.Position, l.FacingDeg = s.Position, s.facingDeg()
			}
			if d := l.Position.Sub(s.Position).Length(); d > farFromStation {
				notes = append(notes, Note{Code: ReadElsewhere, Of: s.Name, Meters: d})
			}
		}
	}
	return matched, notes, faults.Err()
}

func nearestName(name string, names []string) string {
	if near := diag.Nearest(name, names); near != "" {
		return near + ", perhaps"
	}
	return "a station of the plan, or x and y"
}

func inPlan(a, b room.Vec) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }
