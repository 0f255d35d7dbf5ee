// Package origin says of an answer which build of lampswap made it and what from, so that two answers can be told apart long afterwards.
package origin

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"lampswap/cmd/lampswap/internal/build"
)

// An Origin is where an answer comes from. The same question with the same origin has the same answer, to the byte.
type Origin struct {
	Version string // of lampswap
	Digest  string // SHA-256 of the inputs, hexadecimal; "" where there are none
}

// Of is the origin of what this build makes of inputs with that digest.
func Of(digest string) Origin { return Origin{Version: build.Version(), Digest: digest} }

// With is the origin of what is made of one input more: of its kind and its content.
func (o Origin) With(kind string, content []byte) Origin {
	sum := sha256.New()
	fmt.Fprintf(sum, "%s\n%s %d\n", o.Digest, kind, len(content))
	sum.Write(content)
	o.Digest = hex.EncodeToString(sum.Sum(nil))
	return o
}

// Program is the name of the program with its version.
func (o Origin) Program() string { return "lampswap " + o.Version }

// Inputs is the digest with the name of its method; "" where there are no inputs.
func (o Origin) Inputs() string {
	if o.Digest == "" {
		return ""
	}
	return "sha256:" + o.Digest
}

// shown is how many digits of a digest are enough for people to tell inputs apart.
const shown = 12

// Line says it in one line for people: at most 80 columns, with the longest version that a build has.
func (o Origin) Line() string {
	if o.Digest == "" {
		return o.Program()
	}
	return fmt.Sprintf("%s, inputs %.*s", o.Program(), shown, o.Digest)
}

// Full says it in one line for files, the digest whole.
func (o Origin) Full() string {
	if o.Digest == "" {
		return o.Program()
	}
	return o.Program() + ", inputs " + o.Inputs()
}
