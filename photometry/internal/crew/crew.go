// Package crew lets a group of goroutines work on one result. A panic in one of them becomes a panic of the goroutine that waits for
// the group, so that whoever called can catch it: the runtime ends a program whose goroutine panics unseen.
package crew

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"

	"golang.org/x/sync/errgroup"
)

// A Group is an errgroup.Group whose Wait panics if one of its functions did. The zero value is ready to use.
type Group struct {
	group errgroup.Group
	under context.CancelCauseFunc
	mutex sync.Mutex
	fault *Panic
}

// A Panic is what a function of a group panicked with, and where.
type Panic struct {
	Value any
	Stack []byte
}

// Error tells the value, then where it came from.
func (p *Panic) Error() string { return fmt.Sprintf("%v\n%s", p.Value, p.Stack) }

// Origin returns the value, and the stack of the goroutine that panicked.
func (p *Panic) Origin() (value any, stack []byte) { return p.Value, p.Stack }

// WithContext returns a group and a context that ends when a function of the group fails, panics, or when Wait returns.
func WithContext(ctx context.Context) (*Group, context.Context) {
	ctx, cancel := context.WithCancelCause(ctx)
	return &Group{under: cancel}, ctx
}

// SetLimit bounds how many functions run at once.
func (g *Group) SetLimit(n int) { g.group.SetLimit(n) }

// Go runs a function in a goroutine of its own.
func (g *Group) Go(work func() error) {
	g.group.Go(func() (err error) {
		defer func() {
			if value := recover(); value != nil {
				fault := &Panic{value, debug.Stack()}
				if inner, ok := value.(*Panic); ok {
					fault = inner // of a group that this one waited for
				}
				g.mutex.Lock()
				if g.fault == nil {
					g.fault = fault
				}
				g.mutex.Unlock()
				err = fault
			}
			if err != nil && g.under != nil {
				g.under(err)
			}
		}()
		return work()
	})
}

// Wait waits for all functions and returns the first error; it panics with a *Panic if one of them panicked.
func (g *Group) Wait() error {
	err := g.group.Wait()
	if g.under != nil {
		g.under(err)
	}
	if g.fault != nil {
		panic(g.fault)
	}
	return err
}
