package greenhouse

import (
	"fmt"
	"math"
	"slices"

	"suncellar/internal/ground"
	"suncellar/internal/house"
	"suncellar/internal/thermal"
)

// groundPart is the earth round the house: one slice across it, the faces that touch it, the beds, and the patches of the
// surface outdoors.
type groundPart struct {
	g        *Greenhouse
	mesh     *ground.Mesh
	body     *thermal.Body   // the full mesh, or
	reduced  *ground.Reduced // its reduction
	patches  []*groundTop
	bedNodes []thermal.Node
	tubeSoil [][]thermal.Node // by row of tubes and bundle: the plane of the tubes
	widened  float64          // how many times wider the ground beyond the walls stands for the ends
}

// openTop is the temperature of the ground's (or the snow's) face far from the house [°C].
func (p *groundPart) openTop() float64 {
	last := p.patches[len(p.patches)-1]
	return p.g.Net.T(last.top)
}

func (p *groundPart) hour(h *hour) {
	for _, t := range p.patches {
		t.hour(h)
	}
}

// reading gives the temperature of the earth at a place of the section [°C].
func (p *groundPart) reading(x, z float64) func() float64 {
	if p.reduced != nil {
		return p.reduced.Reading(x, z)
	}
	return func() float64 { return p.mesh.TemperatureAt(p.body, x, z) }
}

func (p *groundPart) step(m thermal.Moment) {
	for _, t := range p.patches {
		t.step(m)
	}
}

// thawedC is ground.Reduced.ColdestThawedC, +Inf where all earth may freeze.
func (g *Greenhouse) thawedC() float64 {
	if g.ground == nil || g.ground.reduced == nil {
		return math.Inf(1)
	}
	return g.ground.reduced.ColdestThawedC()
}

// patchEnds are how far from the wall the patches end [m]; the last runs to the edge of the slice.
var patchEnds = [...]float64{0.5, 2}

// bedNode is the node of a bed's soil surface.
func (p *groundPart) bedNode(bed int) thermal.Node { return p.bedNodes[bed] }

// addGround adds the slice when any face touches the soil.
func (g *Greenhouse) addGround() error {
	var faces []*house.Face
	for i := range g.House.Faces {
		if f := &g.House.Faces[i]; f.Behind == house.Soil && f.End == 0 {
			faces = append(faces, f)
		}
	}
	if len(faces) == 0 {
		return nil
	}
	b := &sliceBuilder{g: g, h: g.House, p: &groundPart{g: g}}
	if err := b.box(); err != nil {
		return err
	}
	b.layers()
	b.walls(faces)
	b.boards()
	b.footings()
	b.hole()
	b.rims(faces)
	b.tubeSheets()
	return b.build(faces)
}

// port adds a port of the slice; trial is its temperature when the ends are reckoned: 1 inside, 0 outdoors.
func (b *sliceBuilder) port(node thermal.Node, flow string, trial float64) int {
	b.ports, b.flows, b.trial = append(b.ports, node), append(b.flows, flow), append(b.trial, trial)
	return len(b.ports) - 1
}

func (b *sliceBuilder) rims(faces []*house.Face) {
	g, h := b.g, b.h
	for _, f := range faces {
		piece, free := b.aboveBed(f)
		if !free {
			continue
		}
		pieces := [][2]house.Point{piece}
		bare := f.Area * math.Hypot(piece[1].X-piece[0].X, piece[1].Z-piece[0].Z) / math.Hypot(f.B.X-f.A.X, f.B.Z-f.A.Z)
		if f.Tilt > math.Pi-1e-6 && math.Abs(f.A.Z-h.FloorZ) < 1e-9 {
			pieces, bare = h.Uncovered(f), 0
			for _, piece := range pieces {
				bare += (piece[1].X - piece[0].X) * h.Length
			}
			if len(pieces) == 0 { // a floor under beds from edge to edge: the room sees the beds alone
				continue
			}
		}
		node := g.addFaceInside(f)
		s := g.inside[len(g.inside)-1]
		s.area, s.seen = bare, bare
		port := b.port(node, "into the ground", 1)
		r := 0.0
		if f.Build != nil {
			for _, l := range f.Build.Layers {
				if sloped(f) || l.Thickness == 0 {
					r += l.R
				}
			}
		}
		for _, piece := range pieces {
			b.rim(piece[0], piece[1], port, r)
		}
	}
	b.bedRims()
	b.patchRims()
	deep := g.Net.Given("deep ground", g.groundC(-b.s.Z0))
	low := b.port(deep, "from the deep ground", 1)
	b.trial[low] = math.NaN() // set in build
	b.rim(house.Point{X: b.s.X0, Z: b.s.Z0}, house.Point{X: b.s.X1, Z: b.s.Z0}, low, 0)
}

