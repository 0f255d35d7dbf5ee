package drawn

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strings"
)

// NotFinite returns the paths of all numbers in a value, however deep, that are infinite or NaN, but for paths that match the pattern of those
// that may be. Elements of lists are told by [].
func NotFinite(name string, value any, mayBeInfinite, mayBeNone *regexp.Regexp) []string {
	w := walk{infinite: mayBeInfinite, none: mayBeNone, seen: map[uintptr]bool{}, found: map[string]bool{}}
	w.of(name, reflect.ValueOf(value))
	return w.paths
}

type walk struct {
	infinite, none *regexp.Regexp
	seen           map[uintptr]bool
	found          map[string]bool
	paths          []string
}

func (w *walk) of(path string, v reflect.Value) {
	switch v.Kind() { //nolint:exhaustive // the others hold no number that could be infinite
	case reflect.Float64, reflect.Float32:
		if x := v.Float(); math.IsInf(x, 0) && !w.infinite.MatchString(path) || math.IsNaN(x) && !w.none.MatchString(path) {
			if at := fmt.Sprintf("%s is %v", path, x); !w.found[at] {
				w.found[at] = true
				w.paths = append(w.paths, at)
			}
		}
	case reflect.Pointer:
		if !v.IsNil() && !w.seen[v.Pointer()] {
			w.seen[v.Pointer()] = true
			w.of(path, v.Elem())
		}
	case reflect.Interface:
		if !v.IsNil() {
			w.of(path, v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			w.of(path+"[]", v.Index(i))
		}
	case reflect.Map:
		for entries := v.MapRange(); entries.Next(); {
			w.of(path+"[]", entries.Value())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			w.of(strings.TrimPrefix(path+"."+v.Type().Field(i).Name, "."), v.Field(i))
		}
	}
}
