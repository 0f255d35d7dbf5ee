package survey

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

// A Role is what a station stands for in the formula of the average.
type Role int

// The roles: R between rows, Q along the long sides, T at the ends, P in the corners, and a point of a grid.
const (
	R Role = iota
	Q
	T
	P
	GridPoint
)

// String is the letter of the role, or "grid".
func (r Role) String() string {
	if r < R || r > P {
		return "grid"
	}
	return "RQTP"[r : r+1]
}

// A Station is a place at which one reading is taken.
type Station struct {
	Name     string
	Role     Role
	Place    string   // in words; stations of one role and the same place stand for each other
	Position room.Vec // of the middle of the sensor, m
	Normal   room.Vec // unit vector out of the sensor: straight up for a horizontal plane
}

// Key is the exact place of a station in whole millimeters, with the azimuth of an upright sensor in degrees: what ties a line of a form to it,
// whatever the stations' names and however their places are rounded.
func (s Station) Key() string {
	key := fmt.Sprintf("mm%.0f:%.0f:%.0f", 1000*s.Position.X, 1000*s.Position.Y, 1000*s.Position.Z)
	if facing := s.facingDeg(); !math.IsNaN(facing) {
		key += fmt.Sprintf(":%.0f", facing)
	}
	return key
}

// sameKey tells whether two keys are of one place: to a millimeter, which another machine's rounding may differ by.
func sameKey(a, b string) bool {
	one, other := strings.Split(strings.TrimPrefix(a, "mm"), ":"), strings.Split(strings.TrimPrefix(b, "mm"), ":")
	if len(one) != len(other) {
		return false
	}
	for i := range one {
		x, wrong := strconv.Atoi(one[i])
		y, bad := strconv.Atoi(other[i])
		if wrong != nil || bad != nil || max(x-y, y-x) > 1 {
			return false
		}
	}
	return true
}

// A Plan is a set of stations and the way in which their readings make an average.
type Plan struct {
	Arrangement   Arrangement
	Rows, PerRow  int     // M and N of the formulas; columns are those along the rows
	Length, Width float64 // of the room, m
	Stations      []Station
	Sampled       bool      // the stations are a sample: their mean is no average of the area but stands for it beside a prediction
	Dropped       []Station // stations that no reading can be taken at
	Notes         []Note    // what the reader must know about the plan
}

// Words names what the stations are.
func (p Plan) Words() string {
	if p.Sampled {
		return "a sample of points"
	}
	return p.Arrangement.String()
}

// EveryPoint tells whether the stations are all the points of a grid. Others, those of the survey formulas too, are chosen for the average:
// where nobody read there may be less light than the least that was read, as in the corners, and more than the most.
func (p Plan) EveryPoint() bool { return p.Arrangement == PointGrid && !p.Sampled }

// ErrSmallCeiling says that a room is too small for the formula of the luminous ceiling: it needs more than 8 ft each way.
var ErrSmallCeiling = errors.New("survey: the stations of a luminous ceiling need a room of more than 8 ft each way")

// NewPlan places the stations of the survey formula that fits the lattice. Their number and weight are published, their place within
// the bay is our choice (see the package comment), and the plan's notes say so. It errs with ErrSmallCeiling, and panics as
// Lattice.Arrangement does.
func NewPlan(l Lattice) (Plan, error) {
	a, r := l.Arrangement(), l.rows()
	p := placing{rows: r}
	switch a {
	case SingleLuminaires:
		p.singles()
	case OneLuminaire:
		p.quarters()
	case OneRow:
		p.oneRow()
	case ContinuousRows:
		p.continuous()
	case OneContinuousRow:
		p.oneContinuous()
	case LuminousCeiling:
		if side := rule("ceiling strip").Value * photometry.Foot; r.long <= 2*side || r.wide <= 2*side {
			return Plan{}, ErrSmallCeiling
		}
		p.ceiling()
	case PointGrid: // no lattice is one
	}
	notes := append([]Note{{Code: OurPlaces}}, r.notes(a)...)
	return Plan{Arrangement: a, Rows: r.m, PerRow: r.n, Length: r.long, Width: r.wide, Stations: p.stations, Notes: notes}, nil
}

// placing collects stations in the frame of the rows.
type placing struct {
	rows
	stations []Station
	count    [GridPoint]int
}

func (p *placing) add(role Role, place string, s, t float64) {
	p.count[role]++
	name := strings.ToLower(role.String()) + strconv.Itoa(p.count[role])
	p.stations = append(p.stations, Station{Name: name, Role: role, Place: place, Position: p.at(s, t), Normal: room.Vec{Z: 1}})
}

// s and t return the place of a luminaire by its number, halves allowed.
func (p *placing) s(i float64) float64 { return p.firstS + i*p.stepS }
func (p *placing) t(j float64) float64 { return p.firstT + j*p.stepT }

const (
	underOne     = "under a luminaire"
	alongRow     = "midway between two luminaires of a row"
	betweenRows  = "midway between two rows, abreast of luminaires"
	middleOfBay  = "in the middle between four luminaires"
	sideAbreast  = "halfway from the outer row to the long wall, abreast of a luminaire"
	sideBetween  = "halfway from the outer row to the long wall, between two luminaires"
	endAbreast   = "halfway from the last luminaire to the end wall, in line with a row"
	endBetween   = "halfway from the last luminaire to the end wall, midway between two rows"
	corner       = "in the middle of the corner's quarter bay"
	underRow     = "under a row"
	midwayRows   = "midway between two rows"
	besideMiddle = "halfway from the row to the long wall"
)

