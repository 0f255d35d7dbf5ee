package survey

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/metrology"
	"lampswap/photometry/room"
)

const (
	// No station stands nearer to a rack, m: there the reader's own shadow and the shelf's light count. A foot, our choice.
	clearOfRack = photometry.Foot
	// Between racks that stand closer nobody walks, m: our choice, 2.5 ft.
	narrowestAisle = 2.5 * photometry.Foot
	// A plan that is walked has no more stations unless more are asked for: our choice, what one evening bears.
	mostWalked = 60
	// Below boxes that hang lower nobody walks, m: our choice, 6.5 ft.
	headroom = 6.5 * photometry.Foot
	// Every aisle has at least so many stations as long as all are read: our choice.
	leastInAisle = 2
	// Halls with more bays get bays drawn at random beside the formula's: our choice.
	largeHall = 100
	// Of so large a share of dead bays one is to be seen with so large a chance: our choice.
	deadShare, seenChance = 0.1, 0.9
)

// An Aisle is a strip of floor free of racks, read along its center line.
type Aisle struct {
	From, To room.Vec // of the center line, m
	Width    float64  // m
}

// InTheWay tells whether one walks around a rack: whether it reaches above a height, m, and does not hang over one's head.
func InTheWay(k room.Rack, height float64) bool {
	return k.Far().Z > height && k.Corner.Z < max(height, headroom)
}

// Aisles returns where one can walk: between racks along their rows, and before, between and behind blocks of rows, where the open floor
// has lines side by side, none for more than widest, m. Racks no higher than a height above the floor, m, are walked around by themselves.
// Of racks whose blocks overlap without a straight way between them there is none.
func Aisles(r room.Room, racks []room.Rack, height, widest float64) []Aisle {
	var along, across float64
	var boxes [][2]room.Vec
	for _, k := range racks {
		if InTheWay(k, height) {
			boxes = append(boxes, [2]room.Vec{k.Corner, k.Far()})
			along, across = along+k.Size.X, across+k.Size.Y
		}
	}
	swap := across > along
	turned := func(v room.Vec) room.Vec {
		if swap {
			return room.Vec{X: v.Y, Y: v.X, Z: v.Z}
		}
		return v
	}
	long, wide := r.Length, r.Width
	if swap {
		long, wide = wide, long
	}
	var s [][2]float64
	for i := range boxes {
		boxes[i] = [2]room.Vec{turned(boxes[i][0]), turned(boxes[i][1])}
		s = append(s, [2]float64{boxes[i][0].X, boxes[i][1].X})
	}
	var all []Aisle
	line := func(s0, s1, t0, t1 float64, width float64) {
		all = append(all, Aisle{turned(room.Vec{X: s0, Y: t0, Z: height}), turned(room.Vec{X: s1, Y: t1, Z: height}), width})
	}
	cross, blocks := gaps(s, long)
	for _, block := range blocks {
		var t [][2]float64
		for _, b := range boxes {
			if b[0].X < block[1] && b[1].X > block[0] {
				t = append(t, [2]float64{b[0].Y, b[1].Y})
			}
		}
		free, _ := gaps(t, wide)
		for _, f := range lines(free, widest) {
			middle := (f[0] + f[1]) / 2
			line(block[0], block[1], middle, middle, f[1]-f[0])
		}
	}
	for _, f := range lines(cross, widest) {
		middle := (f[0] + f[1]) / 2
		line(middle, middle, 0, wide, f[1]-f[0])
	}
	return all
}

