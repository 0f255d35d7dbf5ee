// Package batch works out many jobs, a line of JSON each, so that a kill costs no line that is done and shards make up the whole.
package batch

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"time"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

// Options are what the command line asks of a batch.
type Options struct {
	Output  string
	Shard   string
	Workers int
	Memory  int // MiB
	Timeout time.Duration
}

// A codeError ends a batch that has done its work: the code is the highest of its jobs'.
type codeError struct{ code int }

func (e codeError) Error() string { return fmt.Sprintf("some jobs end with code %d", e.code) }

// ExitCode is what the whole ends with.
func (e codeError) ExitCode() int { return e.code }

// Run works out the jobs that the arguments name, and writes their lines and a summary.
func Run(ctx context.Context, opts Options, args []string, stdin io.Reader, stdout, stderr io.Writer) error {
	switch {
	case opts.Output == "":
		return exit.Usage(errors.New("--output is missing, want the file to write the lines to"))
	case opts.Workers < 0 || opts.Workers > mostWorkers:
		return exit.Usagef("--workers is %d, want 1 to %d", opts.Workers, mostWorkers)
	case opts.Memory < 1 || opts.Memory > mostMemory:
		return exit.Usagef("--memory is %d, want MiB, 1 to %d", opts.Memory, mostMemory)
	case opts.Timeout <= 0:
		return exit.Usagef("--timeout is %s, want a time above 0", opts.Timeout)
	}
	if info, err := os.Stat(opts.Output); err == nil && !info.Mode().IsRegular() {
		return exit.Usagef("--output is %s, which is no file", opts.Output)
	}
	paths, left, err := jobsOf(args, stdin)
	if err != nil {
		return err
	}
	if left.sections > 0 {
		fmt.Fprintf(stderr, "lampswap: cross-sections of fixtures among the job files, left out: %d\n", left.sections)
	}
	if left.named > 0 {
		fmt.Fprintf(stderr, "lampswap: jobs that a building names, worked out with it and left out by themselves: %d\n", left.named)
	}
	if paths, err = shardOf(opts.Shard, paths); err != nil {
		return err
	}
	target, err := targetOf(opts.Output, append(slices.Clone(args), paths...))
	if err != nil {
		return err
	}
	return workOff(ctx, opts, target, paths, stdout, stderr)
}

// partOf is the journal that goes with an output.
func partOf(output string) string { return output + ".part" }

// targetOf is the file to write the lines to. Neither it nor its journal may be a job, the list of jobs or a file that a job names. A job can
// name only what is there: what the jobs name is looked up where one of the two is there already, as after an earlier run.
func targetOf(output string, inputs []string) (files.Target, error) {
	for i, path := range inputs {
		if path == jobs.Dash {
			inputs[i] = jobs.StdinPath
		}
	}
	_, noOutput := os.Stat(output)
	_, noPart := os.Stat(partOf(output))
	if noOutput == nil || noPart == nil {
		shelf := job.NewShelf(shelfBytes)
		for _, path := range slices.Clone(inputs) {
			if text, err := job.ReadText(path); err == nil { // else its line says so
				sources := job.NewSources(text, job.Beside(path))
				if building.Is(text) {
					_, _ = building.Read(path, text, sources.Open, shelf) // the same
				} else {
					_, _ = shelf.Read(path, text, sources.Open)
				}
				for _, name := range sources.Names() {
					inputs = append(inputs, job.PathBeside(path, name))
				}
			}
		}
	}
	if _, err := files.ToFile("the journal of --output", partOf(output), inputs); err != nil {
		return files.Target{}, err
	}
	return files.ToFile("--output", output, inputs)
}

const (
	mostWorkers = 1024
	mostMemory  = 1 << 24 // MiB
	shelfBytes  = 64 << 20
)

// workOff works out what the journal does not hold yet, then writes the lines in order and the summary.
func workOff(ctx context.Context, opts Options, target files.Target, paths []string, stdout, stderr io.Writer) (err error) {
	j, err := openJournal(partOf(opts.Output))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, j.close()) }()
	spans, missing := j.resume(paths)
	if done := len(paths) - len(missing); done > 0 {
		fmt.Fprintf(stderr, "lampswap: going on after %d of %d jobs\n", done, len(paths))
	}
	_, err = terminal.ShowProgress(stderr, func(progress lighting.Progress) (struct{}, error) {
		done := len(paths) - len(missing)
		return struct{}{}, newPool(opts).do(ctx, paths, missing, func(i int, line []byte) error {
			var err error
			spans[i], err = j.append(line)
			done++
			progress("jobs", float64(done)/float64(len(paths)))
			return err
		}, j.sync)
	})
	if err != nil {
		return unfinished(ctx, err, opts.Output)
	}
	s := &summary{from: origin.Of("")}
	err = target.WriteWhole(func(w io.Writer) error {
		for _, at := range spans {
			line, err := j.line(at)
			if err != nil {
				return err
			}
			s.add(line)
			if _, err := w.Write(line); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return unfinished(ctx, err, opts.Output)
	}
	if err := j.remove(); err != nil {
		return err
	}
	s.write(stdout)
	if s.worst > exit.Done {
		return codeError{s.worst}
	}
	return nil
}

// unfinished says that nothing is lost.
func unfinished(ctx context.Context, err error, output string) error {
	if ctx.Err() != nil {
		err = errors.New("interrupted")
	}
	return fmt.Errorf("%s; what is done is kept in %s.part: the same command goes on from there", err.Error(), output)
}

// newPool shares memory between the jobs at work and what they have in common.
func newPool(opts Options) *pool {
	workers := opts.Workers
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	budget := int64(opts.Memory) << 20
	light := lighting.NewCache(budget / 4)
	return &pool{workers: workers, budget: budget, timeout: opts.Timeout, shelf: job.NewShelf(budget / 16), study: kept(light), light: light}
}

// kept works jobs out with the light that they have in common.
func kept(light *lighting.Cache) func(context.Context, *job.Job) (*study.Result, error) {
	return func(ctx context.Context, j *job.Job) (*study.Result, error) { return study.RunWith(ctx, j, light) }
}
