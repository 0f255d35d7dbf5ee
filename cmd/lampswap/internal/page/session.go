package page

import (
	"crypto/rand"
	"crypto/sha256"
	"errors"
	"fmt"
	"net/http"
	"path"
	"slices"
	"strings"
	"sync"
	"time"

	"lampswap/cmd/lampswap/internal/page/display"
)

// Bounds of what visitors may keep here.
const (
	mostSessions = 200
	idleLimit    = 4 * time.Hour
	restLimit    = 2 * time.Minute // that a session must have been idle before a new visitor may take its place
	mostText     = 256 << 10       // bytes of a job file
	mostFile     = 1 << 20         // bytes of a photometric file, and of a picture that is sent
	mostPicture  = 8 << 20         // of a picture beside the job
	mostPictures = 32 << 20        // of all those that a job names
	mostFiles    = 16              // of a session
	mostKept     = 4 << 20         // bytes of a session's files together
)

// A session is one visitor's job, with the files that belong to it. Nobody else can reach it.
type session struct {
	mutex         sync.Mutex // held while a request reads or changes what is below
	name          string
	text          string
	files         map[string][]byte
	saved         [sha256.Size]byte // of the job file as it was read or last written
	kept          [sha256.Size]byte // of the text that its visitor has outside: as it was opened, downloaded or saved
	good          jobText
	note          string   // to be said once
	made          string   // on the plan, to be told once
	faults        []string // of a file that was not taken, to be shown once
	readings      display.Readings
	space         int                      // of a building, counted from 1; 0 is the building
	ofSpaces      map[int]display.Readings // readings of the spaces that are not open
	savedReadings [sha256.Size]byte        // of their file as it was read or last written
	used          time.Time                // guarded by the sessions' mutex
	history
}

// A jobText is a job as it was at some time.
type jobText struct {
	Name, Text string
	files      map[string][]byte
}

// sessions are all the visitors, by their tokens.
type sessions struct {
	mutex sync.Mutex
	all   map[string]*session
	now   func() time.Time
}

var errFull = errors.New("too many visitors at once")

// of returns the session of a token, or a new one with its token. It errs with errFull.
func (s *sessions) of(token string, begin func() *session) (found *session, fresh string, err error) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	now := s.now()
	if found := s.all[token]; found != nil && now.Sub(found.used) < idleLimit {
		found.used = now
		return found, "", nil
	}
	if err := s.makeRoom(now); err != nil {
		return nil, "", err
	}
	found, fresh = begin(), rand.Text()
	found.used = now
	s.all[fresh] = found
	return found, fresh, nil
}

// makeRoom forgets those who have been away too long and, if need be, whoever has been away longest.
func (s *sessions) makeRoom(now time.Time) error {
	oldest := ""
	for token, one := range s.all {
		if now.Sub(one.used) >= idleLimit {
			delete(s.all, token)
			continue
		}
		if oldest == "" || one.used.Before(s.all[oldest].used) {
			oldest = token
		}
	}
	if len(s.all) < mostSessions {
		return nil
	}
	if now.Sub(s.all[oldest].used) < restLimit {
		return errFull
	}
	delete(s.all, oldest)
	return nil
}

// cookie is named by the port, since browsers share cookies among the ports of a machine.
func (s *site) cookie() string { return fmt.Sprintf("lampswap-%d", s.hosts.port) }

// visitor returns the session of a request, and locks it.
func (s *site) visitor(w http.ResponseWriter, r *http.Request) (*session, error) {
	token := ""
	if c, err := r.Cookie(s.cookie()); err == nil {
		token = c.Value
	}
	if s.door.demands && !s.joined(r) {
		return nil, errNoCode
	}
	v, fresh, err := s.sessions.of(token, s.begin)
	if err != nil {
		return nil, err
	}
	if fresh != "" {
		s.setCookie(w, fresh)
	}
	v.mutex.Lock()
	return v, nil
}

func (s *site) setCookie(w http.ResponseWriter, token string) {
	http.SetCookie(w, &http.Cookie{Name: s.cookie(), Value: token, Path: "/", HttpOnly: true, SameSite: http.SameSiteLaxMode, MaxAge: int(idleLimit.Seconds())})
}

func (s *site) begin() *session {
	sum := sha256.Sum256([]byte(s.start.text))
	v := &session{name: s.start.name, text: s.start.text, files: map[string][]byte{}, saved: sum, kept: sum}
	s.recallReadings(v)
	return v
}

// replace takes another job in the place of this one. Its visitor has it elsewhere too.
func (v *session) replace(name, text string) {
	v.name, v.text, v.readings, v.good = name, text, display.Readings{}, jobText{}
	v.kept = sha256.Sum256([]byte(text))
	v.space, v.ofSpaces = 0, nil
}

// unsaved tells that the job is nowhere but here.
func (v *session) unsaved() bool { return sha256.Sum256([]byte(v.text)) != v.kept }

// keep takes a file into the session's memory. The name loses its folders.
func (v *session) keep(name string, content []byte) error {
	name = bareName(name)
	kept := len(content)
	for other, c := range v.files {
		if other != name {
			kept += len(c)
		}
	}
	switch _, known := v.files[name]; {
	case !isLightFile(name) && !isPicture(name):
		return fmt.Errorf("%q is not taken, want an LM-63 file NAME.ies, a tilt file NAME.tlt, a cross-section NAME.toml, a picture NAME.jpg or .png, or a logo NAME.svg", name)
	case kept > mostKept:
		return fmt.Errorf("%q is not taken: the files of this visit would have more than %d MB; take some out first", name, mostKept>>20)
	case !known && len(v.files) >= mostFiles:
		return fmt.Errorf("%q is not taken: there are %d files already; take some out first", name, mostFiles)
	}
	v.files[name] = content
	return nil
}

// bareName is a file's name without folders, as any system writes them, and without what a page or a header minds.
func bareName(name string) string {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	name = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || strings.ContainsRune(`"<>|:*?`, r) {
			return -1
		}
		return r
	}, name)
	if len(name) > 120 {
		name = name[len(name)-120:]
	}
	return strings.ToValidUTF8(name, "")
}

// lightFiles are the endings of files that a job may name.
var lightFiles = []string{".ies", ".tlt", ".toml"}

func isLightFile(name string) bool {
	return slices.Contains(lightFiles, strings.ToLower(path.Ext(name))) && len(name) > len(path.Ext(name))
}

// pictures are the endings of photographs and logos.
var pictures = []string{".jpg", ".jpeg", ".png", ".svg"}

func isPicture(name string) bool {
	return slices.Contains(pictures, strings.ToLower(path.Ext(name))) && len(name) > len(path.Ext(name))
}
