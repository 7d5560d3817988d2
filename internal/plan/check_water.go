package plan

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// The named ends of pipes.
const (
	InletEnd    = "inlet"    // where the pipe from gutter or settling drum ends
	OverflowEnd = "overflow" // the pipe that takes what the drums cannot hold
)

// Stacks is how many drums of the row stand side by side: each may carry others, tier upon tier.
func (r *Row) Stacks() int { return (r.Drums + max(1, r.Tiers) - 1) / max(1, r.Tiers) }

// DrumName is what drum i of the row is called, from 0 on, counted from the left; those stacked upon it have its name.
func (r *Row) DrumName(i int) string { return fmt.Sprintf("%s, drum %d", r.Name, i+1) }

// water checks the way of the rain as far as names and heights of the plan tell; whether it runs by gravity is seen when the house is resolved.
func (c *checker) water() {
	w := c.p.Water
	if w == nil {
		return
	}
	if c.p.Store == nil || len(c.p.Store.Rows) == 0 {
		if !c.written("store") {
			c.fail("water", "the plan has no drums that the water could go to", "add a store with rows of drums")
		}
		return
	}
	c.catchments()
	c.waterInlet()
	c.settling()
	c.manifolds()
	c.waterNames()
	if ends, known := c.waterEnds(); known {
		c.waterPipes(ends)
		c.dripLines(ends)
	}
	c.valves()
	c.keeps()
	c.inletShut()
}

func (c *checker) catchments() {
	if len(c.p.Water.Catchments) == 0 && c.written("water.catchments") {
		c.fail("water.catchments", "the list is empty, at least one catchment is wanted", "such as {name: roof, of: back roof}")
	}
	for i, a := range c.p.Water.Catchments {
		path := item("water.catchments", i)
		c.exactly(path, "of", "area", "a catchment is a face of the house, or an area of its own")
		switch {
		case c.written(join(path, "of")):
			if c.facesRead() {
				c.named(join(path, "of"), a.Of, "face", c.p.Faces())
			}
			if c.written(join(path, "slope")) {
				c.fail(join(path, "slope"), "slope is given beside of", "a face has its own slope")
			}
		case c.written(join(path, "area")) && !c.written(join(path, "eave_height")):
			c.fail(join(path, "eave_height"), "is missing, a catchment with an area of its own needs it", "height of its lower edge above grade, such as 'eave_height: 2.4 m'")
		}
	}
	if f := c.p.Water.FirstFlush; f != nil && c.written("water.first_flush.volume") && c.written("water.first_flush.depth") {
		c.fail("water.first_flush.volume", "volume and depth are both given", "give one of them")
	}
}

func (c *checker) waterInlet() {
	in := c.p.Water.Inlet
	var pipes []string
	for _, i := range c.p.Inlets {
		pipes = append(pipes, i.Name)
	}
	switch {
	case in.Air != "":
		c.named("water.inlet.air", in.Air, "inlet", pipes)
	case c.read("water.inlet.mouth") && in.Mouth == "open pipe" && len(pipes) == 0:
		c.warn("water", "the water's inlet is an open pipe, and no air that comes in by it is reckoned", "list it under inlets and name it as water.inlet.air, or give it a flap or a one-way valve")
	}
}

// settling holds the heights of the settling drum to one another.
func (c *checker) settling() {
	s, path := c.p.Water.Settling, "water.settling_drum"
	if s == nil || !c.read(path+".base", path+".tall", path+".outlet") {
		return
	}
	if s.Outlet <= s.Base || s.Outlet > s.Base+s.Tall {
		c.fail(path+".outlet", fmt.Sprintf("%s is not between bottom and rim of the settling drum, allowed: above %.4g m, up to %.4g m", c.value(path+".outlet"), s.Base, s.Base+s.Tall),
			"heights count from grade")
	}
	if s.Drain != nil && c.read(path+".drain") && (*s.Drain < s.Base || *s.Drain >= s.Outlet) {
		c.fail(path+".drain", fmt.Sprintf("%s is not between the bottom (%.4g m) and the outlet (%s)", c.value(path+".drain"), s.Base, c.value(path+".outlet")), "dirt lies below the outlet")
	}
}

func (c *checker) manifolds() {
	rows, known := c.rowNames()
	for i, m := range c.p.Water.Manifolds {
		path := item("water.manifolds", i) + ".row"
		if !known {
			return
		}
		c.named(path, m.Row, "row of drums", rows)
		for _, before := range c.p.Water.Manifolds[:i] {
			if before.Row == m.Row && c.read(path) {
				c.fail(path, fmt.Sprintf("%q stands twice in water.manifolds", m.Row), "one manifold for each row; others are pipes")
				break
			}
		}
	}
	if len(c.p.Water.Manifolds) == 0 && len(c.p.Water.Pipes) == 0 && !c.written("water.manifolds") && !c.written("water.pipes") {
		c.fail("water", "neither manifolds nor pipes are given: nothing joins the drums", "the usual one is 'manifolds: [{row: NAME}]'")
	}
}

