package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/photometry/diag"
	"lampswap/photometry/survey"
)

// Bounds of the photographs of a report.
const (
	mostPictures     = 50
	mostPictureBytes = 30 << 20
)

// picturesOf opens the photographs that readings name, which lie in the folder of their file, each once, and returns their paths too.
func picturesOf(path string, readings survey.Readings) (all []document.Picture, opened []string, err error) {
	var faults diag.List
	seen := map[string]bool{}
	for _, l := range readings.Lines {
		if l.Photo == "" || seen[l.Photo] {
			continue
		}
		seen[l.Photo] = true
		if len(seen) > mostPictures {
			faults.Add(l.Pos, "photo", fmt.Sprintf("is the picture after the first %d", mostPictures), "fewer")
			break
		}
		picture, err := pictureOf(path, l)
		if err != nil {
			faults.Add(l.Pos, "photo", fmt.Sprintf("%.80q %v", l.Photo, err), "a picture beside the readings, JPEG or PNG")
			continue
		}
		all = append(all, picture)
		opened = append(opened, filepath.Join(filepath.Dir(path), l.Photo))
	}
	return all, opened, faults.Err()
}

// pictureOf opens the photograph of a line of readings; its caption is the station with the remark.
func pictureOf(path string, l survey.Reading) (document.Picture, error) {
	if !filepath.IsLocal(l.Photo) {
		return document.Picture{}, errors.New("lies in another folder")
	}
	at := filepath.Join(filepath.Dir(path), l.Photo)
	info, err := os.Stat(at)
	if err != nil || !info.Mode().IsRegular() || info.Size() > mostPictureBytes {
		return document.Picture{}, fmt.Errorf("is not there, or is no file of up to %d MB", mostPictureBytes>>20)
	}
	content, err := os.ReadFile(at)
	if err != nil {
		return document.Picture{}, errors.New("cannot be read")
	}
	caption := l.Station
	if l.Note != "" {
		caption += ": " + l.Note
	}
	return document.PictureOf(content, caption)
}
