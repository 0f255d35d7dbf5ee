// Package jobs opens the job that a command works on: a file, or the demonstration that comes with lampswap. It also has a job to start from.
package jobs

import (
	"embed"
	"errors"
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

// Read reads the job that the arguments name, or the demonstration job.
func Read(args []string) (*job.Job, error) {
	if len(args) == 0 {
		text, err := Demo.ReadFile(DemoJob)
		if err != nil {
			return nil, err
		}
		return job.Read(DemoJob, text, func(name string) ([]byte, error) { return Demo.ReadFile("demo/" + name) })
	}
	j, err := job.ReadFile(args[0])
	if path, ok := errors.AsType[*fs.PathError](err); ok {
		return nil, exit.Usagef("%s: %w", args[0], path.Err)
	}
	return j, err
}

// Starter is a job to start from, with every key explained.
//
//go:embed starter.toml
var Starter string
