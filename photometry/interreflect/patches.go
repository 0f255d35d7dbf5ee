package interreflect

import (
	"context"
	"math"
	"slices"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/room"
)

const (
	coarse   = 3.0  // parts of a patch for the distance of the nearest luminaire; among racks and where that is not enough
	fine     = 6.0  // it is this many,
	balanced = 7e-4 // which is where the direct flux on the patches of an empty room differs from that emitted by more than this part of it
)

// onPatches writes the direct illuminance of every patch, the mean over it: sheet by sheet, each patch cut finer where luminaires are
// near or racks throw shadows. Sheets that would be cut as they were before stay as they are.
func (e *Enclosure) onPatches(ctx context.Context, scene direct.Scene, prepared *direct.Prepared, sheets []*sheet, perDistance float64, values []float64) error {
	for i, s := range sheets {
		if parts := e.fineness(s, scene, perDistance); parts != s.cut {
			if err := e.direct(ctx, prepared, s, parts, values); err != nil {
				return err
			}
			s.cut = parts
		}
		if e.options.Progress != nil {
			e.options.Progress("direct light on the surfaces", float64(i+1)/float64(len(sheets)))
		}
	}
	return nil
}

// A sheet is patches of one size in one plane, of one face or of several in a row, such as the tops of racks: light that comes
// unhindered is cheaper over one large grid than over many small ones.
type sheet struct {
	parts   []stripe
	us      []float64 // borders along u, alike in all parts
	v0, dv  float64   // first border along v, and the patches' size
	rows    int       // of patches, gaps between the parts included
	covered int       // of those, in parts
	cut     int       // parts of a patch along each side, in the values as they stand; 0 before there are any
}

// A stripe is the part of a sheet that one face has: even patches between borders.
type stripe struct {
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
				s := &sheet{parts: []stripe{{f, us, vs, 0}}, us: f.us[us.first : us.last+1], v0: f.vs[vs.first], rows: n, covered: n,
					dv: (f.vs[vs.last] - f.vs[vs.first]) / float64(n)}
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
	if s.parts[0].face.at != other.parts[0].face.at || !slices.Equal(s.us, other.us) || math.Abs(s.dv-other.dv) > touching ||
		math.Abs(row-float64(at))*s.dv > touching || at < s.rows || rows > mostGaps*covered {
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

// fineness returns into how many parts a patch is cut along each side for its direct light: as many to the distance of the nearest
// luminaire from the face as is asked for. Where racks throw shadows nothing smooths the result: more of them.
func (e *Enclosure) fineness(s *sheet, scene direct.Scene, perDistance float64) int {
	near := math.Inf(1)
	f := s.parts[0].face
	for _, source := range scene.Sources {
		for _, p := range source.Placements {
			if d := (along(p.Position, f.normal) - f.at) * f.sign; d > 0 {
				u, v := along(p.Position, f.u), along(p.Position, f.v)
				du := max(s.us[0]-u, 0, u-s.us[len(s.us)-1])
				dv := max(s.v0-v, 0, v-s.v0-float64(s.rows)*s.dv)
				near = min(near, math.Sqrt(d*d+du*du+dv*dv))
			}
		}
	}
	least, most := 1, 8
	if len(e.racks) > 0 {
		perDistance = fine
		least = min(max(int(math.Sqrt(shadowPoints/float64(len(e.areas)))), 1), most)
		most = max(least, 4)
	}
	// a luminaire that all but touches a long wall does not make all of it fine
	most = max(1, min(most, int(math.Sqrt(sheetPoints/float64(s.rows*(len(s.us)-1))))))
	return min(max(int(min(perDistance*e.options.Patch/near, 8)+1), least), most)
}

const (
	shadowPoints = 120_000 // points at which direct light is computed among racks, in all, if that makes them more than four a patch
	sheetPoints  = 500_000 // at most, on one sheet, if that leaves one a patch
)

func (e *Enclosure) direct(ctx context.Context, scene *direct.Prepared, s *sheet, fine int, values []float64) error {
	f, u0, columns := s.parts[0].face, s.us[0], len(s.us)-1
	g := room.Grid{NX: columns * fine, NY: s.rows * fine, Origin: f.point(u0, s.v0), U: unit(f.u), V: unit(f.v), Normal: f.inward()}
	g.StepX, g.StepY = (s.us[columns]-u0)/float64(g.NX), s.dv/float64(fine)
	light, err := scene.Illuminance(ctx, g)
	if err != nil {
		return err
	}
	if len(e.racks) == 0 {
		light = means(light, g.NX, g.NY)
	}
	for _, p := range s.parts {
		for iy := range (p.vs.last - p.vs.first) * fine {
			first := p.face.first + (p.vs.first+iy/fine)*p.face.columns() + p.us.first
			if iy%fine == 0 {
				clear(values[first : first+columns])
			}
			for ix, x := range light[(p.row*fine+iy)*g.NX : (p.row*fine+iy+1)*g.NX] {
				if at := first + ix/fine; e.areas[at] > 0 && photometry.Finite(x) {
					values[at] += x / float64(fine*fine)
				}
			}
		}
	}
	return nil
}

// means turns the values in the middle of equal cells into means over them: the mean of a parabola exceeds its middle by a
// twenty-fourth of its second difference, in each direction.
func means(middle []float64, nx, ny int) []float64 {
	mean := append([]float64(nil), middle...)
	bend := func(at, i, n, step int) float64 {
		at += (min(max(i, 1), n-2) - i) * step // at an edge that of the cell beside it
		return (middle[at+step] - 2*middle[at] + middle[at-step]) / 24
	}
	for iy := range ny {
		for ix := range nx {
			at := iy*nx + ix
			if nx > 2 {
				mean[at] += bend(at, ix, nx, 1)
			}
			if ny > 2 {
				mean[at] += bend(at, iy, ny, nx)
			}
			mean[at] = max(mean[at], 0)
		}
	}
	return mean
}
