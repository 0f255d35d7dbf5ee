package interreflect
import ("testing";"time";"context")
func TestZZ(t *testing.T) {
	r := hall(1)
	scene := strips(t, r, 1)
	t0 := time.Now()
	e, _ := NewEnclosure(context.Background(), r, nil, Options{})
	t.Log("enclosure", time.Since(t0)); t0 = time.Now()
	p := scene.Prepare(); 
	for i := range e.faces { f := &e.faces[i]; v := make([]float64, len(e.areas)); fine := e.fineness(f, scene)
		for _, vs := range runs(f.vs) { for _, us := range runs(f.us) { e.direct(context.Background(), p, f, us, vs, fine, v) } }
		t.Log("direct", i, fine, time.Since(t0)); t0 = time.Now() }
	b := e.bouncer(); x := make([]float64, len(e.areas)); y := make([]float64, len(e.areas))
	for i := range x { x[i] = 1 }
	t.Log("bouncer", time.Since(t0)); t0 = time.Now()
	b.bounce(y, x)
	t.Log("bounce", time.Since(t0)); t0 = time.Now()
	s, _ := e.Solve(context.Background(), scene)
	t.Logf("solve %v %+v", time.Since(t0), s.balance); t0 = time.Now()
	g := r.WorkPlaneGrid(ft)
	xs, ys := graded(r.Length, r.Height-g.Origin.Z), graded(r.Width, r.Height-g.Origin.Z)
	t.Log(len(xs), len(ys))
	for i := range 1000 { s.at(g.Point(i*100%g.NX, i*100/g.NX), g.Normal) }
	t.Log("1000 points", time.Since(t0)); t0 = time.Now()
	v := make([]float64, g.NX*g.NY)
	ok, _ := s.smooth(context.Background(), g, v)
	t.Log("smooth", ok, time.Since(t0))
	worst := 0.0
	for i := 0; i < len(v); i += 97 { w := s.at(g.Point(i%g.NX, i/g.NX), g.Normal); if d := v[i]/w-1; d*d > worst*worst { worst = d; t.Log(i%g.NX, i/g.NX, d, w) } }
}
