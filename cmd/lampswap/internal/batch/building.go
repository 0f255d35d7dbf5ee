package batch

import (
	"context"
	"path/filepath"

	"github.com/pelletier/go-toml/v2"
	"golang.org/x/sync/semaphore"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/whole"
)

// A buildingLine is one building of a batch: what check would write, and what goes with it.
type buildingLine struct {
	head
	*answer.Building
}

// building works out one building within the memory that all its spaces may take.
func (b *pool) building(ctx context.Context, path string, text []byte, sources *job.Sources, memory *semaphore.Weighted, h *head) (r *whole.Result, err error) {
	read, err := building.Read(path, text, sources.Open, b.shelf)
	h.read(sources)
	if err != nil {
		return nil, err
	}
	bytes := int64(0)
	for _, s := range read.Spaces {
		bytes += lighting.Bytes(s.Job)
	}
	err = b.within(ctx, memory, bytes, func(ctx context.Context) (err error) {
		r, err = whole.RunWith(ctx, read, b.light, nil)
		return err
	})
	return r, err
}

// named are the jobs, of the paths, that a building among them names: they are worked out with it.
func named(paths []string) map[string]bool {
	all := map[string]bool{}
	for _, path := range paths {
		text, err := job.ReadText(path)
		if err != nil || !building.Is(text) {
			continue // its line tells what is wrong
		}
		var file struct{ Spaces []struct{ Job string } }
		if toml.Unmarshal(text, &file) != nil {
			continue // the same
		}
		for _, s := range file.Spaces {
			if s.Job != "" {
				all[plainPath(job.PathBeside(path, s.Job))] = true
			}
		}
	}
	return all
}

// plainPath is a path by which two names of one file are known for the same.
func plainPath(path string) string {
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	if straight, err := filepath.EvalSymlinks(path); err == nil {
		path = straight
	}
	return path
}
