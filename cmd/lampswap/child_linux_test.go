package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func init() { programs["lampswap-short-of-space"] = shortOfSpace }

// fileBytes is the variable that says how large a file can get where space is short.
const fileBytes = "LAMPSWAP_TEST_FILE_BYTES"

// shortOfSpace is the command in a process whose files cannot grow above a size. That is what a full disk is to it, and needs no disk.
func shortOfSpace() {
	most, err := strconv.ParseUint(os.Getenv(fileBytes), 10, 64)
	if err == nil {
		err = syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: most, Max: most})
	}
	if err != nil {
		panic(err)
	}
	main()
}

// A child is a command line as a process of its own, in a folder.
type child struct {
	*exec.Cmd
	out, err bytes.Buffer
}

func childIn(t *testing.T, folder, program, line string) *child {
	t.Helper()
	path, err := exec.LookPath(program)
	require.NoError(t, err)
	c := &child{Cmd: exec.CommandContext(t.Context(), path, wordsOf(line)...)}
	c.Dir, c.Stdout, c.Stderr = folder, &c.out, &c.err
	return c
}

// end waits for a child that was started, and returns its exit code; -1 of one that was killed.
func (c *child) end(t *testing.T) int {
	t.Helper()
	if err := c.Wait(); err != nil {
		require.ErrorAs(t, err, new(*exec.ExitError))
	}
	return c.ProcessState.ExitCode()
}

func (c *child) run(t *testing.T) int {
	t.Helper()
	require.NoError(t, c.Start())
	return c.end(t)
}

// with gives a child a variable.
func (c *child) with(variable string, value int) *child {
	c.Env = append(os.Environ(), fmt.Sprintf("%s=%d", variable, value))
	return c
}

// nobody is a user who may write nothing here.
const nobody = 65534

// unprivileged lets a child be somebody to whom the modes of folders matter, and lets that one see the folder and the program.
func (c *child) unprivileged(t *testing.T) *child {
	t.Helper()
	if os.Geteuid() != 0 {
		return c
	}
	for _, path := range []string{c.Dir, c.Path} {
		for at := filepath.Dir(path); at != filepath.Dir(at) && at != filepath.Clean(os.TempDir()); at = filepath.Dir(at) {
			info, err := os.Stat(at)
			require.NoError(t, err)
			require.NoError(t, os.Chmod(at, info.Mode().Perm()|0o111))
		}
	}
	c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	return c
}

// starts starts a child; the test is skipped where root may not give it to another user.
func (c *child) starts(t *testing.T) {
	t.Helper()
	err := c.Start()
	if errors.Is(err, fs.ErrPermission) && c.SysProcAttr != nil {
		t.Skipf("root may write everywhere, and cannot become another user here: %v", err)
	}
	require.NoError(t, err)
}

// lock takes the right to write away from all folders below one and from itself, until the test ends.
func lock(t *testing.T, folder string) {
	t.Helper()
	require.NoError(t, filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err == nil && entry.IsDir() {
			err = os.Chmod(path, 0o555)
			t.Cleanup(func() { assert.NoError(t, os.Chmod(path, 0o755)) })
		}
		return err
	}))
}
