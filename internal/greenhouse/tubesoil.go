package greenhouse

import (
	"math"
	"strconv"

	"suncellar/internal/ground"
	"suncellar/internal/house"
	"suncellar/internal/pipes"
	"suncellar/internal/thermal"
)

// The soil round buried tubes: rings from the tube outward to half the way to its neighbour, and there, or at tubeReach, an end. The slice of
// the ground is joined where the plane of the tubes has the temperature that it has as seen from afar, pipes.Plane; the rings beyond
// hold heat and no more. The heat of all rings is taken out of the slice, so that no soil counts twice.

// tubeReach is how far from a tube its own soil reaches at most [m]: some days' warmth. Own judgement.
const tubeReach = 0.5

// Rings between tube and plane, and beyond the plane.
const nearRings, farRings = 2, 3

// bundleBreadth is how broad a bundle may be [m], and bundlesMost into how many a row is cut where its tiers are not more: the tubes of one have
// one soil, which the ground under the edge of a house and under its middle, or at two depths, has not.
const (
	bundleBreadth = 1.6
	bundlesMost   = 3
)

// bundlesOf parts the lanes of a row into bundles: each tier by itself, from front to back. Tubes that lie to and fro are not cut across.
func bundlesOf(row *house.Tubes) [][]house.Point {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range row.Lanes {
		low, high = math.Min(low, p.X), math.Max(high, p.X)
	}
	n := int(clamp(math.Ceil((high-low)/bundleBreadth), 1, math.Max(1, bundlesMost/float64(row.Plan.Tiers))))
	if row.Lane < row.Plan.Length {
		n = 1
	}
	var list [][]house.Point
	at := map[[2]int]int{} // bundle by depth and stretch
	for _, p := range row.Lanes {
		key := [2]int{int(math.Round((row.Lanes[0].Z - p.Z) / row.Plan.Spacing)), 0}
		if high > low {
			key[1] = min(n-1, int(float64(n)*(p.X-low)/(high-low)))
		}
		k, ok := at[key]
		if !ok {
			k = len(list)
			at[key], list = k, append(list, nil)
		}
		list[k] = append(list[k], p)
	}
	return list
}

// ownBreadth is the breadth of soil that belongs to one tube [m].
func ownBreadth(row *house.Tubes) float64 {
	return math.Max(math.Min(row.Plan.Spacing, 2*tubeReach), 2.4*row.Outer)
}

// tubeSheets lays the planes of the tubes into the slice, one port a bundle.
func (b *sliceBuilder) tubeSheets() {
	for i := range b.h.Tubes {
		row := &b.h.Tubes[i]
		var far []thermal.Node
		for k, lanes := range bundlesOf(row) {
			node := b.g.Net.Add("soil of tubes "+row.Plan.Name+bundleMark(k), thermal.Law{}, b.g.groundC(math.Max(0, -lanes[0].Z)))
			port := b.port(node, "tubes to the ground", 0.5)
			breadth, half := ownBreadth(row), tubeCell(row)/2
			b.s.LinesZ = append(b.s.LinesZ, lanes[0].Z-half, lanes[0].Z+half)
			for _, p := range lanes {
				b.sheets = append(b.sheets, ground.Sheet{X0: p.X - breadth/2, X1: p.X + breadth/2, Z: p.Z, Length: row.Lane, Port: port,
					Area: math.Pi / 4 * breadth * breadth})
			}
			far = append(far, node)
		}
		b.p.tubeSoil = append(b.p.tubeSoil, far)
	}
}

// tubeCell is the height of the cells of the slice that tubes lie in [m]: of tiers the distance between them, so that they have their lines in
// common; at most 0.4 m, and within the earth over the tubes. Own judgement.
func tubeCell(row *house.Tubes) float64 {
	h := math.Min(0.4, 1.8*row.Plan.Depth)
	if row.Plan.Tiers > 1 {
		h = math.Min(h, row.Plan.Spacing)
	}
	return h
}

