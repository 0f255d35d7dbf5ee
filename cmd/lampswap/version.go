package main

import (
	"runtime/debug"
	"sync"
)

// version is that of this build: the module's, which names the commit where it is no release; "unknown" where the build does not say.
var version = sync.OnceValue(func() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "unknown"
	}
	return info.Main.Version
})
