package main

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
	"time"

	"github.com/spf13/cobra"
)

// usualPort is where the page is without --port.
const usualPort = 8490

type serveOptions struct {
	port   int
	listen string
	names  []string
	save   bool
}

func newServe() *cobra.Command {
	opts := serveOptions{}
	cmd := &cobra.Command{
		Use:   "serve [JOB.toml]",
		Short: "The same answers on a page, for a browser or a phone",
		Long: `serve opens a local page: the job as a form or as text, and the light before and after, the verdict, the
maps and the ledger beside it. Nothing leaves this machine, and nothing is written but by download or,
with --save, to the job file. It ends with Ctrl-C.

The page is for this machine only. --listen opens it to others, on purpose: whoever reaches the address
can then use it, unencrypted; each visitor has a job of their own. With a job file, the photometric files
and cross-sections in its folder can be read, nothing else. The page takes smaller jobs than the
command, so that one visitor cannot hold up the others:

  ` + limitsInWords() + `.`,
		Example: "  lampswap serve\n  lampswap serve dock.toml --save\n  lampswap serve --port 9000\n  lampswap serve --listen 192.0.2.7 --host dock-office.example",
		Args:    atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return serve(cmd.Context(), opts, args, cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := cmd.Flags()
	f.IntVar(&opts.port, "port", usualPort, "the port; 0 takes any that is free")
	f.StringVar(&opts.listen, "listen", "", "address to open the page at for others, such as 192.0.2.7; without it, for this machine only")
	f.StringSliceVar(&opts.names, "host", nil, "with --listen: a name under which others call this machine")
	f.BoolVar(&opts.save, "save", false, "let the page write the job file")
	return cmd
}

// Time limits of the server, so that no connection holds it for ever.
const (
	headerTime = 5 * time.Second
	readTime   = 30 * time.Second
	writeTime  = solveTime + 60*time.Second // a request waits for its turn, then is worked out
	idleTime   = 2 * time.Minute
	closeTime  = 5 * time.Second // that requests under way get at the end
)

// serve runs the page until the context ends.
func serve(ctx context.Context, opts serveOptions, args []string, stdout, stderr io.Writer) error {
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
	if err != nil {
		return usageError{fmt.Errorf("cannot listen at %s: %w; want a free --port or an address of this machine", address, cause(err))}
	}
	port := listener.Addr().(*net.TCPAddr).Port
	names := allowedHosts(opts, port)
	app := newSite(start, names, stderr)
	server := &http.Server{Handler: app.handler(), ReadHeaderTimeout: headerTime, ReadTimeout: readTime, WriteTimeout: writeTime, IdleTimeout: idleTime,
		MaxHeaderBytes: 16 << 10, ErrorLog: quietLog(stderr)}
	if opts.listen != "" {
		fmt.Fprintf(stderr, "lampswap: open to whoever reaches %s, unencrypted; leave --listen out to keep it to this machine\n", address)
	}
	fmt.Fprintf(stdout, "http://%s/\n", names.shown)
	fmt.Fprintln(stderr, "lampswap: the page is open at that address; Ctrl-C ends it")
	return untilDone(ctx, server, listener)
}

// untilDone serves until the context ends, then lets requests under way finish.
func untilDone(ctx context.Context, server *http.Server, listener net.Listener) error {
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
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

func addressOf(opts serveOptions) (string, error) {
	if opts.port < 0 || opts.port > 65535 {
		return "", usageError{fmt.Errorf("--port is %d, want 0 to 65535", opts.port)}
	}
	host := opts.listen
	if host == "" {
		if len(opts.names) > 0 {
			return "", usageError{errors.New("--host goes with --listen")}
		}
		host = "127.0.0.1"
	}
	return net.JoinHostPort(host, strconv.Itoa(opts.port)), nil
}

// A start is the job that each visitor begins with, and the files beside it.
type start struct {
	name   string
	text   string
	folder *os.Root // nil without a job file
	path   string   // of the job file, "" without one
	save   bool     // whether the page may write it
}

func startOf(opts serveOptions, args []string) (*start, error) {
	if len(args) == 0 {
		if opts.save {
			return nil, usageError{errors.New("--save goes with a job file")}
		}
		text, err := demo.ReadFile(demoJob)
		return &start{name: filepath.Base(demoJob), text: string(text)}, err
	}
	s := &start{name: filepath.Base(args[0]), path: args[0], save: opts.save}
	var err error
	if s.folder, err = os.OpenRoot(filepath.Dir(args[0])); err != nil {
		return nil, usageError{fmt.Errorf("%s: %w", args[0], cause(err))}
	}
	text, err := readWithin(s.folder, s.name, mostText)
	if err != nil {
		s.close()
		return nil, usageError{fmt.Errorf("%s: %w", args[0], cause(err))}
	}
	s.text = string(text)
	return s, nil
}

func (s *start) close() {
	if s.folder != nil {
		_ = s.folder.Close() // nothing was written through it
	}
}
