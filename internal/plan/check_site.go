package plan

import (
	"fmt"
	"math"
	"reflect"
	"time"
)

// zoneSlack is how far a site's standard time may be from its sun [h]: western China, the widest in use, is 3.2 h off.
const zoneSlack = 4

func (c *checker) site() {
	if c.read("site.time_zone", "site.longitude") {
		clock := float64(c.p.Site.TimeZone.OffsetS) / 3600
		sun := c.p.Site.Longitude * 12 / math.Pi
		if off := math.Abs(math.Remainder(clock-sun, 24)); off > zoneSlack {
			c.fail("site.time_zone", fmt.Sprintf("%s is %.1f h away from the sun of longitude %s, allowed: %d h", c.value("site.time_zone"), off, c.value("site.longitude"), zoneSlack),
				"west of Greenwich longitude and zone are both negative")
		}
	}
	c.soilLayers()
	if w := c.p.Site.WaterTable; w != nil && c.p.Shape != nil && c.read("shape.depth") && c.p.Shape.Depth >= *w {
		c.warn("site.water_table", fmt.Sprintf("%s is not below the floor (%s)", c.value("site.water_table"), c.value("shape.depth")), "a floor in ground water floods; dig less deep, or drain")
	}
}

// thinnestLayer is the least thickness of a layer of soil [m]: what is thinner hardly tells in the ground; own judgement.
const thinnestLayer = 0.05

// soilLayers holds the layers of soil to their order from grade down.
func (c *checker) soilLayers() {
	layers := c.p.Site.SoilLayers
	if layers != nil && len(layers) == 0 {
		c.fail("site.soil_layers", "the list is empty, at least one layer is wanted", "leave it out where soil is the same from grade down")
	}
	above, from := 0.0, "grade"
	for i, l := range layers {
		to := item("site.soil_layers", i) + ".to"
		if !c.read(to) {
			return
		}
		switch thick := l.To - above; {
		case thick <= 0:
			c.fail(to, fmt.Sprintf("%s is not below the lower edge of the layer above (%s)", c.value(to), from), "list the layers from the top down, each with the depth of its lower edge below grade")
		case thick < thinnestLayer-1e-9:
			c.fail(to, fmt.Sprintf("the layer from %s to %s is %.3g m thick, allowed: %g m or more", from, c.value(to), thick, thinnestLayer), "leave a layer as thin as that out")
		}
		above, from = l.To, c.value(to)
	}
}

// outlook checks the skyline and the banks.
func (c *checker) outlook() {
	s := c.p.Site
	if s.Horizon != nil && len(s.Horizon) == 0 {
		c.fail("site.horizon", "the list is empty, at least one direction is wanted", "leave it out for a level horizon")
	}
	for i, p := range s.Horizon {
		at := item("site.horizon", i) + ".azimuth"
		for j := range i {
			other := item("site.horizon", j) + ".azimuth"
			if c.read(at, other) && math.Abs(math.Remainder(p.Azimuth-s.Horizon[j].Azimuth, 2*math.Pi)) < 1e-6 {
				c.fail(at, fmt.Sprintf("%s stands twice in site.horizon", c.value(at)), "one height for each direction; 0 deg and 360 deg are one")
				break
			}
		}
	}
	c.unique(reflect.ValueOf(s.Banks), "site.banks")
}

func (c *checker) climate() {
	k := c.p.Climate
	if k == nil {
		if !c.known.Weather && !c.written("climate") {
			c.fail("climate", "is missing, and no weather is given beside the plan", "write twelve monthly normals, or give a weather file")
		}
		return
	}
	at := func(key string, month int) string { return item("climate."+key, month) }
	for m := range 12 {
		if c.read(at("mean_low", m), at("mean_high", m)) && k.MeanHigh[m] < k.MeanLow[m] {
			c.fail(at("mean_high", m), fmt.Sprintf("%s in %s is below the mean low (%s)", c.value(at("mean_high", m)), time.Month(m+1), c.value(at("mean_low", m))), "both lists begin with January")
		}
		if k.DewPoint != nil && c.read(at("dew_point", m), at("mean_high", m)) && k.DewPoint[m] > k.MeanHigh[m] {
			c.fail(at("dew_point", m), fmt.Sprintf("%s in %s is above the mean high (%s)", c.value(at("dew_point", m)), time.Month(m+1), c.value(at("mean_high", m))), "air cannot hold that much water")
		}
		c.days(at("wet_days", m), k.WetDays[m], m)
		if c.read(at("precipitation", m), at("wet_days", m)) && k.Precipitation[m] > 0 && k.WetDays[m] == 0 {
			c.fail(at("wet_days", m), fmt.Sprintf("%s has %s of precipitation but no wet day", time.Month(m+1), c.value(at("precipitation", m))), "write a part of a day, such as 0.2, where it seldom rains")
		}
	}
}

