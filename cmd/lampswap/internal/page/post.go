package page

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // photographs
	_ "image/png"  // drawings
	"io"
	"mime/multipart"
	"net/http"
	"path"
	"path/filepath"
	"strings"

	"lampswap/cmd/lampswap/internal/audit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/page/display"
	"lampswap/cmd/lampswap/internal/page/form"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/diag"
	"lampswap/photometry/fixture"
	"lampswap/photometry/lm63"
)

func (s *site) postJob(r *http.Request, v *session) error {
	uploaded, beside := s.namedFiles(v)
	text, err := form.Apply(v.text, r.PostForm, uploaded, beside)
	if err != nil {
		v.note = "Nothing was changed: the text of the job has a fault that must be mended first."
		return nil //nolint:nilerr // said on the page, with the place of the fault
	}
	if metric := r.PostForm.Get("units") == "metric"; metric && text != v.text {
		if was, err := tomltext.Read(v.text); err == nil && form.Shown(was, "units") != "metric" && form.Shown(was, "state") == "" {
			v.note = "The numbers are in meters and lux now. A job in meters that names no state is taken to be outside the United States: rules and prices of there are left out of its answer. Name the state to have them."
		}
	}
	return v.setText(text)
}

// setText takes a text in the place of the job's.
func (v *session) setText(text string) error {
	if len(text) > mostText {
		return badRequestError{fmt.Errorf("the job would have more than %d KB, which is too much for the page", mostText>>10)}
	}
	v.text = text
	return nil
}

// postUndo takes the last change back, or makes it again.
func postUndo(r *http.Request, v *session) error {
	forth := r.PostForm.Get("do") == "redo"
	if !v.undo(forth, senderOf(r.PostForm).tab) {
		v.note = map[bool]string{true: "There is nothing to do again.", false: "There is nothing to undo."}[forth]
	}
	return nil
}

func (s *site) postText(r *http.Request, v *session) error {
	text := r.PostForm.Get("text")
	if name := bareName(r.PostForm.Get("name")); r.PostForm.Has("name") && isLightFile(name) { // of a tab that another has overtaken
		v.name = name
	}
	if !strings.Contains(v.text, "\r\n") { // browsers send every line end as two bytes
		text = strings.ReplaceAll(text, "\r\n", "\n")
	}
	return v.setText(text)
}

// postKeep takes what is tried into the job.
func (s *site) postKeep(r *http.Request, v *session) error {
	a, err := s.answerOf(r.Context(), s.snapshotOf(v, false))
	if err != nil || a.Job == nil {
		return err
	}
	text, err := display.TriedOf(r.PostForm, a.Job).Text(v.text, a.Job)
	if err != nil {
		return err
	}
	v.note = "What you tried is in the job now."
	return v.setText(text)
}

// postBegin starts over with the file that the command was given, the demonstration, or an empty job.
func (s *site) postBegin(r *http.Request, v *session) error {
	switch r.PostForm.Get("with") {
	case "demonstration":
		text, err := jobs.Demo.ReadFile(jobs.DemoJob)
		if err != nil {
			return err
		}
		v.replace(path.Base(jobs.DemoJob), string(text))
	case "empty":
		v.replace("my-warehouse.toml", jobs.Starter)
	case "file":
		v.replace(s.start.name, s.start.text)
		if s.start.folder != nil {
			text, err := readWithin(s.start.folder, s.start.name, mostText)
			if err != nil {
				v.note = "The job file cannot be read any more: " + cause(err).Error() + "."
				return nil
			}
			v.replace(s.start.name, string(text))
			v.saved = sha256.Sum256(text)
			s.recallReadings(v)
		}
	}
	return nil
}

// postSave writes the job file that the command was given, unless somebody else changed it meanwhile.
func (s *site) postSave(_ *http.Request, v *session) error {
	if !s.savable(v) {
		return badRequestError{errors.New("this page may not write files; download the job instead")}
	}
	now, err := readWithin(s.start.folder, s.start.name, mostText)
	if err != nil {
		v.note = "Not saved: " + cause(err).Error() + "."
		return nil
	}
	if sha256.Sum256(now) != v.saved {
		v.note = "Not saved: the file was changed by somebody else since it was opened here. Download your job, or read the file anew."
		return nil
	}
	if err := files.Write(s.start.path, []byte(v.text)); err != nil {
		v.note = "Not saved: " + s.start.name + ": " + cause(err).Error() + "."
		return nil
	}
	v.saved = sha256.Sum256([]byte(v.text))
	v.kept = v.saved
	v.note = "Saved to " + filepath.Base(s.start.path) + "."
	return nil
}

func (s *site) postDropFile(r *http.Request, v *session) error {
	name := r.PostForm.Get("name")
	if _, ok := v.files[name]; ok {
		delete(v.files, name)
		v.note = name + " is taken out."
	}
	return nil
}