// bundleMark tells bundles apart in names.
func bundleMark(k int) string {
	if k == 0 {
		return ""
	}
	return " " + strconv.Itoa(k+1)
}

// addSoil adds the walls of a bundle's tubes and the rings round them, all of the soil that their axes lie in, and gives the walls.
func (t *tubes) addSoil(k int, count, z float64) []thermal.Node {
	g, row := t.g, t.row
	layers, err := SoilOf(g.House.Plan.Site)
	if err != nil {
		panic("greenhouse: " + err.Error()) // the plan was checked
	}
	soil := layers.At(-z)
	far := g.ground.tubeSoil[t.place()][k]
	start := g.groundC(math.Max(0, -z))
	length := count * row.Plan.Length / tubeParts
	shell := pipes.Shell(row.Plan.Diameter/2, row.Outer, row.Plan.WallK) / length
	s := ringStack{net: g.Net, soil: &soil, far: far, startC: start}
	breadth := ownBreadth(row)
	plane := pipes.Plane(breadth)
	if plane < 1.1*row.Outer { // they all but touch: the plane is the tubes themselves
		plane = row.Outer
	}
	walls := make([]thermal.Node, tubeParts)
	for i := range walls {
		walls[i] = g.Net.Add("wall of tubes "+row.Plan.Name+bundleMark(k)+", part "+strconv.Itoa(i+1), thermal.Law{}, start)
		if plane > row.Outer {
			first := s.rings(row.Outer, plane, nearRings, length)
			s.port(first, walls[i], shell, t.flow("to their soil"))
			s.port(s.last(), far, 0, "tubes to the ground")
		} else {
			g.Net.Join(t.flow("to their soil"), walls[i], far, 1/shell)
		}
	}
	s.port(s.rings(plane, breadth/2, farRings, length*tubeParts), far, 0, "tubes to the ground")
	g.Net.AddBody("ground round tubes "+row.Plan.Name+bundleMark(k), s.cells, s.edges, s.ports)
	return walls
}

// place is which of the house's rows it is.
func (t *tubes) place() int {
	for i := range t.g.House.Tubes {
		if &t.g.House.Tubes[i] == t.row {
			return i
		}
	}
	panic("greenhouse: tubes of another house")
}

// ringStack makes a body of stacks of rings.
type ringStack struct {
	net    *thermal.Network
	soil   *ground.Medium
	far    thermal.Node
	startC float64
	cells  []thermal.Cell
	edges  []thermal.Edge
	ports  []thermal.Port
	half   []float64 // by cell: half its resistance, thawed [K/W]
}

// rings adds n rings over a length of tube, and tells the first of them.
func (s *ringStack) rings(inner, outer float64, n int, length float64) int {
	r, err := pipes.NewRings(inner, outer, n)
	if err != nil {
		panic("greenhouse: " + err.Error()) // the plan was checked
	}
	first := len(s.cells)
	for i := range n {
		s.cells = append(s.cells, thermal.Cell{Law: s.soil.Law(r.Area(i) * length), T: s.startC})
		s.half = append(s.half, r.Half(i, s.soil.K)/length)
		if i > 0 {
			j := len(s.cells) - 1
			s.edges = append(s.edges, thermal.Edge{I: j, J: j - 1, RI: s.half[j], RJ: s.half[j-1], RIfrozen: s.frozen(j), RJfrozen: s.frozen(j - 1)})
		}
	}
	return first
}

// frozen is half the resistance of a ring that is frozen [K/W].
func (s *ringStack) frozen(cell int) float64 {
	if s.soil.KFrozen == 0 {
		return s.half[cell]
	}
	return s.half[cell] * s.soil.K / s.soil.KFrozen
}

func (s *ringStack) last() int { return len(s.cells) - 1 }

// port joins a ring's bound to a node through a further resistance [K/W].
func (s *ringStack) port(cell int, node thermal.Node, further float64, flow string) {
	s.ports = append(s.ports, thermal.Port{Cell: cell, Node: node, R: s.half[cell] + further, RFrozen: s.frozen(cell) + further, Flow: flow})
}
