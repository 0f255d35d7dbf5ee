package interreflect

import (
	"cmp"
	"context"
	"math"
	"slices"

	"lampswap/photometry/direct"
	"lampswap/photometry/internal/crew"
	"lampswap/photometry/room"
)

// fine is how many parts of a patch there are for the distance of a luminaire, where racks throw shadows.
const (
	fine      = 6.0
	mostParts = 4
)

// onPatches writes the direct illuminance of every patch, the mean over it, by each of several scenes that
// hang alike: sheet by sheet where light comes unhindered, else tile by tile.
func (e *Enclosure) onPatches(ctx context.Context, scenes []direct.Scene, values [][]float64) error {
	prepared := direct.Prepare(scenes...)
	tree := prepared.Tree()
	var tiles []*sheet
	for _, s := range e.sheets() {
		clear, shaded := prepared.Split(s.grid(1, false))
		if shaded.Lamps() > 0 {
			tiles = append(tiles, s.tiles()...)
			continue
		}
		if err := e.add(ctx, clear, s, 1, false, values); err != nil {
			return err
		}
	}
	told := e.options.Progress
	if told == nil {
		told = func(string, float64) {}
	}
	err := crew.Each(
		ctx,
		len(tiles),
		1,
		func(part float64) { told("direct light on the surfaces", part) },
		func() func(int) {
			return func(i int) { _ = e.shaded(ctx, tree, tiles[i], values) } // errs only if the context is cancelled
		},
	)
	return cmp.Or(err, ctx.Err())
}

// A sheet is patches of one size in one plane, of one face or of several in a row, such as the tops of racks:
// light that comes unhindered is cheaper over one large grid than over many small ones.
type sheet struct {
	parts   []strip
	us      []float64 // borders along u, alike in all parts
	v0, dv  float64   // first border along v, and the patches' size
	rows    int       // of patches, gaps between the parts included
	covered int       // of those, in parts
}

// A strip is the part of a sheet that one face has: even patches between borders.
type strip struct {
	face   *face
	us, vs run
	row    int // of the sheet, where it begins
}

// sheets cuts all faces into even patches, leaves out what racks cover, and joins the tops of racks.
func (e *Enclosure) sheets() []*sheet {
	highest := 0.0
	for i := range e.racks {
		highest = max(highest, e.racks[i].Far().Z)
	}
	var all, tops []*sheet
	for i := range e.faces {
		f := &e.faces[i]
		top := i >= roomFaces && f.normal == axisZ && f.at >= highest
		for _, vs := range runs(f.vs) {
			for _, us := range runs(f.us) {
				if !e.exposed(f, us, vs) {
					continue
				}
				n := vs.last - vs.first
				s := &sheet{
					parts:   []strip{{f, us, vs, 0}},
					us:      f.us[us.first : us.last+1],
					v0:      f.vs[vs.first],
					rows:    n,
					covered: n,
					dv:      (f.vs[vs.last] - f.vs[vs.first]) / float64(n),
				}
				if top && slices.ContainsFunc(tops, func(t *sheet) bool { return t.join(s) }) {
					continue
				}
				if top {
					tops = append(tops, s)
				}
				all = append(all, s)
			}
		}
	}
	return all
}

// mostGaps is how much larger than its parts a sheet may be.
const mostGaps = 2

// join takes in another sheet of one part, further along v, if it fits.
func (s *sheet) join(other *sheet) bool {
	row := (other.v0 - s.v0) / s.dv
	at := int(math.Round(row))
	rows, covered := at+other.rows, s.covered+other.rows
	if s.parts[0].face.at != other.parts[0].face.at || !slices.Equal(s.us, other.us) ||
		math.Abs(s.dv-other.dv) > touching ||
		math.Abs(row-float64(at))*s.dv > touching ||
		at < s.rows ||
		rows > mostGaps*covered {
		return false
	}
	part := other.parts[0]
	part.row = at
	s.parts, s.rows, s.covered = append(s.parts, part), rows, covered
	return true
}

// exposed tells whether any of the patches is.
func (e *Enclosure) exposed(f *face, us, vs run) bool {
	for j := vs.first; j < vs.last; j++ {
		for i := us.first; i < us.last; i++ {
			if e.areas[f.first+j*f.columns()+i] > 0 {
				return true
			}
		}
	}
	return false
}

// A run is a stretch of equal cells: from border first to border last.
type run struct{ first, last int }

func runs(borders []float64) []run {
	var all []run
	for at := 0; at < len(borders)-1; {
		end := at + 1
		step := borders[end] - borders[at]
		for end < len(borders)-1 && math.Abs(borders[end+1]-borders[end]-step) < touching {
			end++
		}
		all = append(all, run{at, end})
		at = end
	}
	return all
}

const (
	// As many points are computed among racks in all, if that leaves a row every shadowPitch, m.
	shadowPoints = 160_000
	shadowPitch  = 0.75
)

