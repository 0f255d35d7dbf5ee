package page

import (
	"context"
	"os/exec"
)

// openBrowser shows an address of ours in the browser of the desktop.
func openBrowser(ctx context.Context, address string) error {
	return exec.CommandContext(context.WithoutCancel(ctx), "rundll32", "url.dll,FileProtocolHandler", address).Start()
}
