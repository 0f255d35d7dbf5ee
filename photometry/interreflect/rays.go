package interreflect

import (
	"context"
	"math"
	"sync"
	"sync/atomic"

	"lampswap/photometry/internal/crew"
	"lampswap/photometry/room"
)

// Sampled factors are the form factors of all patches by Monte Carlo ray tracing: F to a patch is the part of
// a bundle's rays that meet it (pbrt's cosine-weighted sampling, here by a fixed rule).
type sampledFactors struct {
	each    int               // rays of a bundle
	patches []int32           // bundle by bundle the patch that each ray meets first; -1 is nothing
	through [][]sampledFactor // instead, where racks let light through: all patches that a bundle meets
}

// A sampledFactor is a patch and how many rays meet it, those counted in part that come through racks.
type sampledFactor struct {
	patch  int32
	weight float32
}

const (
	bytesOfFactor = 8
	bytesOfBundle = 24 // with factors of its own
)

// A bundle looks along rays that start within a parallelogram, or at one point if that has no extent, and are
// spread about a normal.
type bundle struct {
	from, u, v             room.Vec // a corner, and two sides
	normal, right, forward room.Vec
	shiftU, shiftV         float64 // of the starts, 0 to 1
}

// Rays are laid out once for all bundles.
type rays struct {
	starts     [][2]float64 // where on a bundle, 0 to 1 along both sides
	directions []room.Vec   // along right, forward and normal
}

// Starts are laid out evenly by an additive recurrence on the roots of x⁵ = x + 1. Source: Roberts, The
// unreasonable effectiveness of quasirandom sequences (2018), from memory, unverified; any even cover serves.
func newRays(n int) rays {
	const g = 1.1673039782614187
	r := rays{make([][2]float64, n), make([]room.Vec, n)}
	for k := range n {
		_, r.starts[k][0] = math.Modf(0.5 + float64(k)/g)
		_, r.starts[k][1] = math.Modf(0.5 + float64(k)/(g*g))
		r.directions[k] = cosine(k, n)
	}
	return r
}

// ray returns ray k of a bundle.
func (r *rays) ray(e *bundle, k int) room.Ray {
	s, d := &r.starts[k], &r.directions[k]
	x, y := s[0]+e.shiftU, s[1]+e.shiftV
	if x >= 1 {
		x--
	}
	if y >= 1 {
		y--
	}
	from := room.Vec{
		X: e.from.X + x*e.u.X + y*e.v.X,
		Y: e.from.Y + x*e.u.Y + y*e.v.Y,
		Z: e.from.Z + x*e.u.Z + y*e.v.Z,
	}
	towards := room.Vec{
		X: d.X*e.right.X + d.Y*e.forward.X + d.Z*e.normal.X,
		Y: d.X*e.right.Y + d.Y*e.forward.Y + d.Z*e.normal.Y,
		Z: d.X*e.right.Z + d.Y*e.forward.Z + d.Z*e.normal.Z,
	}
	return room.NewRay(from, towards)
}

// shift is a number from 0 to 1 for each patch, so that neighbours do not err alike.
func shift(patch, dimension int) float64 {
	x := uint64(patch*4+dimension+1) * 0x9e3779b97f4a7c15 // splitmix64, Steele and others (2014)
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return float64((x^x>>31)>>11) / (1 << 53)
}

// cosine returns ray k of n about a normal, z, with density cos/π: strata of equal projected area, on the
// disc.
func cosine(k, n int) room.Vec {
	r2 := (float64(k) + 0.5) / float64(n)
	const golden = 2.399963229728653 // rad; Vogel's spiral covers the disc evenly
	sin, cos := math.Sincos(float64(k) * golden)
	r := math.Sqrt(r2)
	return room.Vec{X: r * cos, Y: r * sin, Z: math.Sqrt(1 - r2)}
}

// patchBundle spreads the rays of a patch over it; ok is false for one that sees nothing.
func (e *Enclosure) patchBundle(i int) (at bundle, ok bool) {
	if e.areas[i] == 0 {
		return at, false
	}
	f := e.faceOf(i)
	a, b := (i-f.first)%f.columns(), (i-f.first)/f.columns()
	u, v := unit(f.u), unit(f.v)
	sin, cos := math.Sincos(2 * math.Pi * shift(i, 2))
	return bundle{
		from: f.point(f.us[a], f.vs[b]), u: u.Scale(f.us[a+1] - f.us[a]), v: v.Scale(f.vs[b+1] - f.vs[b]),
		normal: f.inward(), right: u.Scale(cos).Add(v.Scale(sin)), forward: v.Scale(cos).Sub(u.Scale(sin)),
		shiftU: shift(i, 0), shiftV: shift(i, 1),
	}, true
}

