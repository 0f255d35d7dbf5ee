package interreflect

import (
	"cmp"
	"context"
	"math"

	"lampswap/photometry/direct"
	"lampswap/photometry/internal/crew"
	"lampswap/photometry/room"
)

// onPatches writes the direct illuminance of every patch, the mean over it, by each of several scenes that
// hang alike: sheet by sheet where light comes unhindered, else tile by tile.
func (e *Enclosure) onPatches(ctx context.Context, scenes []direct.Scene, values [][]float64) error {
	prepared := direct.Prepare(scenes...)
	tree := prepared.Tree()
	// sheets on which no shadow may fall at once, tiles of the others below
	var tiles []sheet
	for _, s := range e.sheets() {
		if !prepared.Unshaded(s.grid()) {
			tiles = append(tiles, s.tiles()...)
			continue
		}
		light, err := prepared.Means(ctx, s.grid())
		if err != nil {
			return err
		}
		e.set(&s, light, values)
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
				t := &tiles[i]
				across := t.face.v == axisZ || t.face.u == e.rowAxis() // rows of cells run up, or across racks
				e.set(t, integrator.Means(t.grid(), across, e.shadowParts()), values)
			}
		},
	)
	return cmp.Or(err, ctx.Err())
}

// A sheet is patches of a face, all of one size: those between two borders along either side.
type sheet struct {
	face   *face
	us, vs run
}

// A run is a stretch of equal cells: from border first to border last.
type run struct{ first, last int }

func (r run) count() int { return r.last - r.first }

// step returns how long a cell of a run is, m.
func (r run) step(borders []float64) float64 {
	return (borders[r.last] - borders[r.first]) / float64(r.count())
}

// runs divides the cells between borders into runs.
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

// sheets divides all faces into sheets, but for what racks cover.
func (e *Enclosure) sheets() []sheet {
	var all []sheet
	for i := range e.faces {
		f := &e.faces[i]
		for _, vs := range runs(f.vs) {
			for _, us := range runs(f.us) {
				if s := (sheet{f, us, vs}); e.exposed(&s) {
					all = append(all, s)
				}
			}
		}
	}
	return all
}

// exposed tells whether any patch of a sheet is.
func (e *Enclosure) exposed(s *sheet) bool {
	for p := range s.patches {
		if e.areas[p] > 0 {
			return true
		}
	}
	return false
}

// patches goes over the patches of a sheet, row by row.
func (s *sheet) patches(yield func(int) bool) {
	for j := s.vs.first; j < s.vs.last; j++ {
		for i := s.us.first; i < s.us.last; i++ {
			if !yield(s.face.first + j*s.face.columns() + i) {
				return
			}
		}
	}
}

// grid has a point for each patch of a sheet.
func (s *sheet) grid() room.Grid {
	f := s.face
	return room.Grid{
		NX:     s.us.count(),
		NY:     s.vs.count(),
		StepX:  s.us.step(f.us),
		StepY:  s.vs.step(f.vs),
		Origin: f.point(f.us[s.us.first], f.vs[s.vs.first]),
		U:      unit(f.u),
		V:      unit(f.v),
		Normal: f.inward(),
	}
}

// From a small tile a rack hides more luminaires whole, and more of them are far enough to count together:
// tiles are so long at most, m, but for patches that are longer.
const tileSide = 6

// tiles cuts a sheet so that each tile is near to few luminaires.
func (s *sheet) tiles() []sheet {
	var all []sheet
	for _, vs := range s.vs.cut(s.face.vs) {
		for _, us := range s.us.cut(s.face.us) {
			all = append(all, sheet{s.face, us, vs})
		}
	}
	return all
}

// cut divides a run into stretches of about the side of a tile.
func (r run) cut(borders []float64) []run {
	parts := min(room.Cells(borders[r.last]-borders[r.first], tileSide), r.count())
	all := make([]run, parts)
	for i := range all {
		all[i] = run{r.first + i*r.count()/parts, r.first + (i+1)*r.count()/parts}
	}
	return all
}

// Where shadows fall a patch is cut into rows, each lit as far as the ends of shadows along it say. What its
// few rows miss of shadows that run along them nothing evens out, unlike what bounces: so that the whole errs
// alike in small rooms and large ones, there are about as many cells in all, but at most eight by eight a
// patch, and always a row every shadowPitch, m.
const (
	shadowCells = 160_000
	shadowPitch = 0.75
	mostRows    = 8
)

// shadowParts returns into how many parts along either side a patch is cut among racks.
func (e *Enclosure) shadowParts() int {
	return max(
		int(math.Ceil(e.options.Patch/shadowPitch-rounding)),
		min(int(math.Sqrt(shadowCells/float64(len(e.areas)))), mostRows),
	)
}

// set writes the direct illuminance of a sheet's patches, of those that are exposed.
func (e *Enclosure) set(s *sheet, light, values [][]float64) {
	i := 0
	for p := range s.patches {
		if e.areas[p] > 0 {
			for n := range light {
				values[n][p] = light[n][i]
			}
		}
		i++
	}
}
