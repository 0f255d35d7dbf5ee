package glare_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/glare"
	"lampswap/photometry/room"
)

const degree = math.Pi / 180

// luminaire has the same intensity to all sides, or one with a table of its own.
func luminaire(tb testing.TB, o photometry.Opening, candela func(azimuth, vertical float64) float64) photometry.Luminaire {
	tb.Helper()
	var horizontal, vertical []float64
	for h := 0.0; h < 360; h += 15 {
		horizontal = append(horizontal, h)
	}
	for v := 0.0; v <= 180; v += 5 {
		vertical = append(vertical, v)
	}
	table := make([][]float64, len(horizontal))
	for i, h := range horizontal {
		for _, v := range vertical {
			table[i] = append(table[i], candela(h*degree, v*degree))
		}
	}
	d, err := photometry.NewDistribution(horizontal, vertical, table)
	require.NoError(tb, err)
	return photometry.Luminaire{Distribution: d, Opening: o}
}

func even(candela float64) func(_, _ float64) float64 {
	return func(_, _ float64) float64 { return candela }
}

func hung(places ...room.Vec) []room.Placement {
	all := make([]room.Placement, len(places))
	for i, p := range places {
		all[i].Position = p
	}
	return all
}

// Rows of the table of position indices, which the formula fits. CIE 117:1995, from memory, unverified: T over R aside, H over R up.
func TestPositionIndexFitsTheTable(t *testing.T) {
	worst := 0.0
	for _, c := range []struct{ aside, up, want float64 }{
		{0, 0, 1}, {0, 0.1, 1.26}, {0, 0.2, 1.53}, {0, 0.3, 1.90}, {0, 0.5, 2.86}, {0, 0.8, 5.00}, {0, 1, 7.00},
		{0.1, 0, 1.05}, {0.2, 0, 1.12}, {0.3, 0, 1.22}, {0.5, 0, 1.43}, {0.8, 0, 1.82}, {1, 0, 2.11},
	} {
		got := glare.Index(glare.Observer{}, room.Vec{X: 1, Y: c.aside, Z: c.up})
		assert.InEpsilon(t, c.want, got, 0.04, "%v aside, %v up", c.aside, c.up)
		worst = max(worst, math.Abs(got/c.want-1))
		assert.InDelta(t, got, glare.Index(glare.Observer{}, room.Vec{X: 1, Y: -c.aside, Z: c.up}), 1e-12, "the other side")
	}
	t.Logf("largest deviation %.1f percent, the fit's and the table's two decimals", 100*worst)
	below := glare.Index(glare.Observer{}, room.Vec{X: 1, Z: -0.5})
	assert.InDelta(t, glare.PositionIndex(90, math.Atan(0.5)/degree), below, 1e-12, "below the line of sight the widest angle is taken")
	assert.GreaterOrEqual(t, below, 1.0)
}

// One source at a known place has a closed form: a flat square of 0.6 m with 500 cd toward the eye, 3 m ahead and 1.5 m up.
func TestOneSource(t *testing.T) {
	o := glare.Observer{Eye: room.Vec{X: 1, Y: 2, Z: 1.2}}
	light := glare.Look(o, luminaire(t, photometry.Opening{Length: 0.6, Width: 0.6}, even(500)), hung(room.Vec{X: 4, Y: 2, Z: 2.7}), nil)
	light.Background = 20
	square := 9 + 2.25
	area := 0.36 * 1.5 / math.Sqrt(square)
	p := math.Exp((35.2-1.22)*26.56505117707799/1000 + 21*26.56505117707799*26.56505117707799/100_000)
	want := 8 * math.Log10(0.25/20*(500/area)*(500/area)*area/square/(p*p))
	got, why := light.Rating()
	assert.Equal(t, glare.Rated, why)
	assert.InDelta(t, want, got, 1e-9) // rounding
	assert.Equal(t, 1, light.Sources)
	assert.Zero(t, light.Small+light.Large+light.Unsized)

	// Ten times the light of everything adds 8, ten times the background takes 8 away.
	brighter, _ := light.Times(10).Rating()
	assert.InDelta(t, got+glare.Brighter(10), brighter, 1e-9)
	light.Background *= 10
	darker, _ := light.Rating()
	assert.InDelta(t, got-8, darker, 1e-9)
}