func (c *checker) rowNames() (names []string, known bool) {
	for i, r := range c.p.Store.Rows {
		if !c.read(item("store.rows", i) + ".name") {
			return nil, false
		}
		names = append(names, r.Name)
	}
	return names, true
}

// waterNames holds the names of parts apart, and pipes and drip lines from one another, since valves name either.
func (c *checker) waterNames() {
	w := reflect.ValueOf(c.p.Water).Elem()
	for _, f := range theTable()[w.Type()] {
		c.unique(w.Field(f.at), "water."+f.key)
	}
	for i, d := range c.p.Water.DripLines {
		if slices.ContainsFunc(c.p.Water.Pipes, func(p WaterPipe) bool { return p.Name == d.Name && d.Name != "" }) {
			c.fail(item("water.drip_lines", i)+".name", fmt.Sprintf("the name %q is that of a pipe", d.Name), "give each a name of its own")
		}
	}
}

// waterEnds are what a pipe may lead from or to: the inlet, points, drums.
func (c *checker) waterEnds() (names []string, known bool) {
	names = append(names, InletEnd)
	for i, p := range c.p.Water.Points {
		path := item("water.points", i) + ".name"
		if !c.read(path) {
			return nil, false
		}
		names = append(names, p.Name)
	}
	for i := range c.p.Store.Rows {
		r, path := &c.p.Store.Rows[i], item("store.rows", i)
		if !c.read(join(path, "name"), join(path, "drums"), join(path, "tiers")) {
			return nil, false
		}
		for d := range r.Stacks() {
			names = append(names, r.DrumName(d))
		}
	}
	return names, true
}

// waterPipes checks that each pipe joins two things, and that what is joined comes to a drum.
func (c *checker) waterPipes(ends []string) {
	w := c.p.Water
	sound := true
	for i, p := range w.Pipes {
		path := item("water.pipes", i)
		from, to := join(path, "from"), join(path, "to")
		c.named(from, p.From, "point or drum", ends)
		c.named(to, p.To, "point or drum", ends[1:])
		if c.read(from, to) && p.From == p.To {
			c.fail(to, fmt.Sprintf("the pipe leads from %s back to itself", p.From), "a pipe joins two things")
		}
		sound = sound && c.read(from, to, join(path, "name")) && slices.Contains(ends, p.From) && slices.Contains(ends, p.To)
	}
	if w.Overflow.From != "" {
		c.named("water.overflow.from", w.Overflow.From, "drum", c.drumsOf(ends))
	}
	if sound {
		c.deadPipes()
	}
}

// drumsOf are those of the ends that are drums: they stand last.
func (c *checker) drumsOf(ends []string) []string { return ends[1+len(c.p.Water.Points):] }

// deadPipes reports pipes of the long form that hang together and come to no drum and no drip line.
func (c *checker) deadPipes() {
	w := c.p.Water
	group := c.waterGroups()
	points := map[string]bool{InletEnd: true}
	for _, p := range w.Points {
		points[p.Name] = true
	}
	lives := map[string]bool{}
	for name := range group {
		if !points[name] {
			lives[group.of(name)] = true
		}
	}
	for _, d := range w.DripLines {
		if d.From != "" {
			lives[group.of(d.From)] = true
		}
	}
	told := map[string]bool{}
	for i, p := range w.Pipes {
		g := group.of(p.From)
		if lives[g] || told[g] {
			continue
		}
		told[g] = true
		var names []string
		nodes := map[string]bool{}
		for _, q := range w.Pipes {
			if group.of(q.From) == g {
				names = append(names, q.Name)
				nodes[q.From], nodes[q.To] = true, true
			}
		}
		what := "lead to no drum and no drip line"
		if len(names) >= len(nodes) {
			what = "form a loop without an outlet: no drum and no drip line hangs on it"
		}
		c.fail(item("water.pipes", i), fmt.Sprintf("the pipes %s %s", strings.Join(names, ", "), what), "join them to a drum, or take them out")
	}
	c.unfed(group)
}

// unfed warns of rows with a manifold or pipes that no water reaches.
func (c *checker) unfed(group groups) {
	w := c.p.Water
	if len(w.Manifolds) > 0 { // the first is fed by the inlet
		group.join(InletEnd, "row "+w.Manifolds[0].Row)
	}
	for i := range c.p.Store.Rows {
		r := &c.p.Store.Rows[i]
		for d := range r.Stacks() {
			if group.of(r.DrumName(d)) != group.of(InletEnd) {
				c.warn(item("store.rows", i), fmt.Sprintf("no rain comes to %s: no pipe leads to it from the inlet", r.DrumName(d)), "it is left out of what water reckons; its warmth is not")
				break
			}
		}
	}
}

