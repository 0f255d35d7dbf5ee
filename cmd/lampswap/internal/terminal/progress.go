package terminal

import (
	"io"
	"time"

	"github.com/jedib0t/go-pretty/v6/progress"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/lighting"
)

// progressAfter is how long work may take before its progress is shown.
const progressAfter = time.Second

// ShowProgress does some work and shows its progress on stderr once it takes over a second, if that is a terminal that may be written
// over.
func ShowProgress[T any](stderr io.Writer, work func(lighting.Progress) (T, error)) (T, error) {
	return showProgress(stderr, progressAfter, work)
}

func showProgress[T any](stderr io.Writer, after time.Duration, work func(lighting.Progress) (T, error)) (T, error) {
	if !takesEscapes(stderr) {
		return work(nil)
	}
	w := progress.NewWriter()
	w.SetOutputWriter(stderr)
	w.SetUpdateFrequency(100 * time.Millisecond)
	w.Style().Options.PercentFormat = "%4.0f%%"
	w.Style().Options.TimeInProgressPrecision = time.Second
	w.Style().Visibility = progress.StyleVisibility{Percentage: true, Time: true, Tracker: true}
	return watched(w, after, work)
}

// watched does some work and has its progress written once it takes longer than that. It errs as the work does, else if the writer panics.
func watched[T any](w progress.Writer, after time.Duration, work func(lighting.Progress) (T, error)) (done T, err error) {
	started, steps := time.Now(), map[string]*progress.Tracker{}
	rendered := make(chan error, 1)
	shown := false
	defer func() {
		for shown { // the writer misses a stop that comes before it has begun
			w.Stop()
			select {
			case fault := <-rendered:
				if err == nil {
					err = fault
				}
				return
			case <-time.After(time.Millisecond):
			}
		}
	}()
	return work(func(step string, part float64) {
		if time.Since(started) < after {
			return
		}
		if !shown {
			shown = true
			go func() {
				rendered <- exit.Caught(func() error {
					w.Render()
					return nil
				})()
			}()
		}
		if steps[step] == nil {
			steps[step] = &progress.Tracker{Message: step, Total: 100}
			w.AppendTracker(steps[step])
		}
		steps[step].SetValue(int64(100 * part))
	})
}
