package house

import (
	"math"

	"suncellar/internal/plan"
)

// edge is one edge of the room before it is split at grade, room to the left.
type edge struct {
	name    string
	path    string
	a, b    Point
	build   string
	glazing string
	behind  plan.Behind
}

// edges turns the short or the long form into edges, anticlockwise.
func (r *resolver) edges() []edge {
	if r.p.Section != nil {
		return r.longForm(r.p.Section)
	}
	return r.shortForm(r.p.Shape)
}

func (r *resolver) shortForm(s *plan.Shape) []edge {
	r.h.Length = s.Length
	floor, back, front := -s.Depth, Point{s.Width, s.BackHeight}, Point{0, s.FrontHeight}
	corners := []edge{
		{name: "floor", path: "shape.floor", a: Point{0, floor}, b: Point{s.Width, floor}, build: s.Floor},
		{name: "back wall", path: "shape.back_wall", a: Point{s.Width, floor}, b: back, build: s.BackWall},
	}
	ridge := back
	if s.Kind == "pit" {
		up, down := math.Tan(*s.GlazingSlope), math.Tan(s.BackRoofSlope)
		x := (s.BackHeight - s.FrontHeight + s.Width*down) / (up + down)
		ridge = Point{x, s.FrontHeight + x*up}
		if !(x > 0.05*s.Width && x < 0.98*s.Width && ridge.Z > s.BackHeight-1e-9) {
			r.fail("shape.glazing_slope", "make the glazing steeper, the back wall higher or the back roof flatter",
				"glazing and back roof do not meet over the house: they would meet %.2f m behind the front wall at %.2f m above grade, must be between 0 and %.2f m and above the back wall",
				ridge.X, ridge.Z, s.Width)
			return nil
		}
		corners = append(corners, edge{name: "back roof", path: "shape.back_roof", a: back, b: ridge, build: s.BackRoof})
	} else if s.BackHeight <= s.FrontHeight {
		r.fail("shape.back_height", "the glazing of a lean-to rises to the back wall",
			"back wall is %.2f m above grade, must be higher than the front wall's %.2f m", s.BackHeight, s.FrontHeight)
		return nil
	}
	return append(corners,
		edge{name: "glazing", path: "shape.glazing", a: ridge, b: front, glazing: s.Glazing},
		edge{name: "front wall", path: "shape.front_wall", a: front, b: Point{0, floor}, build: s.FrontWall})
}

func (r *resolver) longForm(s *plan.Section) []edge {
	r.h.Length = s.Length
	at := Point{s.Start[0], s.Start[1]}
	var list []edge
	for i, e := range s.Edges {
		to := Point{e.To[0], e.To[1]}
		list = append(list, edge{name: e.Name, path: pathIndex("section.edges", i), a: at, b: to, build: e.Build, glazing: e.Glazing, behind: e.Behind})
		at = to
	}
	if area(list) < 0 { // written clockwise: turn every edge about
		turned := make([]edge, len(list))
		for i, e := range list {
			e.a, e.b = e.b, e.a
			turned[len(list)-1-i] = e
		}
		list = turned
	}
	return list
}

func area(list []edge) float64 {
	sum := 0.0
	for _, e := range list {
		sum += e.a.X*e.b.Z - e.b.X*e.a.Z
	}
	return sum / 2
}

// section makes the faces of the edges: the cold sink is let into the floor, and what passes grade is split there.
func (r *resolver) section(edges []edge) {
	h := r.h
	h.FloorZ = math.Inf(1)
	for _, e := range edges {
		h.FloorZ = min(h.FloorZ, e.a.Z)
	}
	h.SinkZ = h.FloorZ
	if r.p.ColdSink != nil {
		edges = r.sink(edges)
	}
	for _, e := range edges {
		h.Section = append(h.Section, e.a)
		parts := []edge{e}
		if z0, z1 := min(e.a.Z, e.b.Z), max(e.a.Z, e.b.Z); z0 < -1e-9 && z1 > 1e-9 && e.glazing == "" {
			f := -e.a.Z / (e.b.Z - e.a.Z)
			mid := Point{e.a.X + f*(e.b.X-e.a.X), 0}
			lower, upper := e, e
			if e.a.Z < 0 {
				lower.b, upper.a = mid, mid
			} else {
				upper.b, lower.a = mid, mid
			}
			lower.name, upper.name = e.name+" below grade", e.name+" above grade"
			parts = []edge{lower, upper}
		}
		for _, part := range parts {
			r.addEdgeFace(part, e.name)
		}
	}
	h.Front, h.Back = r.footprint()
}

