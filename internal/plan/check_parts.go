package plan

import (
	"fmt"
	"math"
	"reflect"
	"slices"
)

func (c *checker) builds() {
	for _, name := range c.buildNames() {
		b, path := c.p.Builds[name], join("builds", name)
		if name == BareEarth {
			c.fail(path, fmt.Sprintf("%q stands for natural ground and cannot be a build", BareEarth), "give it another name")
		}
		c.exactly(path, "layers", "r_value", "a build is made of layers, or is a bare resistance")
		if c.written(join(path, "layers")) && len(b.Layers) == 0 && b.Layers != nil {
			c.fail(join(path, "layers"), "the list is empty, at least one layer is wanted", "")
		}
		for i, l := range b.Layers {
			c.layer(l, item(join(path, "layers"), i))
		}
	}
}

func (c *checker) layer(l Layer, path string) {
	material, thickness := join(path, "material"), join(path, "thickness")
	c.named(material, l.Material, "material", c.materialNames())
	c.exactly(path, "material", "r_value", "a layer is a material with its thickness, or a bare resistance")
	switch {
	case c.written(material) && !c.written(thickness):
		c.fail(thickness, "is missing, a layer of a material needs it", "such as 'thickness: 100 mm'")
	case !c.written(material) && c.written(thickness):
		c.fail(thickness, "a layer without a material has no thickness", "give its material, or leave the thickness out")
	}
}

func (c *checker) glazings() {
	for _, name := range sortedKeys(c.p.Glazings) {
		g, path := c.p.Glazings[name], join("glazings", name)
		if !c.written(join(path, "panes")) {
			for _, key := range []string{"transmittance", "u_value"} {
				if !c.written(join(path, key)) {
					c.fail(join(path, key), "is missing, a glazing without panes needs it", "give panes, or transmittance and u_value")
				}
			}
			if c.written(join(path, "gaps")) {
				c.fail(join(path, "gaps"), "gaps are given without panes", "give the panes too")
			}
			continue
		}
		for _, key := range []string{"transmittance", "u_value", "sheets"} {
			if c.written(join(path, key)) {
				c.fail(join(path, key), key+" and panes are both given", "give one of them: panes, or transmittance, u_value and sheets")
			}
		}
		if len(g.Panes) == 0 && g.Panes != nil {
			c.fail(join(path, "panes"), "the list is empty, at least one pane is wanted", "")
		} else if len(g.Panes) > 0 && len(g.Gaps) != len(g.Panes)-1 && (g.Gaps != nil || !c.written(join(path, "gaps"))) {
			c.fail(join(path, "gaps"), fmt.Sprintf("%d gaps for %d panes, allowed: %d", len(g.Gaps), len(g.Panes), len(g.Panes)-1), "one gap between each two panes")
		}
	}
}

// openings checks where windows, doors and vents are.
func (c *checker) openings() {
	for i, w := range c.p.Windows {
		c.opening(item("windows", i), w.In)
		c.named(item("windows", i)+".glazing", w.Glazing, "glazing", c.glazingNames())
	}
	for i, d := range c.p.Doors {
		c.opening(item("doors", i), d.In)
	}
	for i, v := range c.p.Vents {
		c.opening(item("vents", i), v.In)
		c.opener(item("vents", i), v)
	}
}

// opener checks what moves a vent.
func (c *checker) opener(path string, v Vent) {
	if v.Wax == nil {
		return
	}
	for _, key := range []string{"open_above", "hours"} {
		if c.written(join(path, key)) {
			c.fail(join(path, key), key+" is given beside an opener with wax", "the opener works by itself, day and night: give one or the other")
		}
	}
	wax := join(path, "wax")
	full := join(wax, "open_full_at")
	if v.Wax.FullAt < v.Wax.OpensAt+1 && c.read(full) {
		c.fail(full, fmt.Sprintf("%s is not at least 1 K above opens_at (%s)", c.value(full), c.value(join(wax, "opens_at"))), "full stroke is 5 to 8 K above the begin")
	}
}

