package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A visitor is somebody at the page.
type visitor struct {
	t       *testing.T
	client  http.Client
	address string
}

// openPage serves a page in this process until the test ends.
func openPage(t *testing.T, args ...string) visitor {
	t.Helper()
	ctx, leave := context.WithCancel(t.Context())
	root := newRoot()
	root.SetArgs(args)
	said, says := io.Pipe()
	root.SetOut(says)
	root.SetErr(io.Discard)
	ended := make(chan error, 1)
	go func() {
		err := root.ExecuteContext(ctx)
		_ = says.CloseWithError(err)
		ended <- err
	}()
	page := visitorAt(t, said)
	t.Cleanup(func() {
		page.client.CloseIdleConnections()
		leave()
		assert.NoError(t, <-ended)
	})
	return page
}

// visitorAt opens the page whose address is said first.
func visitorAt(t *testing.T, said io.Reader) visitor {
	t.Helper()
	address, err := bufio.NewReader(said).ReadString('\n')
	require.NoError(t, err)
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	return visitor{t, http.Client{Jar: jar, Transport: &http.Transport{}}, strings.TrimSuffix(strings.TrimSpace(address), "/")}
}

func (v visitor) get(path string) string {
	v.t.Helper()
	answer, err := v.client.Get(v.address + path)
	require.NoError(v.t, err)
	return v.bodyOf(answer)
}

func (v visitor) post(path string, form url.Values) string {
	v.t.Helper()
	answer, err := v.client.PostForm(v.address+path, form)
	require.NoError(v.t, err)
	return v.bodyOf(answer)
}

func (v visitor) bodyOf(answer *http.Response) string {
	v.t.Helper()
	body, err := io.ReadAll(answer.Body)
	require.NoError(v.t, err)
	require.NoError(v.t, answer.Body.Close())
	assert.Equal(v.t, http.StatusOK, answer.StatusCode, string(body))
	return string(body)
}
