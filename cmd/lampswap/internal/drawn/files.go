package drawn

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
)

// files are the photometric files that drawn jobs name, each odd in its own way.
var files = map[string]string{
	// a strip as they are: most light down, some up
	"strip.ies": "IESNA:LM-63-2002\nTILT=NONE\n2 2900 1 5 3 1 1 0.35 8 0\n0.9 1 60\n0 45 90 135 180\n0 45 90\n1200 900 100 60 0\n1200 950 300 90 0\n1200 1000 500 120 0\n",
	// all light in a narrow beam, none of it straight down
	"spot.ies": "IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 4 1 1 2 0 0 0\n1 1 10\n0 10 20 30\n0\n0 0 2500 0\n",
	// all light up
	"up.ies": "IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 3 1 1 2 0.1 1 0\n1 1 10\n90 135 180\n0\n0 200 300\n",
	// absolute photometry, lopsided
	"led.ies": "IES:LM-63-2019\nTILT=NONE\n1 -1 1 3 4 1 2 0.05 1.2 0.05\n1 1.00001 40\n0 45 90\n0 90 180 270\n500 300 0\n500 0 0\n500 900 10\n500 1 0\n",
	// type B
	"flood.ies": "IESNA:LM-63-1995\nTILT=NONE\n1 20000 1 3 3 2 1 0.8 1.2 0\n1 1 400\n-90 0 90\n-90 0 90\n0 0 0\n0 4000 0\n0 0 0\n",
	// the largest numbers that a job takes of a file, and the least
	"huge.ies": "IESNA:LM-63-2002\nTILT=NONE\n1 1e6 1 2 1 1 2 0.1 1 0\n1 1 1e5\n0 90\n0\n1.6e5 1.6e5\n",
	"tiny.ies": "IESNA:LM-63-2002\nTILT=NONE\n1 1e-3 1 2 1 1 2 0.1 1 0\n1 1 10\n0 90\n0\n1.6e-7 1.6e-7\n",
}

var names = slices.Sorted(maps.Keys(files))

// Open opens one of the files that drawn jobs name.
func Open(name string) ([]byte, error) {
	text, ok := files[name]
	if !ok {
		return nil, fmt.Errorf("%s: %w", name, fs.ErrNotExist)
	}
	return []byte(text), nil
}

// Names are the files that drawn jobs name.
func Names() []string { return slices.Clone(names) }
