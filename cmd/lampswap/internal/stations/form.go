package stations

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/job"
	"lampswap/photometry/survey"
)

// FormName is the name of the form in the folder of a plan.
const FormName = "stations.csv"

// Unfilled errs unless a form can be written to a folder without losing what somebody wrote into one that is there: readings, times, notes, or
// anything that cannot be read as an empty form.
func Unfilled(folder, name string) error {
	if folder == "" {
		return nil
	}
	path := filepath.Join(folder, name)
	text, err := job.ReadText(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	filled := "is there and is no empty form"
	if err == nil {
		if form, err := survey.Read(path, bytes.NewReader(text)); err == nil {
			lines := slices.DeleteFunc(form.Lines, func(l survey.Reading) bool {
				return !l.Taken() && l.Time == "" && l.Note == "" && l.Photo == "" && l.MeterUnit == "" && l.StruckOut == ""
			})
			if len(lines) == 0 {
				return nil
			}
			filled = fmt.Sprintf("has readings or notes on %d of its lines", len(lines))
		}
	}
	return exit.Usagef("%s %s, want another folder: --output is %s", path, filled, folder)
}
