//go:build !windows && !darwin

package page

import (
	"context"
	"os/exec"

	"lampswap/cmd/lampswap/internal/exit"
)

// openBrowser shows an address of ours in the browser of the desktop.
func openBrowser(ctx context.Context, address string) error {
	opener := exec.CommandContext(context.WithoutCancel(ctx), "xdg-open", address)
	if err := opener.Start(); err != nil {
		return err
	}
	waited := make(chan error, 1)                        // nobody asks: whether it found a browser is not known
	go func() { waited <- exit.Caught(opener.Wait)() }() // so that none is left behind
	return nil
}