// groups tells what hangs together: each name leads to another of its group, the last to itself.
type groups map[string]string

func (g groups) of(name string) string {
	for {
		up, ok := g[name]
		if !ok || up == name {
			return name
		}
		name = up
	}
}

func (g groups) join(a, b string) {
	for _, n := range []string{a, b} {
		if _, ok := g[n]; !ok {
			g[n] = n
		}
	}
	g[g.of(a)] = g.of(b)
}

// waterGroups joins what pipes and manifolds join.
func (c *checker) waterGroups() groups {
	w, g := c.p.Water, groups{}
	for _, p := range w.Pipes {
		g.join(p.From, p.To)
	}
	for i, m := range w.Manifolds {
		at := slices.IndexFunc(c.p.Store.Rows, func(r Row) bool { return r.Name == m.Row })
		if at < 0 {
			continue
		}
		row := &c.p.Store.Rows[at]
		for d := range row.Stacks() {
			g.join("row "+m.Row, row.DrumName(d))
		}
		if i > 0 {
			g.join("row "+m.Row, "row "+w.Manifolds[i-1].Row)
		}
	}
	return g
}

func (c *checker) dripLines(ends []string) {
	var beds []string
	for _, b := range c.p.Beds {
		beds = append(beds, b.Name)
	}
	for i, d := range c.p.Water.DripLines {
		path := item("water.drip_lines", i)
		c.named(join(path, "bed"), d.Bed, "bed", beds)
		if d.From != "" {
			c.named(join(path, "from"), d.From, "point or drum", ends[1:])
		}
		if d.From == "" && len(c.p.Water.Manifolds) == 0 && c.read(join(path, "name")) {
			c.fail(join(path, "from"), "is missing: there is no manifold that it could begin at", "name the point or drum that it leaves")
		}
	}
}

// valves checks that each sits on a pipe.
func (c *checker) valves() {
	on := []string{InletEnd, OverflowEnd}
	for _, p := range c.p.Water.Pipes {
		on = append(on, p.Name)
	}
	for _, d := range c.p.Water.DripLines {
		on = append(on, d.Name)
	}
	for i := range c.p.Store.Rows {
		r := &c.p.Store.Rows[i]
		if !slices.ContainsFunc(c.p.Water.Manifolds, func(m Manifold) bool { return m.Row == r.Name }) {
			continue
		}
		bays := make([]string, r.Bays)
		for b := range bays {
			bays[b] = BayName(r.Name, r.Bays, b)
		}
		if first := c.p.Water.Manifolds[0]; r.Name == first.Row { // the water falls into the first drum of all, by no pipe of the manifold
			if first.From == "right" {
				slices.Reverse(bays)
			}
			bays = bays[min(1, len(bays)):]
		}
		on = append(on, bays...)
	}
	for i, v := range c.p.Water.Valves {
		path := item("water.valves", i) + ".on"
		if c.read(path) && !slices.Contains(on, v.On) {
			c.fail(path, fmt.Sprintf("the valve sits on no pipe: there is no pipe, drip line or bay with a manifold called %q", v.On), suggest(v.On, on))
		}
	}
}

// inletShut looks at the days between which the inlet is shut.
func (c *checker) inletShut() {
	in := &c.p.Water.Inlet
	for _, d := range []struct {
		key       string
		at, other *Date
	}{{"shut_from", in.ShutFrom, in.ShutUntil}, {"shut_until", in.ShutUntil, in.ShutFrom}} {
		path := "water.inlet." + d.key
		switch {
		case d.at == nil:
		case d.other == nil:
			c.fail(path, "only one of shut_from and shut_until is given", "give both, or neither: it is then open all year")
		case d.at.Year != 0:
			c.fail(path, fmt.Sprintf("%s has a year", c.value(path)), "write month and day alone: it holds in every year")
		}
	}
}

func (c *checker) keeps() {
	for i, k := range c.p.Water.Keep {
		path := item("water.keep", i)
		for _, d := range []struct {
			key string
			at  Date
		}{{"from", k.From}, {"until", k.Until}} {
			if at := join(path, d.key); c.read(at) && d.at.Year != 0 {
				c.fail(at, fmt.Sprintf("%s has a year", c.value(at)), "write month and day alone: it holds in every year")
			}
		}
	}
	if len(c.p.Water.Keep) > 0 && c.p.Water.Use == nil && !c.written("water.use_a_day") {
		c.warn("water.keep", "nothing is used, so that nothing need be kept", "give use_a_day")
	}
}
