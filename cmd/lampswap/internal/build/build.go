// Package build tells which build of lampswap this is.
package build

import (
	"runtime/debug"
	"sync"
)

var read = sync.OnceValue(func() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "unknown"
	}
	return info.Main.Version
})

// Version is that of this build: the module's, which names the commit where it is no release; "unknown" where the build does not say.
func Version() string { return read() }
