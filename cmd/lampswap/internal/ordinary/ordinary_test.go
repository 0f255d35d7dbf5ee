package ordinary_test

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/ordinary"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

func noFiles(name string) ([]byte, error) { return nil, fmt.Errorf("%s: %w", name, fs.ErrNotExist) }

// solve works a drawn job out, or returns nil where its text is refused, as a sum of fitting parts may be.
func solve(t *testing.T, shelf *job.Shelf, d *ordinary.Job) *study.Result {
	t.Helper()
	j, err := shelf.Read("drawn.toml", []byte(d.Text()), noFiles)
	if err != nil {
		t.Logf("refused: %v", err)
		return nil
	}
	r, err := study.Run(context.Background(), j, nil)
	if errors.As(err, new(*lighting.ImbalanceError)) && reachesOut(j) {
		t.Logf("not trusted, as luminaires reach through a wall: %v", err)
		return nil
	}
	if err != nil {
		t.Errorf("%v\n%s", err, d.Text())
		return nil
	}
	return r
}

// reachesOut tells that luminaires are longer than the room has place for: what they send beyond the wall is nobody's.
func reachesOut(j *job.Job) bool {
	for _, s := range []job.System{j.Existing, j.Proposed} {
		for _, p := range s.Layout.Placements {
			sin, cos := math.Sincos(p.Rotation)
			x, y := s.Luminaire.Opening.Length/2*math.Abs(cos), s.Luminaire.Opening.Length/2*math.Abs(sin)
			if at := p.Position; x > min(at.X, j.Room.Length-at.X) || y > min(at.Y, j.Room.Width-at.Y) {
				return true
			}
		}
	}
	return false
}

// A light is one number of a result that must not move by itself.
type light struct {
	name  string
	value float64
}

// lights are what the grids of both systems maintain.
func lights(r *study.Result) []light {
	var all []light
	for _, side := range r.Sides() {
		for _, g := range side.Grids {
			name := side.Name + ", " + g.Name + ": "
			all = append(all, light{name + "average", g.Statistics.Average}, light{name + "minimum", g.Statistics.Minimum}, light{name + "maximum", g.Statistics.Maximum})
		}
		all = append(all, light{side.Name + ", lumen method", side.LumenMethod.MaintainedAverage})
	}
	return all
}

// apart is the largest relative difference of two results' lights, and where it is.
func apart(a, b *study.Result) (worst float64, where string) {
	for i, l := range lights(a) {
		m := lights(b)[i].value
		if d := math.Abs(m/l.value - 1); d > worst && math.Abs(m-l.value) > 1e-9 || math.IsNaN(m) != math.IsNaN(l.value) {
			worst, where = d, fmt.Sprintf("%s: %v for %v", l.name, m, l.value)
		}
	}
	return worst, where
}

// balanced is how much of the light that is emitted is not absorbed, or too much.
func balanced(s lighting.System) float64 { return math.Abs(s.Balance.Absorbed/s.Balance.Emitted - 1) }

// What one thing changed may do to the light of an ordinary job.
const (
	balanceWithin = 0.003 // of the light emitted
	nudgeWithin   = 1e-4  // of any light, for a part in a million of any number
	mirrorWithin  = 0.002 // rays look from each patch by one fixed rule, which a mirror does not keep
	unitsWithin   = 1e-6  // of any light: inches are no round meters
)

func draws() (n uint64, halls bool) {
	if os.Getenv("LAMPSWAP_LONG") != "" {
		return 2000, true
	}
	return 120, false
}

func TestOrdinaryJobs(t *testing.T) {
	n, halls := draws()
	shelf := job.NewShelf(64 << 20)
	solved := 0
	for seed := range n {
		d := ordinary.Draw(seed, halls)
		t.Run(d.Name(), func(t *testing.T) {
			r := solve(t, shelf, d)
			if r == nil {
				return
			}
			solved++
			for _, side := range r.Sides() {
				if off := balanced(*side.System); !(off <= balanceWithin) {
					t.Errorf("%s: the balance is off by %.2f percent\n%s", side.Name, 100*off, d.Text())
				}
			}
			if brighter := solve(t, shelf, d.Brighter()); brighter != nil {
				for i, l := range lights(r) {
					if lights(brighter)[i].value < l.value*(1-1e-9) {
						t.Errorf("a tenth more lumens, and less light: %s\n%s", l.name, d.Text())
					}
				}
			}
			nudged, number := d.Nudged(seed / 5 * 7)
			changes := []struct {
				name   string
				to     *ordinary.Job
				within float64
			}{{"converted", d.Converted(), unitsWithin}, {"mirrored", d.Mirrored(), mirrorWithin}, {"turned", d.Turned(), mirrorWithin}, {"nudged, " + number, nudged, nudgeWithin}, {"by figures", d.ByFigures(), unitsWithin}}
			change := changes[seed%uint64(len(changes))]
			if other := solve(t, shelf, change.to); other != nil {
				if off, where := apart(r, other); off > change.within {
					t.Errorf("%s: light is %.4f percent off (%s)\n%s", change.name, 100*off, where, d.Text())
				}
			}
		})
	}
	require.Greater(t, solved, int(n)*3/4, "most drawn jobs are read")
}