// A second way, of vectors alone: angles by arc cosines of scalar products, areas by summing the faces of the opening that look at the eye.
func plain(o glare.Observer, l photometry.Luminaire, places []room.Placement) (sum float64, sources int) {
	sight, up := room.Vec{X: math.Cos(o.Looking), Y: math.Sin(o.Looking)}, room.Vec{Z: 1}
	for _, place := range places {
		v := place.Position.Sub(o.Eye)
		v = v.Scale(1 / v.Length())
		beta := math.Acos(max(-1, min(1, v.Dot(sight)))) / degree
		if beta >= 90 {
			continue
		}
		beside := v.Sub(sight.Scale(v.Dot(sight)))
		alpha := math.Acos(max(-1, min(1, beside.Dot(up)/beside.Length()))) / degree
		if alpha > 90 {
			alpha = 90
		}
		c, s := math.Cos(place.Rotation), math.Sin(place.Rotation)
		along, across := room.Vec{X: c, Y: s}, room.Vec{X: -s, Y: c}
		back := v.Scale(-1)
		area := 0.0
		for _, face := range []struct {
			normal room.Vec
			area   float64
		}{{up, l.Opening.Length * l.Opening.Width}, {along, l.Opening.Width * l.Opening.Height}, {across, l.Opening.Length * l.Opening.Height}} {
			area += face.area * math.Abs(face.normal.Dot(back))
		}
		intensity := l.Distribution.Intensity(math.Atan2(back.Dot(across), back.Dot(along)), math.Acos(max(-1, min(1, -back.Z))))
		luminance := intensity / area
		square := place.Position.Sub(o.Eye)
		p := math.Exp((35.2-0.31889*alpha-1.22*math.Exp(-2*alpha/9))*1e-3*beta + (21+0.26667*alpha-0.002963*alpha*alpha)*1e-5*beta*beta)
		sum += luminance * luminance * area / square.Dot(square) / (p * p)
		sources++
	}
	return sum, sources
}

// drawn is a room with luminaires and an observer, at random.
func drawn(t *rapid.T) (o glare.Observer, places []room.Placement) {
	at := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	o = glare.Observer{Eye: room.Vec{X: at(0, 20, "x"), Y: at(0, 12, "y"), Z: at(0.5, 6, "z")}, Looking: at(0, 2*math.Pi, "looking")}
	for range rapid.IntRange(1, 12).Draw(t, "luminaires") {
		places = append(places, room.Placement{Position: room.Vec{X: at(0, 20, "lx"), Y: at(0, 12, "ly"), Z: at(2, 5, "lz")}, Rotation: at(0, math.Pi, "turn")})
	}
	return o, places
}