// postFiles takes files into the session's memory: photometric files, cross-sections, or a job to open. Nothing is written to a disk.
func (s *site) postFiles(r *http.Request, v *session) error {
	reader, err := r.MultipartReader()
	if err != nil {
		return badRequestError{errors.New("no file came with the form")}
	}
	use, names := "", []string{}
	contents := map[string][]byte{}
	for range 2*mostFiles + 4 {
		piece, err := reader.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return unreadable(err)
		}
		if piece.FileName() == "" {
			value, err := io.ReadAll(io.LimitReader(piece, 100))
			if err != nil {
				return unreadable(err)
			}
			if piece.FormName() == "use" {
				use = string(value)
			}
			continue
		}
		name := bareName(piece.FileName())
		if contents[name], err = readPiece(piece); err != nil {
			return unreadable(err)
		}
		names = append(names, name)
	}
	for _, name := range names {
		s.takeFile(v, name, contents[name], use)
	}
	if len(names) == 0 {
		v.note = "Choose a file first."
	}
	return nil
}

func readPiece(piece *multipart.Part) ([]byte, error) {
	content, err := io.ReadAll(io.LimitReader(piece, mostFile+1))
	if err == nil && len(content) > mostFile {
		err = &http.MaxBytesError{Limit: mostFile}
	}
	return content, err
}

// takeFile keeps a file and, if asked, lets a system use it. A file with faults is shown with them and not kept.
func (s *site) takeFile(v *session, name string, content []byte, use string) {
	if audit.Is(name) {
		s.takeSheet(v, name, content)
		return
	}
	if strings.EqualFold(path.Ext(name), ".toml") && isJob(content) {
		if len(content) > mostText {
			v.faults = append(v.faults, fmt.Sprintf("%s is over %d KB, too much for the page", name, mostText>>10))
			return
		}
		v.replace(name, string(content))
		v.note = name + " is open. Undo brings back the job that was here."
		return
	}
	if faults := s.faultsOf(v, name, content); len(faults) > 0 {
		v.faults = append(v.faults, faults...)
		return
	}
	if err := v.keep(name, content); err != nil {
		v.faults = append(v.faults, err.Error())
		return
	}
	v.note = strings.TrimSpace(v.note + " " + name + " is here.")
	if isPicture(name) {
		v.showPicture(name)
		return
	}
	if strings.EqualFold(path.Ext(name), ".ies") && (use == "existing" || use == "proposed") {
		v.useFile(name, use)
	}
}

// useFile lets a system of the job use a photometric file.
func (v *session) useFile(name, system string) {
	t, err := tomltext.Read(v.text)
	if err == nil && (t.Has("kinds") || t.Has("groups")) {
		v.note = name + " is here: choose it as the fixture of a kind of luminaire."
		return
	}
	if err == nil {
		err = t.Delete(system + ".fixture")
	}
	if err == nil {
		err = t.Set(system+".photometry", tomltext.Quote(name))
	}
	if err != nil {
		v.note = name + " is here, but the text of the job has a fault that must be mended before it can be used."
		return
	}
	v.text = t.String()
	v.note = name + " is the " + system + " luminaire now."
}

// showPicture makes a picture that was taken in a photograph of the job, unless the job names it already.
func (v *session) showPicture(name string) {
	t, err := tomltext.Read(v.text)
	if err != nil || form.NamesPicture(t, name) {
		return
	}
	if t.AddElement("photos", "file = "+tomltext.Quote(name)) == nil {
		v.text = t.String()
		v.note = name + " is a photograph of the job now."
	}
}

// isJob tells a job or a building from a cross-section: it has a room, or spaces.
func isJob(content []byte) bool {
	t, err := tomltext.Read(string(content))
	return err != nil || t.Has("spaces") || t.Has("room") || t.Has("existing") || t.Has("proposed")
}

// faultsOf reads a file of light to see what is wrong with it, a line each with its place.
func (s *site) faultsOf(v *session, name string, content []byte) []string {
	var err error
	switch strings.ToLower(path.Ext(name)) {
	case ".ies":
		var file *lm63.File
		if file, err = (lm63.Reader{Tilt: s.opener(v.files)}).Read(name, bytes.NewReader(content)); err == nil {
			_, err = file.Luminaire()
		}
	case ".toml":
		_, err = fixture.Read(name, bytes.NewReader(content))
	case ".jpg", ".jpeg", ".png", ".svg":
		if _, _, wrong := image.DecodeConfig(bytes.NewReader(content)); errors.Is(wrong, image.ErrFormat) {
			err = errors.New("is no picture in JPEG, PNG or SVG")
		} else if wrong != nil {
			err = fmt.Errorf("is not drawn: %w", wrong)
		}
	}
	if err == nil {
		return nil
	}
	faults, is := errors.AsType[diag.List](err)
	if !is {
		return []string{name + ": " + err.Error()}
	}
	var all []string
	for _, f := range faults[:min(len(faults), mostFaults)] {
		all = append(all, f.Error())
	}
	if more := len(faults) - mostFaults; more > 0 {
		all = append(all, fmt.Sprintf("and %d more", more))
	}
	return all
}

// mostFaults is how many faults of a file are shown.
const mostFaults = 40
