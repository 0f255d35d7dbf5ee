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

// onPatches writes the direct illuminance of every patch, the mean over it, by each of several scenes that
// hang alike: sheet by sheet where light comes unhindered, else tile by tile.
func (e *Enclosure) onPatches(ctx context.Context, scenes []direct.Scene, values [][]float64) error {
	prepared := direct.Prepare(scenes...)
	tree := prepared.Tree()
	var tiles []*sheet
	for _, s := range e.sheets() {
		if !prepared.Unshaded(s.grid()) {
			tiles = append(tiles, s.tiles()...)
			continue
		}
		light, err := prepared.Means(ctx, s.grid())
		if err != nil {
			return err
		}
		e.add(s, light, values)
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
			integrator := tree.Integrator()
			return func(i int) {
				f := tiles[i].parts[0].face
				across := f.v == axisZ || f.u == e.rowAxis() // rows of cells run up, or across racks
				e.add(tiles[i], integrator.Means(tiles[i].grid(), across, e.shadowParts()), values)
			}
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

// grid is the patches of a sheet.
func (s *sheet) grid() room.Grid {
	f, columns := s.parts[0].face, len(s.us)-1
	return room.Grid{
		NX:     columns,
		NY:     s.rows,
		StepX:  (s.us[columns] - s.us[0]) / float64(columns),
		StepY:  s.dv,
		Origin: f.point(s.us[0], s.v0),
		U:      unit(f.u),
		V:      unit(f.v),
		Normal: f.inward(),
	}
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

// add adds the direct illuminance of a sheet's patches.
func (e *Enclosure) add(s *sheet, light, values [][]float64) {
	columns := len(s.us) - 1
	for _, p := range s.parts {
		for iv := range p.vs.last - p.vs.first {
			first := p.face.first + (p.vs.first+iv)*p.face.columns() + p.us.first
			for iu := range columns {
				if e.areas[first+iu] == 0 {
					continue
				}
				for n := range light {
					values[n][first+iu] += light[n][(p.row+iv)*columns+iu]
				}
			}
		}
	}
}
