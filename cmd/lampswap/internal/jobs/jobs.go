// Package jobs opens the job that a command works on: a file, standard input, or the demonstration that comes with lampswap. It also has a job
// to start from.
package jobs

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/job"
)

// Demo has the demonstration job, an invented warehouse, with photometric files that a test computed and that say so.
//
//go:embed demo
var Demo embed.FS

// DemoJob is the demonstration job's name in Demo.
const DemoJob = "demo/parts-store.toml"

// Dash is the argument that stands for standard input.
const Dash = "-"

// stdinName is what faults of a job from standard input call it.
const stdinName = "standard input"

// Asked reads the job that a command line names: a file, - for standard input, or the demonstration job where there is none. That one is said
// on stderr where something waits on standard input, which would be overlooked.
func Asked(ctx context.Context, args []string, stdin io.Reader, stderr io.Writer) (*job.Job, error) {
	switch {
	case len(args) == 0 && waits(stdin):
		fmt.Fprintln(stderr, "lampswap: this is the demonstration job; what comes on standard input is not read. A job from there is named -")
	case len(args) > 0 && args[0] == Dash:
		text, err := readAll(ctx, stdin)
		if err != nil {
			return nil, err
		}
		return job.Read(stdinName, text, job.Beside(Dash)) // in the current folder
	}
	return Read(args)
}

// Read reads the job file that the arguments name, or the demonstration job.
func Read(args []string) (*job.Job, error) {
	if len(args) == 0 {
		return demonstration()
	}
	j, err := job.ReadFile(args[0])
	if path, ok := errors.AsType[*fs.PathError](err); ok {
		return nil, exit.Usagef("%s: %w", args[0], path.Err)
	}
	return j, err
}

func demonstration() (*job.Job, error) {
	text, err := Demo.ReadFile(DemoJob)
	if err != nil {
		return nil, err
	}
	return job.Read(DemoJob, text, func(name string) ([]byte, error) { return Demo.ReadFile("demo/" + name) })
}

// Inputs are the paths of all files that a command with these arguments reads: its own, of which the first is the job, and those that the job
// names.
func Inputs(j *job.Job, args []string) []string {
	if len(args) == 0 {
		return nil // the demonstration has none on the disk
	}
	var paths []string
	for _, arg := range args {
		if arg == Dash {
			arg = StdinPath
		}
		paths = append(paths, arg)
	}
	for _, name := range j.InputNames {
		paths = append(paths, job.PathBeside(args[0], name))
	}
	return paths
}

// StdinPath leads to what standard input comes from, where the system has such a path.
const StdinPath = "/dev/stdin"

// Starter is a job to start from, with every key explained.
//
//go:embed starter.toml
var Starter string
