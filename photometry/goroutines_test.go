package photometry_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Goroutines that are started otherwise, with the reason why no panic of theirs is lost.
var started = map[string]string{
	"photometry/internal/crew/crew.go": "it is what catches the panics of the others",
	"photometry/internal/crew/each.go": "it goes by the group of crew.go, in the same package",
	"cmd/lampswap/run.go":              "context.AfterFunc puts the signals back, which is a function of the standard library",
}

// The runtime ends a program whose goroutine panics, with a trace in place of a message and with exit code 2, which says that the input is
// wrong. So a goroutine is one of a crew.Group, or its function is made by exit.Caught: group.Go(exit.Caught(work)) of an errgroup, or
// go func() { failed <- exit.Caught(work)() }().
func TestNoPanicIsLost(t *testing.T) {
	files, goroutines := 0, 0
	err := filepath.WalkDir("..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if name := entry.Name(); entry.IsDir() && (name == "testdata" || len(name) > 2 && strings.HasPrefix(name, ".")) {
			return filepath.SkipDir
		}
		if filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		places := token.NewFileSet()
		file, err := parser.ParseFile(places, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		files++
		name, err := filepath.Rel("..", path)
		if err != nil {
			return err
		}
		found, lost := goroutinesOf(file)
		goroutines += found
		if _, known := started[filepath.ToSlash(name)]; known {
			assert.NotEmpty(t, lost, "%s starts none any more: take it out of the list", path)
			return nil
		}
		for _, node := range lost {
			t.Errorf("%s: a panic here would be lost", places.Position(node.Pos()))
		}
		return nil
	})
	require.NoError(t, err)
	require.NotZero(t, files, "the walk found no Go file")
	require.NotZero(t, goroutines, "the walk found no goroutine")
}

// goroutinesOf counts what starts goroutines in a file, and returns that of it whose panics nobody catches.
func goroutinesOf(file *ast.File) (found int, lost []ast.Node) {
	crewed := false
	for _, spec := range file.Imports {
		crewed = crewed || spec.Path.Value == `"lampswap/photometry/internal/crew"`
	}
	grouped := false
	ast.Inspect(file, func(node ast.Node) bool {
		switch n := node.(type) {
		case *ast.GoStmt:
			if found++; !sendsCaught(n.Call.Fun) {
				lost = append(lost, n)
			}
		case *ast.SelectorExpr:
			if isSelector(n, "sync", "WaitGroup") {
				lost = append(lost, n)
			}
			grouped = grouped || isSelector(n, "errgroup", "Group") || isSelector(n, "errgroup", "WithContext")
		case *ast.CallExpr:
			switch called, _ := n.Fun.(*ast.SelectorExpr); {
			case called == nil:
			case called.Sel.Name == "AfterFunc":
				found++
				lost = append(lost, n)
			case called.Sel.Name == "Go" && len(n.Args) == 1:
				if found++; !isCaught(n.Args[0]) && (!crewed || grouped) {
					lost = append(lost, n)
				}
			}
		}
		return true
	})
	return found, lost
}

// sendsCaught tells a function that does nothing but send what a caught one returns.
func sendsCaught(function ast.Expr) bool {
	literal, ok := function.(*ast.FuncLit)
	if !ok || len(literal.Body.List) != 1 {
		return false
	}
	send, ok := literal.Body.List[0].(*ast.SendStmt)
	if !ok {
		return false
	}
	call, ok := send.Value.(*ast.CallExpr)
	return ok && isCaught(call.Fun)
}

// isCaught tells a call of exit.Caught.
func isCaught(e ast.Expr) bool {
	call, ok := e.(*ast.CallExpr)
	if !ok {
		return false
	}
	called, ok := call.Fun.(*ast.SelectorExpr)
	return ok && isSelector(called, "exit", "Caught")
}

func isSelector(s *ast.SelectorExpr, of, name string) bool {
	from, ok := s.X.(*ast.Ident)
	return ok && from.Name == of && s.Sel.Name == name
}

// What the walk takes for lost, and what not.
func TestGoroutinesAreFound(t *testing.T) {
	const crew = "import \"lampswap/photometry/internal/crew\"\n"
	for _, c := range []struct {
		imports, body string
		found, lost   int
	}{
		{"", `go f()`, 1, 1},
		{"", `go func() { defer catch(); f() }()`, 1, 1},
		{"", `go func() { c <- exit.Caught(f)() }()`, 1, 0},
		{"", `go func() { c <- exit.Caught(f)(); g() }()`, 1, 1},
		{"", `var w sync.WaitGroup; w.Go(f)`, 1, 2},
		{"", `var g errgroup.Group; g.Go(f)`, 1, 1},
		{"", `g, ctx := errgroup.WithContext(ctx); g.Go(exit.Caught(f))`, 1, 0},
		{"", `context.AfterFunc(ctx, f)`, 1, 1},
		{"", `f(); g.Wait()`, 0, 0},
		{crew, `var g crew.Group; g.Go(f)`, 1, 0},
		{crew, `var g crew.Group; g.Go(f); var w sync.WaitGroup`, 1, 1},
		{crew, `var g errgroup.Group; g.Go(f)`, 1, 1},
	} {
		file, err := parser.ParseFile(token.NewFileSet(), "a.go", "package a\n"+c.imports+"func a() { "+c.body+" }\n", 0)
		require.NoError(t, err)
		found, lost := goroutinesOf(file)
		assert.Equal(t, c.found, found, c.body)
		assert.Len(t, lost, c.lost, c.body)
	}
}
