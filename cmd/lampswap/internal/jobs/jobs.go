// Package jobs opens the job that a command works on: a file, standard input, or the demonstration that comes with lampswap. It also has a job
// to start from.
package jobs

import (
	"cmp"
	"context"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
)

// Demo has the demonstration job, an invented warehouse, with photometric files that a test computed and that say so.
//
//go:embed demo
var Demo embed.FS

// DemoJob is the demonstration job's name in Demo.
const DemoJob = "demo/parts-store.toml"

// demos are the demonstrations by their names; the first is taken where nothing is named.
var demos = []struct{ name, file string }{{"parts-store", DemoJob}, {"as-found", "demo/as-found.toml"}, {"building", "demo/works.toml"}}

// DemoNames are those of the demonstrations.
func DemoNames() []string {
	var all []string
	for _, d := range demos {
		all = append(all, d.name)
	}
	return all
}

// demo is the file of the demonstration that is asked for.
func (q Request) demo() (string, error) {
	if q.Demo == "" {
		return DemoJob, nil
	}
	for _, d := range demos {
		if d.name == q.Demo {
			return d.file, nil
		}
	}
	return "", exit.Usagef("--demo is %q, want one of %s%s", q.Demo, strings.Join(DemoNames(), ", "), exit.Perhaps(q.Demo, DemoNames()))
}

// DemoText is a demonstration by its name, and the files that it names, by theirs.
func DemoText(name string) (text string, beside map[string][]byte, err error) {
	file, err := Request{Demo: name}.demo()
	if err != nil {
		return "", nil, err
	}
	data, err := Demo.ReadFile(file)
	if err != nil {
		return "", nil, err
	}
	all, err := Demo.ReadDir("demo")
	if err != nil {
		return "", nil, err
	}
	beside = map[string][]byte{}
	for _, entry := range all {
		if strings.Contains(string(data), strconv.Quote(entry.Name())) {
			if beside[entry.Name()], err = openDemo(entry.Name()); err != nil {
				return "", nil, err
			}
		}
	}
	return string(data), beside, nil
}

// Dash is the argument that stands for standard input.
const Dash = "-"

// stdinName is what faults of a job from standard input call it.
const stdinName = "standard input"

// A Request is what a command line says of the job that it is about.
type Request struct {
	Args  []string // a file, - for standard input, or nothing for the demonstration job
	Demo  string   // the demonstration by its name; "" is the first
	Space string   // the one space of a building that is asked for; "" where none is
	In    io.Reader
	Err   io.Writer
}

// An Opened is what a request names: a job of one room, or a building.
type Opened struct {
	Job      *job.Job
	Building *building.Building // nil for a job
}

// Inputs are the names of the files that it names, and the digest of it with all of them.
func (o Opened) Inputs() (names []string, digest string) {
	if o.Building != nil {
		return o.Building.InputNames, o.Building.InputsDigest
	}
	return o.Job.InputNames, o.Job.InputsDigest
}

// Open reads what is asked for: a building, or the job of one room, which may be a space of a building. It says on stderr that it takes the
// demonstration job where something waits on standard input, which would be overlooked.
func (q Request) Open(ctx context.Context) (Opened, error) {
	name, text, beside, err := q.text(ctx)
	if err != nil {
		return Opened{}, err
	}
	if !building.Is(text) {
		if q.Space != "" {
			return Opened{}, exit.Usagef("--space is %q, and %s is no building: want it without --space", q.Space, name)
		}
		j, err := job.Read(name, text, beside)
		return Opened{Job: j}, err
	}
	b, err := building.Read(name, text, beside, nil)
	if err != nil {
		return Opened{}, err
	}
	if q.Space == "" {
		return Opened{Building: b}, nil
	}
	s := b.Find(q.Space)
	if s == nil {
		return Opened{}, exit.Usagef("--space is %q, want one of %q%s", q.Space, b.Names(), exit.Perhaps(q.Space, b.Names()))
	}
	return Opened{Job: s.Job}, nil
}

// One reads the job of one room. Of a building it wants to know which, and says so of the command that takes no more.
func (q Request) One(ctx context.Context, command string) (*job.Job, error) {
	opened, err := q.Open(ctx)
	if b := opened.Building; b != nil {
		return nil, exit.Usagef("%s is a building of %d spaces, and %s takes one space: --space NAME, one of %q", cmp.Or(strings.Join(q.Args, " "), "the job"), len(b.Spaces), command, b.Names())
	}
	return opened.Job, err
}

// Read reads the job of one room that the arguments name, or the demonstration job.
func Read(args []string) (*job.Job, error) {
	return Request{Args: args}.One(context.Background(), "it")
}

// text is that of what is asked for, its name, and how the files that it names are opened.
func (q Request) text(ctx context.Context) (name string, text []byte, beside job.Files, err error) {
	switch {
	case len(q.Args) == 0:
		if waits(q.In) {
			fmt.Fprintln(q.Err, "lampswap: this is the demonstration job; what comes on standard input is not read. A job from there is named -")
		}
		if name, err = q.demo(); err == nil {
			text, err = Demo.ReadFile(name)
		}
		return name, text, openDemo, err
	case q.Demo != "":
		return "", nil, nil, exit.Usagef("--demo is %q beside %s, want one of the two", q.Demo, q.Args[0])
	case q.Args[0] == Dash:
		text, err = readAll(ctx, q.In)
		return stdinName, text, job.Beside(Dash), err // in the current folder
	}
	name = q.Args[0]
	text, err = job.ReadText(name)
	if path, ok := errors.AsType[*fs.PathError](err); ok {
		err = exit.Usagef("%s: %w", name, path.Err)
	}
	return name, text, job.Beside(name), err
}

// openDemo opens a file that a demonstration job names.
func openDemo(name string) ([]byte, error) { return Demo.ReadFile("demo/" + name) }

// Inputs are the paths of all files that a command with these arguments reads: its own, of which the first is the job, and those that the job
// names.
func Inputs(j *job.Job, args []string) []string { return InputsOf(j.InputNames, args) }

// InputsOf are those paths where the names of the files are known that the job, or the building, names.
func InputsOf(names, args []string) []string {
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
	for _, name := range names {
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

// StarterGroups is a job to start from whose room has several kinds of luminaire.
//
//go:embed starter-groups.toml
var StarterGroups string
