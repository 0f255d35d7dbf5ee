package batch

import (
	"bufio"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/diag"
	"lampswap/photometry/job"
)

// leftOut is how many files of folders are no jobs of a batch by themselves.
type leftOut struct {
	sections int // of fixtures
	named    int // jobs that a building of the same run names
}

// jobsOf lists the files of jobs and buildings that the arguments name, in their order, and counts what it left out of folders.
func jobsOf(args []string, stdin io.Reader) (paths []string, left leftOut, err error) {
	inFolders := map[string]bool{}
	for _, arg := range args {
		var more []string
		sections := 0
		switch info, statErr := os.Stat(arg); {
		case arg == "-":
			more, err = listed(stdin)
		case statErr == nil && info.IsDir():
			more, sections, err = inFolder(arg)
			for _, path := range more {
				inFolders[path] = true
			}
		default:
			more = []string{arg}
		}
		if err != nil {
			return nil, left, err
		}
		paths = append(paths, more...)
		left.sections += sections
	}
	if len(inFolders) > 0 {
		rooms, all := named(paths), paths
		paths = nil
		for _, path := range all {
			if inFolders[path] && len(rooms) > 0 && rooms[plainPath(path)] {
				left.named++
				continue
			}
			paths = append(paths, path)
		}
	}
	if len(paths) == 0 {
		return nil, left, exit.Usage(errors.New("no job is named, want job files, folders of them, or - for a list on standard input"))
	}
	return paths, left, nil
}

// listed reads a path a line; blank lines are left out.
func listed(stdin io.Reader) ([]string, error) {
	var paths []string
	lines := bufio.NewScanner(stdin)
	for lines.Scan() {
		if len(paths) == 0 && diag.UTF16(lines.Bytes()) {
			return nil, exit.Usagef("standard input: %s, want %s", diag.WrongUTF16, diag.WantUTF8)
		}
		if path := strings.TrimPrefix(strings.TrimRight(lines.Text(), "\r"), "\ufeff"); strings.TrimSpace(path) != "" {
			paths = append(paths, path)
		}
	}
	if errors.Is(lines.Err(), bufio.ErrTooLong) {
		return nil, exit.Usagef("line %d of standard input is too long for a path", len(paths)+1)
	}
	return paths, lines.Err()
}

// inFolder finds the job files of a folder and those below it, by name.
func inFolder(folder string) (paths []string, sections int, err error) {
	err = filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		hidden := path != folder && strings.HasPrefix(entry.Name(), ".")
		switch {
		case err != nil:
			return err
		case entry.IsDir() && hidden:
			return filepath.SkipDir
		case entry.IsDir() || hidden || filepath.Ext(path) != ".toml":
		case isSection(path):
			sections++
		default:
			paths = append(paths, path)
		}
		return nil
	})
	return paths, sections, err
}

// isSection tells whether a TOML file is the cross-section of a fixture, which may stand beside the jobs that name it.
func isSection(path string) bool {
	text, err := job.ReadText(path)
	if err != nil {
		return false
	}
	section, below := false, false
	p := unstable.Parser{} // toml.Unmarshal would take hours over very many keys
	p.Reset(text)
	for p.NextExpression() {
		e := p.Expression()
		header := e.Kind == unstable.Table || e.Kind == unstable.ArrayTable
		if below = below || header; e.Kind == unstable.Comment || below && !header {
			continue
		}
		if key := e.Key(); key.Next() {
			switch string(key.Node().Data) {
			case "room", "existing", "proposed", "spaces":
				return false
			case "arrangements", "surfaces":
				section = true
			}
		}
	}
	return p.Error() == nil && section
}

// shardOf takes every n-th of the paths from the i-th on; all of them without a shard.
func shardOf(shard string, paths []string) ([]string, error) {
	if shard == "" {
		return paths, nil
	}
	first, second, ok := strings.Cut(shard, "/")
	i, err1 := strconv.Atoi(first)
	n, err2 := strconv.Atoi(second)
	if !ok || err1 != nil || err2 != nil || n < 1 || i < 0 || i >= n {
		return nil, exit.Usagef("--shard is %q, want I/N: a number of shards N, and I from 0 to N-1", shard)
	}
	var own []string
	for k := i; k < len(paths); k += n {
		own = append(own, paths[k])
	}
	return own, nil
}