// days holds a number of days to the length of its month.
func (c *checker) days(path string, days float64, month int) {
	last := float64(lastDay(2024, month+1))
	if c.read(path) && days > last {
		c.fail(path, fmt.Sprintf("%s days in %s, allowed: 0 to %g", c.value(path), time.Month(month+1), last), "the list begins with January")
	}
}

func (c *checker) snow() {
	s := c.p.Snow
	if s == nil {
		return
	}
	fall, days, dated := c.written("snow.fall"), c.written("snow.days"), c.written("snow.list")
	switch {
	case dated && (fall || days):
		c.fail("snow.list", "dated snowfalls are given beside monthly ones", "give list, or fall and days")
	case !dated && !fall:
		c.fail("snow.fall", "is missing, and there is no list", "give fall and days, or list")
	case fall != days:
		c.fail("snow.days", "fall and days are only read together", "give both")
	}
	if s.Fall == nil || s.Days == nil {
		return
	}
	for m := range 12 {
		at, deep := item("snow.days", m), item("snow.fall", m)
		c.days(at, s.Days[m], m)
		if c.read(at, deep) && (s.Fall[m] > 0) != (s.Days[m] > 0) {
			c.fail(at, fmt.Sprintf("%s of snow on %s days in %s", c.value(deep), c.value(at), time.Month(m+1)), "both are 0, or neither")
		}
	}
}

// seasons checks the spans of dates.
func (c *checker) seasons() {
	c.span("run", c.p.Run.From, c.p.Run.Until)
	if c.p.Cover != nil {
		c.span("cover", c.p.Cover.From, c.p.Cover.Until)
		if c.p.Cover.EdgeGap != nil && c.p.Origins.Given("cover.fit") {
			c.fail("cover.edge_gap", "fit and edge_gap are both given", "give one of them: fit, or how wide the edge gapes")
		}
	}
	c.takenOff()
}

// takenOff checks which faces are taken off and when.
func (c *checker) takenOff() {
	for i, o := range c.p.TakenOff {
		path := item("taken_off", i)
		c.span(path, o.From, o.Until)
		if !c.facesRead() {
			continue
		}
		allowed := c.p.Faces()
		for _, w := range c.p.Windows {
			allowed = append(allowed, w.Name)
		}
		c.named(path+".face", o.Face, "face", allowed, LeftEnd, RightEnd)
		if o.Instead != "" {
			c.named(path+".instead", o.Instead, "glazing", c.glazingNames())
		}
		for _, before := range c.p.TakenOff[:i] {
			if before.Face == o.Face && c.read(path+".face") {
				c.fail(path+".face", fmt.Sprintf("%q stands twice in taken_off", o.Face), "one season for each face")
				break
			}
		}
	}
}

// span holds from and until to one way of writing, in order and within a year.
func (c *checker) span(path string, from, until Date) {
	a, b := join(path, "from"), join(path, "until")
	if !c.read(a, b) {
		return
	}
	switch {
	case (from.Year == 0) != (until.Year == 0):
		c.fail(b, fmt.Sprintf("one of %s and %s has a year, the other has none", c.value(a), c.value(b)), "write the year in both, or in neither")
	case from.Year > 0 && !until.time().After(from.time()):
		c.fail(b, fmt.Sprintf("%s is not after %s", c.value(b), c.value(a)), "")
	case from.Year > 0 && until.time().Sub(from.time()) > 366*24*time.Hour:
		c.fail(b, fmt.Sprintf("%s is more than a year after %s", c.value(b), c.value(a)), "a winter lies within one year")
	case from == until:
		c.fail(b, fmt.Sprintf("from and until are one day, %s", c.value(a)), "")
	}
}

func (d Date) time() time.Time {
	return time.Date(d.Year, time.Month(d.Month), d.Day, 0, 0, 0, 0, time.UTC)
}
