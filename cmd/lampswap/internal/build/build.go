// Package build tells which build of lampswap this is.
package build

import (
	"cmp"
	"fmt"
	"runtime"
	"runtime/debug"
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

// Version is that of this build: the module's, which names the commit where it is no release; "unknown" where the build does not say.
func Version() string { return cmp.Or(read().version, "unknown") }

// Time is when the commit of this build was made; zero where the build does not say.
func Time() time.Time { return read().time }

// Describe is the build in a few lines: version, commit, and what it was built with for which machine.
func Describe() string { return read().String() }

func (i info) String() string {
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
	return fmt.Sprintf("lampswap %s\ncommit   %s\nbuilt    with %s for %s/%s\n", cmp.Or(i.version, "unknown"), commit, cmp.Or(i.compiler, runtime.Version()),
		runtime.GOOS, runtime.GOARCH)
}
