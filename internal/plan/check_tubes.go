package plan

import "fmt"

// tubes checks each row of buried tubes by itself; whether it fits the house and the ground is seen when these are resolved.
func (c *checker) tubes() {
	for i, t := range c.p.Tubes {
		path := item("tubes", i)
		c.tubeEnds(t, path)
		c.tubeRow(t, path)
		if t.Fan != nil {
			c.tubeFan(t.Fan, join(path, "fan"))
		}
	}
}

func (c *checker) tubeEnds(t Tube, path string) {
	in, out := path+".inlet.in", path+".outlet.in"
	if c.read(in, out) && t.Inlet.In == "outdoors" && t.Outlet.In == "outdoors" {
		c.fail(out, "both ends are outdoors, at most one may be", "air that never meets the house does nothing for it")
	}
	low, high := path+".inlet.height", path+".outlet.height"
	if c.read(low, high, in, out) && t.Inlet.In == "house" && t.Outlet.In == "house" && t.Inlet.Height == t.Outlet.Height && t.Fan == nil {
		c.warn(high, fmt.Sprintf("both ends are at %s: the air has no way of its own to go and is taken to stand", c.value(high)), "set one end higher, or give a fan")
	}
	if c.read(join(path, "drain")) && t.Drain == "no" {
		c.warn(join(path, "drain"), "water that condenses stays in the tubes", "standing water blocks the air and breeds mould in what is then breathed: lay them to fall to a drain")
	}
}

func (c *checker) tubeRow(t Tube, path string) {
	if c.read(join(path, "spacing"), join(path, "diameter"), join(path, "wall")) && t.Count > 1 {
		if outside := t.Diameter + 2*t.Wall; t.Spacing < 1.2*outside {
			c.fail(join(path, "spacing"), fmt.Sprintf("%s is too close for tubes %.0f mm wide outside, allowed: from %.0f mm", c.value(join(path, "spacing")), 1000*outside, 1200*outside),
				"soil has to be packed between them; five diameters are usual")
		}
	}
	if c.read(join(path, "count"), join(path, "tiers")) && t.Tiers > t.Count {
		c.fail(join(path, "tiers"), fmt.Sprintf("%d tiers for %d tubes, allowed: up to as many", t.Tiers, t.Count), "")
	}
	if c.read(join(path, "depth"), join(path, "diameter")) && t.Depth < t.Diameter/2+0.1 {
		c.fail(join(path, "depth"), fmt.Sprintf("%s leaves less than 10 cm of earth over the tubes", c.value(join(path, "depth"))), "depth is that of the axis")
	}
}

func (c *checker) tubeFan(f *TubeFan, path string) {
	if f.Below != nil && f.Above != nil && c.read(join(path, "below"), join(path, "above")) && *f.Above <= *f.Below {
		c.fail(join(path, "above"), fmt.Sprintf("%s is not above below (%s): the fan would always run", c.value(join(path, "above")), c.value(join(path, "below"))), "leave both out for a fan that always runs")
	}
}
