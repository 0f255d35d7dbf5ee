package phrases

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// verbs are what values stand for in the words of figures.
var verbs = regexp.MustCompile(`%[-+.\d]*[a-z]`)

// No phrase is missing in a language, and all of a key name the same values, those of figures in the same
// order.
func TestNoPhraseIsMissing(t *testing.T) {
	for key, of := range phrases() {
		require.Len(t, of, len(Languages()), key)
		for l, said := range of {
			assert.NotEmpty(t, said, "%s in %s", key, l)
			assert.Equal(t, namesOf(of[English]), namesOf(said), "%s in %s", key, l)
			if strings.HasPrefix(key, "figure.") && key != "figure" {
				assert.Equal(t, verbs.FindAllString(of[English], -1), verbs.FindAllString(said, -1), "%s in %s", key, l)
			}
			for _, edge := range []func(string) bool{func(s string) bool { return strings.HasPrefix(s, " ") },
				func(s string) bool { return strings.HasSuffix(s, " ") },
				func(s string) bool { return strings.HasSuffix(s, ".") }} {
				assert.Equal(t, edge(of[English]), edge(said), "%s in %s begins or ends otherwise", key, l)
			}
		}
	}
}

// namesOf are the names of a phrase, each once, in order.
func namesOf(said string) []string {
	return slices.Compact(slices.Sorted(slices.Values(names.FindAllString(said, -1))))
}

// calls walks the calls of all our Go files below a folder but tests, with what they are of.
func calls(t *testing.T, folder string, see func(place token.Position, of string, call *ast.CallExpr)) {
	t.Helper()
	err := filepath.WalkDir(folder, func(path string, _ fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				if of, ok := call.Fun.(*ast.SelectorExpr); ok {
					see(set.Position(call.Pos()), of.Sel.Name, call)
				}
			}
			return true
		})
		return nil
	})
	require.NoError(t, err)
}

// literal is the text of a literal; ok is false for anything else.
func literal(e ast.Expr) (text string, ok bool) {
	l, ok := e.(*ast.BasicLit)
	if !ok || l.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(l.Value)
	return text, err == nil
}

// Every phrase that is asked for by its key is there, and has the names that get values and no other.
func TestCallsNameWhatPhrasesName(t *testing.T) {
	found := 0
	calls(t, "../proposal", func(place token.Position, of string, call *ast.CallExpr) {
		language, _ := call.Fun.(*ast.SelectorExpr).X.(*ast.SelectorExpr)
		if of != "Say" && of != "Count" || language == nil || language.Sel.Name != "In" {
			return
		}
		at := map[string]int{"Say": 0, "Count": 1}[of]
		key, ok := literal(call.Args[at])
		if !ok || strings.HasSuffix(key, ".") {
			return
		}
		found++
		given := []string{}
		if of == "Count" {
			key, given = key+".many", append(given, "{n}")
		}
		require.NotEmpty(t, phrases()[key], "%s: there is no %s", place, key)
		for i := at + 1; i < len(call.Args); i += 2 {
			name, ok := literal(call.Args[i])
			if !ok {
				return // values that are gathered first
			}
			given = append(given, "{"+name+"}")
		}
		slices.Sort(given)
		assert.Equal(t, append([]string{}, namesOf(phrases()[key][English])...), given, "%s: %s", place, key)
	})
	assert.Greater(t, found, 100)
}

// worded are beginnings of keys that are put together with what is said: a statistic, a month, an LED tube's type.
var worded = regexp.MustCompile(`^(compared|figure|grid|level|limit|mind\.outage|money\.rebate|month|outcome|side|spaces\.answer|statistic|unit|why|word|work\.tube)\.`)

// Every phrase is asked for: by its key, its key with the number of things, or one that is put together.
func TestEveryPhraseIsAskedFor(t *testing.T) {
	asked := map[string]bool{}
	for _, folder := range []string{".", "../proposal"} {
		files, err := filepath.Glob(folder + "/*.go")
		require.NoError(t, err)
		for _, path := range files {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			require.NoError(t, err)
			ast.Inspect(file, func(n ast.Node) bool {
				if e, ok := n.(ast.Expr); ok {
					if text, ok := literal(e); ok {
						asked[text] = true
					}
				}
				return true
			})
		}
	}
	for key := range phrases() {
		counted := strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(key, ".one"), ".many"), ".plain")
		assert.True(t, asked[key] || asked[counted] || worded.MatchString(key), key)
	}
}

// Every word that figures ask for is a phrase, and every phrase of figures is asked for.
func TestFiguresHaveTheirWords(t *testing.T) {
	words, asked := Spanish.Figures(), map[string]bool{}
	calls(t, "../../../../plots", func(place token.Position, of string, call *ast.CallExpr) {
		if of != "of" {
			return
		}
		if word, ok := literal(call.Args[0]); ok {
			assert.NotEmpty(t, words[word], "%s: %q", place, word)
			asked[word] = true
		}
	})
	for word := range words {
		assert.True(t, asked[word] || word == "ft", "no figure asks for %q", word) // units have no literal
	}
	assert.Nil(t, English.Figures())
}

func TestSay(t *testing.T) {
	day := time.Date(2026, 4, 30, 0, 0, 0, 0, time.UTC)
	assert.Equal(t, "30 April 2026", English.Day(day))
	assert.Equal(t, "30 de abril de 2026", Spanish.Day(day))
	assert.Equal(t, "1 luminaria", Spanish.Count(1, "luminaire"))
	assert.Equal(t, "0 luminarias", Spanish.Count(0, "luminaire"))
	assert.Equal(t, "a, b", English.And([]string{"a, b"}))
	assert.Equal(t, "a y b", Spanish.And([]string{"a", "b"}))
	assert.Equal(t, "frente a", Spanish.Of("compared.", "against"))
	assert.Equal(t, "versus", Spanish.Of("compared.", "versus"), "nobody's phrase stays")
	assert.Panics(t, func() { English.Say("no such") })
	assert.Panics(t, func() { English.Say("money.years") })
	assert.Panics(t, func() { English.Say("money.years", "n", 1, "m", 2) })
	assert.Equal(t, "{n} years", English.Say("money.years", "n", "{n}"), "a value is no phrase")
}