// shadowParts returns into how many parts a patch is cut among racks at least: nothing smooths what shadows
// make of it.
func (e *Enclosure) shadowParts() int {
	return max(
		int(math.Ceil(e.options.Patch/shadowPitch-1e-9)),
		min(int(math.Sqrt(shadowPoints/float64(len(e.areas)))), 8),
	)
}

// parts returns into how many parts a luminaire at a distance cuts a patch.
func (e *Enclosure) parts(distance float64) int {
	return max(min(int(fine*e.options.Patch/distance)+1, mostParts), e.shadowParts())
}

// distance returns how far a place is before a sheet, m; without end if it is behind it.
func (s *sheet) distance(p room.Vec) float64 {
	f := s.parts[0].face
	d := (along(p, f.normal) - f.at) * f.sign
	if d <= 0 {
		return math.Inf(1)
	}
	u, v := along(p, f.u), along(p, f.v)
	du := max(s.us[0]-u, 0, u-s.us[len(s.us)-1])
	dv := max(s.v0-v, 0, v-s.v0-float64(s.rows)*s.dv)
	return math.Sqrt(d*d + du*du + dv*dv)
}

// grid is a sheet with its patches cut into parts. Turned, its rows run along v: across racks, or up, so that
// the edges of most shadows lie across them.
func (s *sheet) grid(parts int, turned bool) room.Grid {
	f, columns := s.parts[0].face, len(s.us)-1
	g := room.Grid{
		NX:     columns * parts,
		NY:     s.rows * parts,
		Origin: f.point(s.us[0], s.v0),
		U:      unit(f.u),
		V:      unit(f.v),
		Normal: f.inward(),
	}
	g.StepX, g.StepY = (s.us[columns]-s.us[0])/float64(g.NX), s.dv/float64(parts)
	if turned {
		g.NX, g.NY, g.StepX, g.StepY, g.U, g.V = g.NY, g.NX, g.StepY, g.StepX, g.V, g.U
	}
	return g
}

// tileSide is how long a tile is at most, m, but for patches that are longer.
const tileSide = 6

// tiles cuts a sheet so that each tile is near to few luminaires.
func (s *sheet) tiles() []*sheet {
	var all []*sheet
	columns := len(s.us) - 1
	across := room.Cells(s.us[columns]-s.us[0], tileSide)
	for _, p := range s.parts {
		n := p.vs.last - p.vs.first
		up := room.Cells(float64(n)*s.dv, tileSide)
		for j := range up {
			for i := range across {
				u0, u1, v0, v1 := i*columns/across, (i+1)*columns/across, j*n/up, (j+1)*n/up
				if u0 == u1 || v0 == v1 {
					continue
				}
				all = append(
					all,
					&sheet{
						parts: []strip{
							{p.face, run{p.us.first + u0, p.us.first + u1}, run{p.vs.first + v0, p.vs.first + v1}, 0},
						},
						us:      s.us[u0 : u1+1],
						v0:      s.v0 + float64(p.row+v0)*s.dv,
						dv:      s.dv,
						rows:    v1 - v0,
						covered: v1 - v0,
					},
				)
			}
		}
	}
	return all
}

// shaded adds the direct illuminance of a tile's patches. For luminaires whose shadows racks may throw on it
// patches are cut into parts, for the nearest into more.
func (e *Enclosure) shaded(ctx context.Context, tree *direct.Tree, t *sheet, values [][]float64) error {
	clear, shaded := tree.Toward(t.grid(1, false)).Split(t.grid(1, false))
	if err := e.add(ctx, clear, t, 1, false, values); err != nil {
		return err
	}
	f := t.parts[0].face
	turned := f.v == axisZ || f.u == e.rowAxis()
	parts := max(e.shadowParts(), mostParts)
	for n := e.shadowParts(); n <= parts; n++ {
		some := shaded.Some(func(at room.Vec) bool { return e.parts(t.distance(at)) == n })
		if err := e.add(ctx, some, t, n, turned, values); err != nil {
			return err
		}
	}
	return nil
}

// add adds the direct illuminance of a sheet's patches, each cut into parts.
func (e *Enclosure) add(
	ctx context.Context,
	scene *direct.Prepared,
	s *sheet,
	parts int,
	turned bool,
	values [][]float64,
) error {
	if scene.Lamps() == 0 {
		return nil
	}
	g := s.grid(parts, turned)
	light, err := scene.Means(ctx, g)
	if err != nil {
		return err
	}
	// the mean of a patch over its parts
	stepU, stepV := 1, g.NX
	if turned {
		stepU, stepV = g.NX, 1
	}
	for _, p := range s.parts {
		for iv := range (p.vs.last - p.vs.first) * parts {
			first := p.face.first + (p.vs.first+iv/parts)*p.face.columns() + p.us.first
			for iu := range (len(s.us) - 1) * parts {
				at := first + iu/parts
				if e.areas[at] == 0 {
					continue
				}
				for n := range light {
					values[n][at] += light[n][iu*stepU+(p.row*parts+iv)*stepV] / float64(parts*parts)
				}
			}
		}
	}
	return nil
}
