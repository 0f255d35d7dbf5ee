package notices

import (
	"cmp"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write notices.txt anew")

// systems are those that lampswap is handed out for: a module may be part of it on one of them alone.
var systems = [][2]string{{"linux", "amd64"}, {"linux", "arm64"}, {"darwin", "amd64"}, {"darwin", "arm64"}, {"windows", "amd64"}, {"windows", "arm64"}}

const heading = `lampswap is made with the work of others. Here is what their licenses ask to be
shown: of every module that is part of it, on whatever system, of the fonts, and
of the Go runtime and standard library. The same text is shown once, below the
names of all that have it. For lampswap itself no license has been chosen yet.
`

// noticeFile are names of files that hold a license or a notice; noticeFolder are those of folders of such files.
var (
	noticeFile   = regexp.MustCompile(`(?i)^(licen[sc]e|copying|copyright|notice|patents)([-._].*)?$`)
	noticeFolder = regexp.MustCompile(`(?i)^(licen[sc]es|third_party_licen[sc]es)$`)
)

// A module is part of the program, with the folders of its packages that are.
type module struct {
	name, dir string
	folders   map[string]bool
}

// modules are those of the program on all systems, by their names.
func modules(t *testing.T) map[string]*module {
	t.Helper()
	all := map[string]*module{}
	for _, system := range systems {
		list := exec.CommandContext(t.Context(), "go", "list", "-deps", "-json=Dir,Module", "lampswap/cmd/lampswap")
		list.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+system[0], "GOARCH="+system[1])
		list.Stderr = os.Stderr
		out, err := list.Output()
		require.NoError(t, err, "%v", system)
		for packages := json.NewDecoder(strings.NewReader(string(out))); ; {
			var p struct {
				Dir    string
				Module *struct {
					Path, Version, Dir string
					Main               bool
				}
			}
			if err := packages.Decode(&p); errors.Is(err, io.EOF) {
				break
			} else {
				require.NoError(t, err)
			}
			if p.Module == nil || p.Module.Main { // the standard library, lampswap
				continue
			}
			name := p.Module.Path + " " + p.Module.Version
			if all[name] == nil {
				all[name] = &module{name, p.Module.Dir, map[string]bool{}}
			}
			for at := p.Dir; strings.HasPrefix(at, p.Module.Dir); at = filepath.Dir(at) {
				all[name].folders[at] = true
			}
		}
	}
	require.NotEmpty(t, all)
	return all
}

// notices are the texts of a module by the names of their files: those of the folders of its packages and above them.
func (m *module) notices(t *testing.T) map[string]string {
	t.Helper()
	found := map[string]string{}
	add := func(path string) {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		name, err := filepath.Rel(m.dir, path)
		require.NoError(t, err)
		found[filepath.ToSlash(name)] = plain(string(text))
	}
	for folder := range m.folders {
		entries, err := os.ReadDir(folder)
		require.NoError(t, err)
		for _, e := range entries {
			path := filepath.Join(folder, e.Name())
			switch {
			case !e.IsDir() && noticeFile.MatchString(e.Name()) && filepath.Ext(path) != ".go":
				add(path)
			case e.IsDir() && noticeFolder.MatchString(e.Name()):
				below, err := os.ReadDir(path)
				require.NoError(t, err)
				for _, b := range below {
					add(filepath.Join(path, b.Name()))
				}
			}
		}
	}
	return found
}

// plain is a text with ends of lines alike, nothing behind its lines, and no byte that is no UTF-8.
func plain(text string) string {
	text = strings.ReplaceAll(strings.ToValidUTF8(text, "?"), "\r\n", "\n")
	var lines []string
	for line := range strings.SplitSeq(strings.Trim(text, "\n\f "), "\n") {
		lines = append(lines, strings.TrimRight(strings.ReplaceAll(line, "\f", ""), " \t"))
	}
	return strings.Join(lines, "\n")
}

// collected is the whole text. Every module must have a notice.
func collected(t *testing.T) string {
	t.Helper()
	names := map[string][]string{} // of all that have a text
	root, err := exec.CommandContext(t.Context(), "go", "env", "GOROOT").Output()
	require.NoError(t, err)
	standard := &module{"the Go runtime and standard library", strings.TrimSpace(string(root)), nil}
	standard.folders = map[string]bool{standard.dir: true}
	for _, m := range append([]*module{standard}, slices.Collect(maps.Values(modules(t)))...) {
		own := m.notices(t)
		assert.NotEmpty(t, own, "%s has no notice: find its license, and think whether it may be part of lampswap", m.name)
		for file, text := range own {
			names[text] = append(names[text], m.name+" ("+file+")")
		}
	}
	texts := slices.Collect(maps.Keys(names))
	for _, all := range names {
		slices.Sort(all)
	}
	slices.SortFunc(texts, func(a, b string) int { return cmp.Compare(names[a][0], names[b][0]) })
	var b strings.Builder
	b.WriteString(heading)
	for _, text := range texts {
		fmt.Fprintf(&b, "\n%[1]s\n%[2]s\n%[1]s\n\n%[3]s\n", strings.Repeat("=", 80), strings.Join(names[text], "\n"), text)
	}
	return b.String()
}

// The text is what the modules say that are part of the program now: a new one without a notice, and one whose notice is not here, fail.
func TestNoticesAreCurrent(t *testing.T) {
	want := collected(t)
	if *update {
		require.NoError(t, os.WriteFile("notices.txt", []byte(want), 0o644))
		return
	}
	assert.True(t, want == Text, "go generate ./cmd/lampswap/internal/notices, and look at what has changed")
}

// The fonts have their own license, and nothing of the machine that made the text is in it.
func TestNoticesSayWhatTheyMust(t *testing.T) {
	for _, must := range []string{"SIL OPEN FONT LICENSE", "Liberation", "Copyright 2009 The Go Authors", "Apache License", "github.com/spf13/cobra v",
		"gonum.org/v1/plot v", "github.com/inconshreveable/mousetrap v"} {
		assert.Contains(t, Text, must)
	}
	home, err := os.UserHomeDir()
	require.NoError(t, err)
	for _, never := range []string{home + "/", "/pkg/mod", "proxy", "GOROOT", "\r"} {
		assert.NotContains(t, Text, never)
	}
	assert.Less(t, len(Text), 200_000, "as large as that it had better be compressed")
}