// The sum is that of the second way; a mirrored room glares as much, and so does one of twice the size with four times the light.
func TestGlareAgreesWithPlainSumMirrorAndUnits(t *testing.T) {
	shape := func(h, v float64) float64 { return 200 + 150*math.Cos(v)*math.Cos(v) + 60*math.Sin(v)*math.Cos(2*h) }
	strip := luminaire(t, photometry.Opening{Length: 2.4, Width: 0.1, Height: 0.05}, shape)
	large := luminaire(t, photometry.Opening{Length: 4.8, Width: 0.2, Height: 0.1}, func(h, v float64) float64 { return 4 * shape(h, v) })
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		o, places := drawn(t)
		light := glare.Look(o, strip, places, nil)
		for _, p := range places {
			to := p.Position.Sub(o.Eye)
			if to.Length() < 0.1 || math.Abs(to.Dot(room.Facing(o.Looking))) < 1e-6 {
				t.Skip("an eye in a luminaire, or one right beside it")
			}
		}
		sum, sources := plain(o, strip, places)
		if sources != light.Sources || math.Abs(light.Sum-sum) > 1e-7*sum { // rounding of arc cosines
			t.Fatalf("%v of %d sources, want %v of %d", light.Sum, light.Sources, sum, sources)
		}
		if sum > 0 {
			worst = max(worst, math.Abs(light.Sum/sum-1))
		}
		mirrored, twice := o, o
		mirrored.Eye.X, mirrored.Looking = -o.Eye.X, math.Pi-o.Looking
		twice.Eye = o.Eye.Scale(2)
		there, far := make([]room.Placement, len(places)), make([]room.Placement, len(places))
		for i, p := range places {
			there[i], far[i] = p, p
			there[i].Position.X, there[i].Rotation = -p.Position.X, math.Pi-p.Rotation
			far[i].Position = p.Position.Scale(2)
		}
		for name, other := range map[string]glare.Light{"mirrored": glare.Look(mirrored, strip, there, nil), "twice as large": glare.Look(twice, large, far, nil)} {
			if math.Abs(other.Sum-light.Sum) > 1e-7*light.Sum || other.Small != light.Small || other.Large != light.Large {
				t.Fatalf("%s: %+v, want %+v", name, other, light)
			}
		}
	})
	t.Logf("largest deviation %.1g", worst)
}

// The projected area of a box, and of a cylinder, against small facets.
func TestProjectedArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		o := photometry.Opening{Length: at(0.1, 3, "length"), Width: at(0.1, 1, "width"), Height: at(0, 0.5, "height")}
		vertical, azimuth := at(0, math.Pi, "vertical"), at(0, 2*math.Pi, "azimuth")
		d := room.Vec{X: math.Sin(vertical) * math.Cos(azimuth), Y: math.Sin(vertical) * math.Sin(azimuth), Z: -math.Cos(vertical)}
		o.Shape = photometry.Elliptic
		const facets = 4000
		side := 0.0
		for i := range facets {
			a, b := 2*math.Pi*float64(i)/facets, 2*math.Pi*float64(i+1)/facets
			dx, dy := o.Length/2*(math.Cos(b)-math.Cos(a)), o.Width/2*(math.Sin(b)-math.Sin(a))
			side += o.Height * max(0, dy*d.X-dx*d.Y)
		}
		want := side + math.Pi*o.Length*o.Width/4*math.Abs(d.Z)
		if got := glare.ProjectedArea(o, d); math.Abs(got-want) > 1e-5*want {
			t.Fatalf("%v m², want %v", got, want)
		}
	})
	flat := photometry.Opening{Length: 2, Width: 0.5}
	assert.InDelta(t, 1.0, glare.ProjectedArea(flat, room.Vec{Z: -1}), 1e-12)
	assert.InDelta(t, 0.5, glare.ProjectedArea(flat, room.Vec{X: math.Sqrt(0.75), Z: 0.5}), 1e-12)
	disc := photometry.Opening{Shape: photometry.Elliptic, Length: 0.4, Width: 0.4}
	assert.InDelta(t, math.Pi*0.04, glare.ProjectedArea(disc, room.Vec{Z: 1}), 1e-12)
}