// singles: two bays, one in the middle and one beside the far long side; where two rows make one line of bays, the other one lies a
// quarter of them from the end. Half bays lie in the middle of one side and at the end of the other.
func (p *placing) singles() {
	middleI, middleJ := (p.n-2)/2, (p.m-2)/2
	p.bay(middleI, middleJ, 1, 1)
	switch {
	case p.m > 2:
		p.bay(middleI, p.m-1, 1, -1)
	case p.n > 2:
		p.bay(p.n-1-(p.n-2)/4, 1, -1, -1)
	}
	p.halfBay(middleI, 1, p.firstT/2)
	p.halfBay(p.n-1, -1, p.wide-p.firstT/2)
	p.endBay(middleJ, 1, p.firstS/2)
	p.endBay(p.m-1, -1, p.long-p.firstS/2)
	p.corners(p.firstS / 2)
}

// bay reads in the bay that lies from luminaire i of row j in the directions di and dj, 1 or -1: an outer bay is entered from its
// outer side, so that the readings under luminaires stand for the outer rows too.
func (p *placing) bay(i, j int, di, dj float64) {
	s, t := p.s(float64(i)), p.t(float64(j))
	halfS, halfT := di*p.stepS/2, dj*p.stepT/2
	p.add(R, underOne, s, t)
	p.add(R, alongRow, s+halfS, t)
	p.add(R, betweenRows, s, t+halfT)
	p.add(R, middleOfBay, s+halfS, t+halfT)
}

// halfBay reads beside luminaire i and midway to the next one in a direction.
func (p *placing) halfBay(i int, di, t float64) {
	p.add(Q, sideAbreast, p.s(float64(i)), t)
	p.add(Q, sideBetween, p.s(float64(i))+di*p.stepS/2, t)
}

// endBay reads at the end of row j and midway to the next one in a direction.
func (p *placing) endBay(j int, dj, s float64) {
	p.add(T, endAbreast, s, p.t(float64(j)))
	p.add(T, endBetween, s, p.t(float64(j))+dj*p.stepT/2)
}

// corners reads in two corners that face each other, at a distance from the end walls.
func (p *placing) corners(s float64) {
	p.add(P, corner, s, p.firstT/2)
	p.add(P, corner, p.long-s, p.wide-p.firstT/2)
}

func (p *placing) quarters() {
	for _, s := range []float64{0.25, 0.75} {
		for _, t := range []float64{0.25, 0.75} {
			p.add(P, "in the middle of a quarter of the room", s*p.long, t*p.wide)
		}
	}
}

// oneRow: half bays in the middle and at an end, the other way round on the other side. Two luminaires have one half bay a side.
func (p *placing) oneRow() {
	near, far := p.firstT/2, p.wide-p.firstT/2
	middle, last := (p.n-2)/2, p.n-1
	p.halfBay(middle, 1, near)
	p.halfBay(last-middle, -1, far)
	if p.n > 2 {
		p.halfBay(last, -1, near)
		p.halfBay(0, 1, far)
	}
	p.corners(p.firstS / 2)
}

// endStrip returns how far from the end walls the middle of the strips lies for which the weights of continuous rows stand: two strips
// together take 1/(N+1) of the length. Rows that end farther from the walls are read halfway to them.
func (p *placing) endStrip() float64 {
	return max(p.long/float64(p.n+1)/4, (p.firstS-p.stepS/2)/2)
}

// continuous: R at the quarters of the length, between the middle rows and beside the outer one. Along a continuous row the light
// changes slowly, and towards its end it falls: what lies at the quarters stands better for the whole length than what lies in the
// middle.
func (p *placing) continuous() {
	end, quarter := p.endStrip(), p.long/4
	bay := func(j int, dj, s, e float64) {
		row, between := p.t(float64(j)), p.t(float64(j))+dj*p.stepT/2
		p.add(R, underRow, s, row)
		p.add(R, midwayRows, s, between)
		p.add(T, "at the end of a row, "+underRow, e, row)
		p.add(T, "at the ends of the rows, "+midwayRows, e, between)
	}
	bay((p.m-2)/2, 1, quarter, end)
	bay(p.m-1, -1, p.long-quarter, p.long-end)
	p.add(Q, "midway along the long side, "+besideMiddle, p.long/2, p.firstT/2)
	p.add(Q, "midway along the long side, "+besideMiddle, p.long/2, p.wide-p.firstT/2)
	p.corners(end)
}

// oneContinuous: three readings a side, in the middle of three equal parts of the length.
func (p *placing) oneContinuous() {
	places := []string{"first", "middle", "last"}
	for _, t := range []float64{p.firstT / 2, p.wide - p.firstT/2} {
		for k, place := range places {
			p.add(Q, besideMiddle+", "+place+" third of the length", (2*float64(k)+1)/6*p.long, t)
		}
	}
	p.corners(p.endStrip())
}

// ceiling: 2 ft from the walls; the four readings in the middle, published as taken at random, in the quarters of what lies inside.
func (p *placing) ceiling() {
	wall := rule("ceiling strip").Value * photometry.Foot / 2
	for _, s := range []float64{0.25, 0.75} {
		for _, t := range []float64{0.25, 0.75} {
			p.add(R, "in the middle of a quarter of the inner room", 2*wall+s*(p.long-4*wall), 2*wall+t*(p.wide-4*wall))
		}
	}
	p.add(Q, "2 ft from a long wall, midway", p.long/2, wall)
	p.add(Q, "2 ft from a long wall, midway", p.long/2, p.wide-wall)
	p.add(T, "2 ft from a short wall, midway", wall, p.wide/2)
	p.add(T, "2 ft from a short wall, midway", p.long-wall, p.wide/2)
	p.add(P, "2 ft from both walls of a corner", wall, wall)
	p.add(P, "2 ft from both walls of a corner", p.long-wall, p.wide-wall)
}
