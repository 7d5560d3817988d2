package worth

import (
	"fmt"
	"maps"
	"slices"

	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// insulating is the conductivity below which a layer is there to keep heat in [W/mK]; judgement: straw, wool and foam are, wood is not.
const insulating = 0.09

// layers adds every insulating layer of every build that the house has, by thickness, and bare resistances.
func (t *things) layers() {
	used := t.used()
	for _, name := range slices.Sorted(maps.Keys(t.p.Builds)) {
		b := t.p.Builds[name]
		if !used[name] {
			continue
		}
		if b.RValue != nil {
			t.value(path("builds", name, "r_value"), "insulation of "+name, *b.RValue, oneR)
		}
		for i, l := range b.Layers {
			at := path("builds", name, "layers", i)
			switch k := t.conductivity(name, i); {
			case l.RValue != nil:
				t.value(at+".r_value", "insulation of "+name, *l.RValue, oneR)
			case k > 0 && k < insulating:
				t.value(at+".thickness", words(l.Material)+" of "+name, l.Thickness, oneThick)
			}
		}
	}
}

// used is the builds that some face of the house has.
func (t *things) used() map[string]bool {
	used := map[string]bool{}
	for i := range t.h.Faces {
		if b := t.h.Faces[i].Build; b != nil {
			used[b.Name] = true
		}
	}
	return used
}

// conductivity of a layer of a build that is used [W/mK].
func (t *things) conductivity(build string, layer int) float64 {
	for i := range t.h.Faces {
		if b := t.h.Faces[i].Build; b != nil && b.Name == build && layer < len(b.Layers) {
			return b.Layers[layer].Conductivity
		}
	}
	return 0
}

// boards adds thickness, reach and depth of each board in the ground, or a first one.
func (t *things) boards() {
	boards := t.p.Ground.Boards
	for i, b := range boards {
		at, name := path("ground", "boards", i), fmt.Sprintf("%s board, %s", b.At, b.Lay)
		t.value(at+".thickness", name+", thickness", b.Thickness, oneThick)
		t.value(at+".reach", name+", reach", b.Reach, oneFar).Deeper = true
		if b.Lay == "lying" && b.Depth > 0 {
			t.value(at+".depth", name+", depth", b.Depth, oneFar).Deeper = true
		}
	}
	if len(boards) == 0 && t.onSoil() {
		t.toggle("ground.boards", "5 cm board lying 60 cm out at the front", false,
			"ground.boards", "[{at: front, lay: lying, thickness: 5 cm, reach: 60 cm}]").Deeper = true
	}
}

func (t *things) onSoil() bool {
	return slices.ContainsFunc(t.h.Faces, func(f house.Face) bool { return f.Behind == house.Soil })
}

// store adds number, fill and colour of the drums of each row.
func (t *things) store() {
	if t.p.Store == nil {
		return
	}
	for i, r := range t.p.Store.Rows {
		at := path("store", "rows", i)
		if r.Drums == 0 || r.Fill == 0 {
			continue
		}
		d := t.value(at+".drums", r.Name, float64(r.Drums), oneDrum)
		d.Whole, d.Step = true, float64(max(1, r.Drums/10))
		if d.Step == 1 && r.Drums > 3 {
			d.Step = 2 // so that there is a half of it
		}
		litres := float64(r.Drums) * t.h.Rows[i].Volume // of a full row [m³]
		t.value(at+".fill", r.Name+", filled higher", r.Fill, Amount{0.1 / litres, "100 L", 25 * gallon / litres, "25 gal"}).Step = 0.05
		if r.Colour == "black" {
			t.toggle(at+".colour", r.Name+" black, not white", true, at+".colour", "white")
		} else {
			t.toggle(at+".colour", r.Name+" black, not "+r.Colour, false, at+".colour", "black")
		}
	}
}

// better is a glazing with one layer more, of the same kind where the library has it.
var better = map[string]string{
	"single_film": "double_film", "single_film_ir": "double_film_ir", "double_film": "twin_wall_8mm", "double_film_ir": "twin_wall_8mm",
	"single_glass_3mm": "double_glass", "single_glass_4mm": "double_glass", "low_iron_glass_4mm": "double_glass", "single_polycarbonate": "twin_wall_8mm", "acrylic_3mm": "twin_wall_acrylic_16mm", "fibreglass_1mm": "twin_wall_8mm",
	"twin_wall_4mm": "triple_wall_16mm", "twin_wall_6mm": "triple_wall_16mm", "twin_wall_8mm": "triple_wall_16mm", "twin_wall_10mm": "triple_wall_16mm", "twin_wall_16mm": "triple_wall_16mm",
	"triple_wall_8mm": "five_wall_16mm", "triple_wall_10mm": "five_wall_16mm", "triple_wall_16mm": "five_wall_25mm",
}

// glazing adds a second layer, frame and dirt.
func (t *things) glazing() {
	if t.h.GlazedArea() == 0 {
		return
	}
	if s := t.p.Shape; s != nil && t.p.Glazings[s.Glazing].Panes == nil {
		if to, ok := better[house.Key(s.Glazing)]; ok && slices.Contains(house.Known().Glazings, to) {
			t.toggle("shape.glazing", words(to)+", not "+words(s.Glazing), false, "shape.glazing", to).Free = true
		}
	}
	t.value("frame.share", "frame, share of the glazing", t.p.Frame.Share, fivePart)
	if t.p.Frame.Dirt > 0 {
		t.value("frame.dirt", "dirt left on the glazing", t.p.Frame.Dirt, fivePart)
	}
	if s := t.p.Snow; s != nil && !s.Never() {
		brushed := "morning after"
		away := s.Brushed == brushed
		if away {
			brushed = "never"
		}
		brush := t.toggle("snow.brushed", "snow brushed off the next morning", away, "snow.brushed", brushed)
		brush.Snow, brush.Free = true, true
	}
}

// cover adds its resistance and fit, and the cover itself.
func (t *things) cover() {
	if t.h.GlazedArea() == 0 {
		return
	}
	c := t.p.Cover
	if c == nil {
		t.toggle("cover", "night cover of 0.7 m²K/W (R-4)", false, "cover", "{r_value: 0.7 m2K/W}").Free = true
		return
	}
	t.toggle("cover", "night cover, as planned", true, "cover", "none").Free = true
	t.value("cover.r_value", "resistance of the cover", c.RValue, oneR)
	if c.Fit > 0 && c.Fit < 1 {
		t.value("cover.fit", "fit of the cover", c.Fit, tenPart)
	}
}

// shape adds the measures of the short form.
func (t *things) shape() {
	s := t.p.Shape
	if s == nil {
		if t.p.Section != nil {
			t.value("section.length", "length of the house", t.p.Section.Length, oneLong)
		}
		return
	}
	if s.Depth > 0 {
		t.value("shape.depth", "depth of the floor", s.Depth, oneFar).Deeper = true
	}
	t.value("shape.length", "length of the house", s.Length, oneLong)
	if s.FrontHeight > 0 {
		t.value("shape.front_height", "front wall height", s.FrontHeight, oneFar)
	}
	if s.BackHeight > 0 {
		t.value("shape.back_height", "back wall height", s.BackHeight, oneFar)
	}
	if s.GlazingSlope != nil && s.Kind == "pit" {
		t.value("shape.glazing_slope", "glazing slope", *s.GlazingSlope, oneSlope).Step = oneSlope.SI
	}
	if s.Kind == "pit" && s.BackRoofSlope > 0 {
		t.value("shape.back_roof_slope", "back roof slope", s.BackRoofSlope, oneSlope).Step = oneSlope.SI
	}
}

// windows adds the area of each, by its width.
func (t *things) windows() {
	for i, w := range t.p.Windows {
		per := w.Height * float64(w.Count) // area by width [m]
		one := Amount{oneArea.SI / per, oneArea.In, oneArea.US / per, oneArea.Us}
		t.value(path("windows", i, "width"), w.Name+", area", w.Width, one)
	}
}

// air adds leakage and the vents, all together.
func (t *things) air() {
	switch l := t.p.Leakage; {
	case l.AirChanges != nil && *l.AirChanges > 0:
		t.value("leakage.air_changes", "leakage, air changes", *l.AirChanges, Amount{0.1, "0.1 an hour", 0.1, "0.1 an hour"})
	case l.AirChanges != nil:
	case l.Area != nil && *l.Area > 0:
		t.value("leakage.area", "leakage area of the joints", *l.Area, oneJoint)
	case l.Area == nil && l.PerArea > 0:
		area := t.h.Envelope()
		t.value("leakage.per_area", "leakage area of the joints", l.PerArea, Amount{oneJoint.SI / area, oneJoint.In, oneJoint.US / area, oneJoint.Us})
	}
	total := 0.0
	for _, v := range t.p.Vents {
		total += v.Area
	}
	if total > 0 {
		t.add(Parameter{ID: "vents", Label: "vents, all together", Kind: Build, One: oneVent, At: total, Step: stepOf(total, oneVent), set: func(x float64) []plan.Change {
			var list []plan.Change
			for i, v := range t.p.Vents {
				list = append(list, t.number(path("vents", i, "area"), v.Area*x/total))
			}
			return list
		}})
	}
}

// beds adds the level of all beds, and the depth of the sink.
func (t *things) beds() {
	if beds := t.p.Beds; len(beds) > 0 {
		t.add(Parameter{ID: "beds.level", Label: "level of the beds", Kind: Build, One: oneFar, Step: oneFar.SI, set: func(x float64) []plan.Change {
			var list []plan.Change
			for i, b := range beds {
				list = append(list, t.number(path("beds", i, "level"), b.Level+x))
			}
			return list
		}})
	}
	if s := t.p.ColdSink; s != nil {
		t.value("cold_sink.depth", "depth of the cold sink", s.Depth, oneFar).Deeper = true
	}
}

// colours adds how dark the builds are inside.
func (t *things) colours() {
	used := t.used()
	for _, name := range slices.Sorted(maps.Keys(t.p.Builds)) {
		if used[name] {
			t.value(path("builds", name, "inside", "absorptance"), "darkness of "+name, t.p.Builds[name].Inside.Absorptance, tenPart)
		}
	}
}
