package glare

import (
	"math"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

// An Observer is an eye, m, and where it looks: the azimuth of a level line of sight, rad, counter-clockwise from +x.
type Observer struct {
	Name    string
	Eye     room.Vec
	Looking float64
}

// Light is what an observer sees of light by which glare is rated. That of several kinds of luminaire is added up by Add.
type Light struct {
	Background float64 // cd/m²; NaN where no light that bounces is worked out
	Sources    int     // luminaires that send light to the eye
	Sum        float64 // Σ L² ω / p², cd²/m⁴
	Worst      float64 // the largest term of it
	Small      int     // of the sources those below 0.0003 sr,
	Large      int     // and those above 0.1 sr
	Unsized    int     // and those of no extent as they are seen, which have no luminance and are not in the sum
}

// The sizes of sources for which the rating was made, sr. CIE 117:1995, from memory, unverified.
const (
	LeastSource = 0.0003
	MostSource  = 0.1
)

// Look adds up luminaires of one kind, with the candela that they give, in all places where they hang. Racks between hide them; of what is seen
// through a rack that lets light through, its transmittance is seen. The background is left for the caller.
func Look(o Observer, l photometry.Luminaire, places []room.Placement, racks *room.Obstructions) Light {
	var light Light
	ahead := room.Facing(o.Looking)
	for _, place := range places {
		to := place.Position.Sub(o.Eye)
		distance, forward := to.Length(), to.Dot(ahead)
		if !(forward > 0) {
			continue
		}
		sin, cos := math.Sincos(place.Rotation)
		x, y := -to.X*cos-to.Y*sin, to.X*sin-to.Y*cos // from the luminaire to the eye, in its frame
		intensity := l.Distribution.Intensity(math.Atan2(y, x), math.Acos(max(-1, min(1, to.Z/distance))))
		if intensity <= 0 {
			continue
		}
		seen := passes(racks, o.Eye, place.Position)
		if seen <= 0 {
			continue
		}
		light.Sources++
		area := ProjectedArea(l.Opening, room.Vec{X: x, Y: y, Z: to.Z}.Scale(1/distance))
		if area <= nothing {
			light.Unsized++
			continue
		}
		size := seen * area / (distance * distance)
		if size < LeastSource {
			light.Small++
		} else if size > MostSource {
			light.Large++
		}
		luminance, index := intensity/area, Index(o, place.Position)
		term := luminance * luminance * size / (index * index)
		light.Sum, light.Worst = light.Sum+term, max(light.Worst, term)
	}
	return light
}

const nothing = 1e-12 // m², of an area that is seen edge on but for rounding

// Index is the position index of a place as an observer sees it in front of it.
func Index(o Observer, at room.Vec) float64 {
	to, ahead := at.Sub(o.Eye), room.Facing(o.Looking)
	forward, aside := to.Dot(ahead), math.Abs(ahead.X*to.Y-ahead.Y*to.X)
	const degree = math.Pi / 180
	alpha := min(math.Atan2(aside, to.Z)/degree, mostAlpha)
	return PositionIndex(alpha, math.Atan2(math.Hypot(aside, to.Z), forward)/degree)
}

// passes is the share of a place that an eye sees through the racks between.
func passes(racks *room.Obstructions, eye, at room.Vec) float64 {
	share := 1.0
	if racks == nil {
		return share
	}
	for i := range racks.Boxes {
		if b := &racks.Boxes[i]; b.Hides(eye, at) {
			share *= b.Passes
		}
	}
	return share
}

// Add adds the light of other luminaires that the same observer sees.
func (l Light) Add(other Light) Light {
	return Light{Background: l.Background + other.Background, Sources: l.Sources + other.Sources, Sum: l.Sum + other.Sum, Worst: max(l.Worst, other.Worst),
		Small: l.Small + other.Small, Large: l.Large + other.Large, Unsized: l.Unsized + other.Unsized}
}

// Times is the light where every luminaire gives so many times its own.
func (l Light) Times(factor float64) Light {
	l.Background, l.Sum, l.Worst = factor*l.Background, factor*factor*l.Sum, factor*factor*l.Worst
	return l
}

// Brighter is by how much a rating rises where every luminaire, and so the background, gives so many times the light.
func Brighter(times float64) float64 { return 8 * math.Log10(times) }

// A Reason says why there is no rating; it is "" where there is one.
type Reason string

// The reasons.
const (
	Rated        Reason = ""
	NothingSeen  Reason = "no luminaire is seen"
	NoSize       Reason = "no luminous size"
	NoBackground Reason = "no background: the light that bounces is not worked out (interreflection = false)"
	NoBouncing   Reason = "no background: no light bounces to the eye"
)

// Unknown tells that luminaires are seen of which there is no rating, so that no limit is proven to be kept.
func (r Reason) Unknown() bool { return r != Rated && r != NothingSeen }

// Rating returns the unified glare rating; NaN with a reason where there is none.
func (l Light) Rating() (ugr float64, why Reason) {
	switch {
	case l.Sources == 0:
		return math.NaN(), NothingSeen
	case l.Unsized > 0:
		return math.NaN(), NoSize
	case math.IsNaN(l.Background):
		return math.NaN(), NoBackground
	case !(l.Background > 0):
		return math.NaN(), NoBouncing
	}
	return 8 * math.Log10(0.25*l.Sum/l.Background), Rated
}