// What is behind the eye, hidden, dark toward the eye, or of no size.
func TestWhatIsNoSource(t *testing.T) {
	o := glare.Observer{Eye: room.Vec{Z: 1.2}}
	flat := photometry.Opening{Length: 1, Width: 0.3}
	down := luminaire(t, flat, even(300))
	up := luminaire(t, flat, func(_, v float64) float64 { return max(0, -math.Cos(v)) })
	ahead, beside, behind := room.Vec{X: 4, Z: 3}, room.Vec{Y: 4, Z: 3}, room.Vec{X: -4, Z: 3}
	rated := func(l glare.Light) glare.Reason {
		l.Background = 5
		_, why := l.Rating()
		return why
	}
	assert.Equal(t, 1, glare.Look(o, down, hung(ahead, beside, behind), nil).Sources)
	assert.Equal(t, glare.NothingSeen, rated(glare.Look(o, down, hung(beside, behind), nil)))
	assert.Equal(t, glare.NothingSeen, rated(glare.Look(o, up, hung(ahead), nil)), "uplights send nothing to the eye")
	point := glare.Look(o, luminaire(t, photometry.Opening{}, even(300)), hung(ahead), nil)
	assert.Equal(t, glare.NoSize, rated(point))
	assert.Equal(t, 1, point.Unsized)
	edge := glare.Look(o, down, hung(room.Vec{X: 4, Z: 1.2}), nil)
	assert.Equal(t, glare.NoSize, rated(edge), "a flat opening seen edge on")

	rack := room.Rack{Corner: room.Vec{X: 2, Y: -1}, Size: room.Vec{X: 0.5, Y: 2, Z: 4}}
	hidden := glare.Look(o, down, hung(ahead, room.Vec{X: 4, Y: 3, Z: 3}), room.NewObstructions([]room.Rack{rack}))
	assert.Equal(t, 1, hidden.Sources)
	at := o
	at.Eye.X = 2.5 // on the rack's face, looking away
	assert.Equal(t, 1, glare.Look(at, down, hung(ahead), room.NewObstructions([]room.Rack{rack})).Sources)
	rack.Transmittance = 0.25
	through := glare.Look(o, down, hung(ahead), room.NewObstructions([]room.Rack{rack}))
	assert.InEpsilon(t, 0.25*glare.Look(o, down, hung(ahead), nil).Sum, through.Sum, 1e-12)

	seen := glare.Look(o, down, hung(ahead), nil)
	for background, want := range map[float64]glare.Reason{0: glare.NoBouncing, 1: glare.Rated} {
		seen.Background = background
		_, why := seen.Rating()
		assert.Equal(t, want, why)
	}
	seen.Background = math.NaN()
	_, why := seen.Rating()
	assert.Equal(t, glare.NoBackground, why)
	assert.True(t, why.Unknown())
	assert.False(t, glare.NothingSeen.Unknown())
}

// Sources out of the range of sizes that the rating was made for are counted, and told.
func TestSizesOutOfRange(t *testing.T) {
	o := glare.Observer{Eye: room.Vec{Z: 1.2}}
	far := glare.Look(o, luminaire(t, photometry.Opening{Length: 0.1, Width: 0.1}, even(300)), hung(room.Vec{X: 10, Z: 3}, room.Vec{X: 1, Z: 1.7}), nil)
	assert.Equal(t, []int{2, 1, 0}, []int{far.Sources, far.Small, far.Large})
	near := glare.Look(o, luminaire(t, photometry.Opening{Length: 2, Width: 2}, even(300)), hung(room.Vec{X: 2, Z: 3}), nil)
	assert.Equal(t, []int{1, 0, 1}, []int{near.Sources, near.Small, near.Large})
}

// The bare tubes of issue and trade: 6,000 lm from a T12 and from an LED tube of the same length, 96 in, at 1.1 in (common practice, no source).
func TestBareTubes(t *testing.T) {
	const inch = 0.0254
	assert.InEpsilon(t, 6560, glare.OfTube(6000, 1.5*inch, 96*inch), 0.003) // print, of a length of about 96 in
	assert.InEpsilon(t, 8900, glare.OfTube(6000, 1.1*inch, 96*inch), 0.006)
	// A tube of even luminance gives its lumens: the sum over all directions of L d l sin θ.
	flux, luminance := 0.0, glare.OfTube(6000, 0.04, 2.4)
	for i := range 1000 {
		theta := (float64(i) + 0.5) * math.Pi / 1000
		flux += luminance * 0.04 * 2.4 * math.Sin(theta) * 2 * math.Pi * math.Sin(theta) * math.Pi / 1000
	}
	assert.InEpsilon(t, 6000, flux, 1e-6) // discretisation
}