func (b *sliceBuilder) rim(from, to house.Point, port int, r float64) {
	b.s.Rims = append(b.s.Rims, ground.Rim{A: ground.Point{X: from.X, Z: from.Z}, B: ground.Point{X: to.X, Z: to.Z}, Port: port, R: r})
}

// bedRims gives every bed a face of its own: its soil; what stands free of the sides of a raised or sunken bed belongs to it.
func (b *sliceBuilder) bedRims() {
	g := b.g
	for _, bed := range b.h.Beds {
		front, back := b.besides(bed)
		sides := math.Abs(bed.Z-front) + math.Abs(bed.Z-back)
		node := g.Net.Add(bed.Name+" soil surface", thermal.Law{}, g.Setup.StartC)
		g.addSurface(&surface{name: bedSurface(&bed), node: node, area: bed.Area + sides*b.h.Length, seen: bed.Area, tilt: 0,
			emittance: 0.95, absorptance: 0.85, z0: bed.Z, z1: bed.Z, wets: false})
		port := b.port(node, "into the ground", 1)
		b.p.bedNodes = append(b.p.bedNodes, node)
		b.rim(house.Point{X: bed.X0, Z: bed.Z}, house.Point{X: bed.X1, Z: bed.Z}, port, 0)
		if math.Abs(bed.Z-front) > 1e-9 {
			b.rim(house.Point{X: bed.X0, Z: front}, house.Point{X: bed.X0, Z: bed.Z}, port, 0)
		}
		if math.Abs(bed.Z-back) > 1e-9 {
			b.rim(house.Point{X: bed.X1, Z: back}, house.Point{X: bed.X1, Z: bed.Z}, port, 0)
		}
	}
}

// besides tells from which height on the two sides of a bed stand free: from the floor, from a lower bed that adjoins, or not at all
// against a wall or a higher bed.
func (b *sliceBuilder) besides(bed house.Bed) (front, back float64) {
	side := func(x float64) float64 {
		for _, o := range b.h.Beds {
			if o.Name != bed.Name && (math.Abs(o.X1-x) < 1e-9 || math.Abs(o.X0-x) < 1e-9) {
				return math.Min(o.Z, bed.Z)
			}
		}
		if b.wallAt(x) {
			return math.Max(bed.Z, b.h.FloorZ)
		}
		return b.h.FloorZ
	}
	return side(bed.X0), side(bed.X1)
}

// wallAt tells whether an upright edge rises from the floor at x.
func (b *sliceBuilder) wallAt(x float64) bool {
	for i, p := range b.h.Section {
		q := b.h.Section[(i+1)%len(b.h.Section)]
		if math.Abs(p.X-x) < 1e-9 && math.Abs(q.X-x) < 1e-9 && math.Abs(math.Min(p.Z, q.Z)-b.h.FloorZ) < 1e-9 {
			return true
		}
	}
	return false
}

// aboveBed is the part of an upright edge that no bed leans against; false when nothing is left.
func (b *sliceBuilder) aboveBed(f *house.Face) ([2]house.Point, bool) {
	low := f.Z0
	if math.Abs(f.A.X-f.B.X) < 1e-9 && math.Abs(f.Z0-b.h.FloorZ) < 1e-9 {
		for _, bed := range b.h.Beds {
			if math.Abs(bed.X0-f.A.X) < 1e-9 || math.Abs(bed.X1-f.A.X) < 1e-9 {
				low = math.Max(low, bed.Z)
			}
		}
	}
	lift := func(p house.Point) house.Point { return house.Point{X: p.X, Z: math.Max(p.Z, low)} }
	return [2]house.Point{lift(f.A), lift(f.B)}, low < f.Z1-1e-9 || f.Z1-f.Z0 < 1e-9
}

func (b *sliceBuilder) patchRims() {
	for side, edge := range []struct{ from, to float64 }{{b.h.Front, b.s.X0}, {b.h.Back, b.s.X1}} {
		sign := math.Copysign(1, edge.to-edge.from)
		at := edge.from
		for k := 0; k <= len(patchEnds); k++ {
			next := edge.to
			if k < len(patchEnds) {
				next = edge.from + sign*math.Min(patchEnds[k], math.Abs(edge.to-edge.from)*0.3*float64(k+1))
			}
			name := fmt.Sprintf("ground %d %s", k+1, [...]string{"in front", "behind"}[side])
			t := addGroundTop(b.g.Net, name, b.g.House.Plan.Site, b.g.Setup.StartC, b.g.pressure, b.g.outside.air, b.g.outside.sky, b.g.outside.zero)
			t.view = b.g.site.levelView
			b.p.patches = append(b.p.patches, t)
			port := b.port(t.skin, "ground's surface to the deep", 0)
			b.outer = append(b.outer, port)
			b.loss = append(b.loss, port)
			b.rim(house.Point{X: at, Z: 0}, house.Point{X: next, Z: 0}, port, 0)
			at = next
		}
	}
}

