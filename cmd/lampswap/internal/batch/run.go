package batch

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"time"

	"golang.org/x/sync/errgroup"
	"golang.org/x/sync/semaphore"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/build"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/building"
	"lampswap/photometry/diag"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

// A head is what goes with the answer of a job, or of a building, in its line.
type head struct {
	File    string   `json:"file"`
	Exit    int      `json:"exit"`
	Digest  string   `json:"digest"`
	Inputs  []string `json:"inputs"` // names of the files that the job names
	Version string   `json:"version"`
	Errors  []string `json:"errors,omitempty"`
}

// A jobLine is one job of a batch: what check would write, and what goes with it.
type jobLine struct {
	head
	*answer.Result
}

// A pool works jobs out, some at a time, within a budget of memory. Small jobs are quickest one a processor; each also spreads over
// the processors that are idle, which serves a large one that runs alone.
type pool struct {
	workers int
	budget  int64 // bytes
	timeout time.Duration
	shelf   *job.Shelf
	study   func(context.Context, *job.Job) (*study.Result, error)
	light   *lighting.Cache // of the buildings; that of study
}

// syncEvery bounds what a crash of the machine may cost. A killed process loses nothing that was written.
const syncEvery = time.Second

// do works out the jobs of the given numbers and hands on each line as it is done, one at a time.
func (b *pool) do(ctx context.Context, paths []string, numbers []int, done func(i int, line []byte) error, sync func() error) error {
	type made struct {
		number int
		line   []byte
	}
	group, ctx := errgroup.WithContext(ctx)
	numbered, lines := make(chan int), make(chan made)
	memory := semaphore.NewWeighted(b.budget)
	group.Go(exit.Caught(func() error {
		defer close(numbered)
		for _, i := range numbers {
			select {
			case numbered <- i:
			case <-ctx.Done():
				return ctx.Err()
			}
		}
		return nil
	}))
	for range min(b.workers, len(numbers)) {
		group.Go(exit.Caught(func() error {
			for i := range numbered {
				line, err := b.line(ctx, paths[i], memory)
				if err != nil {
					return err
				}
				select {
				case lines <- made{i, line}:
				case <-ctx.Done():
					return ctx.Err()
				}
			}
			return nil
		}))
	}
	group.Go(exit.Caught(func() error {
		tick := time.NewTicker(syncEvery)
		defer tick.Stop()
		for range numbers {
			for waiting := true; waiting; {
				select {
				case m := <-lines:
					if err := done(m.number, m.line); err != nil {
						return err
					}
					waiting = false
				case <-tick.C:
					if err := sync(); err != nil {
						return err
					}
				case <-ctx.Done():
					return ctx.Err()
				}
			}
		}
		return nil
	}))
	err := group.Wait()
	return errors.Join(err, sync())
}

// line works out one job. It errs only if the context ends: what is wrong with the job is told in its line, and a panic too, which must not
// take the other jobs along.
func (b *pool) line(ctx context.Context, path string, memory *semaphore.Weighted) (text []byte, err error) {
	h := head{File: path, Inputs: []string{}, Version: build.Version()}
	err = exit.Caught(func() (err error) {
		text, err = b.done(ctx, path, memory, &h)
		return err
	})()
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil:
		return encodeLine(jobLine{head: h.failed(err)})
	}
	return text, nil
}

// done works out one job, or one building, and writes its line.
func (b *pool) done(ctx context.Context, path string, memory *semaphore.Weighted, h *head) ([]byte, error) {
	text, err := job.ReadText(path)
	if cause, ok := errors.AsType[*fs.PathError](err); ok {
		return nil, exit.Usagef("%s: %w", path, cause.Err)
	}
	if err != nil {
		return nil, err
	}
	sources := job.NewSources(text, job.Beside(path))
	if building.Is(text) {
		r, err := b.building(ctx, path, text, sources, memory, h)
		if err != nil {
			return nil, err
		}
		h.met(r.Stands())
		view := answer.OfBuilding(r, false)
		return encodeLine(buildingLine{*h, &view})
	}
	result, err := b.result(ctx, path, text, sources, memory, h)
	if err != nil {
		return nil, err
	}
	h.met(result.Stands())
	view := answer.Of(result, false)
	return encodeLine(jobLine{*h, &view})
}

// met notes whether every criterion is met.
func (h *head) met(all bool) {
	if !all {
		h.Exit = exit.NotMet
	}
}

// failed is the head of a job that ended with an error, told as check would.
func (h head) failed(err error) head {
	h.Exit = exit.Report(err, io.Discard)
	h.Errors = []string{err.Error()}
	if faults, ok := errors.AsType[diag.List](err); ok {
		h.Errors = nil
		for _, f := range faults {
			h.Errors = append(h.Errors, f.Error())
		}
	}
	return h
}

// read notes which files a job was made of.
func (h *head) read(sources *job.Sources) {
	h.Digest, h.Inputs = sources.Digest(), append([]string{}, sources.Names()...)
}

// result works out one job within the memory that it may take.
func (b *pool) result(ctx context.Context, path string, text []byte, sources *job.Sources, memory *semaphore.Weighted, h *head) (result *study.Result, err error) {
	j, err := b.shelf.Read(path, text, sources.Open)
	h.read(sources)
	if err != nil {
		return nil, err
	}
	err = b.within(ctx, memory, lighting.Bytes(j), func(ctx context.Context) (err error) {
		result, err = b.study(ctx, j)
		return err
	})
	return result, err
}

// within does some work within its memory and its time.
func (b *pool) within(ctx context.Context, memory *semaphore.Weighted, bytes int64, work func(context.Context) error) error {
	takes := min(bytes, b.budget)
	if err := memory.Acquire(ctx, takes); err != nil {
		return err
	}
	defer memory.Release(takes)
	limited, cancel := context.WithTimeoutCause(ctx, b.timeout, fmt.Errorf("it takes longer than %s (--timeout)", b.timeout))
	defer cancel()
	err := work(limited)
	if err != nil && limited.Err() != nil {
		err = context.Cause(limited)
	}
	return err
}

// encodeLine writes a line with its end.
func encodeLine(l any) ([]byte, error) {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	err := encoder.Encode(l)
	return b.Bytes(), err
}