// sink lets the cold sink into the floor edge that spans it.
func (r *resolver) sink(edges []edge) []edge {
	s, h := r.p.ColdSink, r.h
	x0 := frontX(edges, h.FloorZ)
	from, to := x0+s.From, x0+s.To
	for i, e := range edges {
		level := math.Abs(e.a.Z-h.FloorZ) < 1e-9 && math.Abs(e.b.Z-h.FloorZ) < 1e-9
		if !level || from < e.a.X-1e-9 || to > e.b.X+1e-9 {
			continue
		}
		low := h.FloorZ - s.Depth
		h.SinkZ, h.Sink = low, true
		piece := func(name string, a, b Point) edge {
			return edge{name: name, path: e.path, a: a, b: b, build: e.build, behind: e.behind}
		}
		var cut []edge
		if from > e.a.X+1e-9 {
			cut = append(cut, piece(e.name, e.a, Point{from, h.FloorZ}))
		}
		cut = append(cut,
			piece("sink front", Point{from, h.FloorZ}, Point{from, low}),
			piece("sink floor", Point{from, low}, Point{to, low}),
			piece("sink back", Point{to, low}, Point{to, h.FloorZ}))
		if to < e.b.X-1e-9 {
			cut = append(cut, piece(e.name+" behind sink", Point{to, h.FloorZ}, e.b))
		}
		return append(append(append([]edge{}, edges[:i]...), cut...), edges[i+1:]...)
	}
	r.fail("cold_sink", "from and to count from the inside of the front wall",
		"cold sink from %.2f m to %.2f m does not lie in a level floor", s.From, s.To)
	return edges
}

// frontX is where the floor begins at the front [m].
func frontX(edges []edge, floorZ float64) float64 {
	x := math.Inf(1)
	for _, e := range edges {
		if math.Abs(e.a.Z-floorZ) < 1e-9 {
			x = min(x, e.a.X)
		}
	}
	return x
}

func (r *resolver) addEdgeFace(e edge, of string) {
	h := r.h
	dx, dz := e.b.X-e.a.X, e.b.Z-e.a.Z
	l := math.Hypot(dx, dz)
	nx, nz := dz/l, -dx/l // outward normal: the room is to the left
	f := Face{Name: e.name, Of: of, A: e.a, B: e.b, Area: l * h.Length, Z0: min(e.a.Z, e.b.Z), Z1: max(e.a.Z, e.b.Z)}
	f.Tilt = math.Acos(max(-1, min(1, nz)))
	f.Azimuth = h.Facing
	if nx > 1e-12 {
		f.Azimuth = turn(h.Facing + math.Pi)
	}
	f.Behind, f.FixedC = r.behind(e.behind, (e.a.Z+e.b.Z)/2, nz)
	switch {
	case e.glazing != "":
		r.glaze(&f, e.glazing, e.path)
	case e.build != plan.BareEarth:
		f.Build = r.buildOf(e.build, e.path)
	case f.Behind != Soil:
		r.fail(e.path, "give it a build", "%s is bare earth but has no soil behind it", e.name)
	}
	h.Faces = append(h.Faces, f)
}

func (r *resolver) glaze(f *Face, name, path string) {
	g, err := Glass(r.p, name)
	if err != nil {
		r.fail(path, "", "%s", err.Error())
		return
	}
	f.Glass, f.Glazing = &g, name
}

// behind tells what is behind a face whose middle is at height z and whose normal's upward part is nz.
func (r *resolver) behind(b plan.Behind, z, nz float64) (Behind, float64) {
	switch b.What {
	case "air":
		return Air, 0
	case "soil":
		return Soil, 0
	case "adiabatic":
		return Adiabatic, 0
	case "fixed":
		return Fixed, b.FixedC
	}
	if z < -1e-9 || z < 1e-9 && nz < -0.7 {
		return Soil, 0
	}
	return Air, 0
}

// footprint is where the outer faces of front and back wall stand at grade; of a house on stilts, where it ends.
func (r *resolver) footprint() (front, back float64) {
	front, back = math.Inf(1), math.Inf(-1)
	for i := range r.h.Faces {
		f := &r.h.Faces[i]
		t := 0.0
		if f.Build != nil {
			t = f.Build.Thickness()
		}
		if f.Z0 > 1e-6 || f.End != 0 {
			continue
		}
		front = min(front, min(f.A.X, f.B.X)-offset(f, t))
		back = max(back, max(f.A.X, f.B.X)+offset(f, t))
	}
	if front > back {
		for _, p := range r.h.Section {
			front, back = min(front, p.X), max(back, p.X)
		}
	}
	return front, back
}

// offset is how far a face of thickness t reaches out sideways.
func offset(f *Face, t float64) float64 { return t * math.Sin(f.Tilt) }

func turn(a float64) float64 {
	a = math.Mod(a, 2*math.Pi)
	if a < 0 {
		a += 2 * math.Pi
	}
	return a
}