// frostMargin is how much deeper than the frost of undisturbed ground the reduction lets the ground outdoors freeze, frostUnknown how deep
// where that is not known, and frostInside how deep it lets it freeze under the room [m].
const (
	frostMargin  = 0.25
	frostUnknown = 1.2
	frostInside  = 0.6
)

// knots are how far from the wall the reduced ground outdoors keeps the temperature of what lies below it, and how far from the end of a
// floor that under the room [m]; between, knots under the room are at most knotsInside apart.
var (
	knots       = [...]float64{0.15, 0.4, 1, 2.5}
	knotsFloor  = [...]float64{0.06, 0.15, 0.3, 0.6}
	knotsInside = 0.9
)

// Where the ground outdoors may freeze, cells of the mesh between the same frostColumns (from the wall out) and frostRows (from grade down) are one [m]. Columns a third
// to a half wider than the one before are what the wall's heat needs: with 0.5, 1, 2 and 4 m its face was 0.08 K off; rows of a tenth of a metre are what the front of frost needs.
var (
	frostColumns = [...]float64{0.12, 0.3, 0.5, 0.75, 1.1, 1.6, 2.4, 4}
	frostRows    = [...]float64{-1.5, -1.3, -1.15, -1, -0.87, -0.75, -0.64, -0.54, -0.45, -0.37, -0.3, -0.23, -0.17, -0.11, -0.05}
)

// regions are the parts of the slice that may freeze: the ground outdoors from the walls out, and what lies under the room.
func (b *sliceBuilder) regions(faces []*house.Face) []ground.Region {
	h := b.h
	var list []ground.Region
	frost := frostUnknown
	if d := b.g.Setup.FrostM; d != nil {
		frost = *d + frostMargin
	}
	for side, edge := range []struct{ from, to float64 }{{h.Front, b.s.X0}, {h.Back, b.s.X1}} {
		sign := math.Copysign(1, edge.to-edge.from)
		box := ground.Box{Z0: math.Max(-frost, b.s.Z0), Z1: b.s.Z1}
		box.X0, box.X1 = ordered(edge.from, edge.to)
		for _, d := range frostColumns {
			box.LinesX = append(box.LinesX, edge.from+sign*d)
		}
		slices.Sort(box.LinesX)
		box.LinesZ = frostRows[:]
		r := ground.Region{Name: [...]string{"in front", "behind"}[side], Boxes: []ground.Box{box}}
		for _, d := range knots {
			r.KnotsX = append(r.KnotsX, edge.from+sign*d)
		}
		list = append(list, r)
	}
	if in := b.underRoom(faces); b.g.Setup.Earth == FrostInside && len(in.Boxes) > 0 {
		return []ground.Region{b.together(list, in)}
	}
	return list
}

// underRoom is the beds and the ground under the floors.
func (b *sliceBuilder) underRoom(faces []*house.Face) ground.Region {
	in := ground.Region{Name: "under the room"}
	for _, f := range faces {
		if f.Tilt > math.Pi-1e-6 {
			x0, x1 := ordered(f.A.X, f.B.X)
			in.Boxes = append(in.Boxes, ground.Box{X0: x0, X1: x1, Z0: f.A.Z - frostInside, Z1: b.s.Z1})
			in.KnotsX = append(in.KnotsX, floorKnots(x0, x1)...)
		}
	}
	return in
}

// together is one region of the ground in front, behind, under the room, and of what lies between: walls and what is under them.
func (b *sliceBuilder) together(outdoors []ground.Region, in ground.Region) ground.Region {
	all := ground.Region{Name: "round the house", Boxes: in.Boxes, KnotsX: in.KnotsX}
	x0, x1, low := math.Inf(1), math.Inf(-1), 0.0
	for _, box := range in.Boxes {
		x0, x1, low = math.Min(x0, box.X0), math.Max(x1, box.X1), math.Min(low, box.Z0)
	}
	for _, r := range outdoors {
		all.Boxes, all.KnotsX = append(all.Boxes, r.Boxes...), append(all.KnotsX, r.KnotsX...)
		low = math.Min(low, r.Boxes[0].Z0)
	}
	all.Boxes = append(all.Boxes, ground.Box{X0: b.h.Front, X1: x0, Z0: low, Z1: b.s.Z1}, ground.Box{X0: x1, X1: b.h.Back, Z0: low, Z1: b.s.Z1})
	return all
}

// floorKnots are the knots under a floor from x0 to x1.
func floorKnots(x0, x1 float64) []float64 {
	list := []float64{x0, x1}
	for _, d := range knotsFloor {
		if d < (x1-x0)/2 {
			list = append(list, x0+d, x1-d)
		}
	}
	edge := knotsFloor[len(knotsFloor)-1]
	if rest := x1 - x0 - 2*edge; rest > 0 {
		for n, k := int(math.Ceil(rest/knotsInside)), 1; k < n; k++ {
			list = append(list, x0+edge+rest*float64(k)/float64(n))
		}
	}
	return list
}

