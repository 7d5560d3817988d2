package report

import (
	"time"

	"suncellar/internal/water"
)

type settledJSON struct {
	Vessel   string            `json:"vessel"`
	Drum     bool              `json:"settling_drum"`
	AreaM2   float64           `json:"area_m2"`
	DepthM   float64           `json:"depth_m"`
	DrainM   float64           `json:"below_drain_m"`
	MudM     float64           `json:"mud_m"`
	InflowM3 *float64          `json:"inflow_m3_year"` // null: not known
	Rains    []settledRainJSON `json:"rains"`
	Mud      []mudJSON         `json:"mud"`
}

type settledRainJSON struct {
	RainMS    float64        `json:"rain_m_s"`
	FlowM3S   float64        `json:"flow_m3_s"`
	RateMS    float64        `json:"overflow_rate_m_s"`
	SmallestM *float64       `json:"smallest_caught_m"` // null: none up to 1 m
	Kinds     []particleJSON `json:"particles"`
}

type particleJSON struct {
	Name      string  `json:"name"`
	DiameterM float64 `json:"diameter_m"`
	KgM3      float64 `json:"density_kg_m3"`
	Share     float64 `json:"share_caught"`
}

type mudJSON struct {
	LoadKgM3 float64  `json:"load_kg_m3"`
	DepthM   float64  `json:"depth_m_year"`
	Years    *float64 `json:"years"` // null: nothing comes
}

type freezingJSON struct {
	Sentences []string         `json:"sentences"`
	Parts     []freezePartJSON `json:"parts"`
	Drains    []string         `json:"run_empty"`
	Drums     []freezeDrumJSON `json:"drums"`
}

type freezePartJSON struct {
	Kind      string  `json:"kind"`
	Name      string  `json:"name"`
	Others    int     `json:"others"`
	Outside   bool    `json:"outside"`
	Air       string  `json:"air"`
	DiameterM float64 `json:"diameter_m"`
	First     string  `json:"first_ice,omitempty"`
	Solid     string  `json:"solid,omitempty"`
	IceHours  int     `json:"ice_hours"`
	MostIce   float64 `json:"most_ice"`
	LowestC   float64 `json:"lowest_c"`
	LowestAt  string  `json:"lowest_at"`
}

type freezeDrumJSON struct {
	Bay     string  `json:"bay"`
	Fill    float64 `json:"fill"`
	Stacked bool    `json:"stacked"`
	First   string  `json:"first_ice,omitempty"`
	MostIce float64 `json:"most_ice"`
	Head    float64 `json:"head_share"`
	Need    float64 `json:"ice_needs_share"`
	TightAt string  `json:"too_full_from,omitempty"`
	LowestC float64 `json:"lowest_c"`
	LowAt   string  `json:"lowest_at"`
}

type careJSON struct {
	Kind     string   `json:"kind"`
	Sentence string   `json:"sentence"`
	Names    []string `json:"names,omitempty"`
	By       string   `json:"by,omitempty"`
}

func settledAsJSON(s *water.Settled) *settledJSON {
	if s == nil {
		return nil
	}
	out := &settledJSON{Vessel: s.Name, Drum: s.Drum, AreaM2: s.AreaM2, DepthM: s.DepthM, DrainM: s.DrainM, MudM: s.MudM}
	if s.InflowM3 > 0 {
		out.InflowM3 = &s.InflowM3
	}
	for _, r := range s.Rains {
		row := settledRainJSON{RainMS: r.RainMS, FlowM3S: r.FlowM3S, RateMS: r.RateMS, SmallestM: finite(r.SmallestM)}
		for i, k := range water.Particles {
			row.Kinds = append(row.Kinds, particleJSON{k.Name, k.Diameter, k.Density, r.Shares[i]})
		}
		out.Rains = append(out.Rains, row)
	}
	for _, m := range s.Mud {
		out.Mud = append(out.Mud, mudJSON{m.LoadKgM3, m.DepthM, finite(m.Years)})
	}
	return out
}

func freezingAsJSON(a *water.Answer) *freezingJSON {
	f := a.Freezing
	if f == nil {
		return nil
	}
	day := func(at time.Time) string {
		if at.IsZero() {
			return ""
		}
		return stamp(local(a.Winter, at))
	}
	out := &freezingJSON{Sentences: append(Teller{}.freezeSentences(a), Teller{}.freezeDrums(a)...), Parts: []freezePartJSON{}, Drains: f.Drains, Drums: []freezeDrumJSON{}}
	for i := range f.Parts {
		p := &f.Parts[i]
		out.Parts = append(out.Parts, freezePartJSON{string(p.Kind), p.Name, p.Others, p.Outside, p.Air, p.Still.Diameter, day(p.First), day(p.Solid), p.IceHours, p.MostIce, p.LowestC, day(p.LowestAt)})
	}
	for _, d := range f.Drums {
		out.Drums = append(out.Drums, freezeDrumJSON{d.Bay, d.Fill, d.Stacked, day(d.First), d.Ice, d.Head, d.Need, day(d.TightAt), d.LowestC, day(d.LowAt)})
	}
	return out
}

func careAsJSON(a *water.Answer) []careJSON {
	list := []careJSON{}
	for i := range a.Care {
		c := &a.Care[i]
		one := careJSON{Kind: string(c.Kind), Sentence: Teller{}.careWords(a, c), Names: c.Names}
		if !c.At.IsZero() {
			one.By = stamp(local(a.Winter, c.At))
		}
		list = append(list, one)
	}
	return list
}
