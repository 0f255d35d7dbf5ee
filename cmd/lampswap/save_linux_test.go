package main

import (
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
)

// saver serves the job of a workplace, and lets its page write it.
func saver(t *testing.T, folder, program string) *child {
	t.Helper()
	return childIn(t, folder, program, "serve site.toml --save --port 0")
}

// visited starts a child that serves, and visits it with a changed job. The page is in the child's time: it ends with Ctrl-C.
func visited(t *testing.T, c *child) (page visitor, text string) {
	t.Helper()
	c.Stdout = nil
	said, err := c.StdoutPipe()
	require.NoError(t, err)
	c.starts(t)
	page = visitorAt(t, said)
	t.Cleanup(page.client.CloseIdleConnections)
	text = strings.Replace(quickSite(12, 4, false), "site 12", "changed on the page", 1)
	page.post("/text", url.Values{"text": {text}})
	return page, text
}

// leaves ends a page, which is no failure.
func leaves(t *testing.T, c *child) {
	t.Helper()
	require.NoError(t, c.Process.Signal(syscall.SIGINT))
	assert.Equal(t, exit.Done, c.end(t), c.err.String())
}

// A page that cannot save says so, with the name of the file and why, and leaves it as it was.
func TestServeThatCannotSave(t *testing.T) {
	for why, child := range map[string]func(folder string) *child{
		"file too large": func(folder string) *child { return saver(t, folder, "lampswap-short-of-space").with(fileBytes, 0) },
		"permission denied": func(folder string) *child {
			lock(t, folder)
			return saver(t, folder, "lampswap").unprivileged(t)
		},
	} {
		folder := workplace(t)
		before := treeOf(t, folder)
		c := child(folder)
		page, _ := visited(t, c)
		assert.Contains(t, page.post("/save", nil), "Not saved: site.toml: "+why+".")
		leaves(t, c)
		before.same(t, treeOf(t, folder))
	}
}

// A kill while the page saves: the job file is the old one whole or the new one whole, and the next page that saves leaves nothing else behind.
func TestServeKilledWhileItSaves(t *testing.T) {
	folder := workplace(t)
	before := treeOf(t, folder)
	u := undertaking{line: "site.toml"}
	for range 3 {
		known := u.stagings(folder)
		require.NoError(t, os.WriteFile(filepath.Join(folder, "site.toml"), []byte(before["site.toml"]), 0o644))
		c := saver(t, folder, "lampswap")
		page, text := visited(t, c)
		saved := make(chan struct{})
		go func() {
			defer close(saved)
			if answer, err := page.client.PostForm(page.address+"/save", nil); err == nil {
				_ = answer.Body.Close() // the server may be gone
			}
		}()
		u.whenWriting(folder, known, 0, saved)
		require.NoError(t, c.Process.Kill())
		assert.Equal(t, -1, c.end(t))
		<-saved
		assert.Contains(t, []string{before["site.toml"], text}, fileText(t, filepath.Join(folder, "site.toml")))
	}
	c := saver(t, folder, "lampswap")
	page, text := visited(t, c)
	assert.Contains(t, page.post("/save", nil), "Saved to site.toml.")
	leaves(t, c)
	before["site.toml"] = text
	before.same(t, treeOf(t, folder))
}