func (c *checker) opening(path, in string) {
	if c.facesRead() {
		c.named(path+".in", in, "face", c.p.Faces(), LeftEnd, RightEnd)
	}
}

// facesRead tells whether the names of the faces are known.
func (c *checker) facesRead() bool {
	if c.p.Section == nil {
		return c.read("shape.kind")
	}
	for i := range c.p.Section.Edges {
		if !c.read(item("section.edges", i) + ".name") {
			return false
		}
	}
	return len(c.p.Section.Edges) > 0
}

func (c *checker) sunShares() {
	sum := 0.0
	for _, name := range sortedKeys(c.p.SunShares) {
		path := join("sun_shares", name)
		if c.facesRead() {
			c.named(path, name, "face", c.p.Faces(), LeftEnd, RightEnd)
		}
		sum += c.p.SunShares[name]
	}
	if sum > 1+1e-9 {
		c.fail("sun_shares", fmt.Sprintf("the shares add up to %.6g, allowed: up to 1", sum), "what is not kept by a face is lost through the glazing")
	}
}

func (c *checker) leakage() {
	l := c.p.Leakage
	both := "give one of air_changes, area and per_area"
	if l.AirChanges != nil && l.Area != nil {
		c.fail("leakage.area", "air_changes and area are both given", both)
	}
	if c.p.Origins.Given("leakage.per_area") && (l.AirChanges != nil || l.Area != nil) {
		c.fail("leakage.per_area", "per_area is given beside air_changes or area", both)
	}
}

func (c *checker) store() {
	if c.p.Store == nil {
		return
	}
	for i, r := range c.p.Store.Rows {
		path := item("store.rows", i)
		size, diameter, height := join(path, "size"), join(path, "diameter"), join(path, "height")
		c.named(join(path, "colour"), r.Colour, "colour", c.known.Colours)
		switch {
		case c.written(diameter) != c.written(height):
			missing := diameter
			if c.written(diameter) {
				missing = height
			}
			c.fail(missing, "is missing, a drum of your own has diameter and height", "give both, or a size")
		case c.written(diameter) && c.p.Origins.Given(size):
			c.fail(size, "size is given beside diameter and height", "give one or the other")
		case !c.written(diameter):
			c.named(size, r.Size, "drum", c.known.Drums)
		}
		if c.read(join(path, "drums"), join(path, "tiers"), join(path, "bays")) && r.Drums > 0 && r.Tiers*r.Bays > r.Drums {
			c.fail(join(path, "drums"), fmt.Sprintf("%d drums are too few for %d tiers in %d bays", r.Drums, r.Tiers, r.Bays), "each bay has at least one drum in each tier")
		}
	}
	c.storeEvents()
}

