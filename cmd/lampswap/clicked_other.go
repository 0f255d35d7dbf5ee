//go:build !windows

package main

import (
	"io/fs"
	"os"
	"runtime"
)

// doubleClicked tells that a desktop started the command, not somebody at a prompt and no script: what it is said and says goes nowhere or into the log
// of the desktop, and there is a desktop to open a browser on. On a Mac the system's own first process starts what is opened there.
func doubleClicked() bool {
	nowhere, err := os.Stat(os.DevNull)
	if err != nil {
		return false
	}
	for _, stream := range []*os.File{os.Stdin, os.Stdout, os.Stderr} {
		info, err := stream.Stat()
		if err != nil || !os.SameFile(info, nowhere) && info.Mode()&fs.ModeSocket == 0 { // a terminal, a pipe, a file
			return false
		}
	}
	if runtime.GOOS == "darwin" {
		return os.Getppid() == 1
	}
	return os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
}
