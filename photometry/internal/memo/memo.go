// Package memo keeps what was worked out under a key that names all that it depends on, so that equal work is done once. What it
// keeps stays within a bound: what was not asked for longest goes first.
//
//	kept := memo.New[*Table](64 << 20)
//	table, err := kept.Get(ctx, key, func() (*Table, int64, error) { ... })
//
// A key is a digest of content (SHA-256 here), so that two keys are equal only if what they stand for is. Values are shared among
// those who ask and must not be changed.
package memo

import (
	"container/list"
	"context"
	"crypto/sha256"
	"sync"
)

// A Key is the digest of all that a value depends on.
type Key = [sha256.Size]byte

// A Cache keeps values by key. It may be used by several goroutines at once. A nil *Cache keeps nothing.
type Cache[V any] struct {
	mutex        sync.Mutex
	most, held   int64
	entries      map[Key]*list.Element // of *entry[V]
	order        list.List             // asked for last first
	asked, found int
}

type entry[V any] struct {
	key   Key
	done  chan struct{} // closed when value is there, or will never be
	ready bool
	value V
	bytes int64
}

// New returns a cache that keeps about as many bytes as given.
func New[V any](bytes int64) *Cache[V] {
	return &Cache[V]{most: bytes, entries: map[Key]*list.Element{}}
}

// Get returns the value of the key: the one that is kept, or else the one that work makes, with the bytes it takes. Several that ask
// for one key at once wait for the first. An error is not kept; those who wait then try themselves. A value of more than a quarter
// of the bound is not kept either.
func (c *Cache[V]) Get(ctx context.Context, key Key, work func() (V, int64, error)) (V, error) {
	if c == nil {
		value, _, err := work()
		return value, err
	}
	for first := true; ; first = false {
		e, mine := c.claim(key, first)
		if mine {
			return c.fill(e, work)
		}
		select {
		case <-e.done:
		case <-ctx.Done():
			var none V
			return none, ctx.Err()
		}
		if e.ready {
			return e.value, nil
		}
	}
}

// Has tells whether the value of the key is kept or being made.
func (c *Cache[V]) Has(key Key) bool {
	if c == nil {
		return false
	}
	c.mutex.Lock()
	defer c.mutex.Unlock()
	_, is := c.entries[key]
	return is
}

// Put keeps a value that was made on the way to another, unless one is kept or being made.
func (c *Cache[V]) Put(key Key, value V, bytes int64) {
	if c == nil || c.Has(key) {
		return
	}
	if e, mine := c.claim(key, false); mine {
		_, _ = c.fill(e, func() (V, int64, error) { return value, bytes, nil }) // which does not err
	}
}

// claim returns the entry of the key; mine is true for who must fill it.
func (c *Cache[V]) claim(key Key, first bool) (e *entry[V], mine bool) {
	c.mutex.Lock()
	defer c.mutex.Unlock()
	if first {
		c.asked++
	}
	if at, ok := c.entries[key]; ok {
		if first {
			c.found++
		}
		c.order.MoveToFront(at)
		return at.Value.(*entry[V]), false
	}
	e = &entry[V]{key: key, done: make(chan struct{})}
	c.entries[key] = c.order.PushFront(e)
	return e, true
}

// fill does the work; the entry goes where it fails, panics, or makes too much.
func (c *Cache[V]) fill(e *entry[V], work func() (V, int64, error)) (value V, err error) {
	defer func() {
		c.mutex.Lock()
		defer c.mutex.Unlock()
		if !e.ready || e.bytes > c.most/4 {
			c.drop(c.entries[e.key])
		}
		c.held += e.bytes
		for at := c.order.Back(); at != nil && c.held > c.most; {
			before := at.Prev()
			if at.Value.(*entry[V]).ready {
				c.drop(at)
			}
			at = before
		}
		close(e.done)
	}()
	value, bytes, err := work()
	if err == nil {
		e.value, e.bytes, e.ready = value, bytes, true
	}
	return value, err
}

func (c *Cache[V]) drop(at *list.Element) {
	e := at.Value.(*entry[V])
	c.order.Remove(at)
	delete(c.entries, e.key)
	c.held -= e.bytes
}

// Counts returns how many values were asked for and how many of these were kept or being made already.
func (c *Cache[V]) Counts() (asked, found int) {
	if c == nil {
		return 0, 0
	}
	c.mutex.Lock()
	defer c.mutex.Unlock()
	return c.asked, c.found
}
