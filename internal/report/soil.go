package report

import (
	"fmt"

	"suncellar/internal/plan"
	"suncellar/internal/quantities"
	"suncellar/internal/unit"
)

// soilLayers lists the natural ground from grade down where it has layers.
func (t Teller) soilLayers(p *page, s *quantities.Sheet) {
	if len(s.Soil.Layers) == 0 {
		return
	}
	p.head("Soil, from grade down")
	from := "grade"
	for i, l := range s.Soil.Layers {
		to := t.depth(l.To)
		p.item(fmt.Sprintf("%s to %s: %s", from, to, t.soilWords(s.House.Plan.Site.SoilLayers[i].Soil(), l.Medium.K, l.Medium.KFrozen)))
		from = to
	}
	p.item(fmt.Sprintf("below %s: %s", from, t.soilWords(s.House.Plan.Site.Soil, s.Soil.Below.K, s.Soil.Below.KFrozen)))
}

// soilWords tells a soil and its conductivities, thawed and frozen [W/mK].
func (t Teller) soilWords(s plan.Soil, thawed, frozen float64) string {
	k := func(v float64) string { return unit.Format(unit.Conductivity, v, t.System, 2) }
	return fmt.Sprintf("%s, %s %% of its pores full of water; conducts %s, frozen %s", s.Texture, number(100*s.Moisture, 0), k(thawed), k(frozen))
}

// soilJSON is a layer of the natural ground; the last has no lower edge.
type soilJSON struct {
	ToM        *float64 `json:"to_m,omitempty"`
	Texture    string   `json:"texture"`
	Moisture   float64  `json:"moisture"`
	KWMK       float64  `json:"conductivity_w_mk"`
	KFrozenWMK float64  `json:"conductivity_frozen_w_mk"`
}

func soilLayersJSON(s *quantities.Sheet) []soilJSON {
	if len(s.Soil.Layers) == 0 {
		return nil
	}
	var list []soilJSON
	site := s.House.Plan.Site
	for i, l := range s.Soil.Layers {
		list = append(list, soilJSON{&l.To, site.SoilLayers[i].Texture, site.SoilLayers[i].Moisture, l.Medium.K, l.Medium.KFrozen})
	}
	return append(list, soilJSON{nil, site.Soil.Texture, site.Soil.Moisture, s.Soil.Below.K, s.Soil.Below.KFrozen})
}
