package build

import (
	"runtime/debug"
	"strings"
	"testing"

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
			"lampswap v0.0.0-20260430101112-0123456789ab+dirty\ncommit   0123456789ab, 30 April 2026, changed since\nbuilt    with go1.26.0 for "},
		{"a release that was installed", debug.BuildInfo{GoVersion: "go1.26.0", Main: debug.Module{Version: "v1.2.0"}},
			"lampswap v1.2.0\ncommit   not known: built without version control\nbuilt    with go1.26.0 for "},
		{"no version control", debug.BuildInfo{GoVersion: "go1.26.0", Main: debug.Module{Version: "(devel)"}, Settings: settings("-trimpath", "true")},
			"lampswap (devel)\ncommit   not known: built without version control\nbuilt    with go1.26.0 for "},
		{"nothing at all", debug.BuildInfo{}, "lampswap unknown\ncommit   not known: built without version control\nbuilt    with go"},
		{"an odd time", debug.BuildInfo{Settings: settings("vcs.revision", "abc", "vcs.time", "yesterday")}, "lampswap unknown\ncommit   abc\n"},
	} {
		got := infoOf(&c.of).String()
		assert.True(t, strings.HasPrefix(got, c.want), "%s: %s", c.name, got)
		assert.Equal(t, 3, strings.Count(got, "\n"), c.name)
	}
	assert.NotEmpty(t, Version())
	assert.Contains(t, Describe(), Version())
}
