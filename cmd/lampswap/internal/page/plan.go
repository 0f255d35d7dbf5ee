package page

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"image/png"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/display"
	"lampswap/cmd/lampswap/internal/page/form"
	"lampswap/cmd/lampswap/internal/page/length"
	"lampswap/cmd/lampswap/internal/page/plan"
	"lampswap/cmd/lampswap/internal/page/tomltext"
)

// postPlan changes what the plan shows: it moves a thing to a place, or by a step, copies it, takes it out, or adds one.
func postPlan(r *http.Request, v *session) error {
	t, err := tomltext.Read(v.text)
	if err != nil {
		v.note = "Nothing was changed: the text of the job has a fault that must be mended first."
		return nil //nolint:nilerr // said on the page, with the place of the fault
	}
	do := r.PostForm.Get("do")
	if strings.HasPrefix(do, "add-") {
		text, err := form.Apply(v.text, url.Values{"do": {do}}, nil, nil)
		if err != nil {
			return err
		}
		return v.setText(text)
	}
	v.made, err = editPlan(t, do, r.PostForm)
	switch {
	case errors.Is(err, plan.ErrNothing):
		v.note = "Nothing was changed: that cannot be done with what is chosen on the plan."
		return nil
	case err != nil:
		return err
	}
	return v.setText(t.String())
}

// editPlan does to a thing what a button or the pointer says; it returns the thing that it made, or the one that it moved.
func editPlan(t *tomltext.Text, do string, posted url.Values) (made string, err error) {
	p, id := plan.Of(t), posted.Get("thing")
	thing, ok := p.Find(id)
	if do == "place" {
		return "", p.Place(p.Lattice(id))
	}
	if !ok {
		return "", plan.ErrNothing
	}
	switch do {
	case "copy":
		return p.Copy(id)
	case "delete":
		return "", p.Delete(id)
	}
	step := map[bool]float64{true: 1. / 12, false: 0.01}[p.Imperial]
	by, isStep := map[string][2]float64{"left": {-step, 0}, "right": {step, 0}, "up": {0, step}, "down": {0, -step}}[do]
	if isStep {
		return id, p.Move(id, thing.X+by[0], thing.Y+by[1])
	}
	x, y, err := placeOf(posted, thing, p.Imperial)
	if err != nil {
		return "", err
	}
	return id, p.Move(id, x, y)
}

// placeOf reads where a thing is to be; a blank leaves it there.
func placeOf(posted url.Values, thing plan.Thing, imperial bool) (x, y float64, err error) {
	x, y = thing.X, thing.Y
	for key, to := range map[string]*float64{"x": &x, "y": &y} {
		text := strings.TrimSpace(posted.Get(key))
		if text == "" {
			continue
		}
		var ok bool
		if *to, ok = length.Parse(text, imperial); !ok {
			return 0, 0, plan.ErrNothing
		}
	}
	return x, y, nil
}

// showLight sends a layer of a grid's light as a picture that lies over the plan, or its values. As a map, it is kept under an address that names what
// it shows.
func (s *site) showLight(w http.ResponseWriter, r *http.Request, snap *snapshot) error {
	which := r.PathValue("which")
	i, err := strconv.Atoi(r.PathValue("grid"))
	result, wrong := s.shownResult(r.Context(), snap)
	if wrong != nil {
		return wrong
	}
	layer := display.MapAt(result, strings.TrimSuffix(which, ".png"))
	if err != nil || i < 0 || i >= len(result.Existing().Grids) || layer < 0 && which != "values.json" {
		return badRequestError{errors.New("there is no such light")}
	}
	var content bytes.Buffer
	key, kind := display.LightKeys(result, i), "application/json"
	if which == "values.json" {
		err = json.NewEncoder(&content).Encode(display.ValuesOf(result, i))
	} else {
		kind, err = "image/png", png.Encode(&content, display.LightPicture(result, i, layer))
	}
	if err != nil {
		return fmt.Errorf("light of grid %d: %w", i, err)
	}
	w.Header().Set("Content-Type", kind)
	if k := r.URL.Query().Get("k"); k != "" && slices.Contains(key, k) {
		w.Header().Set("Cache-Control", "private, max-age=86400, immutable")
	}
	_, _ = content.WriteTo(w) // the visitor may be gone
	return nil
}
