// Package build tells which build of lampswap this is.
package build

import (
	"bytes"
	"cmp"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"sync"
	"time"
)

// An info is what a build says of itself; "" and zero are what it does not say.
type info struct {
	version  string // of the module
	commit   string
	changed  bool // since the commit
	time     time.Time
	compiler string
}

var read = sync.OnceValue(func() info {
	b, ok := debug.ReadBuildInfo()
	if !ok {
		return info{}
	}
	return infoOf(b)
})

func infoOf(b *debug.BuildInfo) info {
	i := info{version: b.Main.Version, compiler: b.GoVersion}
	for _, s := range b.Settings {
		switch s.Key {
		case "vcs.revision":
			i.commit = s.Value
		case "vcs.modified":
			i.changed = s.Value == "true"
		case "vcs.time":
			i.time, _ = time.Parse(time.RFC3339, s.Value) // zero where it cannot be read
		}
	}
	return i
}

// Version is that of this build: the module's, which names the commit where it is no release; "unknown" where the build does not say. Where
// it stands for more builds than one, made without version control or from files that were changed since the commit, the check sum of this
// program's file stands behind it. Equal versions then mean equal programs.
func Version() string { return own().version }

// Is tells whether a version is that of this build for certain. No version is where this build cannot be told from others.
func Is(version string) bool { return own().alone && version == own().version }

// own is read once, and not before an answer or the user asks for it.
var own = sync.OnceValue(func() identity { return read().identity(program) })

// An identity is a version, which is alone if no other build has the same.
type identity struct {
	version string
	alone   bool
}

// identity is that of a build whose program file opens as given.
func (i info) identity(program func() (io.ReadSeekCloser, error)) identity {
	version := cmp.Or(i.version, "unknown")
	if i.version != "" && i.version != "(devel)" && !i.changed {
		return identity{version, true}
	}
	f, err := program()
	if err != nil {
		return identity{version, false}
	}
	sum, err := checkSum(f)
	_ = f.Close() // it was only read
	if err != nil {
		return identity{version, false}
	}
	return identity{fmt.Sprintf("%s %08x", version, sum), true}
}

// The linker writes near the front of a program which build it is, by a digest of all that went into it: as a note where the file is in ELF, else as
// text.
var buildIDs = [...]string{"\x04\x00\x00\x00Go\x00\x00", "Go build ID: \""}

const front = 64 << 10 // bytes in which it stands; the Go command looks for it in half as many

// checkSum is of all of a program file, or of its length and its front where that tells the build: the whole takes some 10 ms.
func checkSum(f io.ReadSeeker) (uint32, error) {
	sum := crc32.NewIEEE()
	head, err := io.ReadAll(io.LimitReader(f, front))
	if err != nil {
		return 0, err
	}
	_, _ = sum.Write(head) // it never errs
	if slices.ContainsFunc(buildIDs[:], func(id string) bool { return bytes.Contains(head, []byte(id)) }) {
		length, err := f.Seek(0, io.SeekEnd)
		fmt.Fprint(sum, length)
		return sum.Sum32(), err
	}
	_, err = io.CopyBuffer(sum, struct{ io.Reader }{f}, make([]byte, 1<<18)) // by large pieces, which io.Copy would not take of a file
	return sum.Sum32(), err
}

// program opens the file of the program that runs, on Linux also where another has its name by now.
func program() (io.ReadSeekCloser, error) {
	if runtime.GOOS == "linux" {
		return os.Open("/proc/self/exe")
	}
	path, err := os.Executable()
	if err != nil {
		return nil, err
	}
	return os.Open(path)
}

// Time is when the commit of this build was made; zero where the build does not say.
func Time() time.Time { return read().time }

// Describe is the build in a few lines: version, commit, and what it was built with for which machine.
func Describe() string { return read().describe(Version()) }

func (i info) describe(version string) string {
	const shown = 12 // letters of a commit
	commit := "not known: built without version control"
	if i.commit != "" {
		commit = i.commit[:min(len(i.commit), shown)]
		if !i.time.IsZero() {
			commit += i.time.UTC().Format(", 2 January 2006")
		}
		if i.changed {
			commit += ", changed since"
		}
	}
	return fmt.Sprintf("lampswap %s\ncommit   %s\nbuilt    with %s for %s/%s\n", version, commit, cmp.Or(i.compiler, runtime.Version()),
		runtime.GOOS, runtime.GOARCH)
}
