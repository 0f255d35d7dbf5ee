package page

import (
	"testing"

	"go.uber.org/goleak"
)

// No test leaves a goroutine behind, nor the browser that some of them share.
func TestMain(m *testing.M) { goleak.VerifyTestMain(suite{m}) }

type suite struct{ *testing.M }

func (s suite) Run() int {
	defer endBrowser()
	return s.M.Run()
}