func (e *Enclosure) faceOf(patch int) *face {
	low, high := 0, len(e.faces)
	for high-low > 1 {
		if middle := (low + high) / 2; e.faces[middle].first <= patch {
			low = middle
		} else {
			high = middle
		}
	}
	return &e.faces[low]
}

const chunk = 64 // bundles between two looks at the context

const tracing = "sights of the patches" // a step of the work

// traceRays traces the rays of all patches. What one patch sees wrongly its neighbours do not, and a point
// sees many: against 1,024 rays the usual 128 leave 0.2 percent of the light that bounces at a point (root
// mean square).
func (e *Enclosure) traceRays(ctx context.Context) (sampledFactors, error) {
	n, count := e.options.Rays, len(e.areas)
	all := newRays(n)
	if e.seesThrough() {
		return e.traceThrough(ctx, &all)
	}
	s := sampledFactors{each: n, patches: make([]int32, count*n)}
	err := e.blocks(ctx, count, whole(tracing), func(i int) {
		seen := s.patches[i*n : (i+1)*n]
		from, ok := e.patchBundle(i)
		for k := range seen {
			seen[k] = -1
			if ok {
				r := all.ray(&from, k)
				seen[k] = int32(e.first(&r))
			}
		}
	})
	return s, err
}

func (e *Enclosure) seesThrough() bool {
	for i := range e.racks {
		if e.racks[i].Transmittance > 0 {
			return true
		}
	}
	return false
}

// traceThrough traces rays that racks let through in part: they see each rack's face, and on behind it.
func (e *Enclosure) traceThrough(ctx context.Context, rays *rays) (sampledFactors, error) {
	count := len(e.areas)
	s := sampledFactors{each: e.options.Rays, through: make([][]sampledFactor, count)}
	pool := sync.Pool{New: func() any { return &accumulator{weights: make([]float32, len(e.areas))} }}
	var sights atomic.Int64
	// every bundle's factors, as long as memory lasts
	most := (e.options.Memory - bytesOfBundle*int64(count)) / bytesOfFactor
	err := e.blocks(ctx, count, whole(tracing), func(i int) {
		from, ok := e.patchBundle(i)
		if !ok || sights.Load() > most {
			return
		}
		t := pool.Get().(*accumulator)
		for k := range s.each {
			r := rays.ray(&from, k)
			e.through(&r, t)
		}
		s.through[i] = t.take()
		sights.Add(int64(len(s.through[i])))
		pool.Put(t)
	})
	// it did not
	if err == nil && sights.Load() > most {
		err = e.check(
			bytesOfFactor*sights.Load()+bytesOfBundle*int64(count),
			"%s through racks, %d and more,",
			tracing,
			sights.Load(),
		)
	}
	return s, err
}

// An accumulator adds up what the rays of one bundle see, patch by patch.
type accumulator struct {
	weights []float32 // of all patches
	seen    []int32   // those that have one, in the order in which they were met
	chords  []chord   // of the last ray
	racks   []int32   // that it passed
}

func (t *accumulator) add(patch int, weight float64) {
	if t.weights[patch] == 0 {
		t.seen = append(t.seen, int32(patch))
	}
	t.weights[patch] += float32(weight)
}

// take returns the sights of a bundle and begins anew.
func (t *accumulator) take() []sampledFactor {
	all := make([]sampledFactor, len(t.seen))
	for i, p := range t.seen {
		all[i] = sampledFactor{p, t.weights[p]}
		t.weights[p] = 0
	}
	t.seen = t.seen[:0]
	return all
}

// A stage is a part of a step of the work, from one share of it done to another.
type stage struct {
	step     string
	from, to float64
}

func whole(step string) stage { return stage{step, 0, 1} }

// blocks runs a job for every bundle, in blocks taken in turn by the workers; a bundle's result depends on
// no other.
func (e *Enclosure) blocks(ctx context.Context, count int, s stage, job func(i int)) error {
	told := e.options.Progress
	if told == nil {
		told = func(string, float64) {}
	}
	return crew.Each(
		ctx,
		count,
		chunk,
		func(part float64) { told(s.step, s.from+(s.to-s.from)*part) },
		func() func(i int) { return job },
	)
}

// gather returns the mean exitance, lm/m², that bundle i sees: its illuminance, lx.
func (s *sampledFactors) gather(i int, exitance []float64) float64 {
	sum := 0.0
	if s.through == nil {
		for _, p := range s.patches[i*s.each : (i+1)*s.each] {
			if p >= 0 {
				sum += exitance[p]
			}
		}
		return sum / float64(s.each)
	}
	for _, seen := range s.through[i] {
		sum += float64(seen.weight) * exitance[seen.patch]
	}
	return sum / float64(s.each)
}
