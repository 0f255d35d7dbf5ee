package main

import (
	_ "embed"
	"errors"
	"io"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
)

func newNew() *cobra.Command {
	walk := auditOptions{}
	cmd := &cobra.Command{
		Use:   "new [JOB.toml]",
		Short: "Write a commented job file to start from",
		Long: `new writes a job file in which every key is explained. Without a name it goes to
standard output. A file that is there already is never overwritten.

A building begins with a walk through it: --audit-form writes an empty sheet, a
row a group of luminaires, as CSV or as a workbook with lists to choose from;
--audit makes the file of a building of the filled-in sheet, and names every row
and column that is wrong; --audit-from makes the sheet of a building.`,
		Example: `  lampswap new dock.toml
  lampswap new > copy.toml
  lampswap new --audit-form walk.xlsx
  lampswap new --audit-form walk.csv
  # fill it in, then: lampswap new --audit walk.csv works.toml`,
		Args: atMostOne("the file to write"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if walk.asked() {
				return walk.run(args, cmd.OutOrStdout(), cmd.ErrOrStderr())
			}
			if len(args) == 0 {
				_, err := io.WriteString(cmd.OutOrStdout(), jobs.Starter)
				return err
			}
			return writeNew(args[0], "the new job", []byte(jobs.Starter))
		},
	}
	walk.flags(cmd)
	return cmd
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
