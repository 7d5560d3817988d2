package plan

import (
	"fmt"
	"math"
)

// closed is the distance within which two corners are one [m].
const closed = 1e-4

// section checks the cross-section, short or long, and the end walls.
func (c *checker) section() {
	c.exactly("", "shape", "section", "shape is the short form of the cross-section, section the long one")
	if c.p.Shape != nil {
		c.shape(c.p.Shape)
	}
	if c.p.Section != nil {
		c.polygon(c.p.Section)
	}
	c.ends()
}

func (c *checker) shape(s *Shape) {
	c.named("shape.glazing", s.Glazing, "glazing", c.glazingNames())
	c.named("shape.front_wall", s.FrontWall, "build", c.buildNames())
	c.named("shape.back_wall", s.BackWall, "build", c.buildNames())
	c.named("shape.back_roof", s.BackRoof, "build", c.buildNames())
	c.named("shape.floor", s.Floor, "build", c.buildNames(), BareEarth)
	if c.read("shape.depth", "shape.front_height") && s.Depth+s.FrontHeight <= 0 {
		c.fail("shape.front_height", "the front wall has no height: depth and front_height are both 0", "give one of them")
	}
	if c.read("shape.depth", "shape.back_height") && s.Depth+s.BackHeight <= 0 {
		c.fail("shape.back_height", "the back wall has no height: depth and back_height are both 0", "give one of them")
	}
	if !c.read("shape.kind") {
		return
	}
	if s.Kind == "pit" {
		c.pit(s)
		return
	}
	for _, key := range []string{"glazing_slope", "back_roof_slope", "back_roof"} {
		if path := join("shape", key); c.p.Origins.Given(path) {
			c.fail(path, "a lean-to has no "+key+": its glazing runs from the front wall to the back wall", "leave it out, or write 'kind: pit'")
		}
	}
	if c.read("shape.front_height", "shape.back_height") && s.BackHeight <= s.FrontHeight {
		c.fail("shape.back_height", fmt.Sprintf("%s is not higher than the front wall (%s), so the glazing of the lean-to would not slope to the sun",
			c.value("shape.back_height"), c.value("shape.front_height")), "raise the back wall or lower the front wall")
	}
}

// pit checks that glazing and back roof meet at a ridge above the floor.
func (c *checker) pit(s *Shape) {
	for _, key := range []string{"glazing_slope", "back_roof"} {
		if path := join("shape", key); !c.written(path) {
			c.fail(path, "is missing, a pit needs it", "write it, or 'kind: lean-to'")
		}
	}
	if !c.read("shape.glazing_slope", "shape.back_roof_slope", "shape.front_height", "shape.back_height", "shape.width") {
		return
	}
	rise := s.BackHeight - s.FrontHeight
	switch {
	case rise >= s.Width*math.Tan(*s.GlazingSlope):
		c.fail("shape.back_height", fmt.Sprintf("%s is too high: the glazing, %s steep, passes below the top of the back wall", c.value("shape.back_height"), c.value("shape.glazing_slope")),
			"lower the back wall, or make the glazing steeper")
	case rise+s.Width*math.Tan(s.BackRoofSlope) <= 0:
		c.fail("shape.back_height", fmt.Sprintf("%s is too low: the back roof passes below the front wall's top (%s)", c.value("shape.back_height"), c.value("shape.front_height")),
			"raise the back wall, or make the back roof steeper")
	}
}

func (c *checker) polygon(s *Section) {
	sound := true
	for i, e := range s.Edges {
		path := item("section.edges", i)
		build, glazing, behind := join(path, "build"), join(path, "glazing"), join(path, "behind")
		c.exactly(path, "build", "glazing", "an edge is a wall with a build, or glazed")
		c.named(build, e.Build, "build", c.buildNames(), BareEarth)
		c.named(glazing, e.Glazing, "glazing", c.glazingNames())
		if c.written(glazing) && e.Behind.What == "soil" {
			c.fail(behind, "a glazed edge cannot have soil behind it", "give the edge a build instead")
		}
		if c.read(join(path, "name")) && (e.Name == LeftEnd || e.Name == RightEnd) {
			c.fail(join(path, "name"), fmt.Sprintf("%q is the name of an end wall", e.Name), "give the edge another name")
		}
		sound = sound && c.read(item(join(path, "to"), 0), item(join(path, "to"), 1))
	}
	if sound && c.written("section.edges") && c.read("section.start[0]", "section.start[1]") {
		c.corners(s)
	}
}

