package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"time"

	"github.com/spf13/cobra"

	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

type batchOptions struct {
	output  string
	shard   string
	workers int
	memory  int // MiB
	timeout time.Duration
}

const batchLong = `batch works out many jobs and writes one line of JSON for each, in the order of
the jobs: what check --format json gives, with the job's "file", the "exit" code
that check would end with, a "digest" of its inputs (SHA-256 of the job file and
every file that it names), the names of these "inputs", and the "version". A job
that fails costs a line with its "errors", not the run. A summary goes to
standard output: worst margins, totals, what failed. Exit code: the highest of
the lines.

JOBS are job files, folders (every *.toml in them and in the folders below, by
name; files whose name begins with a dot and cross-sections of fixtures are left
out), or - for a list on standard input, a path a line.

Lines are first kept in FILE.jsonl.part, in the order in which they are done.
After a kill or a full disk the same command goes on from there: a line counts
if it is whole and if neither the inputs nor the version have changed.
FILE.jsonl appears when all is done.

On many machines: --shard I/N takes every N-th job from the I-th on, I from 0 to
N-1. All shards must see the same JOBS.
  Slurm, in a script submitted with "sbatch --array=0-15":
    lampswap batch sites --output part-$SLURM_ARRAY_TASK_ID.jsonl \
      --shard $SLURM_ARRAY_TASK_ID/$SLURM_ARRAY_TASK_COUNT
  Kubernetes, in a Job with completionMode: Indexed and completions: 16, on a
  volume that all share:
    command: [sh, -c, "lampswap batch sites
      --output part-$JOB_COMPLETION_INDEX.jsonl
      --shard $JOB_COMPLETION_INDEX/16 || test $? -lt 3"]
  GNU parallel, on this machine or with --sshlogin on others:
    seq 0 15 | parallel lampswap batch sites \
      --output part-{}.jsonl --shard {}/16
To put the parts back into the order of the jobs, name them in the order of
their shards:
    paste -d '\n' part-?.jsonl part-1?.jsonl | grep . > all.jsonl`

func newBatch() *cobra.Command {
	opts := batchOptions{}
	cmd := &cobra.Command{
		Use:     "batch JOBS... --output FILE.jsonl",
		Short:   "Many jobs, a line of JSON each; on one machine or many",
		Long:    batchLong,
		Example: "  lampswap batch sites --output sites.jsonl\n  ls sites/*/dock.toml | lampswap batch - --output docks.jsonl",
		RunE: func(cmd *cobra.Command, args []string) error {
			return batch(cmd.Context(), opts, args, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&opts.output, "output", "o", "", "file to write the lines to (required)")
	flags.StringVar(&opts.shard, "shard", "", "I/N: every N-th job from the I-th on, I from 0")
	flags.IntVar(&opts.workers, "workers", 0, "jobs at a time (default: the processors)")
	flags.IntVar(&opts.memory, "memory", 2048, "MiB that the jobs at work may take together; one that needs more runs alone")
	flags.DurationVar(&opts.timeout, "timeout", time.Hour, "after which a job is given up")
	return cmd
}

// A batchError ends a batch that has done its work: the code is the highest of its jobs'.
type batchError struct{ code int }

func (e batchError) Error() string { return fmt.Sprintf("some jobs end with code %d", e.code) }

func batch(ctx context.Context, opts batchOptions, args []string, stdin io.Reader, stdout, stderr io.Writer) error {
	switch {
	case opts.output == "":
		return usageError{errors.New("--output is missing, want the file to write the lines to")}
	case opts.workers < 0 || opts.workers > mostWorkers:
		return usageError{fmt.Errorf("--workers is %d, want 1 to %d", opts.workers, mostWorkers)}
	case opts.memory < 1:
		return usageError{fmt.Errorf("--memory is %d, want MiB above 0", opts.memory)}
	case opts.timeout <= 0:
		return usageError{fmt.Errorf("--timeout is %s, want a time above 0", opts.timeout)}
	}
	if info, err := os.Stat(opts.output); err == nil && !info.Mode().IsRegular() {
		return usageError{fmt.Errorf("--output is %s, which is no file", opts.output)}
	}
	paths, sections, err := batchJobs(args, stdin)
	if err != nil {
		return err
	}
	if sections > 0 {
		fmt.Fprintf(stderr, "lampswap: %d cross-sections of fixtures among the job files are left out\n", sections)
	}
	if paths, err = shardOf(opts.shard, paths); err != nil {
		return err
	}
	return runBatch(ctx, opts, paths, stdout, stderr)
}

const mostWorkers = 1024

// runBatch works out what the journal does not hold yet, then writes the lines in order and the summary.
func runBatch(ctx context.Context, opts batchOptions, paths []string, stdout, stderr io.Writer) (err error) {
	j, err := openJournal(opts.output + ".part")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, j.close()) }()
	spans, missing := j.resume(paths)
	if done := len(paths) - len(missing); done > 0 {
		fmt.Fprintf(stderr, "lampswap: going on after %d of %d jobs\n", done, len(paths))
	}
	_, err = showProgress(stderr, func(progress study.Progress) (struct{}, error) {
		log := &batchLog{progress: progress, stderr: stderr, done: len(paths) - len(missing), of: len(paths), started: time.Now(), told: time.Now()}
		return struct{}{}, newBatchRun(opts).do(ctx, paths, missing, func(i int, line []byte) error {
			var err error
			spans[i], err = j.append(line)
			log.next()
			return err
		}, j.sync)
	})
	if err != nil {
		return unfinished(ctx, err, opts.output)
	}
	s := &summary{}
	err = writeWhole(opts.output, func(w io.Writer) error {
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
		return unfinished(ctx, err, opts.output)
	}
	if err := j.remove(); err != nil {
		return err
	}
	s.write(stdout)
	if s.worst > exitDone {
		return batchError{s.worst}
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

// A batchLog tells how far a batch is: on a terminal by a bar, in a log now and then.
type batchLog struct {
	progress      study.Progress
	stderr        io.Writer
	done, of      int
	made          int // in this run
	started, told time.Time
}

const tellEvery = 30 * time.Second

func (l *batchLog) next() {
	l.done++
	l.made++
	if l.progress != nil {
		l.progress("jobs", float64(l.done)/float64(l.of))
		return
	}
	if now := time.Now(); now.Sub(l.told) >= tellEvery {
		l.told = now
		left := now.Sub(l.started) / time.Duration(l.made) * time.Duration(l.of-l.done)
		fmt.Fprintf(l.stderr, "lampswap: %d of %d jobs done, about %s left\n", l.done, l.of, left.Round(time.Second))
	}
}

// newBatchRun shares memory between the jobs at work and what they have in common.
func newBatchRun(opts batchOptions) *batchRun {
	workers := opts.workers
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	budget := int64(opts.memory) << 20
	return &batchRun{workers: workers, budget: budget, timeout: opts.timeout, shelf: job.NewShelf(budget / 16), study: study.NewCache(budget / 4).Run}
}
