package main

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

// siteText is an invented site: a room of the given length, computed fixtures, lamps of given lumens.
func siteText(length, lumens float64, racks bool) string {
	text := fmt.Sprintf(`title = "site %g %g"
[room]
length = %.3f
width = 60.0
height = 18.0
[layout]
mounting_height = 16.0
rows = 5
columns = 8
[existing]
fixture = "strip-5in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-4in"
lamp = "F32T8/800"
lamp_lumens = %.3f
lamps = 2
ballast = "is-normal"
[[criteria]]
level = "warehouse-active-bulky"
`, length, lumens, length, lumens)
	if racks {
		text += "[[racks]]\ncorner = [10.0, 8.0]\nsize = [60.0, 4.0, 12.0]\nrepeat = { count = 3, step = [0.0, 16.0] }\n"
	}
	return text
}

// writeSites writes n sites to a folder, of so many rooms.
func writeSites(tb testing.TB, n, rooms int, racks bool) []string {
	tb.Helper()
	folder := tb.TempDir()
	var paths []string
	for i := range n {
		path := filepath.Join(folder, fmt.Sprintf("%03d.toml", i))
		require.NoError(tb, os.WriteFile(path, []byte(siteText(80+float64(i%rooms), 2800+float64(i%7), racks)), 0o644))
		paths = append(paths, path)
	}
	return paths
}

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
						run := newBatchRun(batchOptions{workers: workers, memory: 2048, timeout: time.Hour})
						if !cached {
							run.shelf, run.study = job.NewShelf(0), study.NewCache(0).Run
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
