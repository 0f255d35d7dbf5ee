package room

import (
	"errors"
	"fmt"
	"math"
)

// A Plane is how a grid stands.
type Plane int

// The planes a grid may have.
const (
	Horizontal Plane = iota
	Vertical
)

// String is the contract's word for the plane.
func (p Plane) String() string {
	if p == Vertical {
		return "vertical"
	}
	return "horizontal"
}

// A Quantity is which illuminance is meant at the points of a grid.
type Quantity int

// The quantities: on a surface that faces up or down, on one that stands upright and faces one way, and the
// mean of that over all ways.
const (
	OnLevel Quantity = iota
	Upright
	Cylindrical
)

// String is the contract's word for the quantity.
func (q Quantity) String() string {
	switch q {
	case OnLevel:
		return "horizontal"
	case Upright:
		return "vertical"
	case Cylindrical:
	}
	return "cylindrical"
}

// A Grid is a plane lattice of NX by NY points, centred in equal cells. U and V are the unit directions along
// its rows and its columns; Normal is the unit normal of the side that receives light, or the zero Vec,
// AllRound, for a slender upright cylinder at each point.
type Grid struct {
	Name           string
	Plane          Plane
	NX, NY         int // columns and rows
	Origin         Vec // corner of the first cell, m
	U, V, Normal   Vec
	StepX, StepY   float64 // cell size along U and V, m
	startX, startY float64 // coordinate of Origin along U and V, as the contract reports it
}

// Cells returns into how many cells of at most the given spacing a length is cut, both in m:
// ⌈length/spacing⌉, forgiving rounding of 1e-9 of a cell, and at least 1.
func Cells(length, spacing float64) int {
	return max(1, int(math.Ceil(length/spacing-1e-9)))
}

// HorizontalGrid returns the grid of the rectangle between two corners, the first nearer the origin, at a
// height above the floor, m. It looks up, and its cells are of at most the spacing, m. The corners' own
// heights do not count.
func HorizontalGrid(name string, from, to Vec, height, spacing float64) Grid {
	length, width := to.X-from.X, to.Y-from.Y
	g := Grid{Name: name, NX: Cells(length, spacing), NY: Cells(width, spacing),
		Origin: Vec{
			from.X,
			from.Y,
			height,
		}, U: Vec{X: 1}, V: Vec{Y: 1}, Normal: Vec{Z: 1}, startX: from.X, startY: from.Y}
	g.StepX, g.StepY = length/float64(g.NX), width/float64(g.NY)
	return g
}

// AllRound stands for the normal of a slender upright cylinder, which receives light from all sides: its
// illuminance is the mean of that of upright surfaces that face all ways.
var AllRound Vec

// Facing is the normal of an upright surface that faces along an azimuth, rad. Right angles are exact.
func Facing(azimuth float64) Vec {
	exact := func(x float64) float64 {
		if r := math.Round(x); math.Abs(x-r) < 1e-15 {
			return r
		}
		return x
	}
	return Vec{X: exact(math.Cos(azimuth)), Y: exact(math.Sin(azimuth))}
}

// Azimuth is that of a direction in plan, rad, from 0 on and below 2π.
func (a Vec) Azimuth() float64 {
	azimuth := math.Atan2(a.Y, a.X)
	if azimuth < 0 {
		azimuth += 2 * math.Pi
	}
	return azimuth
}

// Quantity tells which illuminance is meant at the points.
func (g Grid) Quantity() Quantity {
	switch {
	case g.Normal == AllRound:
		return Cylindrical
	case math.Abs(g.Normal.Z) < 0.5:
		return Upright
	}
	return OnLevel
}

// Label is the grid's name, and what is measured there where that is not to be seen from how the grid lies.
func (g Grid) Label() string {
	switch {
	case g.Quantity() == Cylindrical:
		return g.Name + ", cylindrical"
	case g.Quantity() == Upright && g.Plane == Horizontal:
		return fmt.Sprintf("%s, vertical facing %.4g degrees", g.Name, g.Normal.Azimuth()*180/math.Pi)
	}
	return g.Name
}

