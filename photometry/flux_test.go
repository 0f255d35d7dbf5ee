package photometry_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"lampswap/photometry"
)

// An even intensity I over all directions is 4 π I; the table of two angles holds it exactly.
func TestFluxOfEvenIntensity(t *testing.T) {
	d := alike(t, []float64{0, 180}, func(float64) float64 { return 100 })
	assert.InEpsilon(t, 4*math.Pi*100, d.Flux(), rounding)
	assert.InEpsilon(t, 2*math.Pi*100, d.FluxBetween(0, math.Pi/2), rounding)
	for zone, flux := range d.ZonalFlux() {
		low, high := radians(10*float64(zone)), radians(10*float64(zone+1))
		assert.InEpsilon(t, 2*math.Pi*100*(math.Cos(low)-math.Cos(high)), flux, rounding, "zone %d", zone+1)
	}
}

// A Lambertian luminaire sends π I0; the interpolated table a little less, by h²/12 of it for a step h to first order: the
// error falls by four as the step halves (discretisation).
func TestLambertianFlux(t *testing.T) {
	flux := func(count int) float64 { return alike(t, steps(90, count), cosinePower(1)).Flux() }
	before := 0.0
	for _, count := range []int{9, 18, 36, 72} {
		err := math.Pi - flux(count)
		h := math.Pi / 2 / float64(count)
		assert.InEpsilon(t, h*h/12*math.Pi, err, 0.01, "%d steps", count)
		if before > 0 {
			assert.InEpsilon(t, 4, before/err, 0.01, "%d steps", count)
		}
		before = err
	}
	assert.InEpsilon(t, math.Pi, flux(900), 1e-6)
}

// Zonal shares of the cosine luminaire, cos² t1 - cos² t2: our reference sheet's hand example (computed, not published), print. The table
// of one-degree steps adds at most h²/8 of the zone's even flux (discretisation), a quarter of it when the step halves.
func TestZonalFluxOfTheHandExample(t *testing.T) {
	want := []float64{.030154, .086824, .133022, .163176, .173648, .163176, .133022, .086824, .030154}
	coarse, fine := alike(t, steps(90, 90), cosinePower(1)).ZonalFlux(), alike(t, steps(90, 180), cosinePower(1)).ZonalFlux()
	for zone := range photometry.Zones {
		low, high := radians(10*float64(zone)), radians(10*float64(zone+1))
		if zone >= 9 {
			assert.Zero(t, coarse[zone], "nothing goes up")
			continue
		}
		exact := math.Pi * (math.Pow(math.Cos(low), 2) - math.Pow(math.Cos(high), 2))
		assert.InDelta(t, want[zone], exact/math.Pi, 0.5e-6+1e-9, "print")
		bound := math.Pow(radians(1), 2) / 8 * 2 * math.Pi * (math.Cos(low) - math.Cos(high))
		assert.InDelta(t, exact, coarse[zone], bound, "zone %d", zone+1)
		assert.InEpsilon(t, 4, (exact-coarse[zone])/(exact-fine[zone]), 0.01, "zone %d", zone+1)
	}
}

// drawDistribution draws a table without symmetry or with one, with uneven steps.
func drawDistribution(t *rapid.T) *photometry.Distribution {
	rising := func(name string, first, last float64, inner int) []float64 {
		angles, sum := []float64{first}, 0.0
		gaps := rapid.SliceOfN(rapid.Float64Range(0.2, 1), inner+1, inner+1).Draw(t, name)
		for _, g := range gaps {
			sum += g
		}
		at := first
		for _, g := range gaps[:inner] {
			at += g / sum * (last - first)
			angles = append(angles, at)
		}
		return append(angles, last)
	}
	kind := rapid.SampledFrom([][2]float64{{0, 90}, {0, 180}, {90, 270}, {0, 360}}).Draw(t, "symmetry")
	horizontal := rising("horizontal", kind[0], kind[1], rapid.IntRange(0, 3).Draw(t, "planes"))
	first := rapid.SampledFrom([]float64{0, 5, 90}).Draw(t, "first vertical")
	vertical := rising("vertical", first, rapid.SampledFrom([]float64{95, 180}).Draw(t, "last vertical"), rapid.IntRange(0, 4).Draw(t, "cones"))
	rows := make([][]float64, len(horizontal))
	for i := range rows {
		rows[i] = rapid.SliceOfN(rapid.Float64Range(0, 1000), len(vertical), len(vertical)).Draw(t, "candela")
	}
	if kind[1] == 360 {
		rows[len(rows)-1] = rows[0]
	}
	d, err := photometry.NewDistribution(horizontal, vertical, rows)
	require.NoError(t, err)
	return d
}

// The exact integral against Gauss quadrature of the looked-up intensity, cell by cell (12 nodes: rounding only).
func TestFluxIsTheIntegralOfTheIntensity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDistribution(t)
		from := rapid.Float64Range(0, math.Pi).Draw(t, "from")
		to := rapid.Float64Range(0, math.Pi).Draw(t, "to")
		planes, cones := d.HorizontalAngles(), d.VerticalAngles()
		want := 0.0
		for v := range len(cones) - 1 {
			low, high := max(cones[v], from), min(cones[v+1], to)
			if low >= high {
				continue
			}
			for p := range len(planes) - 1 {
				want += quad.Fixed(func(g float64) float64 {
					return math.Sin(g) * quad.Fixed(func(c float64) float64 { return d.Intensity(c, g) }, planes[p], planes[p+1], 2, nil, 0)
				}, low, high, 12, nil, 0)
			}
		}
		assert.InDelta(t, want, d.FluxBetween(from, to), 1e-11*math.Max(1, d.Peak()*4*math.Pi))
	})
}

func TestZonesAddUpToTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDistribution(t)
		sum := 0.0
		for _, flux := range d.ZonalFlux() {
			assert.GreaterOrEqual(t, flux, -1e-9)
			sum += flux
		}
		assert.InDelta(t, d.Flux(), sum, 1e-11*math.Max(1, d.Peak()*4*math.Pi), "rounding")
		assert.InDelta(t, 3*d.Flux(), d.Scaled(3).Flux(), 1e-11*math.Max(1, d.Peak()*4*math.Pi))
	})
}

func TestEfficiency(t *testing.T) {
	d := alike(t, []float64{0, 180}, func(float64) float64 { return 100 })
	assert.InEpsilon(t, 0.8, photometry.Luminaire{Distribution: d, LampLumens: 4 * math.Pi * 100 / 0.8}.Efficiency(), rounding)
	assert.Equal(t, 1.0, photometry.Luminaire{Distribution: d, Absolute: true, LampLumens: -1}.Efficiency())
}

func TestUnits(t *testing.T) {
	assert.Equal(t, 0.3048, photometry.Foot, "exact, by definition")
	assert.InDelta(t, 0.0254, photometry.Inch, 1e-17)
	// 1 fc = 10.7639 lx: ANSI/IES LS-1, print.
	assert.InDelta(t, 10.7639, photometry.Footcandle, 0.5e-4)
	assert.InEpsilon(t, 1/(0.3048*0.3048), photometry.Footcandle, 1e-15)
	assert.InDelta(t, 0, photometry.CelsiusFromFahrenheit(32), rounding)
	assert.InDelta(t, 25, photometry.CelsiusFromFahrenheit(77), rounding)
	assert.InDelta(t, -40, photometry.CelsiusFromFahrenheit(-40), rounding)
}

func BenchmarkZonalFlux(b *testing.B) {
	d := alike(b, steps(90, 36), cosinePower(1))
	b.ReportAllocs()
	for b.Loop() {
		d.ZonalFlux()
	}
}
