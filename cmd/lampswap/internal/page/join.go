package page

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"errors"
	"fmt"
	"math/big"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// A page that is open to others has a code. Whoever gives it shares one job with all who do: the phone on site that of the desk. Without it a visitor
// has a job of his own, which nobody else sees and which is written nowhere; where the page may save, it asks everybody for the code.

// codeDigits is how long a code is: at the pace at which tries are taken, all of them take more than a decade.
const codeDigits = 8

// newCode draws a code.
func newCode() (string, error) {
	most := new(big.Int).Exp(big.NewInt(10), big.NewInt(codeDigits), nil)
	n, err := rand.Int(rand.Reader, most)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("%0*d", codeDigits, n), nil
}

// spaced is a code as it is shown: in two halves.
func spaced(code string) string { return code[:codeDigits/2] + " " + code[codeDigits/2:] }

// Of tries at the code, so many at once and then one each while: from one address, and from all together.
const (
	triesAtOnce = 5
	tryEvery    = 12 * time.Second
	allAtOnce   = 20
	allEvery    = 4 * time.Second
	mostTriers  = 1000 // addresses that are remembered
)

// A door lets in who has the code.
type door struct {
	code    string // "" of a page for this machine only
	demands bool   // nobody gets anything without it
	mutex   sync.Mutex
	now     func() time.Time
	all     tries
	by      map[netip.Addr]*tries
	shared  *session // of all who gave the code
}

// tries are those that are left.
type tries struct {
	left float64
	at   time.Time
}

// take takes a try, if one is left by now.
func (t *tries) take(now time.Time, most int, every time.Duration) bool {
	if t.at.IsZero() {
		t.left = float64(most)
	} else {
		t.left = min(float64(most), t.left+now.Sub(t.at).Seconds()/every.Seconds())
	}
	t.at = now
	if t.left < 1 {
		return false
	}
	t.left--
	return true
}

// Reasons why somebody is not let in.
var (
	errNoCode    = errors.New("no code was given")
	errWrongCode = errors.New("that is not the code")
	errTooOften  = errors.New("too many wrong codes")
)

// knock tells whether a code is the right one; it errs with errWrongCode, or with errTooOften whatever the code is. It takes the same time for every
// wrong code.
func (d *door) knock(address, typed string) error {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	now := d.now()
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		host = address
	}
	from, err := netip.ParseAddr(host)
	if err != nil {
		from = netip.Addr{} // all of those together
	}
	if d.by[from] == nil {
		if len(d.by) >= mostTriers {
			clear(d.by) // the limit of all together holds
		}
		d.by[from] = &tries{}
	}
	own := d.by[from].take(now, triesAtOnce, tryEvery)
	if !own || !d.all.take(now, allAtOnce, allEvery) {
		return errTooOften
	}
	typed = strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, typed)
	got, want := sha256.Sum256([]byte(typed)), sha256.Sum256([]byte(d.code))
	if subtle.ConstantTimeCompare(got[:], want[:]) != 1 {
		return errWrongCode
	}
	return nil
}

// savable tells whether a session may be written to the disk: it has the job of the command, --save was given, and the page is this machine's own or
// its visitor gave the code.
func (s *site) savable(v *session) bool {
	if !s.start.save || v.name != s.start.name {
		return false
	}
	s.door.mutex.Lock()
	defer s.door.mutex.Unlock()
	return s.door.code == "" || v == s.door.shared
}

// A joinView is the page that asks for the code.
type joinView struct {
	Title, Sorry   string
	Open, Demanded bool // there is a code; nothing is to be had without it
	Joined         bool
}

func (s *site) showJoin(w http.ResponseWriter, r *http.Request) {
	s.answerJoin(w, r, http.StatusOK, "")
}

func (s *site) answerJoin(w http.ResponseWriter, r *http.Request, code int, sorry string) {
	v := joinView{Title: "Share a job", Sorry: sorry, Open: s.door.code != "", Demanded: s.door.demands, Joined: s.joined(r)}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(code)
	_ = templates().ExecuteTemplate(w, "join.html", v) // the visitor may be gone
}

// joined tells whether a request comes from somebody who gave the code.
func (s *site) joined(r *http.Request) bool {
	c, err := r.Cookie(s.cookie())
	if err != nil {
		return false
	}
	s.sessions.mutex.Lock()
	found := s.sessions.all[c.Value]
	s.sessions.mutex.Unlock()
	s.door.mutex.Lock()
	defer s.door.mutex.Unlock()
	return found != nil && found == s.door.shared
}

// postJoin lets a visitor share the job of all who gave the code; the first brings his own.
func (s *site) postJoin(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, 4<<10)
	if err := r.ParseForm(); err != nil {
		s.fail(w, r, unreadable(err))
		return
	}
	if s.door.code == "" {
		s.fail(w, r, badRequestError{errors.New("this page is for one machine only and has no code; start it with --listen to share a job")})
		return
	}
	switch err := s.door.knock(r.RemoteAddr, r.PostForm.Get("code")); {
	case errors.Is(err, errTooOften):
		w.Header().Set("Retry-After", strconv.Itoa(int(tryEvery.Seconds())))
		s.answerJoin(w, r, http.StatusTooManyRequests, "Too many codes were tried. Wait a quarter of a minute, then try again.")
		return
	case err != nil:
		s.answerJoin(w, r, http.StatusForbidden, "That is not the code. It stands in the terminal where lampswap runs.")
		return
	}
	token := ""
	if c, err := r.Cookie(s.cookie()); err == nil {
		token = c.Value
	}
	fresh, err := s.sessions.share(token, s.door, s.begin)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.setCookie(w, fresh)
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

// share gives a visitor a new token of the session that all share. The first brings his own session, if he has one.
func (s *sessions) share(token string, d *door, begin func() *session) (fresh string, err error) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	now := s.now()
	if err := s.makeRoom(now); err != nil {
		return "", err
	}
	d.mutex.Lock()
	defer d.mutex.Unlock()
	if d.shared == nil {
		if d.shared = s.all[token]; d.shared == nil {
			d.shared = begin()
		}
	}
	delete(s.all, token)
	fresh = rand.Text()
	d.shared.used = now
	s.all[fresh] = d.shared
	return fresh, nil
}

// reachable are the addresses at which others reach a page that listens at all addresses of this machine: those of its networks, IPv4 first.
func reachable(listen string) []string {
	if address, err := netip.ParseAddr(listen); err != nil || !address.IsUnspecified() {
		return []string{listen}
	}
	addresses, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	var all []string
	for _, a := range addresses {
		prefix, err := netip.ParsePrefix(a.String())
		if err != nil || !prefix.Addr().IsGlobalUnicast() { // no loopback, no link-local
			continue
		}
		all = append(all, prefix.Addr().String())
	}
	slices.SortStableFunc(all, func(a, b string) int { return strings.Count(a, ":") - strings.Count(b, ":") })
	return all
}
