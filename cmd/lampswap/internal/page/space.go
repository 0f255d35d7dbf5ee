package page

import (
	"fmt"
	"net/http"
	"path"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/audit"
	"lampswap/cmd/lampswap/internal/page/display"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/building"
	"lampswap/photometry/diag"
)

// A spaceView is the space of a building that is open, and the names of all.
type spaceView struct {
	Name, Building string
}

// inSpace lets a change of a job be one of the space that is open, where the session has a building.
func (s *site) inSpace(change func(r *http.Request, v *session) error) func(r *http.Request, v *session) error {
	return func(r *http.Request, v *session) error {
		t, i, alone, err := s.openSpace(v)
		if t == nil {
			return change(r, v)
		}
		if err != nil {
			v.note = "Nothing was changed: " + err.Error() + "."
			return nil //nolint:nilerr // said on the page
		}
		whole := v.text
		v.text = alone
		err = change(r, v)
		if v.space == 0 { // another job took its place
			return err
		}
		edited := v.text
		v.text = whole
		if err != nil || edited == alone {
			return err
		}
		if err := t.PutSpace(i, s.byPath(v, t, i), edited); err != nil {
			v.note = "Nothing was changed: " + err.Error() + "."
			return nil //nolint:nilerr // said on the page
		}
		return v.setText(t.String())
	}
}

// openSpace is the space of the session's building that is open, as the text of a job; a nil text where there is none.
func (s *site) openSpace(v *session) (t *tomltext.Text, i int, alone string, err error) {
	if v.space == 0 || !building.Is([]byte(v.text)) {
		return nil, 0, "", nil
	}
	if t, err = tomltext.Read(v.text); err != nil {
		return nil, 0, "", nil //nolint:nilerr // the building is shown, with the place of the fault
	}
	i = v.space - 1
	alone, err = t.Space(i, s.byPath(v, t, i))
	return t, i, alone, err
}

// byPath is the text of the job that a space is by its path; "" where it stands in place, or there is none.
func (s *site) byPath(v *session, t *tomltext.Text, i int) string {
	if _, paths := t.Spaces(); i < len(paths) && paths[i] != "" {
		if text, err := s.opener(v.files)(paths[i]); err == nil {
			return string(text)
		}
	}
	return ""
}

// look turns a snapshot of a building to the space that is open.
func (s *site) look(v *session, snap *snapshot) {
	t, i, alone, err := s.openSpace(v)
	switch {
	case err != nil:
		v.space = 0
		snap.note = strings.TrimSpace(snap.note + " That space cannot be opened: " + err.Error() + ".")
	case t != nil:
		names, _ := t.Spaces()
		title, _ := t.Value("title").(string)
		snap.text, snap.name, snap.space = alone, bareName(names[i])+".toml", spaceView{names[i], title}
	}
}

// postSpace opens a space of the building, or goes back to the building.
func (s *site) postSpace(r *http.Request, v *session) error {
	i, err := strconv.Atoi(r.PostForm.Get("open"))
	if err != nil || i < 0 {
		return badRequestError{fmt.Errorf("there is no such space")}
	}
	if v.space != i {
		if v.ofSpaces == nil {
			v.ofSpaces = map[int]display.Readings{}
		}
		v.ofSpaces[v.space] = v.readings
		if v.readings = v.ofSpaces[i]; v.readings == nil {
			v.readings = display.Readings{}
		}
		v.space, v.good = i, jobText{}
	}
	return nil
}

// takeSheet makes a building of the sheet of a walk-through, and opens it.
func (s *site) takeSheet(v *session, name string, content []byte) {
	var kinds audit.Kinds
	if t, err := tomltext.Read(v.text); err == nil && t.Has("kinds") { // of what is open here
		kinds, _ = audit.KindsOf(v.name, []byte(v.text), nil) // without them, a cell of such a kind is told
	}
	metric := false
	if t, err := tomltext.Read(v.text); err == nil {
		metric = t.Value("units") == "metric"
	}
	stem := strings.TrimSuffix(name, path.Ext(name))
	made, err := audit.ReadSheet(name, content).Building(stem, metric, kinds, s.opener(v.files), nil)
	if faults, is := err.(diag.List); is { //nolint:errorlint // as Building says
		for _, e := range faults[:min(len(faults), mostFaults)] {
			v.faults = append(v.faults, e.Error())
		}
		return
	}
	if err != nil {
		v.faults = append(v.faults, name+": "+err.Error())
		return
	}
	v.replace(bareName(stem)+".toml", string(made.Text))
	v.note = fmt.Sprintf("%s is a building of %s now. Undo brings back what was here.", name, typeset.Count(len(made.Building.Spaces), "space"))
	if n := len(made.Defaults); n > 0 {
		v.note += fmt.Sprintf(" Blank cells took %d defaults: %s.", n, strings.Join(made.Defaults[:min(n, 6)], "; "))
	}
}
