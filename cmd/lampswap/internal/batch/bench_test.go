package batch

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
)

func BenchmarkBatch(b *testing.B) {
	for _, c := range []struct {
		rooms int
		racks bool
	}{{200, false}, {10, false}, {10, true}} {
		paths := writeSites(b, 200, c.rooms, c.racks)
		if c.racks {
			paths = paths[:20]
		}
		for _, cached := range []bool{false, true} {
			for _, workers := range []int{1, 2, 4} {
				b.Run(fmt.Sprintf("jobs=%d/rooms=%d/racks=%v/cache=%v/workers=%d", len(paths), c.rooms, c.racks, cached, workers), func(b *testing.B) {
					for b.Loop() {
						run := newPool(Options{Workers: workers, Memory: 2048, Timeout: time.Hour})
						if !cached {
							run.shelf, run.study = job.NewShelf(0), kept(lighting.NewCache(0))
						}
						numbers := make([]int, len(paths))
						for i := range numbers {
							numbers[i] = i
						}
						err := run.do(b.Context(), paths, numbers, func(int, []byte) error { return nil }, func() error { return nil })
						require.NoError(b, err)
					}
					b.ReportMetric(float64(len(paths)*b.N)/b.Elapsed().Seconds(), "jobs/s")
					b.ReportAllocs()
				})
			}
		}
	}
}