func (b *sliceBuilder) build(faces []*house.Face) error {
	g, h := b.g, b.h
	b.s.FineX = []float64{h.Front, h.Back}
	b.s.FineZ = []float64{0, h.FloorZ}
	for _, bed := range h.Beds {
		b.s.FineX, b.s.FineZ = append(b.s.FineX, bed.X0, bed.X1), append(b.s.FineZ, bed.Z)
	}
	if h.Sink {
		b.s.FineZ = append(b.s.FineZ, h.SinkZ)
	}
	for _, f := range faces {
		b.s.FineX = append(b.s.FineX, f.A.X, f.B.X)
	}
	mesh, err := b.s.Mesh()
	if err != nil {
		return fmt.Errorf("the slice of ground: %w", err)
	}
	b.p.mesh = mesh
	for i := range b.trial {
		if math.IsNaN(b.trial[i]) {
			b.trial[i] = 0.5
		}
	}
	if err := b.widen(mesh); err != nil {
		return err
	}
	if err := mesh.AddSheets(b.sheets...); err != nil {
		return fmt.Errorf("buried tubes: %w", err)
	}
	if g.Setup.Earth == FullMesh {
		b.p.body = mesh.AddTo(g.Net, "ground", g.earthC, b.ports, b.flows)
	} else if b.p.reduced, err = mesh.AddReduced(g.Net, "ground", g.earthC, b.ports, b.flows, b.regions(faces)); err != nil {
		return err
	}
	for k, t := range b.p.patches {
		t.area = 0
		for i := range mesh.Faces {
			if mesh.Faces[i].Port == b.outer[k] {
				t.area += mesh.Area(i)
			}
		}
	}
	for i := range mesh.Faces { // faces inside are as large as the ground has them: the walls stand for the ends too
		for _, s := range g.inside {
			if s.node == b.ports[mesh.Faces[i].Port] && s.tilt > 0.1 && s.tilt < math.Pi-0.1 {
				if s.facing == 0 {
					s.facing, s.area = s.area, 0
				}
				s.area += mesh.Area(i)
				s.seen = s.area
			}
		}
	}
	g.ground = b.p
	g.parts = append(g.parts, b.p)
	return nil
}

// Footprint is the house on the ground as ISO 13370 asks of it, and where its floor begins and ends in the section [m]. Soil in layers is taken at its
// mean from grade to as far below the floor as that is broad.
// Source: ISO 13370:2017, thermal properties of the ground, for the depth; from memory.
func Footprint(h *house.House, soil Soil) (f ground.Footprint, x0, x1 float64) {
	x0, x1 = math.Inf(1), math.Inf(-1)
	for _, p := range h.Section {
		if p.Z < 1e-9 {
			x0, x1 = math.Min(x0, p.X), math.Max(x1, p.X)
		}
	}
	f = ground.Footprint{Breadth: x1 - x0, Length: h.Length, Depth: math.Max(0, -h.FloorZ)}
	f.K = soil.MeanK(f.Depth + f.Breadth)
	if len(soil.Layers) > 0 {
		f.KAt = func(depth float64) float64 { return soil.At(depth).K }
	}
	f.Wall = math.Max(thinnestWall, ((x0-h.Front)+(h.Back-x1))/2)
	f.RFloor, f.RWall = h.EarthR()
	return f, x0, x1
}

// thinnestWall is the wall that is reckoned with where there is hardly any [m].
const thinnestWall = 0.05

// widen makes the slice stand for the finite house: what the ends add is found in three dimensions.
func (b *sliceBuilder) widen(mesh *ground.Mesh) error {
	h := b.h
	f, x0, x1 := Footprint(h, b.soil)
	ratio, err := f.SolidRatio()
	if err != nil {
		return err
	}
	ends := ground.Ends{Footprint: f, Ratio: ratio, X0: x0, X1: x1, Trial: b.trial, Loss: b.loss}
	factor, err := mesh.Widen(ends)
	if err != nil { // small square slabs lose from under the floor, which is not widened: the formula asks for less
		ends.Ratio = 0
		factor, err = mesh.Widen(ends)
	}
	if err != nil {
		return err
	}
	b.p.widened = factor
	return nil
}

// groundC is the undisturbed ground at a depth [°C].
func (g *Greenhouse) groundC(depth float64) float64 {
	if d := g.House.Plan.Ground.DeepC; d != nil && depth > 4 {
		return *d
	}
	if g.Setup.Ground == nil {
		return g.Setup.StartC
	}
	return g.Setup.Ground(depth)
}
