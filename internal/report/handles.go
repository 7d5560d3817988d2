package report

import (
	"fmt"
	"math"

	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// Handles are what can be taken hold of in the section of a house: corners and edges, beds, rows of drums, the cold sink, boards in the
// ground, layers of builds, the cover. Each tells which values of the plan it changes and how; plan.Check has the last word on
// what may be.
func Handles(h *house.House) []drawing.Handle {
	g := &grabber{h: h}
	if h.Plan.Shape != nil {
		g.shape(h.Plan.Shape)
	} else {
		g.section(h.Plan.Section)
	}
	g.beds()
	g.rows()
	g.sink()
	g.boards()
	g.layers()
	g.cover()
	return g.list
}

// Changes are the changes of the plan that settings of a drag make (drawing.Handle.Drag), written as the plan writes its lengths; in metres or degrees where the plan leaves the value out.
func Changes(p *plan.Plan, settings []drawing.Setting) ([]plan.Change, error) {
	var list []plan.Change
	for _, s := range settings {
		c, err := p.Written(s.Path, s.Value)
		if err != nil {
			if c, err = plan.ParseChange(s.String()); err != nil {
				return nil, err
			}
		}
		list = append(list, c)
	}
	return list, nil
}

type grabber struct {
	h    *house.House
	list []drawing.Handle
}

// Directions in the section.
func back() drawing.Point  { return drawing.Point{X: 1} }
func up() drawing.Point    { return drawing.Point{Z: 1} }
func down() drawing.Point  { return drawing.Point{Z: -1} }
func front() drawing.Point { return drawing.Point{X: -1} }

func (g *grabber) add(kind, name, part string, x, z float64, ways ...drawing.Way) {
	g.list = append(g.list, drawing.Handle{Kind: kind, Name: name, Part: part, At: drawing.Point{X: x, Z: z}, Ways: ways})
}

// length is a length that gains a metre for a metre.
func length(path string, value float64) drawing.Set {
	lo, hi, _ := plan.Allowed(path)
	return drawing.Set{Path: path, Value: value, PerMetre: 1, Lo: lo, Hi: hi}
}

func way(along drawing.Point, sets ...drawing.Set) drawing.Way {
	return drawing.Way{Along: along, Sets: sets}
}

// shape has the handles of the short form: floor, tops of the walls, back wall, ridge.
func (g *grabber) shape(s *plan.Shape) {
	width, fronted := way(back(), length("shape.width", s.Width)), way(up(), length("shape.front_height", s.FrontHeight))
	backed := way(up(), length("shape.back_height", s.BackHeight))
	g.add("edge", "floor: how deep", "shape", g.clearFloor(), -s.Depth, way(down(), length("shape.depth", s.Depth)))
	g.add("edge", "back wall: how wide the house is", "shape", s.Width, (s.BackHeight-s.Depth)/2, width)
	g.add("corner", "top of the front wall", "shape", 0, s.FrontHeight, fronted)
	g.add("corner", "top of the back wall", "shape", s.Width, s.BackHeight, backed, width)
	if s.Kind != "pit" {
		return
	}
	low, high := drawing.Point{X: 0, Z: s.FrontHeight}, drawing.Point{X: s.Width, Z: s.BackHeight}
	ridge, ok := g.ridge()
	if !ok {
		return
	}
	h := drawing.Handle{Kind: "corner", Name: "ridge: slopes of glazing and back roof", Part: "shape", At: ridge}
	for _, line := range []struct {
		slides, about drawing.Point // along the line from slides, while the slope about the other end changes
		path          string
	}{{low, high, "shape.back_roof_slope"}, {high, low, "shape.glazing_slope"}} {
		d := math.Hypot(ridge.X-line.slides.X, ridge.Z-line.slides.Z)
		along := drawing.Point{X: (ridge.X - line.slides.X) / d, Z: (ridge.Z - line.slides.Z) / d}
		lo, hi, _ := plan.Allowed(line.path)
		h.Ways = append(h.Ways, way(along, h.Slope(line.path, line.about, along, lo, hi)))
	}
	g.list = append(g.list, h)
}

// ridge is where the glazing of a pit begins.
func (g *grabber) ridge() (drawing.Point, bool) {
	f := g.h.Face("glazing")
	if f == nil {
		return drawing.Point{}, false
	}
	return drawing.Point(f.A), true
}

// clearFloor is the middle of the widest piece of floor that no bed lies on.
func (g *grabber) clearFloor() float64 {
	x, wide := middle(g.h), 0.0
	for i := range g.h.Faces {
		f := &g.h.Faces[i]
		if f.End != 0 || f.Tilt < math.Pi-1e-6 || math.Abs(f.A.Z-g.h.FloorZ) > 1e-9 {
			continue
		}
		for _, piece := range g.h.Uncovered(f) {
			if w := piece[1].X - piece[0].X; w > wide+1e-9 {
				x, wide = (piece[0].X+piece[1].X)/2, w
			}
		}
	}
	return x
}

// section has the handles of the long form: its corners, and the middles of its edges, which move both their ends.
func (g *grabber) section(s *plan.Section) {
	n := len(s.Edges)
	at := func(i int) [2]float64 { // corner i: the start, then where each edge leads
		if i%n == 0 {
			return s.Start
		}
		return s.Edges[i%n-1].To
	}
	sets := func(i, axis int) []drawing.Set {
		var list []drawing.Set
		if i%n == 0 { // the last edge leads back to the start: both are written
			list = append(list, length(fmt.Sprintf("section.start[%d]", axis), s.Start[axis]))
			i = n
		}
		return append(list, length(fmt.Sprintf("section.edges[%d].to[%d]", i-1, axis), at(i)[axis]))
	}
	for i := range n {
		a, b := at(i), at(i+1)
		name := s.Edges[i].Name
		g.add("corner", fmt.Sprintf("corner between %s and %s", s.Edges[(i+n-1)%n].Name, name), "section", a[0], a[1], way(back(), sets(i, 0)...), way(up(), sets(i, 1)...))
		g.add("edge", name, fmt.Sprintf("section.edges[%d]", i), (a[0]+b[0])/2, (a[1]+b[1])/2,
			way(back(), append(sets(i, 0), sets(i+1, 0)...)...), way(up(), append(sets(i, 1), sets(i+1, 1)...)...))
	}
}

func (g *grabber) beds() {
	for i, b := range g.h.Beds {
		p, part := g.h.Plan.Beds[i], fmt.Sprintf("beds[%d]", i)
		from, to := length(part+".from", p.From), length(part+".to", p.To)
		z, x := (g.h.FloorZ+b.Z)/2, (b.X0+b.X1)/2
		g.add("bed", b.Name+", its front edge", part, b.X0, z, way(back(), from))
		g.add("bed", b.Name+", its back edge", part, b.X1, z, way(back(), to))
		g.add("bed", b.Name+", its top", part, x, b.Z, way(up(), length(part+".level", p.Level)))
		g.add("bed", b.Name, part, x, z, way(back(), from, to))
	}
}

func (g *grabber) rows() {
	for i, r := range g.h.Rows {
		if r.Drums == 0 {
			continue
		}
		p, part := g.h.Plan.Store.Rows[i], fmt.Sprintf("store.rows[%d]", i)
		g.add("row", r.Name, part, r.X, (r.Base+r.Top)/2, way(back(), length(part+".at", p.At)), way(up(), length(part+".base", p.Base)))
	}
}

func (g *grabber) sink() {
	s := g.h.Plan.ColdSink
	if s == nil || !g.h.Sink {
		return
	}
	x0, x1 := sinkSides(g.h)
	from, to := length("cold_sink.from", s.From), length("cold_sink.to", s.To)
	z := (g.h.FloorZ + g.h.SinkZ) / 2
	g.add("sink", "cold sink, its front side", "cold_sink", x0, z, way(back(), from))
	g.add("sink", "cold sink, its back side", "cold_sink", x1, z, way(back(), to))
	g.add("sink", "cold sink: how deep", "cold_sink", (x0+x1)/2, g.h.SinkZ, way(down(), length("cold_sink.depth", s.Depth)))
	g.add("sink", "cold sink", "cold_sink", (x0+x1)/2, z, way(back(), from, to))
}
