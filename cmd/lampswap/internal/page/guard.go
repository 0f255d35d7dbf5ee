package page

import (
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"net/netip"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
)

// contentPolicy lets the page use its own files and nothing else; no script and no style stands in the page itself.
const contentPolicy = "default-src 'self'; style-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// Hosts are the names under which the page may be asked for. A page elsewhere whose name was made to point here (DNS rebinding) asks under
// its own name, and is refused.
type hosts struct {
	shown string   // with the port, for the user
	names []string // lower case, without the port
	port  int
	any   bool // any address in numbers will do: it belongs to no name
}

func allowedHosts(opts Options, port int) hosts {
	h := hosts{names: []string{"127.0.0.1", "localhost", "::1"}, port: port}
	h.shown = net.JoinHostPort("127.0.0.1", strconv.Itoa(port))
	if opts.Listen == "" {
		return h
	}
	h.names = append(h.names, strings.ToLower(opts.Listen))
	for _, name := range opts.Names {
		h.names = append(h.names, strings.ToLower(name))
	}
	if address, err := netip.ParseAddr(opts.Listen); err == nil && address.IsUnspecified() {
		h.any = true
		return h
	}
	h.shown = net.JoinHostPort(opts.Listen, strconv.Itoa(port))
	return h
}

func (h hosts) allow(host string) bool {
	name, port, err := net.SplitHostPort(host)
	if err != nil { // no port: that of http
		name, port = strings.Trim(host, "[]"), "80"
	}
	if port != strconv.Itoa(h.port) {
		return false
	}
	if slices.Contains(h.names, strings.ToLower(name)) {
		return true
	}
	_, err = netip.ParseAddr(name)
	return h.any && err == nil
}

// guarded puts a handler behind the rules that hold for every request.
func (s *site) guarded(next http.Handler) http.Handler {
	sameOrigin := http.NewCrossOriginProtection()
	sameOrigin.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { refuse(w, http.StatusForbidden, crossSite) }))
	return s.recovering(headers(s.knownHost(notEmbedded(sameOrigin.Handler(next)))))
}

const crossSite = "This request came from another site, which is not allowed. Open the page itself and try there."

func (s *site) knownHost(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !s.hosts.allow(r.Host) {
			refuse(w, http.StatusMisdirectedRequest, "This page is not known under that name. Open http://"+s.hosts.shown+"/ instead.")
			return
		}
		next.ServeHTTP(w, r)
	})
}

// notEmbedded refuses what another site loads from here. To follow a link to the page is no loading.
func notEmbedded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		site := r.Header.Get("Sec-Fetch-Site")
		follows := r.Method == http.MethodGet && r.Header.Get("Sec-Fetch-Mode") == "navigate" && r.Header.Get("Sec-Fetch-Dest") == "document"
		if site != "" && site != "same-origin" && site != "none" && !follows {
			refuse(w, http.StatusForbidden, crossSite)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for _, h := range [][2]string{{"Content-Security-Policy", contentPolicy}, {"X-Content-Type-Options", "nosniff"}, {"Referrer-Policy", "same-origin"},
			{"Cross-Origin-Opener-Policy", "same-origin"}, {"Cross-Origin-Resource-Policy", "same-origin"}, {"X-Frame-Options", "DENY"},
			{"Permissions-Policy", "camera=(), geolocation=(), microphone=()"}, {"Cache-Control", "no-store"}} {
			w.Header().Set(h[0], h[1])
		}
		next.ServeHTTP(w, r)
	})
}

// recovering turns a panic, our own error, into a plain page for the visitor and a trace for whoever runs the server.
func (s *site) recovering(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			broken := recover()
			if broken == nil {
				return
			}
			if err, ok := broken.(error); ok && errors.Is(err, http.ErrAbortHandler) {
				panic(broken) // the server's own way to drop a connection
			}
			fmt.Fprintf(s.stderr, "lampswap: fault of our own at %q: %v\n%s", r.URL.Path, broken, debug.Stack())
			refuse(w, http.StatusInternalServerError, "Something in lampswap itself went wrong with this request. Your job is as it was. Go back and try another way; the terminal has the details.")
		}()
		next.ServeHTTP(w, r)
	})
}

// refuse answers with a plain sentence.
func refuse(w http.ResponseWriter, code int, sentence string) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Del("Content-Disposition")
	w.WriteHeader(code)
	_ = templates().ExecuteTemplate(w, "refusal.html", map[string]any{"Code": code, "Sentence": sentence}) // the connection may be gone
}

// quietLog keeps the server's remarks on broken connections out of the terminal but for those of our own making.
func quietLog(stderr io.Writer) *log.Logger { return log.New(stderr, "lampswap: ", 0) }

// tooLong tells that a request had more bytes than it may.
func tooLong(err error) bool {
	_, is := errors.AsType[*http.MaxBytesError](err)
	return is
}
