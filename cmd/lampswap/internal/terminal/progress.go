package terminal

import (
	"fmt"
	"io"
	"time"

	"github.com/jedib0t/go-pretty/v6/progress"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/lighting"
)

const (
	progressAfter = time.Second      // how long work may take before its progress is shown
	lineEvery     = 10 * time.Second // and how often it is told on a line of its own
	tellable      = 0.01             // part of a step from which on its time can be told
)

// ShowProgress does some work and tells how far it is and how long the rest of the step at work will take: once it takes over a second on
// stderr, if that is a terminal that may be written over, else on a line every ten seconds.
func ShowProgress[T any](stderr io.Writer, work func(lighting.Progress) (T, error)) (T, error) {
	if !takesEscapes(stderr) {
		return work(lines(stderr, lineEvery))
	}
	return showProgress(stderr, progressAfter, work)
}

// lines writes a line every so often.
func lines(w io.Writer, every time.Duration) lighting.Progress {
	var step string
	var begun, told time.Time
	var from, last float64 // which part was done when the step was first heard of, and of late
	told = time.Now()
	return func(now string, part float64) {
		if now != step || part < last {
			step, begun, from = now, time.Now(), part
		}
		last = part
		if time.Since(told) < every || part < from+tellable {
			return
		}
		told = time.Now()
		left := time.Duration(float64(time.Since(begun)) * (1 - part) / (part - from))
		fmt.Fprintf(w, "lampswap: %s: %.0f percent done, about %s left\n", step, 100*part, left.Round(time.Second))
	}
}

func showProgress[T any](stderr io.Writer, after time.Duration, work func(lighting.Progress) (T, error)) (T, error) {
	w := progress.NewWriter()
	w.SetOutputWriter(stderr)
	w.SetUpdateFrequency(100 * time.Millisecond)
	w.Style().Options.PercentFormat = "%4.0f%%"
	w.Style().Options.TimeInProgressPrecision = time.Second
	w.Style().Options.ETAPrecision = time.Second
	w.Style().Options.ETAString = "left"
	w.Style().Visibility = progress.StyleVisibility{ETA: true, Percentage: true, Time: true, Tracker: true}
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
