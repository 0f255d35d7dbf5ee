package build

import (
	"hash/crc32"
	"io"
	"os"
	"runtime/debug"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
)

func TestDescribe(t *testing.T) {
	settings := func(pairs ...string) (all []debug.BuildSetting) {
		for i := 0; i < len(pairs); i += 2 {
			all = append(all, debug.BuildSetting{Key: pairs[i], Value: pairs[i+1]})
		}
		return all
	}
	for _, c := range []struct {
		name string
		of   debug.BuildInfo
		want string
	}{
		{"go build in a repository", debug.BuildInfo{GoVersion: "go1.26.0", Main: debug.Module{Version: "v0.0.0-20260430101112-0123456789ab+dirty"}, Settings: settings(
			"vcs.revision", "0123456789abcdef0123456789abcdef01234567", "vcs.time", "2026-04-30T10:11:12Z", "vcs.modified", "true")},
			"lampswap v0.0.0-20260430101112-0123456789ab+dirty 352441c2\ncommit   0123456789ab, 30 April 2026, changed since\nbuilt    with go1.26.0 for "},
		{"a release that was installed", debug.BuildInfo{GoVersion: "go1.26.0", Main: debug.Module{Version: "v1.2.0"}},
			"lampswap v1.2.0\ncommit   not known: built without version control\nbuilt    with go1.26.0 for "},
		{"no version control", debug.BuildInfo{GoVersion: "go1.26.0", Main: debug.Module{Version: "(devel)"}, Settings: settings("-trimpath", "true")},
			"lampswap (devel) 352441c2\ncommit   not known: built without version control\nbuilt    with go1.26.0 for "},
		{"nothing at all", debug.BuildInfo{}, "lampswap unknown 352441c2\ncommit   not known: built without version control\nbuilt    with go"},
		{"an odd time", debug.BuildInfo{Settings: settings("vcs.revision", "abc", "vcs.time", "yesterday")}, "lampswap unknown 352441c2\ncommit   abc\n"},
	} {
		i := infoOf(&c.of)
		got := i.describe(i.identity(holding("abc")).version)
		assert.True(t, strings.HasPrefix(got, c.want), "%s: %s", c.name, got)
		assert.Equal(t, 3, strings.Count(got, "\n"), c.name)
	}
	assert.NotEmpty(t, Version())
	assert.Contains(t, Describe(), Version())
}

// A file is a program file.
type file struct{ io.ReadSeeker }

func (file) Close() error { return nil }

// holding is a program file of that content.
func holding(content string) func() (io.ReadSeekCloser, error) {
	return func() (io.ReadSeekCloser, error) { return file{strings.NewReader(content)}, nil }
}

// tornReader cannot be read.
type tornReader struct {
	io.Reader
	io.Seeker
}

// Builds of one version are told apart by their program files, unless the version names a commit and nothing else; one that cannot be told
// apart is no version's.
func TestIdentity(t *testing.T) {
	unreadable := func() (io.ReadSeekCloser, error) { return nil, os.ErrPermission }
	torn := func() (io.ReadSeekCloser, error) {
		return file{tornReader{Reader: iotest.ErrReader(os.ErrClosed)}}, nil
	}
	for _, i := range []info{{}, {version: "(devel)"}, {version: "v1.2.1-0.20260430101112-0123456789ab+dirty", commit: "0123456789ab", changed: true}} {
		one := i.identity(holding("abc"))
		assert.True(t, one.alone)
		assert.Equal(t, one, i.identity(holding("abc")))
		assert.NotEqual(t, one.version, i.identity(holding("abd")).version)
		assert.False(t, i.identity(unreadable).alone)
		assert.False(t, i.identity(torn).alone)
	}
	for _, i := range []info{{version: "v1.2.0"}, {version: "v0.0.0-20260430101112-0123456789ab", commit: "0123456789ab"}} {
		assert.Equal(t, identity{i.version, true}, i.identity(unreadable), "the file is not asked for")
	}
	head := "head, Go build ID: \"%s\"" + strings.Repeat("x", front)
	of := func(id, rest string) identity {
		return info{}.identity(holding(strings.Replace(head, "%s", id, 1) + rest))
	}
	assert.Equal(t, of("1", "abc"), of("1", "abd"), "the build ID is a digest of what follows")
	assert.NotEqual(t, of("1", "abc"), of("2", "abc"))
	assert.NotEqual(t, of("1", "abc"), of("1", "abcd"))
	own, err := program()
	assert.NoError(t, err)
	whole, err := io.ReadAll(own)
	assert.NoError(t, err)
	assert.NoError(t, own.Close())
	of64KB, err := checkSum(strings.NewReader(string(whole)))
	assert.NoError(t, err)
	assert.NotEqual(t, crc32.ChecksumIEEE(whole), of64KB, "a program tells its build: not all of it is read")
	assert.True(t, Is(Version()))
	assert.False(t, Is("v0.0.0"))
	assert.False(t, Is(""))
}
