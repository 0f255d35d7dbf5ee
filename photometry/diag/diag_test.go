package diag_test

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/diag"
)

func TestPos(t *testing.T) {
	for _, c := range []struct {
		pos  diag.Pos
		want string
	}{
		{diag.Pos{File: "dock.toml", Line: 8, Column: 27}, "dock.toml:8:27"},
		{diag.Pos{File: "dock.toml", Line: 8}, "dock.toml:8"},
		{diag.Pos{File: "dock.toml"}, "dock.toml"},
		{diag.Pos{}, ""},
	} {
		assert.Equal(t, c.want, c.pos.String())
	}
}

// The contract: FILE:LINE:COLUMN: key: what is wrong, what would be right.
func TestErrorText(t *testing.T) {
	place := diag.Pos{File: "dock.toml", Line: 8, Column: 27}
	for name, c := range map[string]struct {
		err  diag.Error
		want string
	}{
		"all":      {diag.Error{Pos: place, Key: "room.reflectance.ceiling", Wrong: "1.5 is above 1", Want: "a fraction from 0 to 1"}, "dock.toml:8:27: room.reflectance.ceiling: 1.5 is above 1, want a fraction from 0 to 1"},
		"no want":  {diag.Error{Pos: place, Key: "layout", Wrong: "is missing"}, "dock.toml:8:27: layout: is missing"},
		"no key":   {diag.Error{Pos: place, Wrong: "the file ends here", Want: "a candela"}, "dock.toml:8:27: the file ends here, want a candela"},
		"no place": {diag.Error{Key: "room", Wrong: "is missing"}, "room: is missing"},
		"cause":    {diag.Error{Pos: diag.Pos{File: "a.ies"}, Wrong: "cannot be read", Err: fs.ErrNotExist}, "a.ies: cannot be read: file does not exist"},
	} {
		assert.Equal(t, c.want, c.err.Error(), name)
	}
}

func TestErrorUnwraps(t *testing.T) {
	err := &diag.Error{Wrong: "cannot be read", Err: fs.ErrNotExist}
	require.ErrorIs(t, err, fs.ErrNotExist)
	assert.NoError(t, (&diag.Error{Wrong: "odd"}).Unwrap())
}

func TestListErr(t *testing.T) {
	var none diag.List
	require.NoError(t, none.Err(), "no fault is no error")

	var l diag.List
	l.Add(diag.Pos{File: "b.toml", Line: 1, Column: 1}, "title", "is empty", "a name")
	l.Add(diag.Pos{File: "a.toml", Line: 10, Column: 2}, "k4", "is late", "")
	l.Add(diag.Pos{File: "a.toml", Line: 9, Column: 30}, "k3", "is wide", "")
	l.Add(diag.Pos{File: "a.toml", Line: 9, Column: 4}, "k2", "came first", "")
	l.Add(diag.Pos{File: "a.toml", Line: 9, Column: 4}, "k2b", "came second", "")
	l = append(l, &diag.Error{Pos: diag.Pos{File: "a.toml"}, Key: "k1", Wrong: "is missing", Err: fs.ErrNotExist})
	err := l.Err()
	require.Error(t, err)
	assert.Equal(t, strings.Join([]string{
		"a.toml: k1: is missing: file does not exist",
		"a.toml:9:4: k2: came first",
		"a.toml:9:4: k2b: came second",
		"a.toml:9:30: k3: is wide",
		"a.toml:10:2: k4: is late",
		"b.toml:1:1: title: is empty, want a name",
	}, "\n"), err.Error(), "one fault a line, by place; what shares a place keeps its order")
	assert.Equal(t, "title", l[0].Key, "the list itself keeps the order of reading")
}

func TestListIsFoundInAnError(t *testing.T) {
	var l diag.List
	l.Add(diag.Pos{File: "dock.toml", Line: 3}, "title", "is 7", "a text")
	l = append(l, &diag.Error{Wrong: "cannot be read", Err: fs.ErrNotExist})
	err := fmt.Errorf("check: %w", l.Err())
	require.True(t, errors.As(err, new(diag.List)))
	require.ErrorIs(t, err, fs.ErrNotExist, "a fault's cause is seen through the list")
	var one *diag.Error
	require.ErrorAs(t, err, &one)
	var found diag.List
	require.ErrorAs(t, err, &found)
	assert.Len(t, found, 2)
	assert.False(t, errors.As(fs.ErrNotExist, new(diag.List)))
	assert.False(t, errors.As(error(&diag.Error{Wrong: "odd"}), new(diag.List)), "one fault alone is no list")
}

func TestListSortsAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 20).Draw(t, "faults")
		seed := rapid.Uint64().Draw(t, "seed")
		var l diag.List
		for _, line := range rand.New(rand.NewPCG(1, seed)).Perm(n) {
			l.Add(diag.Pos{File: "f", Line: line + 1}, "", "odd", "")
		}
		var sorted diag.List
		require.ErrorAs(t, l.Err(), &sorted)
		for i, e := range sorted {
			assert.Equal(t, i+1, e.Pos.Line)
		}
		assert.Len(t, l.Unwrap(), n)
	})
}

func TestNearest(t *testing.T) {
	keys := []string{"length", "width", "height", "work_plane", "reflectance", "mounting_height"}
	for word, want := range map[string]string{
		"legnth":         "length", // swapped
		"heigth":         "height",
		"widht":          "width",
		"workplane":      "work_plane", // left out
		"refelctance":    "reflectance",
		"Mounting-Hight": "mounting_height", // case, replaced, left out
		"length":         "length",
		"heeight":        "height", // doubled
		"colour":         "",
		"banana":         "",
	} {
		assert.Equal(t, want, diag.Nearest(word, keys), word)
	}
	assert.Empty(t, diag.Nearest("length", nil))
	assert.Equal(t, "rows", diag.Nearest("row", []string{"rows", "rowz"}), "the first of two as near")

	levels := []string{"storage-small", "warehouse-active-bulky", "warehouse-inactive", "Warehouse-offices"}
	assert.Equal(t, "Warehouse-offices", diag.Nearest("WAREHOUS", levels), "the shortest that starts with it, the case ignored")
	assert.Equal(t, "code-2022", diag.Nearest("code", []string{"code-2007", "code-2022", "code-2022-b"}), "the newest edition")
	assert.Equal(t, "storage-small", diag.Nearest("sto", levels))
	assert.Empty(t, diag.Nearest("st", levels), "two letters say too little")
	assert.Empty(t, diag.Nearest("", levels))
	assert.Equal(t, "rowd", diag.Nearest("row", []string{"row-spacing", "rowd"}), "one slip is nearer than many letters more")
}

// One slip of the pen is always forgiven in a word of four letters or more.
func TestNearestForgivesOneSlip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[a-z]{4,12}`).Draw(t, "word")
		at := rapid.IntRange(0, len(word)-1).Draw(t, "at")
		letter := rapid.StringMatching(`[a-z]`).Draw(t, "letter")
		for _, slip := range []string{word[:at] + word[at+1:], word[:at] + letter + word[at:], word[:at] + letter + word[at+1:], strings.ToUpper(word)} {
			assert.Equal(t, word, diag.Nearest(slip, []string{"0123456789abcdefghijklmnop", word}), slip)
		}
		if at > 0 {
			swapped := []byte(word)
			swapped[at-1], swapped[at] = swapped[at], swapped[at-1]
			assert.Equal(t, word, diag.Nearest(string(swapped), []string{word}))
		}
	})
}
