package report

import (
	"io"

	"suncellar/internal/unit"
	"suncellar/internal/worth"
)

// The JSON answer of worth. Figures of things are by one unit more, in the SI unit of the trade; of a switch by having it.
type worthJSON struct {
	Schema     Schema           `json:"schema"`
	Plan       string           `json:"plan"`
	LimitC     float64          `json:"limit_c"`
	Sentences  []string         `json:"sentences"`
	Places     unitPlacesJSON   `json:"places"`
	Whole      bool             `json:"whole_winter"`
	Built      string           `json:"house_stands_from"`
	From       string           `json:"counts_from"`
	Until      string           `json:"counts_until"`
	StepS      float64          `json:"step_s"`
	Runs       int              `json:"runs"`
	Base       measuresJSON     `json:"as_run"`
	Things     []thingJSON      `json:"things"`
	Unknown    []thingJSON      `json:"not_known"`
	Outdoors   []thingJSON      `json:"outdoors"`
	Band       *unitBandJSON    `json:"band_of_the_house,omitempty"`
	NoBand     string           `json:"no_band_because,omitempty"`
	Houses     *housesJSON      `json:"drawn_houses,omitempty"`
	NotDrawn   string           `json:"not_drawn_because,omitempty"`
	Weather    weatherJSON      `json:"weather"`
	Simplified []simplifiedJSON `json:"simplified"`
	Assumed    []assumedJSON    `json:"assumed"`
	Cautions   []string         `json:"cautions"`
}

type unitPlacesJSON struct {
	Leaf string `json:"leaf"`
	Air  string `json:"air,omitempty"`
	Soil string `json:"soil,omitempty"`
	Has  bool   `json:"has_water"`
}

// measuresJSON is levels; byUnitJSON is differences.
type measuresJSON struct {
	LeafC    float64 `json:"leaf_lowest_c"`
	AirC     float64 `json:"air_lowest_c"`
	SoilC    float64 `json:"soil_lowest_c"`
	StoreC   float64 `json:"water_lowest_c"`
	ColdKh   float64 `json:"leaf_degree_hours_below_limit_kh"`
	LightMol float64 `json:"bed_light_mol_m2d"`
	ReserveJ float64 `json:"reserve_mean_j"`
}

type byUnitJSON struct {
	LeafK    float64 `json:"leaf_lowest_k"`
	AirK     float64 `json:"air_lowest_k"`
	SoilK    float64 `json:"soil_lowest_k"`
	WaterK   float64 `json:"water_lowest_k"`
	ColdKh   float64 `json:"leaf_degree_hours_below_limit_kh"`
	LightMol float64 `json:"bed_light_mol_m2d"`
	ReserveJ float64 `json:"reserve_mean_j"`
}

type thingJSON struct {
	ID       string      `json:"id"`
	Label    string      `json:"label"`
	Unit     string      `json:"unit"`
	Switch   bool        `json:"switch"`
	Error    string      `json:"error,omitempty"`
	Steps    *float64    `json:"step_in_units,omitempty"`
	ByUnit   *byUnitJSON `json:"by_unit,omitempty"`
	HalfStep *byUnitJSON `json:"by_unit_at_half_step,omitempty"`
	IfMore   *byUnitJSON `json:"if_more,omitempty"`
	IfLess   *byUnitJSON `json:"if_less,omitempty"`
	Source   string      `json:"spread_source,omitempty"`
	Notes    []string    `json:"notes"`
}

type unitBandJSON struct {
	Over   string         `json:"over"`
	Share  float64        `json:"share"`
	Places unitPlacesJSON `json:"places"`
	Middle unitEndsJSON   `json:"middle"`
	Lo     unitEndsJSON   `json:"lo"`
	Hi     unitEndsJSON   `json:"hi"`
}

