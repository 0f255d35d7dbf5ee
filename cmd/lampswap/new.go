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
	return &cobra.Command{
		Use:   "new [JOB.toml]",
		Short: "Write a commented job file to start from",
		Long: `new writes a job file in which every key is explained. Without a name it goes to
standard output. A file that is there already is never overwritten.`,
		Example: "  lampswap new dock.toml\n  lampswap new > copy.toml",
		Args:    atMostOne("the file to write"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				_, err := io.WriteString(cmd.OutOrStdout(), jobs.Starter)
				return err
			}
			return writeNew(args[0])
		},
	}
}

func writeNew(path string) error {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		if _, err := files.ToFile("the new job", path, nil); err != nil {
			return err
		}
	}
	err := files.WriteNew(path, []byte(jobs.Starter))
	if errors.Is(err, fs.ErrExist) {
		return exit.Usagef("%s is there already, want a new name", path)
	}
	return err
}
