package survey

import (
	"math"

	"lampswap/photometry/room"
)

// An Arrangement is how luminaires stand in a room, as far as the survey formulas tell rooms apart.
type Arrangement int

// The arrangements, in the order of the handbook's formulas A to F; and points that stand for equal areas.
const (
	SingleLuminaires Arrangement = iota // A: two or more rows of single luminaires
	OneLuminaire                        // B: one luminaire in the middle
	OneRow                              // C: one row of single luminaires
	ContinuousRows                      // D: two or more continuous rows
	OneContinuousRow                    // E: one continuous row
	LuminousCeiling                     // F: luminous or louvered ceiling
	PointGrid                           // a grid: every point counts the same
)

var arrangementWords = []string{"two or more rows of single luminaires", "one luminaire", "one row of single luminaires",
	"two or more continuous rows", "one continuous row", "a luminous ceiling", "a grid of points"}

// String names the arrangement in words.
func (a Arrangement) String() string {
	if a < 0 || int(a) >= len(arrangementWords) {
		return "no arrangement"
	}
	return arrangementWords[a]
}

// A Lattice is one regular array of luminaires, centered in the room.
type Lattice struct {
	Length, Width      float64 // of the room along x and along y, m
	WorkPlane          float64 // height of the stations above the floor, m
	Rows, Columns      int     // Rows along y by Columns along x
	SpacingX, SpacingY float64 // center to center, m; 0: evenly spaced and half a spacing from the walls, as room.Room.Lattice
	LampsAlongY        bool
	LuminousLength     float64 // of one luminaire along its lamps, m; 0 for a point
	LuminousCeiling    bool    // the whole ceiling gives light: rows, columns and lamps do not count
}

// Luminaires whose gap is less than this share of their spacing make a continuous row: our choice, as ends without light of lamps that
// stand end to end take up a few percent.
const mostGap = 0.1

const errLattice = "survey: a lattice needs a room with extent, one row and one column at least, and an array that fits in the room"

func (l Lattice) check() {
	x, y := l.Spacing()
	fits := float64(l.Columns-1)*x < l.Length && float64(l.Rows-1)*y < l.Width
	if !(l.Length > 0) || !(l.Width > 0) || !l.LuminousCeiling && (l.Rows < 1 || l.Columns < 1 || !(x > 0) || !(y > 0) || !fits) {
		panic(errLattice)
	}
}

// Spacing returns the distance from luminaire to luminaire along x and along y, m.
func (l Lattice) Spacing() (x, y float64) {
	x, y = l.SpacingX, l.SpacingY
	if x == 0 {
		x = l.Length / float64(l.Columns)
	}
	if y == 0 {
		y = l.Width / float64(l.Rows)
	}
	return x, y
}

// continuous tells whether the luminaires along the lamps make rows without a gap to speak of.
func (l Lattice) continuous() bool {
	x, y := l.Spacing()
	if l.LampsAlongY {
		return l.Rows > 1 && l.LuminousLength >= (1-mostGap)*y
	}
	return l.Columns > 1 && l.LuminousLength >= (1-mostGap)*x
}

// Arrangement returns which of the survey's formulas fits. Rows are continuous if the gap between luminaires end to end is less than 10
// percent of their spacing, our choice. It panics on a lattice that is none: no room, no luminaire, or not within the room.
func (l Lattice) Arrangement() Arrangement {
	l.check()
	across := l.Rows
	if l.LampsAlongY {
		across = l.Columns
	}
	switch {
	case l.LuminousCeiling:
		return LuminousCeiling
	case l.continuous() && across > 1:
		return ContinuousRows
	case l.continuous():
		return OneContinuousRow
	case l.Rows == 1 && l.Columns == 1:
		return OneLuminaire
	case l.Rows == 1 || l.Columns == 1:
		return OneRow
	}
	return SingleLuminaires
}

// rows is a lattice seen along its rows: s runs along them from one end wall, t across them from one side wall, m.
type rows struct {
	long, wide     float64 // extent of the room along s and along t
	m, n           int     // rows, and luminaires in one
	stepS, stepT   float64
	firstS, firstT float64 // the luminaire next to the origin
	alongY         bool
	height         float64
}

// rows turns the lattice. Continuous rows run along the lamps, one row along itself, and others along the longer side of the room,
// so that the sides beside the rows are the long ones, of which the formulas speak.
func (l Lattice) rows() rows {
	alongY := l.Width > l.Length
	switch l.Arrangement() {
	case ContinuousRows, OneContinuousRow:
		alongY = l.LampsAlongY
	case OneRow:
		alongY = l.Columns == 1
	case SingleLuminaires, OneLuminaire, LuminousCeiling, PointGrid:
	}
	x, y := l.Spacing()
	r := rows{long: l.Length, wide: l.Width, m: l.Rows, n: l.Columns, stepS: x, stepT: y, height: l.WorkPlane}
	if alongY {
		r = rows{long: l.Width, wide: l.Length, m: l.Columns, n: l.Rows, stepS: y, stepT: x, alongY: true, height: l.WorkPlane}
	}
	r.firstS = (r.long - float64(r.n-1)*r.stepS) / 2
	r.firstT = (r.wide - float64(r.m-1)*r.stepT) / 2
	return r
}

// at returns a point of the work plane in the room's frame.
func (r rows) at(s, t float64) room.Vec {
	if r.alongY {
		return room.Vec{X: t, Y: s, Z: r.height}
	}
	return room.Vec{X: s, Y: t, Z: r.height}
}

// notes says where the array is not the one that the formula supposes.
func (r rows) notes(a Arrangement) []Note {
	if a == OneLuminaire || a == LuminousCeiling {
		return nil
	}
	var notes []Note
	note := func(first, step float64, code NoteCode) {
		if share := first / step; math.Abs(share-0.5) > mostGap {
			notes = append(notes, Note{Code: code, Share: share})
		}
	}
	if a == SingleLuminaires || a == OneRow {
		note(r.firstS, r.stepS, OffAtEnds)
	}
	if r.m > 1 {
		note(r.firstT, r.stepT, OffBeside)
	}
	return notes
}
