package page

import (
	"bytes"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/display"
)

// Bounds of what a session remembers of what it was.
const (
	mostSteps   = 400     // that can be undone
	mostChanges = 200     // of which a tab can be told
	mostHistory = 2 << 20 // bytes of each of the two
	mostTabs    = 8       // whose order of requests is known
	mostToken   = 40      // bytes of the name of a tab or a gesture
)

// A moment is what an edit changes of a session.
type moment struct {
	name, text string
	files      map[string][]byte
	readings   display.Readings
}

func (v *session) moment() moment {
	return moment{v.name, v.text, maps.Clone(v.files), maps.Clone(v.readings)}
}

// A change leads from one moment to the next and back. Of the two texts it holds what differs, so that many steps of a long text are short.
type change struct {
	at                      int // where the texts begin to differ
	was, now                string
	nameWas, nameNow        string
	filesWas, filesNow      map[string][]byte // nil where they stay
	readingsWas, readingsIs display.Readings  // nil where they stay
	gesture                 string            // the typing or the dragging of which it is a part
	tab                     string            // in which it was done
	revision                int               // to which it led
}

// changeBetween is what leads from one moment to another.
func changeBetween(a, b moment) change {
	at, end, most := 0, 0, min(len(a.text), len(b.text))
	for at < most && a.text[at] == b.text[at] {
		at++
	}
	for end < most-at && a.text[len(a.text)-1-end] == b.text[len(b.text)-1-end] {
		end++
	}
	c := change{at: at, was: strings.Clone(a.text[at : len(a.text)-end]), now: strings.Clone(b.text[at : len(b.text)-end]), nameWas: a.name, nameNow: b.name}
	if !maps.EqualFunc(a.files, b.files, bytes.Equal) {
		c.filesWas, c.filesNow = a.files, b.files
	}
	if !c.idle() && !maps.Equal(a.readings, b.readings) { // another job, which has none of them
		c.readingsWas, c.readingsIs = a.readings, b.readings
	}
	return c
}

// idle tells that nothing differs.
func (c change) idle() bool {
	return c.was == c.now && c.nameWas == c.nameNow && c.filesWas == nil && c.filesNow == nil
}

// back is the step from the later moment to the earlier.
func (c change) back() change {
	return change{at: c.at, was: c.now, now: c.was, nameWas: c.nameNow, nameNow: c.nameWas, filesWas: c.filesNow, filesNow: c.filesWas,
		readingsWas: c.readingsIs, readingsIs: c.readingsWas}
}

// after is the moment to which a step leads from the one before it.
func (c change) after(m moment) moment {
	m.text, m.name = m.text[:c.at]+c.now+m.text[c.at+len(c.was):], c.nameNow
	if c.filesWas != nil || c.filesNow != nil {
		m.files = maps.Clone(c.filesNow)
	}
	if c.readingsWas != nil || c.readingsIs != nil {
		m.readings = maps.Clone(c.readingsIs)
	}
	return m
}

// size is about how many bytes a step holds.
func (c change) size() int {
	n := 200 + len(c.was) + len(c.now)
	for name, content := range c.filesWas {
		if !bytes.Equal(content, c.filesNow[name]) {
			n += len(content)
		}
	}
	for name, content := range c.filesNow {
		if !bytes.Equal(content, c.filesWas[name]) {
			n += len(content)
		}
	}
	return n + 40*(len(c.readingsWas)+len(c.readingsIs))
}

// lastOf drops the oldest steps until no more than so many are left, within their bytes.
func lastOf(steps []change, most int) []change {
	size, first := 0, len(steps)
	for first > 0 && len(steps)-first < most {
		if size += steps[first-1].size(); size > mostHistory && first < len(steps) {
			break
		}
		first--
	}
	if first == 0 {
		return steps
	}
	return append([]change(nil), steps[first:]...)
}

// A history is what a session was before, and what was undone of it.
type history struct {
	past, future []change
	changes      []change // all of them in turn, what is undone and done again too
	revision     int      // of the session, counted up with every change
	tabs         []sender // the last that were heard of
}

// A sender says of a request which page it comes from.
type sender struct {
	tab      string // "" of a form that does not say
	revision int    // that the page showed
	order    int    // of its requests, from 1; 0 of a form that does not say
	gesture  string
}

func senderOf(posted url.Values) sender {
	token := func(key string) string {
		text := posted.Get(key)
		return strings.ToValidUTF8(text[:min(len(text), mostToken)], "")
	}
	number := func(key string) int {
		n, err := strconv.Atoi(posted.Get(key))
		if err != nil || n < 0 {
			return -1
		}
		return n
	}
	from := sender{gesture: token("gesture"), revision: number("revision"), order: max(0, number("order"))}
	if from.revision >= 0 {
		from.tab = token("tab")
	}
	return from
}

// late tells that a later request of the same tab came before this one: a browser that sends a newer one lets go of the older, which may yet arrive.
func (h *history) late(from sender) bool {
	if from.tab == "" || from.order == 0 {
		return false
	}
	i := slices.IndexFunc(h.tabs, func(t sender) bool { return t.tab == from.tab })
	if i < 0 {
		h.tabs = append(h.tabs[max(0, len(h.tabs)-mostTabs+1):], from)
		return false
	}
	if from.order < h.tabs[i].order {
		return true
	}
	h.tabs[i].order = from.order
	return false
}

// record keeps what a request made of a session. What is typed into one field, or dragged by one pull, is one step.
func (h *history) record(before, after moment, from sender) {
	c := changeBetween(before, after)
	if c.idle() {
		return
	}
	h.changed(c, from.tab)
	h.future = nil
	if n := len(h.past); n > 0 && from.gesture != "" && h.past[n-1].gesture == from.gesture {
		c = changeBetween(h.past[n-1].back().after(before), after)
		h.past = h.past[:n-1]
	}
	if c.gesture = from.gesture; !c.idle() {
		h.past = lastOf(append(h.past, c), mostSteps)
	}
}

func (h *history) changed(c change, tab string) {
	h.revision++
	c.revision, c.tab = h.revision, tab
	h.changes = lastOf(append(h.changes, c), mostChanges)
}

// undo goes a step back, or forth again; it tells whether there was one.
func (v *session) undo(forth bool, tab string) bool {
	from, to := &v.past, &v.future
	if forth {
		from, to = to, from
	}
	n := len(*from)
	if n == 0 {
		return false
	}
	c := (*from)[n-1]
	*from, *to = (*from)[:n-1], append(*to, c)
	if !forth {
		c = c.back()
	}
	v.take(c.after(v.moment()))
	v.changed(c, tab)
	return true
}

func (v *session) take(m moment) {
	v.name, v.text, v.files, v.readings = m.name, m.text, m.files, m.readings
}

// overtaken tells that another tab changed the session since the sender's page was made.
func (h *history) overtaken(from sender) bool {
	if from.tab == "" || from.revision >= h.revision {
		return false
	}
	for _, c := range h.changes {
		if c.revision > from.revision && c.tab != from.tab {
			return true
		}
	}
	return len(h.changes) == 0 || h.changes[0].revision > from.revision+1 // more than is known of
}

// asSeen is the session as the sender's page showed it, as far back as that is known, without a history.
func (v *session) asSeen(from sender) *session {
	m := v.moment()
	for i := len(v.changes) - 1; i >= 0 && v.changes[i].revision > from.revision; i-- {
		m = v.changes[i].back().after(m)
	}
	old := &session{saved: v.saved, space: v.space}
	old.take(m)
	return old
}
