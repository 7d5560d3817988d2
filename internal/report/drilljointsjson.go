package report

import (
	"io"

	"suncellar/internal/drill"
	"suncellar/internal/house"
)

// The JSON answer of the joints of a plan's water, SI.
type jointsJSON struct {
	Schema    Schema           `json:"schema"`
	Plan      string           `json:"plan"`
	Datum     string           `json:"datum"`
	Sentences []string         `json:"sentences"`
	Levels    []levelJSON      `json:"levels"`
	Joints    []jointJSON      `json:"joints"`
	DrawnM3   float64          `json:"expected_as_planned_m3"`
	Places    []valvePlaceJSON `json:"valves_more"` // with none, one, two, three, all shut in time
	Repair    *repairJSON      `json:"repair,omitempty"`
	Assumed   []assumedJSON    `json:"assumed"`
	Cautions  []string         `json:"cautions"`
}

type levelJSON struct {
	Vessel string  `json:"vessel"`
	ZM     float64 `json:"z_m"`
}

type jointJSON struct {
	Name  string        `json:"name"`
	Path  string        `json:"path"`
	Point int           `json:"point"`
	ZM    float64       `json:"z_m"`
	Rigid bool          `json:"rigid"`
	Odds  float64       `json:"odds_a_winter"`
	Now   jointLossJSON `json:"valves_as_planned"`
	Shut  jointLossJSON `json:"all_valves_shut"`
}

type jointLossJSON struct {
	M3    float64    `json:"lost_m3"`
	HeatJ *float64   `json:"heat_j"` // above 0 °C; null: the water's temperature is not known
	Falls []fallJSON `json:"falls"`
}

type fallJSON struct {
	Vessel string  `json:"vessel"`
	ToZM   float64 `json:"to_z_m"`
	LostM3 float64 `json:"lost_m3"`
}

type valvePlaceJSON struct {
	Pipes      []string `json:"pipes"`
	Between    []string `json:"between"`
	ExpectedM3 float64  `json:"expected_m3"`
}

type repairJSON struct {
	Joint     string      `json:"joint"`
	Steps     []string    `json:"steps"`
	Meanwhile []string    `json:"meanwhile"`
	Shut      []cutJSON   `json:"shut"`
	Part      []string    `json:"part"`
	Drains    []drainJSON `json:"drains"`
	Rain      bool        `json:"rain_comes_in"`
	InService []string    `json:"in_service"`
	Fed       []string    `json:"fed"`
	Drips     []string    `json:"drip_lines"`
	Inlet     bool        `json:"inlet_served"`
	Overflow  bool        `json:"overflow_served"`
	Cautions  []string    `json:"cautions"`
}

type cutJSON struct {
	Valve   string  `json:"valve"`
	SavesM3 float64 `json:"saves_m3"`
}

type drainJSON struct {
	By    string     `json:"by"`
	Drip  string     `json:"drip_line,omitempty"`
	Opens bool       `json:"opens"`
	M3    float64    `json:"m3"`
	Falls []fallJSON `json:"falls"`
}

// JointsJSON writes the table for programs, and a repair where one is given.
func JointsJSON(w io.Writer, a *drill.Table, repair *drill.Repair) error {
	out := jointsJSON{Schema: Schema{"suncellar.joints", 1}, Plan: a.House.Plan.Name, Datum: waterDatum, Sentences: Teller{}.JointSentences(a), Levels: []levelJSON{}, Joints: []jointJSON{},
		DrawnM3: a.DrawnM3, Assumed: assumed(oddsAssumed(a.House.Plan)), Cautions: JointCautions()}
	for v, z := range a.HeightsZ {
		out.Levels = append(out.Levels, levelJSON{a.Scheme.Vessels[v].Name, z})
	}
	for i := range a.Joints {
		j := &a.Joints[i]
		out.Joints = append(out.Joints, jointJSON{j.Name, j.Path, j.Point, j.Z, j.Rigid, j.Odds, lossAsJSON(a, j.Now), lossAsJSON(a, j.Shut)})
	}
	for _, p := range a.Places {
		place := valvePlaceJSON{Pipes: []string{}, Between: []string{}, ExpectedM3: p.ExpectedM3}
		for _, pipe := range p.Pipes {
			place.Pipes = append(place.Pipes, a.Scheme.Pipes[pipe].Name)
			place.Between = append(place.Between, valvePlace(a, pipe))
		}
		out.Places = append(out.Places, place)
	}
	if repair != nil {
		out.Repair = repairAsJSON(repair)
	}
	return WriteJSON(w, out)
}

func lossAsJSON(a *drill.Table, l drill.Loss) jointLossJSON {
	out := jointLossJSON{M3: l.M3, Falls: fallsAsJSON(a.Scheme, l.Falls)}
	if a.Warm {
		out.HeatJ = &l.HeatJ
	}
	return out
}

func fallsAsJSON(w *house.Water, falls []drill.Fall) []fallJSON {
	out := []fallJSON{}
	for _, f := range falls {
		out = append(out, fallJSON{w.Vessels[f.Vessel].Name, f.ToZ, f.LostM3})
	}
	return out
}

func repairAsJSON(r *drill.Repair) *repairJSON {
	w, s := r.Scheme, &r.Service
	out := &repairJSON{Joint: r.At.Name, Steps: Teller{}.RepairSteps(r), Meanwhile: Teller{}.MeanwhileSentences(r), Shut: []cutJSON{}, Part: vesselNames(w, r.Part), Drains: []drainJSON{},
		Rain: r.Rain, InService: vesselNames(w, s.Vessels), Fed: vesselNames(w, s.Fed), Drips: []string{}, Inlet: s.Inlet, Overflow: s.Overflow, Cautions: repairCautions()}
	for _, c := range r.Shut {
		out.Shut = append(out.Shut, cutJSON{w.Valves[c.Valve].Name, c.SavesM3})
	}
	for _, d := range r.Drains {
		one := drainJSON{By: string(d.By), Opens: d.Opens, M3: d.M3, Falls: fallsAsJSON(w, d.Falls)}
		if d.By == drill.ByDrip {
			one.Drip = w.Drips[d.Drip].Plan.Name
		}
		out.Drains = append(out.Drains, one)
	}
	for _, i := range s.Drips {
		out.Drips = append(out.Drips, w.Drips[i].Plan.Name)
	}
	return out
}

func vesselNames(w *house.Water, list []int) []string {
	out := []string{}
	for _, v := range list {
		out = append(out, w.Vessels[v].Name)
	}
	return out
}
