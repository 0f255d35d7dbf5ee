package main

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/job"
)

type newOptionsOf struct {
	groups     bool
	from, demo string
}

func newNew() *cobra.Command {
	walk, opts := auditOptions{}, newOptionsOf{}
	cmd := &cobra.Command{
		Use:   "new [JOB.toml]",
		Short: "Write a commented job file to start from",
		Long: `new writes a job file in which every key is explained. Without a name it goes to
standard output. A file that is there already is never overwritten.

The short form has one kind of luminaire before the swap and one after it; --groups
writes the long one, for a room as it is found: several kinds, failed luminaires,
sensors. --from turns a job of the short form into groups, with the same answer:
what it does not move stays as it was written. --demo writes a demonstration, with
the files that it names beside it.

A building begins with a walk through it: --audit-form writes an empty sheet, a
row a group of luminaires, as CSV or as a workbook with lists to choose from;
--audit makes the file of a building of the filled-in sheet, and names every row
and column that is wrong; --audit-from makes the sheet of a building.`,
		Example: `  lampswap new dock.toml
  lampswap new > copy.toml
  lampswap new --groups shop.toml
  lampswap new --from dock.toml dock-in-groups.toml
  lampswap new --demo as-found found.toml
  lampswap new --audit-form walk.xlsx
  lampswap new --audit-form walk.csv
  # fill it in, then: lampswap new --audit walk.csv works.toml`,
		Args: atMostOne("the file to write"),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case walk.asked() && opts != (newOptionsOf{}):
				return exit.Usage(errors.New("--groups, --from or --demo stand beside a sheet of an audit, want one of them"))
			case walk.asked():
				return walk.run(args, cmd.OutOrStdout(), cmd.ErrOrStderr())
			}
			text, beside, err := opts.text(cmd.Context(), streamsOf(cmd))
			if err != nil {
				return err
			}
			if len(args) == 0 {
				_, err := io.WriteString(cmd.OutOrStdout(), text)
				return err
			}
			for name, data := range beside {
				if err := writeNew(filepath.Join(filepath.Dir(args[0]), name), "a file that the new job names", data); err != nil {
					return err
				}
			}
			return writeNew(args[0], "the new job", []byte(text))
		},
	}
	walk.flags(cmd)
	f := cmd.Flags()
	f.BoolVar(&opts.groups, "groups", false, "the long form: kinds of luminaire and the groups in which they hang")
	f.StringVar(&opts.from, "from", "", "a job of the short form, to be turned into groups")
	f.StringVar(&opts.demo, "demo", "", "a demonstration to write: "+strings.Join(jobs.DemoNames(), ", "))
	return cmd
}

// text is the new job, and the files that it needs beside it.
func (o newOptionsOf) text(ctx context.Context, std streams) (string, map[string][]byte, error) {
	switch {
	case o.groups && (o.from != "" || o.demo != ""), o.from != "" && o.demo != "":
		return "", nil, exit.Usage(errors.New("--groups, --from and --demo stand beside each other, want one of them"))
	case o.demo != "":
		return jobs.DemoText(o.demo)
	case o.from != "":
		text, err := regrouped(ctx, o.from, std)
		return text, nil, err
	case o.groups:
		return jobs.StarterGroups, nil, nil
	}
	return jobs.Starter, nil, nil
}

// regrouped is the text of a job turned into groups, which is read once more, so that no job is written that is none.
func regrouped(ctx context.Context, path string, std streams) (string, error) {
	old, err := jobs.Request{Args: []string{path}, In: std.in, Err: std.err}.Open(ctx)
	if err != nil {
		return "", err
	}
	if old.Building != nil {
		return "", exit.Usagef("--from %s: it is a building, want a job of one room", path)
	}
	data, err := job.ReadText(path)
	if err != nil {
		return "", err
	}
	text, err := tomltext.Read(string(data))
	if err != nil {
		return "", err
	}
	if err := text.Regroup(); err != nil {
		return "", exit.Usagef("--from %s: %w", path, err)
	}
	if _, err := job.Read(path+", in groups", []byte(text.String()), job.Beside(path)); err != nil {
		return "", err
	}
	return text.String(), nil
}

// writeNew writes a file that must not be there yet.
func writeNew(path, what string, content []byte) error {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		if _, err := files.ToFile(what, path, nil); err != nil {
			return err
		}
	}
	err := files.WriteNew(path, content)
	if errors.Is(err, fs.ErrExist) {
		return exit.Usagef("%s is there already, want a new name", path)
	}
	return err
}