type unitEndsJSON struct {
	LeafC  float64 `json:"leaf_lowest_c"`
	AirC   float64 `json:"air_lowest_c"`
	SoilC  float64 `json:"soil_lowest_c"`
	WaterC float64 `json:"water_lowest_c"`
}

// WorthJSON writes what one more unit of each thing is worth as one JSON object.
func WorthJSON(w io.Writer, a *worth.UnitAnswer, of OfHouse) error {
	t := Teller{System: unit.SI}
	built, _, _, _ := t.unitRows(a)
	first := a.First
	out := worthJSON{Schema: Schema{"suncellar.worth", 1}, Plan: first.Plan.Name, LimitC: first.LimitC, Sentences: t.unitSentences(a, built),
		Places: unitPlacesJSON{a.At.Leaf, a.At.Air, a.At.Soil, a.At.Water}, Whole: a.Whole, Built: stamp(local(first, a.Built)), From: stamp(local(first, a.From)), Until: stamp(local(first, a.Until)),
		StepS: 3600 / float64(int(1)<<a.Rung), Runs: a.Runs, Base: measuresAsJSON(a.Base), Things: []thingJSON{}, Unknown: []thingJSON{}, Outdoors: []thingJSON{},
		Weather: weatherOf(first.Prepared), Simplified: simplified(first.Simplified), Assumed: assumed(first.Assumed), Cautions: unitCautions(a, built)}
	for i := range a.Rows {
		list := &out.Things
		switch a.Rows[i].Kind {
		case worth.Unknown:
			list = &out.Unknown
		case worth.Outdoors:
			list = &out.Outdoors
		}
		*list = append(*list, thingAsJSON(&a.Rows[i]))
	}
	if out.Band = bandAsJSON(a); out.Band != nil {
		out.Sentences = append(out.Sentences, t.bandSentence(a, of))
	}
	out.NoBand, out.Houses, out.NotDrawn = of.Why, housesAsJSON(of.Drawn), of.WhyNotDrawn
	return WriteJSON(w, out)
}

// bandAsJSON is nil where there is no band.
func bandAsJSON(a *worth.UnitAnswer) *unitBandJSON {
	if a == nil || a.Band == nil {
		return nil
	}
	b := a.Band
	return &unitBandJSON{Over: "what is not known of the house, in this one winter", Share: 0.8, Places: unitPlacesJSON{a.At.Leaf, a.At.Air, a.At.Soil, a.At.Water},
		Middle: endsOf(b.Middle), Lo: endsOf(b.Lo), Hi: endsOf(b.Hi)}
}

func endsOf(m worth.Measures) unitEndsJSON { return unitEndsJSON{m.LeafC, m.AirC, m.SoilC, m.StoreC} }

func measuresAsJSON(m worth.Measures) measuresJSON {
	return measuresJSON{m.LeafC, m.AirC, m.SoilC, m.StoreC, m.ColdKh, m.LightMol, m.ReserveJ}
}

func byUnit(m worth.Measures) *byUnitJSON {
	return &byUnitJSON{m.LeafC, m.AirC, m.SoilC, m.StoreC, m.ColdKh, m.LightMol, m.ReserveJ}
}

func thingAsJSON(w *worth.Worth) thingJSON {
	out := thingJSON{ID: w.ID, Label: w.Label, Unit: w.One.In, Switch: w.Switch, Source: w.Prior, Notes: append([]string{}, w.Notes...)}
	if w.Err != nil {
		out.Error = w.Err.Error()
		return out
	}
	k := w.One.SI
	out.ByUnit = byUnit(w.Per.Times(k))
	if !w.Switch {
		steps := w.Used / k
		out.Steps = &steps
	}
	if w.HasHalf {
		out.HalfStep = byUnit(w.Half.Times(k))
	}
	if w.Kind == worth.Unknown {
		if w.HasMore {
			out.IfMore = byUnit(w.More)
		}
		if w.HasLess {
			out.IfLess = byUnit(w.Less)
		}
	}
	return out
}
