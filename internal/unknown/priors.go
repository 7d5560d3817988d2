package unknown

import (
	"fmt"

	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// prior is one row of the table.
type prior struct {
	id     string // key of the plan below unknown
	label  string
	spread spread
	words  string // one standard deviation
	basis  Basis
	source string
	kind   unit.Kind // of its first value, where the plan does not have it
	values func(*plan.Plan) []value
	of     func(*plan.Plan, *house.House) bool // whether the house has what it acts on; nil: each has
	late   bool
}

// priors is the table: each one standard deviation of a house built by careful amateurs that nobody has measured. Figures of the trade
// stand with the confidence of whoever collected them: high, seen in the text named; medium, seen in trade pages or a standard from
// memory; low, from memory alone.
//
// Left out, for want of a number in the plan: when snow slides, and the emittance of the ground outdoors, whose cover is a word. What is
// done to snow (foot left or cleared, brushed or not) is no spread but a choice. Snow of a weather file is as the file has it. Left out
// too: emittances and insulation that are not as their figures say.
var priors = []prior{
	{id: "leakage", label: "leakage", spread: times(2), words: "double or half", basis: Judgement, values: leakage,
		source: "own judgement after natural air exchange of ASABE EP406 and NRAES-33, from memory, confidence medium: 0.5 to 1.5 an hour in new houses, 1 to 4 in old ones; 0.2 to 0.5 with earth round it and a tight door, from memory, confidence low"},
	{id: "soil_moisture", label: "moisture of the soil", spread: by(0.15), words: "15 % of the pores", basis: Judgement, values: moisture, of: onSoil,
		source: "own judgement: a wet autumn or a dry one, drainage or none"},
	{id: "soil_conductivity", label: "conductivity of the soil", spread: times(1.35), words: "times or over 1.35", basis: Judgement, values: conductivity, of: onSoil, kind: unit.Conductivity, late: true,
		source: "own judgement: scatter of the method (Johansen) at a moisture that is known, and a texture that is only named; with the moisture about the factor 1.5 that is common for soil in fitted models"},
	{id: "dirt", label: "dirt on the glazing", spread: times(2), words: "double or half", basis: Trade, values: dirt, of: glazed,
		source: "trade, from memory, confidence medium: 2 to 7 % lost washed yearly, 10 to 20 % unwashed"},
	{id: "ageing", label: "light lost in a year of age", spread: times(1.3), words: "times or over 1.3", basis: Trade, values: ageing, of: glazed,
		source: "trade, confidence medium, judged about the plan's figure: 0.6 to 1 % a year for multiwall polycarbonate; glass about 0, film 3 to 5 %, fibreglass 2 to 3 %, which the plan has to say"},
	{id: "drum_factor", label: "coupling of the drums to the air", spread: times(1.3), words: "times or over 1.3", basis: Judgement, values: drumFilm, kind: unit.Ratio,
		of:     func(_ *plan.Plan, h *house.House) bool { return h.Water() > 0 },
		source: "own judgement: scatter of published films in rooms; trade, from memory, confidence medium: 6 to 9 W/m²K, longwave counted in"},
	{id: "inside_factor", label: "film of air on walls and glazing", spread: times(1.3), words: "times or over 1.3", basis: Judgement, values: insideFilm, kind: unit.Ratio,
		source: "own judgement: scatter of published films in rooms"},
	{id: "cover_fit", label: "fit of the cover", spread: by(0.15), words: "15 %", basis: Trade, values: fit, of: glazed,
		source: "trade, from memory: leaky edges halve the benefit; the spread about that is own judgement"},
	{id: "snowfall", label: "depth of every snowfall", spread: times(1.4), words: "times or over 1.4", basis: Judgement, values: snowfall, of: glazed, kind: unit.Ratio,
		source: "own judgement: wind and shelter at the house, and fresh snow of 50 to 100 kg/m³ (trade, from memory, confidence medium) for the same depth"},
}

func onSoil(_ *plan.Plan, h *house.House) bool {
	for i := range h.Faces {
		if h.Faces[i].Behind == house.Soil {
			return true
		}
	}
	return false
}

func glazed(_ *plan.Plan, h *house.House) bool { return h.GlazedArea() > 0 }

// leakage is whichever of its three measures the plan has.
func leakage(p *plan.Plan) []value {
	switch l := p.Leakage; {
	case l.AirChanges != nil:
		return []value{{path: "leakage.air_changes", at: *l.AirChanges}}
	case l.Area != nil:
		return []value{{path: "leakage.area", at: *l.Area}}
	default:
		return []value{{path: "leakage.per_area", at: l.PerArea}}
	}
}

// moisture is that of the soil and of each layer: a wet autumn wets them all.
func moisture(p *plan.Plan) []value {
	list := []value{{path: "site.soil.moisture", at: p.Site.Soil.Moisture}}
	for i, l := range p.Site.SoilLayers {
		list = append(list, value{layer(i, "moisture"), l.Moisture, true})
	}
	return list
}

// conductivity is that of the soil and of each layer, at the moisture that the plan has.
func conductivity(p *plan.Plan) []value {
	m, err := greenhouse.SoilMedium(p.Site.Soil)
	if err != nil {
		return nil
	}
	list := []value{{path: "site.soil.conductivity", at: m.K}}
	for i, l := range p.Site.SoilLayers {
		if m, err := greenhouse.SoilMedium(l.Soil()); err == nil {
			list = append(list, value{layer(i, "conductivity"), m.K, true})
		}
	}
	return list
}

func layer(i int, key string) string { return fmt.Sprintf("site.soil_layers[%d].%s", i, key) }

func dirt(p *plan.Plan) []value { return []value{{path: "frame.dirt", at: p.Frame.Dirt}} }

func ageing(p *plan.Plan) []value {
	if p.Frame.Age <= 0 {
		return nil
	}
	return []value{{path: "frame.ageing", at: p.Frame.Ageing}}
}

func drumFilm(p *plan.Plan) []value {
	return factor(p, "surfaces.drum_factor", p.Surfaces.DrumFactor)
}

func insideFilm(p *plan.Plan) []value {
	return factor(p, "surfaces.inside_factor", p.Surfaces.InsideFactor)
}

// factor is a factor on computed films: none where the plan gives the films, 1 where it gives neither.
func factor(p *plan.Plan, path string, given *float64) []value {
	switch {
	case p.Surfaces.Inside != nil:
		return nil
	case given == nil:
		return []value{{path: path, at: 1}}
	}
	return []value{{path: path, at: *given}}
}

// fit is that of a cover whose edge nobody measured.
func fit(p *plan.Plan) []value {
	if p.Cover == nil || p.Cover.EdgeGap != nil {
		return nil
	}
	return []value{{path: "cover.fit", at: p.Cover.Fit}}
}

// snowfall is all snow that the plan says falls.
func snowfall(p *plan.Plan) []value {
	var list []value
	if p.Snow == nil {
		return nil
	}
	if p.Snow.Fall != nil {
		for m, depth := range p.Snow.Fall {
			if depth > 0 {
				list = append(list, value{path: fmt.Sprintf("snow.fall[%d]", m), at: depth})
			}
		}
	}
	for i, s := range p.Snow.List {
		if s.Depth > 0 {
			list = append(list, value{path: fmt.Sprintf("snow.list[%d].depth", i), at: s.Depth})
		}
	}
	return list
}
