package job

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"

	"lampswap/photometry"
	"lampswap/photometry/fixture"
	"lampswap/photometry/internal/memo"
	"lampswap/photometry/lm63"
)

// A Shelf keeps the luminaires that jobs were read with, by the content of their files, so that the same photometric file or the
// same lamps in the same cross-section are worked out once for many jobs. It may serve several readings at once.
type Shelf struct {
	files    *memo.Cache[measured]
	sections *memo.Cache[computed]
}

type measured struct {
	file      *lm63.File
	luminaire photometry.Luminaire
}

type computed struct {
	luminaire photometry.Luminaire
	result    fixture.Result
}

// NewShelf returns a shelf that keeps about as many bytes as given.
func NewShelf(bytes int64) *Shelf {
	return &Shelf{files: memo.New[measured](bytes / 2), sections: memo.New[computed](bytes / 2)}
}

// Read is the function Read with luminaires from the shelf, and errs as that does. A nil Shelf keeps none.
func (s *Shelf) Read(name string, text []byte, files Files) (*Job, error) {
	return read(name, text, files, s)
}

// Counts returns how many luminaires were asked for and how many of these the shelf had.
func (s *Shelf) Counts() (asked, found int) {
	a, f := s.files.Counts()
	b, g := s.sections.Counts()
	return a + b, f + g
}

// file reads a photometric file. One that names a tilt file is read anew each time, as its content is not all there is to it.
func (s *Shelf) file(name string, content []byte, tilt func(string) ([]byte, error)) (*lm63.File, photometry.Luminaire, error) {
	read := func() (measured, int64, error) {
		file, err := lm63.Reader{Tilt: tilt}.Read(name, bytes.NewReader(content))
		if err != nil {
			return measured{}, 0, err
		}
		luminaire, err := file.Luminaire()
		if err != nil {
			return measured{}, 0, err
		}
		return measured{file, luminaire}, int64(len(content)) + bytesOf(luminaire), nil
	}
	var found measured
	var err error
	if s == nil || bytes.Contains(content, []byte("TILT=")) && !bytes.Contains(content, []byte("TILT=NONE")) {
		found, _, err = read()
	} else {
		found, err = s.files.Get(context.Background(), sha256.Sum256(content), read)
	}
	return found.file, found.luminaire, err
}

// section computes a luminaire from a cross-section.
func (s *Shelf) section(section *fixture.Section, tubes fixture.Tubes) (photometry.Luminaire, fixture.Result, error) {
	solve := func() (computed, int64, error) {
		luminaire, result, err := section.Solve(tubes)
		if err != nil {
			return computed{}, 0, err
		}
		return computed{luminaire, result}, bytesOf(luminaire), nil
	}
	text, err := json.Marshal([]any{section, tubes})
	if s == nil || err != nil { // what JSON cannot write is refused by Solve
		found, _, err := solve()
		return found.luminaire, found.result, err
	}
	found, err := s.sections.Get(context.Background(), sha256.Sum256(text), solve)
	return found.luminaire, found.result, err
}

func bytesOf(l photometry.Luminaire) int64 {
	return 8 * int64(len(l.Distribution.HorizontalAngles())) * int64(len(l.Distribution.VerticalAngles()))
}
