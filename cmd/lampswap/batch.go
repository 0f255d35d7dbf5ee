package main

import (
	"time"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/batch"
)

const batchLong = `batch works out many jobs and writes one line of JSON for each, in the order of
the jobs: what check --format json gives, with the job's "file", the "exit" code
that check would end with, a "digest" of its inputs (SHA-256 of the job file and
every file that it names), the names of these "inputs", and the "version". A job
that fails costs a line with its "errors", not the run. A summary goes to
standard output: worst margins, totals, what failed. Exit code: the highest of
the lines.

A building is a line too, with its spaces inside; of a folder a job is left out
that a building of the same run names. --summary FILE.jsonl tells of lines that
are there: totals, worst margins, and the sites in the order of their payback.

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
	opts, portfolio := batch.Options{}, batch.Summary{}
	cmd := &cobra.Command{
		Use:   "batch JOBS... --output FILE.jsonl",
		Short: "Many jobs, a line of JSON each; on one machine or many",
		Long:  batchLong,
		Example: `  mkdir sites
  lampswap new sites/dock.toml
  lampswap batch sites --output sites.jsonl
  ls sites/*.toml | lampswap batch - --output docks.jsonl
  lampswap batch --summary sites.jsonl`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if portfolio.Lines != "" {
				portfolio.Output = opts.Output
				return batch.Summarize(portfolio, args, cmd.OutOrStdout())
			}
			return batch.Run(cmd.Context(), opts, args, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&opts.Output, "output", "o", "", "file to write the lines to (required)")
	flags.StringVar(&portfolio.Lines, "summary", "", "in place of jobs: the lines that a batch wrote, as a portfolio with the order by payback; --output to a .csv or .xlsx file")
	flags.StringVar(&opts.Shard, "shard", "", "I/N: every N-th job from the I-th on, I from 0")
	flags.IntVar(&opts.Workers, "workers", 0, "jobs at a time (default: the processors)")
	flags.IntVar(&opts.Memory, "memory", 2048, "MiB that the jobs at work may take together; one that needs more runs alone")
	flags.DurationVar(&opts.Timeout, "timeout", time.Hour, "after which a job is given up")
	return cmd
}
