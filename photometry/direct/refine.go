package direct

import (
	"math"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

// A refinement tells how much finer than the five-times rule the pieces of an opening must be where its
// distribution has sharp features: by bands of distance and zones of direction, as a feature counts only
// where the opening spans it.
type refinement struct {
	size  float64 // of the opening, m
	bands [bands][zones]uint8
}

const (
	bands = 4
	zones = 64 // of equal steps of the cosine from nadir, -1 to 1
)

// bandStarts are the distances, in sizes of the opening, at which the bands begin.
var bandStarts = [bands]float64{0, 2.5, 5, 10}

// bandTests are the distances of its middle at which the opening is tried out for each band.
var bandTests = [bands]float64{1.75, 3, 5.5, 10.5}

const (
	evenEnough  = 2e-3 // what doubling the pieces may change
	ofPeak      = 0.02 // where less than this part of the peak arrives, the change counts against that part
	mostRefined = 16
	polarSteps  = 90
	aroundSteps = 16 // of a turn
)

// refine finds the refinement by doubling the pieces in many directions.
func refine(d *photometry.Distribution, f *field, o opening) *refinement {
	r := &refinement{size: max(o.length, o.high)}
	for b := range r.bands {
		for z := range r.bands[b] {
			r.bands[b][z] = 1
		}
	}
	if r.size == 0 {
		return r
	}
	around := aroundSteps
	if d.QuadrantSymmetric() {
		around = aroundSteps/4 + 1
	}
	work := newWorkspace(0)
	l, light := lamp{opening: o, pose: newPose(room.Placement{}, o), share: 1}, &optic{field: f}
	peak := d.Peak()
	// doubling the pieces in many directions, band by band of distance
	for b := range bands {
		far := bandTests[b] * r.size
		for g := range polarSteps + 1 {
			sin, cos := math.Sincos(float64(g) * math.Pi / polarSteps)
			most := 1
			for c := range around {
				s, t := math.Sincos(2 * math.Pi * float64(c) / aroundSteps)
				p := room.Vec{X: far * sin * t, Y: far * sin * s, Z: -far * cos}
				at := l.quadrature(p, p.Scale(-1/far), nil, work)
				most = at.finer(light, most, ofPeak*peak/(far*far))
			}
			r.note(b, cos, uint8(most))
		}
	}
	return r
}

// finer doubles a refinement until that changes next to nothing.
func (s *quadrature) finer(light *optic, refine int, least float64) int {
	s.refine = refine
	coarse := s.whole(light)
	for refine < mostRefined {
		s.refine = 2 * refine
		fine := s.whole(light)
		if math.Abs(fine-coarse) <= evenEnough*max(fine, least) {
			break
		}
		refine, coarse = 2*refine, fine
	}
	return refine
}

// note enters what one direction needs in all zones that it may stand for.
func (r *refinement) note(band int, cos float64, most uint8) {
	const half = math.Pi / polarSteps // as far as the next direction; 1 rad changes the cosine by 1 at most
	for z := zone(cos - half); z <= zone(cos+half); z++ {
		r.bands[band][z] = max(r.bands[band][z], most)
	}
}

func zone(cos float64) int { return max(0, min(zones-1, int((cos+1)*zones/2+rounding))) }

// at returns the refinement for points at least so far away whose directions from the luminaire have cosines
// within a range.
func (r *refinement) at(distance, low, high float64) int {
	band := bands - 1
	for band > 0 && distance < bandStarts[band]*r.size-rounding {
		band--
	}
	most := uint8(1)
	for _, n := range r.bands[band][zone(low) : zone(high)+1] {
		most = max(most, n)
	}
	return int(most)
}
