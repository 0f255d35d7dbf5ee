package main

import (
	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/page"
)

func newServe() *cobra.Command {
	opts := page.Options{}
	cmd := &cobra.Command{
		Use:   "serve [JOB.toml]",
		Short: "The same answers on a page, for a browser or a phone",
		Long: `serve opens a local page: the job as a form or as text, and the verdict,
the light maps and the ledger beside it. A building shows its spaces, and each
opens as a job; the sheet of a walk-through becomes one. Nothing leaves this
machine, and nothing is written but by download or, with --save, to the job
file and, beside it, the readings. It ends with Ctrl-C. With --open it opens the
browser and ends two minutes after its last page is closed, as it does when it is
started by a double-click.

The page is for this machine only. --listen opens it to others, on purpose:
whoever reaches the address can then use it, unencrypted; each visitor has a job
of their own. It says the address that a phone needs, and a code: all who give it
share one job, the desk and the phone on site. With --save nobody gets in without
the code. With a job file, the photometric files, cross-sections and pictures in
its folder can be read, nothing else. The page takes smaller jobs than the
command, so that one visitor cannot hold up the others:

  ` + page.Limits() + `.`,
		Example: `  lampswap serve
  lampswap new dock.toml
  lampswap serve dock.toml --save
  lampswap new --demo building works.toml
  lampswap serve works.toml
  lampswap serve dock.toml --open
  lampswap serve --port 9000
  lampswap serve --listen 0.0.0.0 --host dock-office.example`,
		Args: atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return page.Serve(cmd.Context(), opts, args, cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := cmd.Flags()
	f.IntVar(&opts.Port, "port", page.UsualPort, "the port; 0 takes any that is free")
	f.StringVar(&opts.Listen, "listen", "", "address to open the page at for others, such as 192.0.2.7; without it, for this machine only")
	f.StringSliceVar(&opts.Names, "host", nil, "with --listen: a name under which others call this machine")
	f.BoolVar(&opts.Save, "save", false, "let the page write the job file, and the readings beside it")
	f.BoolVar(&opts.Open, "open", false, "open the browser, and end when its last page is closed")
	return cmd
}