// gaps returns what intervals leave free of a length, where one can walk, and the blocks that they make between.
func gaps(intervals [][2]float64, length float64) (free, blocks [][2]float64) {
	slices.SortFunc(intervals, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	at, began := 0.0, 0.0
	for _, i := range append(intervals, [2]float64{length, length}) {
		if i[0]-at >= narrowestAisle {
			if at > began {
				blocks = append(blocks, [2]float64{began, at})
			}
			free = append(free, [2]float64{at, i[0]})
			began = i[0]
		}
		at = max(at, i[1])
	}
	if at > began {
		blocks = append(blocks, [2]float64{began, min(at, length)})
	}
	return free, blocks
}

// lines cuts wide strips into several side by side.
func lines(strips [][2]float64, widest float64) [][2]float64 {
	var all [][2]float64
	for _, s := range strips {
		n := room.Cells(s[1]-s[0], widest)
		step := (s[1] - s[0]) / float64(n)
		for k := range n {
			all = append(all, [2]float64{s[0] + float64(k)*step, s[0] + float64(k+1)*step})
		}
	}
	return all
}

// A Walk is what is asked of a plan that is walked.
type Walk struct {
	Stations int      // how many there may be; 0 leaves it to the plan
	Spacing  float64  // of stations along an aisle at most, m; 0 is the height of the luminaires above the work plane
	Height   float64  // of the luminaires above the work plane, m
	Lattice  *Lattice // of the luminaires, whose spacing the stations keep out of step with; nil of an irregular layout
}

// AislePlan returns stations along the center lines of aisles, systematically: each aisle is cut into equal parts no longer than the
// spacing and read in the middle of each, in the order of walking, there and back. Their number is limited, by wider parts first and then by
// reading only every so many of the aisles, evenly, which a note says. The readings are a sample (see Plan.Sampled). Source: systematic
// sampling, Cochran, Sampling Techniques, 3rd ed., ch. 8, from memory, unverified; how far apart is our choice: light along an aisle
// changes over about the height at which luminaires hang.
func AislePlan(r room.Room, aisles []Aisle, racks []room.Rack, w Walk) Plan {
	most := cmp.Or(w.Stations, mostWalked)
	spacing := cmp.Or(w.Spacing, w.Height)
	p := Plan{Arrangement: PointGrid, Rows: len(aisles), Length: r.Length, Width: r.Width, Sampled: true}
	read := aisles
	if n := max(1, most/leastInAisle); len(aisles) > n {
		read = nil
		for k := range n {
			read = append(read, aisles[int((float64(k)+0.5)*float64(len(aisles))/float64(n))])
		}
		dead := max(1, int(math.Round(deadShare*float64(len(aisles)))))
		p.Notes = append(p.Notes, Note{Code: SomeAisles, Count: n, All: len(aisles), Dead: dead, Share: metrology.Seen(len(aisles), dead, n)})
	}
	counted := func(spacing float64) int {
		n := 0
		for _, a := range read {
			n += w.outOfStep(a, parts(a, spacing))
		}
		return n
	}
	widen := func() {
		const step = 1.02 // of spacings that are tried
		for spacing = w.Height; counted(spacing) > most && spacing <= r.Length+r.Width; {
			spacing *= step
		}
	}
	if w.Spacing == 0 {
		widen()
	}
	if w.Spacing == 0 && w.Lattice != nil && counted(spacing) > most {
		w.Lattice = nil
		widen()
		p.Notes = append(p.Notes, Note{Code: LikePlaces})
	}
	for i, a := range read {
		p.walkAlong(a, i, w.outOfStep(a, parts(a, spacing)), racks)
	}
	p.Notes = append(p.Notes, Note{Code: CenterLines})
	return p
}

// walkAlong adds the stations of the i-th aisle, cut into n parts, every other one from its far end.
func (p *Plan) walkAlong(a Aisle, i, n int, racks []room.Rack) {
	step := a.To.Sub(a.From).Scale(1 / float64(n))
	line := make([]Station, n)
	for k := range n {
		line[k] = Station{Name: fmt.Sprintf("g%d-%d", i+1, k+1), Role: GridPoint, Normal: room.Vec{Z: 1}, Position: a.From.Add(step.Scale(float64(k) + 0.5)),
			Place: fmt.Sprintf("center line of aisle %d, part %d of %d", i+1, k+1, n)}
	}
	if i%2 == 1 { // back again
		slices.Reverse(line)
	}
	for _, s := range line {
		if nearRack(racks, s.Position) {
			p.Dropped = append(p.Dropped, s)
			continue
		}
		p.Stations = append(p.Stations, s)
	}
	p.PerRow = max(p.PerRow, n)
}

// parts is into how many parts an aisle is cut.
func parts(a Aisle, spacing float64) int {
	return max(leastInAisle, room.Cells(a.To.Sub(a.From).Length(), spacing))
}

// outOfStep is the number of parts of an aisle, or a few more, whose middles do not fall at like places among the luminaires.
func (w Walk) outOfStep(a Aisle, n int) int {
	if w.Lattice == nil {
		return n
	}
	x, y := w.Lattice.Spacing()
	line := a.To.Sub(a.From)
	wave := x
	if math.Abs(line.Y) > math.Abs(line.X) {
		wave = y
	}
	const more = 3
	for k := n; k <= n+more; k++ {
		if left(line.Length()/float64(k)/wave, k) <= inStep {
			return k
		}
	}
	return n
}

// nearRack tells whether a place is within a foot of a rack that reaches as high and, where it hangs, as low; or outside the room.
func nearRack(racks []room.Rack, at room.Vec) bool {
	const rounding = 1e-9
	return slices.ContainsFunc(racks, func(k room.Rack) bool {
		if k.Outside {
			return k.Contains(at)
		}
		low, high := k.Corner, k.Far()
		if k.Hangs() && at.Z < low.Z-clearOfRack+rounding {
			return false
		}
		dx, dy := max(low.X-at.X, at.X-high.X, 0), max(low.Y-at.Y, at.Y-high.Y, 0)
		return at.Z < high.Z && math.Hypot(dx, dy) < clearOfRack-rounding
	})
}

// FacePoints returns the grid of a vertical face as it is walked: three heights by a few columns, no further apart than the spacing, three
// columns at least and seven at most, our choice.
func FacePoints(g room.Grid, spacing float64) room.Grid {
	const heights, fewest, most = 3, 3, 7
	length, height := float64(g.NX)*g.StepX, float64(g.NY)*g.StepY
	g.NX, g.NY = min(max(room.Cells(length, spacing), fewest), most), heights
	g.StepX, g.StepY = length/float64(g.NX), height/heights
	return g
}

// WithBays returns the plan of single luminaires with bays more, read in their middle: a sample of all inner bays drawn at random, always the
// same one for a layout. A stated share of dead bays is seen with a stated chance, which a note says. With n = 0 a
// large hall gets as many as it takes to see one of a tenth of dead bays with a chance of 90 percent, and others none.
func (p Plan) WithBays(l Lattice, n int) Plan {
	if p.Arrangement != SingleLuminaires {
		return p
	}
	r := l.rows()
	across := r.n - 1
	bays := across * (r.m - 1)
	dead := max(1, int(math.Round(deadShare*float64(bays))))
	if n == 0 && bays > largeHall {
		n = metrology.DrawnToSee(bays, dead, seenChance)
	}
	n = min(n, bays)
	if n <= 0 {
		return p
	}
	p.Stations, p.Notes = slices.Clone(p.Stations), slices.Clone(p.Notes)
	at := placing{rows: r}
	more := 0
	for _, bay := range rand.New(rand.NewPCG(uint64(r.m), uint64(r.n))).Perm(bays) {
		place := at.at(at.s(float64(bay%across)+0.5), at.t(float64(bay/across)+0.5))
		if slices.ContainsFunc(p.Stations, func(s Station) bool { return s.Position.Sub(place).Length() < sameSpot }) {
			continue // a bay of the formula's
		}
		if more++; more > n {
			break
		}
		p.Stations = append(p.Stations, Station{Name: fmt.Sprintf("b%d", more), Role: R, Place: middleOfBay, Position: place, Normal: room.Vec{Z: 1}})
	}
	p.Notes = append(p.Notes, Note{Code: SomeBays, Count: n, All: bays, Dead: dead, Share: metrology.Seen(bays, dead, n)})
	return p
}

// Walked returns the plan with its stations in an order of walking: from the corner of the room each time on to the nearest, and then without
// detours that turning a part of the way round takes away. Bays that were drawn are named in that order.
func (p Plan) Walked() Plan {
	left := slices.Clone(p.Stations)
	p.Stations = nil
	var at room.Vec
	for len(left) > 0 {
		next := 0
		for i := range left {
			if inPlan(left[i].Position, at) < inPlan(left[next].Position, at)-1e-9 {
				next = i
			}
		}
		at = left[next].Position
		p.Stations = append(p.Stations, left[next])
		left = slices.Delete(left, next, next+1)
	}
	shorten(p.Stations)
	bays := 0
	for i := range p.Stations {
		if s := &p.Stations[i]; strings.HasPrefix(s.Name, "b") {
			bays++
			s.Name = fmt.Sprintf("b%d", bays)
		}
	}
	return p
}

// shorten turns parts of a way round as long as that makes it shorter (2-opt, Croes 1958, from memory); the way begins at the corner of the
// room and may end anywhere.
func shorten(way []Station) {
	const passes = 50
	at := func(i int) room.Vec {
		if i < 0 {
			return room.Vec{}
		}
		return way[i].Position
	}
	for range passes {
		shorter := false
		for i := range way {
			for j := i + 1; j < len(way); j++ {
				now, turned := inPlan(at(i-1), at(i)), inPlan(at(i-1), at(j))
				if j+1 < len(way) {
					now, turned = now+inPlan(at(j), at(j+1)), turned+inPlan(at(i), at(j+1))
				}
				if turned < now-1e-9 {
					slices.Reverse(way[i : j+1])
					shorter = true
				}
			}
		}
		if !shorter {
			return
		}
	}
}
