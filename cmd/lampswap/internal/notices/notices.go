// Package notices has what the licenses of others ask to be shown with lampswap: of every module that is part of it on some system, of its fonts,
// and of the Go runtime and standard library.
package notices

import _ "embed"

// Text is made of the files beside the sources of each module: see the test, which fails if it is not what they say.
//
//go:generate go test . -run NoticesAreCurrent -update
//go:embed notices.txt
var Text string