// OneSurface tells that all points lie on one surface, of which the normal is the grid's.
func (g Grid) OneSurface() bool {
	const square = 1e-9
	return g.Normal != AllRound && math.Abs(g.U.Dot(g.Normal)) < square && math.Abs(g.V.Dot(g.Normal)) < square
}

// PointGrid returns a grid of one point, m, on a surface with a unit normal. It has no name.
func PointGrid(at, normal Vec) Grid {
	const cell = 0.01 // m, of no consequence
	u, n := Vec{X: 1}, normal
	switch {
	case normal == AllRound:
		n = Vec{Z: 1}
	case math.Abs(normal.Z) < 1:
		u = Vec{X: -normal.Y, Y: normal.X}.Scale(1 / math.Hypot(normal.X, normal.Y))
	}
	v := Vec{X: n.Y*u.Z - n.Z*u.Y, Y: n.Z*u.X - n.X*u.Z, Z: n.X*u.Y - n.Y*u.X}
	g := Grid{Plane: Vertical, NX: 1, NY: 1, U: u, V: v, Normal: normal, StepX: cell, StepY: cell}
	if u == (Vec{X: 1}) && n == (Vec{Z: 1}) {
		g.Plane = Horizontal
	}
	g.Origin = at.Add(u.Scale(-cell / 2)).Add(v.Scale(-cell / 2))
	return g
}

// WorkPlaneGrid returns the grid of the whole room at the height of its work plane, with cells of at most the
// spacing, m.
func (r Room) WorkPlaneGrid(spacing float64) Grid {
	return HorizontalGrid("work plane", Vec{}, Vec{X: r.Length, Y: r.Width}, r.WorkPlane, spacing)
}

// ErrFacing says that a vertical grid was asked to face another way than square to its line.
var ErrFacing = errors.New("room: a vertical grid must face square to its line")

// VerticalGrid returns a grid that stands on the plan line between two points and reaches from one height to
// another, m, with cells of at most the spacing, m. facing is the azimuth, rad, of the side that receives
// light; it errs with ErrFacing unless that is square to the line within 0.5 degrees.
func VerticalGrid(name string, from, to Vec, low, high, facing, spacing float64) (Grid, error) {
	line := Vec{X: to.X - from.X, Y: to.Y - from.Y}
	length := line.Length()
	u := line.Scale(1 / length)
	left := Vec{X: -u.Y, Y: u.X}
	side := left.Dot(Vec{X: math.Cos(facing), Y: math.Sin(facing)})
	if !(math.Abs(side) > math.Cos(0.5*math.Pi/180)) {
		return Grid{}, ErrFacing
	}
	g := Grid{Name: name, Plane: Vertical, NX: Cells(length, spacing), NY: Cells(high-low, spacing),
		Origin: Vec{
			from.X,
			from.Y,
			low,
		}, U: u, V: Vec{Z: 1}, Normal: left.Scale(math.Copysign(1, side)), startY: low}
	g.StepX, g.StepY = length/float64(g.NX), (high-low)/float64(g.NY)
	return g, nil
}

// Point returns the point, m, in column ix and row iy, both from 0.
func (g Grid) Point(ix, iy int) Vec {
	return g.Origin.Add(g.U.Scale((float64(ix) + 0.5) * g.StepX)).Add(g.V.Scale((float64(iy) + 0.5) * g.StepY))
}

// Coordinates returns the position of the columns and of the rows, m: x and y of a horizontal grid, distance
// along the line and height above the floor of a vertical one.
func (g Grid) Coordinates() (x, y []float64) {
	x, y = make([]float64, g.NX), make([]float64, g.NY)
	for i := range x {
		x[i] = g.startX + (float64(i)+0.5)*g.StepX
	}
	for j := range y {
		y[j] = g.startY + (float64(j)+0.5)*g.StepY
	}
	return x, y
}