// corners checks that the edges make one simple polygon.
func (c *checker) corners(s *Section) {
	n := len(s.Edges)
	if n < 3 {
		c.fail("section.edges", fmt.Sprintf("%d edges make no room, at least 3 are wanted", n), "write one edge for each face round the room")
		return
	}
	corners := make([][2]float64, n+1)
	corners[0] = s.Start
	for i, e := range s.Edges {
		corners[i+1] = e.To
	}
	if distance(corners[n], corners[0]) > closed {
		c.fail(item("section.edges", n-1)+".to", fmt.Sprintf("the last edge does not lead back to the start [%s, %s]", c.value("section.start[0]"), c.value("section.start[1]")),
			"repeat the corner of 'start' there")
		return
	}
	corners[n] = corners[0]
	area := 0.0
	for i := range n {
		a, b := corners[i], corners[i+1]
		area += (a[0]*b[1] - b[0]*a[1]) / 2
		if distance(a, b) <= closed {
			c.fail(item("section.edges", i)+".to", "the edge has no length", "leave it out")
			return
		}
	}
	for i := range n {
		for j := i + 1; j < n; j++ {
			if c.meet(corners, i, j) {
				c.fail(item("section.edges", j)+".to", fmt.Sprintf("the edge %q meets the edge %q", s.Edges[j].Name, s.Edges[i].Name), "write the edges in their order round the room")
				return
			}
		}
	}
	if math.Abs(area) < closed {
		c.fail("section.edges", "the section has no area", "write the edges in their order round the room")
	}
}

// meet tells whether two edges touch elsewhere than in the corner they share.
func (c *checker) meet(corners [][2]float64, i, j int) bool {
	n := len(corners) - 1
	a, b, p, q := corners[i], corners[i+1], corners[j], corners[j+1]
	switch {
	case j == i+1:
		return folded(a, b, q)
	case i == 0 && j == n-1:
		return folded(p, a, b)
	}
	side := func(a, b, p [2]float64) float64 {
		d := (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0])
		if math.Abs(d) <= closed*distance(a, b) {
			return 0
		}
		return math.Copysign(1, d)
	}
	if side(a, b, p)*side(a, b, q) < 0 && side(p, q, a)*side(p, q, b) < 0 {
		return true
	}
	return between(a, b, p) || between(a, b, q) || between(p, q, a) || between(p, q, b)
}

// between tells whether p lies on the stretch from a to b.
func between(a, b, p [2]float64) bool {
	return distance(a, p)+distance(p, b)-distance(a, b) <= closed*1e-3
}

// folded tells whether an edge runs back over the one before it.
func folded(a, b, q [2]float64) bool {
	return between(a, b, q) || between(b, q, a)
}

func distance(a, b [2]float64) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

// ends checks that each end wall has a build, unless no heat passes there.
func (c *checker) ends() {
	c.named("ends.build", c.p.Ends.Build, "build", c.buildNames())
	for _, end := range []struct {
		name string
		wall *EndWall
	}{{"left", c.p.Ends.Left}, {"right", c.p.Ends.Right}} {
		path := join("ends", end.name)
		if end.wall != nil {
			c.named(join(path, "build"), end.wall.Build, "build", c.buildNames())
			if c.written(join(path, "build")) || end.wall.Behind.What == "adiabatic" {
				continue
			}
		}
		if !c.written("ends.build") {
			c.fail("ends.build", fmt.Sprintf("is missing, the %s end has no build", end.name), "give 'ends: {build: ...}'")
			return
		}
	}
}
