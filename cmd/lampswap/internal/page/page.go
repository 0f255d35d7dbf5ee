// Package page serves the answers to a browser: who may ask, what each visitor keeps here, and what a request does to it.
package page

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/page/workshop"
)

// UsualPort is where the page is without --port.
const UsualPort = 8490

// Options are what the command line asks of the page.
type Options struct {
	Port   int
	Listen string
	Names  []string
	Save   bool
	Open   bool // a browser, and end when its last page is closed
}

// Time limits of the server, so that no connection holds it for ever.
const (
	headerTime = 5 * time.Second
	readTime   = 30 * time.Second
	writeTime  = workshop.SolveTime + 60*time.Second // a request waits for its turn, then is worked out
	idleTime   = 2 * time.Minute
	closeTime  = 5 * time.Second // that requests under way get at the end
)

// Serve runs the page until the context ends.
func Serve(ctx context.Context, opts Options, args []string, stdout, stderr io.Writer) error {
	start, err := startOf(opts, args)
	if err != nil {
		return err
	}
	defer start.close()
	address, err := addressOf(opts)
	if err != nil {
		return err
	}
	listener, err := new(net.ListenConfig).Listen(ctx, "tcp", address)
	if err != nil && opts.Open && opts.Port == UsualPort { // another one may be running
		listener, err = new(net.ListenConfig).Listen(ctx, "tcp", "127.0.0.1:0")
	}
	if err != nil {
		return exit.Usagef("cannot listen at %s: %w; want a free --port or an address of this machine", address, cause(err))
	}
	port := listener.Addr().(*net.TCPAddr).Port
	names := allowedHosts(opts, port)
	app := newSite(start, names, stderr)
	server := &http.Server{Handler: app.handler(), ReadHeaderTimeout: headerTime, ReadTimeout: readTime, WriteTimeout: writeTime, IdleTimeout: idleTime,
		MaxHeaderBytes: 16 << 10, ErrorLog: quietLog(stderr)}
	fmt.Fprintf(stdout, "http://%s/\n", names.shown)
	if opts.Listen != "" {
		if err := app.tellCode(opts, port); err != nil {
			return errors.Join(err, listener.Close())
		}
	}
	fmt.Fprintln(stderr, "lampswap: the page is open at that address; Ctrl-C ends it")
	if opts.Open {
		app.watch.on = true
		var end context.CancelFunc
		ctx, end = context.WithCancel(ctx)
		defer end()
		watched := make(chan error, 1) // it ends with the page, and fails only where a panic is caught
		go func() {
			watched <- exit.Caught(func() error {
				app.endWhenClosed(ctx, end)
				return nil
			})()
		}()
		fmt.Fprintln(stderr, "lampswap: "+strings.TrimPrefix(ends, "lampswap "))
		if err := openBrowser(ctx, "http://"+names.shown+"/"); err != nil {
			fmt.Fprintf(stderr, "lampswap: no browser could be opened (%v): open http://%s/ yourself\n", cause(err), names.shown)
		}
	}
	return untilDone(ctx, server, listener)
}

// tellCode draws the code of a page that is open to others, and says where they find it.
func (s *site) tellCode(opts Options, port int) error {
	code, err := newCode()
	if err != nil {
		return err
	}
	s.door.code, s.door.demands = code, opts.Save
	at := net.JoinHostPort(opts.Listen, strconv.Itoa(port))
	fmt.Fprintf(s.stderr, "lampswap: open to whoever reaches %s, unencrypted; leave --listen out to keep it to this machine\n", at)
	for _, host := range reachable(opts.Listen) {
		fmt.Fprintf(s.stderr, "lampswap: on a phone open http://%s/join\n", net.JoinHostPort(host, strconv.Itoa(port)))
	}
	what := "who gives it shares one job with all who do"
	if opts.Save {
		what = "nobody sees or writes the job without it"
	}
	fmt.Fprintf(s.stderr, "lampswap: the code is %s; %s\n", spaced(code), what)
	return nil
}

// endWhenClosed ends the page a while after its last page is closed.
func (s *site) endWhenClosed(ctx context.Context, end func()) {
	look := time.NewTicker(5 * time.Second)
	defer look.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-look.C:
			if s.watch.over() {
				fmt.Fprintln(s.stderr, "lampswap: its last page is closed: ended")
				end()
				return
			}
		}
	}
}

// untilDone serves until the context ends, then lets requests under way finish.
func untilDone(ctx context.Context, server *http.Server, listener net.Listener) error {
	failed := make(chan error, 1)
	go func() { failed <- exit.Caught(func() error { return server.Serve(listener) })() }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	closing, cancel := context.WithTimeout(context.WithoutCancel(ctx), closeTime)
	defer cancel()
	err := server.Shutdown(closing)
	if errors.Is(err, context.DeadlineExceeded) {
		err = server.Close()
	}
	if served := <-failed; err == nil && !errors.Is(served, http.ErrServerClosed) {
		err = served
	}
	return err
}

// cause is the innermost error, without the address that the user knows already.
func cause(err error) error {
	for inner := errors.Unwrap(err); inner != nil; inner = errors.Unwrap(inner) {
		err = inner
	}
	return err
}

func addressOf(opts Options) (string, error) {
	if opts.Port < 0 || opts.Port > 65535 {
		return "", exit.Usagef("--port is %d, want 0 to 65535", opts.Port)
	}
	host := opts.Listen
	if opts.Open && host != "" {
		return "", exit.Usage(errors.New("--open stands beside --listen, want one of the two: a page that ends with this machine's browser, or one that is open to others"))
	}
	if host == "" {
		if len(opts.Names) > 0 {
			return "", exit.Usage(errors.New("--host goes with --listen"))
		}
		host = "127.0.0.1"
	}
	return net.JoinHostPort(host, strconv.Itoa(opts.Port)), nil
}

// A start is the job that each visitor begins with, and the files beside it.
type start struct {
	name   string
	text   string
	folder *os.Root // nil without a job file
	path   string   // of the job file, "" without one
	save   bool     // whether the page may write it
}

func startOf(opts Options, args []string) (*start, error) {
	if len(args) == 0 {
		if opts.Save {
			return nil, exit.Usage(errors.New("--save goes with a job file"))
		}
		text, err := jobs.Demo.ReadFile(jobs.DemoJob)
		return &start{name: filepath.Base(jobs.DemoJob), text: string(text)}, err
	}
	s := &start{name: filepath.Base(args[0]), path: args[0], save: opts.Save}
	var err error
	if s.folder, err = os.OpenRoot(filepath.Dir(args[0])); err != nil {
		return nil, exit.Usagef("%s: %w", args[0], cause(err))
	}
	text, err := readWithin(s.folder, s.name, mostText)
	if err != nil {
		s.close()
		return nil, exit.Usagef("%s: %w", args[0], cause(err))
	}
	s.text = string(text)
	return s, nil
}

func (s *start) close() {
	if s.folder != nil {
		_ = s.folder.Close() // nothing was written through it
	}
}
