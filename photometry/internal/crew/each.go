package crew

import (
	"context"
	"runtime"
)

// Each runs a job for every number below n, in chunks that as many workers as there are processors take in turn; each worker makes its own
// job, which may hold what it works in. If told is not nil, the first worker tells which part is done, 0 to 1, after each of its chunks.
// It errs only if the context is cancelled, which is looked at between chunks.
func Each(ctx context.Context, n, chunk int, told func(part float64), worker func() func(i int)) error {
	group, ctx := WithContext(ctx)
	workers := min(runtime.GOMAXPROCS(0), (n+chunk-1)/chunk)
	for w := range workers {
		group.Go(func() error {
			job := worker()
			for start := w * chunk; start < n; start += workers * chunk {
				if err := ctx.Err(); err != nil {
					return err
				}
				for i := start; i < min(start+chunk, n); i++ {
					job(i)
				}
				if w == 0 && told != nil {
					told(float64(min(start+workers*chunk, n)) / float64(n))
				}
			}
			return nil
		})
	}
	return group.Wait()
}
