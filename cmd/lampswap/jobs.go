package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"

	"lampswap/photometry/job"
)

// The demonstration job: an invented warehouse, with photometric files that testdata's generator computed and that say so.
//
//go:embed demo
var demo embed.FS

const demoJob = "demo/parts-store.toml"

// readJob reads the job that the arguments name, or the demonstration job.
func readJob(args []string) (*job.Job, error) {
	if len(args) == 0 {
		text, err := demo.ReadFile(demoJob)
		if err != nil {
			return nil, err
		}
		return job.Read(demoJob, text, func(name string) ([]byte, error) { return demo.ReadFile("demo/" + name) })
	}
	j, err := job.ReadFile(args[0])
	if path, ok := errors.AsType[*fs.PathError](err); ok {
		return nil, usageError{fmt.Errorf("%s: %w", args[0], path.Err)}
	}
	return j, err
}
