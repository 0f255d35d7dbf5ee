package survey

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
)

// Weights returns what the mean of each role counts in the average of the room. They add to 1; a role that the arrangement does not
// know is left out.
func (p Plan) Weights() map[Role]float64 {
	m, n := float64(p.Rows), float64(p.PerRow)
	switch p.Arrangement {
	case SingleLuminaires:
		return map[Role]float64{R: (n - 1) * (m - 1) / (n * m), Q: (n - 1) / (n * m), T: (m - 1) / (n * m), P: 1 / (n * m)}
	case OneLuminaire:
		return map[Role]float64{P: 1}
	case OneRow:
		return map[Role]float64{Q: (n - 1) / n, P: 1 / n}
	case ContinuousRows:
		all := m * (n + 1)
		return map[Role]float64{R: n * (m - 1) / all, Q: n / all, T: (m - 1) / all, P: 1 / all}
	case OneContinuousRow:
		return map[Role]float64{Q: n / (n + 1), P: 1 / (n + 1)}
	case LuminousCeiling:
		strips := 2 * rule("ceiling strip").Value
		long, wide := p.Length/photometry.Foot, p.Width/photometry.Foot
		all := long * wide
		return map[Role]float64{R: (long - strips) * (wide - strips) / all, Q: strips * (long - strips) / all,
			T: strips * (wide - strips) / all, P: strips * strips / all}
	case PointGrid:
	}
	return map[Role]float64{GridPoint: 1}
}

// An Average is the average of a room from readings at its stations.
type Average struct {
	Value   float64            // in the unit of the readings
	Weights map[string]float64 // what the reading at each station counted; they add to 1
	Notes   []Note             // which readings were missing, and what stood for them
}

// A MissingError says that an average cannot be formed, since stations have no reading and no other stands for them.
type MissingError struct{ Stations []string }

// Error is a message with the stations, as Words has them.
func (e *MissingError) Error() string { return "survey: no average: " + e.Words() }

// Words tells at how many stations there is no reading and names them, the first five if they are more.
func (e *MissingError) Words() string {
	if n := len(e.Stations); n > mostNamed {
		return fmt.Sprintf("no reading at %d stations: %s", n, firstOf(e.Stations))
	}
	return "no reading at " + firstOf(e.Stations)
}

// mostNamed is how many stations a message names.
const mostNamed = 5

// firstOf joins names, the first ones if they are many.
func firstOf(names []string) string {
	if n := len(names); n > mostNamed {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:mostNamed], ", "), n-mostNamed)
	}
	return strings.Join(names, ", ")
}

// A grid of which more than this share has no reading gives no average: our choice.
const mostMissing = 0.1

// Average returns the average of the room by the plan's formula from a value at each station, by name, in any one unit; it serves for
// what was computed at the stations as well. A value that is absent or NaN was not taken. Then those of the same role and place stand
// for it, with a note; where there is none, no weight is shifted to other places, which would shift the average with it: it
// errs with a *MissingError. A grid bears up to 10 percent of its points missing, our choice.
func (p Plan) Average(values map[string]float64) (Average, error) {
	a := Average{Weights: map[string]float64{}}
	if p.Arrangement == PointGrid {
		return p.gridAverage(a, values)
	}
	var missing []string
	for _, role := range []Role{R, Q, T, P} {
		weight, counts := p.Weights()[role]
		if !counts || weight == 0 {
			continue
		}
		places := p.places(role)
		if len(places) == 0 {
			missing = append(missing, "any "+role.String()+" station")
		}
		for _, stations := range places {
			there, absent := taken(stations, values)
			if len(there) == 0 {
				missing = append(missing, absent...)
				continue
			}
			if len(absent) > 0 {
				a.Notes = append(a.Notes, Note{Code: StoodFor, Names: absent, Others: there, Of: stations[0].Place})
			}
			for _, name := range there {
				a.count(name, weight/float64(len(places)*len(there)), values)
			}
		}
	}
	if len(missing) > 0 {
		return Average{}, &MissingError{missing}
	}
	return a, nil
}

func (a *Average) count(name string, weight float64, values map[string]float64) {
	a.Weights[name] = weight
	a.Value += weight * values[name]
}

func (p Plan) gridAverage(a Average, values map[string]float64) (Average, error) {
	there, absent := taken(p.Stations, values)
	if len(there) == 0 || float64(len(absent)) > mostMissing*float64(len(p.Stations)) {
		return Average{}, &MissingError{absent}
	}
	if len(absent) > 0 {
		a.Notes = append(a.Notes, Note{Code: MeanOfOthers, Names: absent, Count: len(there)})
	}
	for _, name := range there {
		a.count(name, 1/float64(len(there)), values)
	}
	return a, nil
}

// places groups the stations of a role, those that were dropped too, by their place, in the order of the plan.
func (p Plan) places(role Role) [][]Station {
	var groups [][]Station
	index := map[string]int{}
	for _, stations := range [][]Station{p.Stations, p.Dropped} {
		for _, s := range stations {
			if s.Role != role {
				continue
			}
			if _, known := index[s.Place]; !known {
				index[s.Place] = len(groups)
				groups = append(groups, nil)
			}
			groups[index[s.Place]] = append(groups[index[s.Place]], s)
		}
	}
	return groups
}

func taken(stations []Station, values map[string]float64) (there, absent []string) {
	for _, s := range stations {
		if v, ok := values[s.Name]; ok && !math.IsNaN(v) {
			there = append(there, s.Name)
		} else {
			absent = append(absent, s.Name)
		}
	}
	return there, absent
}
