package plots

import (
	"fmt"
	"image"
	"image/color"
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry"
	"lampswap/photometry/room"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

const ft = photometry.Foot

// warehouse is an invented room with rows of strips, 8 ft long, at 16 ft, seen from above: direct light of point sources whose
// intensity falls with the cosine from nadir and with the cosine from square to the lamps.
func warehouse(length, width, spacing float64, rows, columns int, candela float64, racks ...Rect) Map {
	r := room.Room{Length: length * ft, Width: width * ft, Height: 18 * ft, WorkPlane: 2.5 * ft}
	grid := r.WorkPlaneGrid(spacing * ft)
	placements := r.Lattice(rows, columns, 16*ft, 0)
	values := make([]float64, grid.NX*grid.NY)
	for k := range values {
		p := grid.Point(k%grid.NX, k/grid.NX)
		for _, q := range placements {
			d := p.Sub(q.Position)
			l := d.Length()
			cos, along := -d.Z/l, d.X/l
			values[k] += candela * cos * math.Sqrt(1-along*along) * cos / (l * l)
		}
		for _, rack := range racks {
			if p.X > rack.X0 && p.X < rack.X1 && p.Y > rack.Y0 && p.Y < rack.Y1 {
				values[k] = math.NaN()
			}
		}
	}
	m := NewMap(grid, values)
	m.Imperial, m.Racks = true, racks
	for _, q := range placements {
		m.Luminaires = append(m.Luminaires, Mark{X: q.Position.X, Y: q.Position.Y, Length: 8 * ft, Width: 0.35 * ft, Rotation: q.Rotation})
	}
	return m
}

// outlined is an invented T-shaped room with a rack, which a wall cuts, and a mezzanine.
func outlined() Map {
	m := warehouse(120, 60, 2, 6, 12, 1100)
	at := func(x, y float64) room.Vec { return room.Vec{X: x * ft, Y: y * ft} }
	m.Title, m.Outline = "Light in a T", room.Outline{at(0, 25), at(40, 25), at(40, 0), at(90, 0), at(90, 25), at(120, 25), at(120, 60), at(0, 60)}
	m.Racks, m.Hanging = []Rect{{50 * ft, 8 * ft, 100 * ft, 12 * ft}}, []Rect{{0, 40 * ft, 30 * ft, 60 * ft}}
	for k := range m.Values {
		p := at(m.X[k%len(m.X)]/ft, m.Y[k/len(m.X)]/ft)
		if r := m.Racks[0]; !m.Outline.Holds(p) || p.X > r.X0 && p.X < r.X1 && p.Y > r.Y0 && p.Y < r.Y1 {
			m.Values[k] = math.NaN()
		}
	}
	m.Luminaires = slices.DeleteFunc(m.Luminaires, func(l Mark) bool { return !m.Outline.Holds(room.Vec{X: l.X, Y: l.Y}) })
	return m
}

// fourRacks stand in the warehouse of 120 by 60 ft.
func fourRacks() []Rect {
	var racks []Rect
	for k := range 4 {
		y := 8 + 14*float64(k)
		racks = append(racks, Rect{10 * ft, y * ft, 100 * ft, (y + 4) * ft})
	}
	return racks
}

// beforeAfter is the sheet of a room: existing, proposed with a little more light in the middle and less at the walls, change.
func beforeAfter(existing Map) Sheet {
	proposed := existing
	proposed.Values = make([]float64, len(existing.Values))
	for i, v := range existing.Values {
		proposed.Values[i] = 1.35*v - 60
	}
	change := existing
	change.Change, change.Values = true, Difference(existing.Values, proposed.Values)
	existing.Title, proposed.Title, change.Title = "Existing", "Proposed", "Change"
	return Sheet{Title: "Light before and after", Subtitle: "Dockside parts store, north bay", Caption: "Maintained horizontal illuminance.",
		Maps: []Map{existing, proposed, change}}
}

// rackFace is the invented front of a rack, 90 ft long and 11 ft high.
func rackFace(t *testing.T) Map {
	t.Helper()
	grid, err := room.VerticalGrid("aisle 2, north face", room.Vec{X: 10 * ft, Y: 12 * ft}, room.Vec{X: 100 * ft, Y: 12 * ft},
		0.5*ft, 11.5*ft, math.Pi/2, ft)
	require.NoError(t, err)
	x, y := grid.Coordinates()
	values := make([]float64, len(x)*len(y))
	for k := range values {
		x, y := x[k%len(x)]/ft, y[k/len(x)]/ft
		values[k] = 60 + 5.5*y + 2.6*y*math.Cos(2*math.Pi*x/10)
	}
	m := NewMap(grid, values)
	m.Title, m.Imperial = "Aisle 2, north face", true
	return m
}

// strip is an invented luminaire, wide across its lamps, with or without light upward.
func strip(t *testing.T, upward float64) *photometry.Distribution {
	t.Helper()
	horizontal := []float64{0, 22.5, 45, 67.5, 90}
	var vertical []float64
	for deg := 0.0; deg <= 180; deg += 5 {
		vertical = append(vertical, deg)
	}
	var candela [][]float64
	for _, h := range horizontal {
		var row []float64
		for _, v := range vertical {
			sin, cos := math.Sincos(v * math.Pi / 180)
			along, across := sin*math.Cos(h*math.Pi/180), sin*math.Sin(h*math.Pi/180)
			down := math.Max(0, (cos+0.15)/1.15)
			row = append(row, 1100*math.Sqrt(1-along*along)*((1+0.6*across*across)*down+upward*math.Max(0, -cos)))
		}
		candela = append(candela, row)
	}
	d, err := photometry.NewDistribution(horizontal, vertical, candela)
	require.NoError(t, err)
	return d
}

// figures are one of each kind and shape.
func figures(t *testing.T) map[string]Figure {
	t.Helper()
	north := 60.0
	wide := warehouse(120, 60, 2, 6, 12, 1100)
	wide.Title, wide.Subtitle = "Existing light, work plane", "Dockside parts store, north bay · 2.5 ft above the floor · maintained"
	wide.Caption, wide.NorthDeg = "72 two-lamp strips at 16 ft, half a spacing from the walls.", &north
	racks := warehouse(120, 60, 2, 6, 12, 1100, fourRacks()...)
	racks.Title = "Existing light between racks"
	square := warehouse(80, 80, 4, 5, 5, 4000)
	square.Imperial = false
	for i := range square.Luminaires {
		square.Luminaires[i].Length = 0
	}
	sided := warehouse(60, 40, 4, 3, 4, 1100)
	for i := range sided.Luminaires {
		l := &sided.Luminaires[i]
		l.Sided = true
		switch i % 3 {
		case 0:
			l.Length, l.Width, l.Rotation = 4*ft, 4*ft, math.Pi/2
		case 1:
			l.Length, l.Rotation = 4*ft, math.Pi/6
		default:
			l.Length = 0
		}
	}
	clipped := warehouse(60, 40, 2, 4, 4, 1100)
	clipped.Levels = []float64{10, 15, 20}
	blank := warehouse(60, 40, 4, 2, 2, 1100)
	for i := range blank.Values {
		blank.Values[i] = math.NaN()
	}
	even := warehouse(60, 40, 4, 2, 2, 1100)
	for i := range even.Values {
		even.Values[i] = 300
	}
	shaped := outlined()
	plan := survey(6, 4)
	plan.Racks, plan.Hanging, plan.Outline = nil, shaped.Hanging, shaped.Outline
	plan.Stations = slices.DeleteFunc(plan.Stations, func(s Station) bool { return !shaped.Outline.Holds(room.Vec{X: s.X, Y: s.Y}) })
	all := charts()
	maps.Copy(all, map[string]Figure{
		"map-wide": wide, "map-racks": racks, "map-square": square, "map-levels": clipped, "map-sided": sided, "map-blank": blank, "map-even": even,
		"map-outline": shaped, "sheet-outline": beforeAfter(shaped), "stations-outline": plan,
		"map-long": warehouse(400, 40, 4, 3, 40, 1100), "map-tall": warehouse(40, 160, 4, 16, 4, 1100), "map-face": rackFace(t),
		"map-gallery": gallery(),
		"sheet-wide":  beforeAfter(wide), "sheet-racks": beforeAfter(racks), "sheet-square": beforeAfter(square),
		"sheet-long": beforeAfter(warehouse(400, 40, 4, 3, 40, 1100)), "sheet-tall": beforeAfter(warehouse(40, 160, 4, 16, 4, 1100)),
		"sheet-face":  beforeAfter(rackFace(t)),
		"polar-down":  Polar{Title: "Two-lamp strip", Subtitle: "invented, 8 ft", Distribution: strip(t, 0)},
		"polar-up":    Polar{Title: "Open strip", Caption: "Invented.", Distribution: strip(t, 0.25)},
		"polar-plain": Polar{Distribution: strip(t, 0.02)},
	})
	return all
}

// A ledger is a canvas that only notes how far its ink goes and what is written.
type ledger struct {
	width, height vg.Length
	ink           vg.Rectangle
	nowhere       int // points whose place is no number
	texts         []string
	boxes         []place.Box // of the texts
	state         ledgerState
	stack         []ledgerState
}

type ledgerState struct {
	origin vg.Point
	angle  float64
	line   vg.Length
}

func newLedger(width, height vg.Length) *ledger {
	far := vg.Length(math.Inf(1))
	return &ledger{width: width, height: height, ink: vg.Rectangle{Min: vg.Point{X: far, Y: far}, Max: vg.Point{X: -far, Y: -far}}}
}

// recordFigure draws a figure at its own height.
func recordFigure(f Figure, width vg.Length) *ledger {
	l := newLedger(width, f.Height(width))
	f.Draw(draw.New(l))
	return l
}

func (l *ledger) Size() (width, height vg.Length)     { return l.width, l.height }
func (l *ledger) SetLineWidth(w vg.Length)            { l.state.line = w }
func (l *ledger) SetLineDash([]vg.Length, vg.Length)  {}
func (l *ledger) SetColor(color.Color)                {}
func (l *ledger) Rotate(angle float64)                { l.state.angle += angle }
func (l *ledger) Translate(by vg.Point)               { l.state.origin = l.at(by) }
func (l *ledger) Scale(float64, float64)              { panic("not used") }
func (l *ledger) DrawImage(vg.Rectangle, image.Image) { panic("not used") }
func (l *ledger) Push()                               { l.stack = append(l.stack, l.state) }
func (l *ledger) Pop()                                { l.state, l.stack = l.stack[len(l.stack)-1], l.stack[:len(l.stack)-1] }
func (l *ledger) Stroke(path vg.Path)                 { l.note(path, l.state.line/2) }
func (l *ledger) Fill(path vg.Path)                   { l.note(path, 0) }

func (l *ledger) at(p vg.Point) vg.Point {
	sin, cos := math.Sincos(l.state.angle)
	o := l.state.origin
	return vg.Point{X: o.X + p.X*vg.Length(cos) - p.Y*vg.Length(sin), Y: o.Y + p.X*vg.Length(sin) + p.Y*vg.Length(cos)}
}

func (l *ledger) note(path vg.Path, around vg.Length) {
	for _, c := range path {
		if c.Type == vg.CloseComp {
			continue
		}
		p := l.at(c.Pos)
		if !photometry.Finite(float64(p.X), float64(p.Y), float64(around)) {
			l.nowhere++
		}
		if onEdge := p.X == 0 || p.Y == 0 || p.X == l.width || p.Y == l.height; onEdge {
			continue // the paper itself
		}
		l.ink.Min = vg.Point{X: min(l.ink.Min.X, p.X-around), Y: min(l.ink.Min.Y, p.Y-around)}
		l.ink.Max = vg.Point{X: max(l.ink.Max.X, p.X+around), Y: max(l.ink.Max.Y, p.Y+around)}
	}
}

func (l *ledger) FillString(f font.Face, at vg.Point, s string) {
	l.texts = append(l.texts, s)
	w, up, down := f.Width(s), pen.CapHeight(f.Font), 0.22*f.Font.Size
	l.note(pen.Polygon([]vg.Point{{X: at.X, Y: at.Y - down}, {X: at.X + w, Y: at.Y - down}, {X: at.X + w, Y: at.Y + up}, {X: at.X, Y: at.Y + up}}, true), 0)
	l.boxes = append(l.boxes, place.Box{Centre: l.at(vg.Point{X: at.X + w/2, Y: at.Y + up/2}), Width: w, Height: up, Angle: l.state.angle})
}

// overlaps returns the pairs of texts that lie on each other.
func (l *ledger) overlaps() []string {
	var pairs []string
	for i, a := range l.boxes {
		for k, b := range l.boxes[i+1:] {
			if a.Overlaps(b) {
				pairs = append(pairs, fmt.Sprintf("%q on %q", l.texts[i], l.texts[i+1+k]))
			}
		}
	}
	return pairs
}