// width is the inside width from the front wall to the back wall, and whether it is known [m].
func (c *checker) width() (float64, bool) {
	if c.p.Shape != nil {
		return c.p.Shape.Width, c.read("shape.width")
	}
	if c.p.Section == nil {
		return 0, false
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i, e := range c.p.Section.Edges {
		if !c.read(item("section.edges", i) + ".to[0]") {
			return 0, false
		}
		low, high = min(low, e.To[0]), max(high, e.To[0])
	}
	return high - low, high > low
}

// stretch is what a bed or the cold sink takes of the width.
type stretch struct {
	path, what string
	from, to   float64 // [m]
}

// floorPlan checks what stands on the floor, from front to back.
func (c *checker) floorPlan() {
	width, known := c.width()
	if !known {
		width = math.Inf(1)
	}
	var taken []stretch
	for i, b := range c.p.Beds {
		taken = c.stretch(taken, stretch{item("beds", i), "bed " + b.Name, b.From, b.To}, width)
	}
	if s := c.p.ColdSink; s != nil {
		c.stretch(taken, stretch{"cold_sink", "cold sink", s.From, s.To}, width)
	}
	if c.p.Store == nil {
		return
	}
	for i, r := range c.p.Store.Rows {
		path, half := item("store.rows", i), 0.0
		if r.Diameter != nil {
			half = *r.Diameter / 2
		}
		if at := join(path, "at"); c.read(at) && (r.At-half < -closed || r.At+half > width+closed) {
			c.fail(at, fmt.Sprintf("%s does not fit into the house, %.4g m wide", c.value(at), width), "at is the middle of the row, from the inside of the front wall")
		}
	}
}

// stretch checks one stretch against the width and those before it, and adds it to them.
func (c *checker) stretch(taken []stretch, s stretch, width float64) []stretch {
	from, to := join(s.path, "from"), join(s.path, "to")
	if !c.read(from, to) {
		return taken
	}
	if s.to <= s.from {
		c.fail(to, fmt.Sprintf("%s is not behind the front edge (%s)", c.value(to), c.value(from)), "both count from the inside of the front wall")
		return taken
	}
	if s.to > width+closed {
		c.fail(to, fmt.Sprintf("%s lies outside the house, %.4g m wide", c.value(to), width), "both edges count from the inside of the front wall")
	}
	for _, t := range taken {
		if s.from < t.to-closed && t.from < s.to-closed {
			c.fail(from, fmt.Sprintf("the %s overlaps the %s (%s to %s)", s.what, t.what, c.value(join(t.path, "from")), c.value(join(t.path, "to"))), "let one begin where the other ends")
			break
		}
	}
	return append(taken, s)
}

func (c *checker) boards() {
	for i, b := range c.p.Ground.Boards {
		c.named(item("ground.boards", i)+".material", b.Material, "material", c.materialNames())
	}
}

// footings checks what each is made of and lies under.
func (c *checker) footings() {
	under := []string{FrontWall, BackWall}
	known := true
	if c.p.Store != nil {
		for i, r := range c.p.Store.Rows {
			known = known && c.read(item("store.rows", i)+".name")
			under = append(under, r.Name)
		}
	}
	for i, f := range c.p.Ground.Footings {
		path := item("ground.footings", i)
		c.named(join(path, "material"), f.Material, "material", c.materialNames())
		at := join(path, "under")
		if !known || !c.read(at) {
			continue
		}
		c.named(at, f.Under, "wall or row", under)
		for _, before := range c.p.Ground.Footings[:i] {
			if before.Under == f.Under {
				c.fail(at, fmt.Sprintf("%q stands twice in ground.footings", f.Under), "one footing for each wall and row")
				break
			}
		}
	}
}

// names checks that the parts of one kind can be told apart.
func (c *checker) names() {
	root := reflect.ValueOf(c.p).Elem()
	for _, f := range theTable()[root.Type()] {
		c.unique(root.Field(f.at), f.key)
	}
	if c.p.Section != nil {
		c.unique(reflect.ValueOf(c.p.Section.Edges), "section.edges")
	}
	if c.p.Store != nil {
		c.unique(reflect.ValueOf(c.p.Store.Rows), "store.rows")
	}
}

// unique reports names that stand twice in a list of parts with names.
func (c *checker) unique(parts reflect.Value, path string) {
	if parts.Kind() != reflect.Slice || parts.Type().Elem().Kind() != reflect.Struct {
		return
	}
	if _, ok := parts.Type().Elem().FieldByName("Name"); !ok {
		return
	}
	var before []string
	for i := range parts.Len() {
		at, name := item(path, i)+".name", parts.Index(i).FieldByName("Name").String()
		if !c.read(at) {
			continue
		}
		if slices.Contains(before, name) {
			c.fail(at, fmt.Sprintf("the name %q stands twice in %s", name, path), "give each a name of its own")
		}
		before = append(before, name)
	}
}

// colours are those of the table.
func colours() []string {
	for _, f := range theTable()[reflect.TypeFor[Row]()] {
		if f.key == "colour" {
			return f.enum
		}
	}
	panic("plan: no colours in the table")
}
