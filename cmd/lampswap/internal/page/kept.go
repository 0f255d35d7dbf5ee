package page

import (
	"crypto/sha256"
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"path"
	"path/filepath"
	"strings"

	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/page/display"
)

// With --save the readings are kept in the folder of the job, in a file beside it, and are there after a restart.

// readingsName is the name of that file: dock.toml has dock.readings.json.
func readingsName(job string) string {
	return strings.TrimSuffix(job, path.Ext(job)) + ".readings.json"
}

// mostReadings is how long that file may be.
const mostReadings = 2 << 20

// mostReadSpaces is of how many spaces of a building readings are taken from it.
const mostReadSpaces = 200

// keptReadings is what that file holds: the readings of the job, or of the spaces of a building by their numbers.
type keptReadings struct {
	Readings display.Readings         `json:"readings"`
	Spaces   map[int]display.Readings `json:"spaces,omitempty"`
}

// sound are the readings of a file without what is none of the page's.
func sound(kept display.Readings) display.Readings {
	readings := display.Readings{}
	for key, typed := range kept {
		name := strings.TrimPrefix(key, "at:")
		if (display.IsReading(key) || name != key && kept["r:"+name] != "") && len(key) <= 40 && len(readings) < 3*display.MostStations {
			readings[key] = shortened(typed)
		}
	}
	return readings
}

// readReadings reads the readings that were kept, and returns the digest of the file; there need be none.
func (s *start) readReadings() (keptReadings, [sha256.Size]byte, error) {
	kept := keptReadings{Readings: display.Readings{}}
	if !s.save || s.folder == nil {
		return kept, sha256.Sum256(nil), nil
	}
	text, err := readWithin(s.folder, readingsName(s.name), mostReadings)
	if errors.Is(err, fs.ErrNotExist) {
		return kept, sha256.Sum256(nil), nil
	}
	if err != nil {
		return kept, sha256.Sum256(nil), err
	}
	var found keptReadings
	if err := json.Unmarshal(text, &found); err != nil {
		return kept, sha256.Sum256(text), errors.New("holds no readings as this page writes them")
	}
	kept.Readings = sound(found.Readings)
	for i, readings := range found.Spaces {
		if len(kept.Spaces) < mostReadSpaces {
			if kept.Spaces == nil {
				kept.Spaces = map[int]display.Readings{}
			}
			kept.Spaces[i] = sound(readings)
		}
	}
	return kept, sha256.Sum256(text), nil
}

// recallReadings gives a session the readings that were kept with its job.
func (s *site) recallReadings(v *session) {
	kept, sum, err := s.start.readReadings()
	v.readings, v.ofSpaces, v.savedReadings = kept.Readings, kept.Spaces, sum
	if err != nil {
		v.note = "The readings of " + readingsName(s.start.name) + " cannot be read: " + cause(err).Error() + "."
	}
}

// saveReadings writes the readings beside the job, where the page may save it, unless somebody else changed the file meanwhile.
func (s *site) saveReadings(v *session) error {
	if !s.savable(v) {
		return nil
	}
	name := readingsName(s.start.name)
	_, now, err := s.start.readReadings()
	if err == nil && now != v.savedReadings {
		v.note = "The readings are not saved: " + name + " was changed by somebody else since it was read here. Download the readings, and read the job anew."
		return nil
	}
	all := maps.Clone(v.ofSpaces)
	if all == nil {
		all = map[int]display.Readings{}
	}
	all[v.space] = v.readings
	kept := keptReadings{Readings: all[0], Spaces: all}
	delete(all, 0)
	text, err := json.MarshalIndent(kept, "", "  ")
	if err != nil {
		return err
	}
	if err := files.Write(filepath.Join(filepath.Dir(s.start.path), name), text); err != nil {
		v.note = "The readings are not saved: " + name + ": " + cause(err).Error() + "."
		return nil
	}
	v.savedReadings = sha256.Sum256(text)
	return nil
}

// keepsReadings says where the readings of a job are kept.
func (s *site) keepsReadings(savable bool) string {
	if savable {
		return "They are kept in " + readingsName(s.start.name) + " beside the job as they are typed."
	}
	return "They are kept here while lampswap runs, until nobody has looked at the job for 4 hours. To keep them longer download them."
}
