//go:build !windows && !darwin

package page

import (
	"context"
	"os/exec"
)

// openBrowser shows an address of ours in the browser of the desktop.
func openBrowser(ctx context.Context, address string) error {
	opener := exec.CommandContext(context.WithoutCancel(ctx), "xdg-open", address)
	if err := opener.Start(); err != nil {
		return err
	}
	go func() { _ = opener.Wait() }() // so that none is left behind; whether it found a browser is not known
	return nil
}
