package report

import (
	"io"
	"math"

	"suncellar/internal/water"
)

// waterDatum says from where the heights of water count.
const waterDatum = "z_m and other heights are above grade, below it negative"

// The JSON answer of a plan's water, SI.
type waterAnswerJSON struct {
	Schema    Schema             `json:"schema"`
	Plan      string             `json:"plan"`
	Datum     string             `json:"datum"`
	Sentences []string           `json:"sentences"`
	Findings  []waterFindingJSON `json:"findings"`
	Paths     []waterPathJSON    `json:"paths"`
	Levels    waterLevelsJSON    `json:"levels"`
	Vessels   []vesselJSON       `json:"vessels"`
	Points    []waterPointJSON   `json:"points"`
	Pipes     []waterPipeJSON    `json:"pipes"`
	Valves    []valveJSON        `json:"valves"`
	Filling   fillingJSON        `json:"filling"`
	Drips     []dripStateJSON    `json:"drip_lines"`
	Rain      *rainJSON          `json:"rain,omitempty"`
	NoRain    string             `json:"no_rain_because,omitempty"`
	Ledgers   *waterLedgersJSON  `json:"winter,omitempty"`
	Settled   *settledJSON       `json:"settling,omitempty"`
	Freezing  *freezingJSON      `json:"freezing,omitempty"` // left out: no weather
	Care      []careJSON         `json:"care"`
	Assumed   []assumedJSON      `json:"assumed"`
	Cautions  []string           `json:"cautions"`
}

type waterFindingJSON struct {
	Kind     string  `json:"kind"`
	Sentence string  `json:"sentence"`
	Hint     string  `json:"hint"`
	Name     string  `json:"name,omitempty"`
	Way      string  `json:"way,omitempty"`
	Path     string  `json:"path"`
	File     string  `json:"file"`
	Line     int     `json:"line"`
	Column   int     `json:"column"`
	HeightM  float64 `json:"height_m"`
	LiftM    float64 `json:"lift_m"`
	LiftJM3  float64 `json:"lift_j_m3"`
	VolumeM3 float64 `json:"volume_m3"`
	Stops    bool    `json:"stops"`
}

type waterPathJSON struct {
	Name     string        `json:"name"`
	Stations []stationJSON `json:"stations"`
	Broken   int           `json:"broken"`
	ShortM   float64       `json:"short_m"`
}

type stationJSON struct {
	Name string  `json:"name"`
	Path string  `json:"path"`
	ZM   float64 `json:"z_m"`
}

type waterLevelsJSON struct {
	FullZM    float64  `json:"full_z_m"`
	LowestZM  float64  `json:"lowest_z_m"`
	FullM3    float64  `json:"full_m3"`
	UsableM3  float64  `json:"usable_m3"`
	ByCan     bool     `json:"by_can"`
	OverflowM float64  `json:"overflow_z_m"`
	TapM      *float64 `json:"tap_z_m"` // null: no drum is fed
}

type vesselJSON struct {
	Name     string  `json:"name"`
	Bay      string  `json:"bay"`
	BottomZM float64 `json:"bottom_z_m"`
	TopZM    float64 `json:"top_z_m"`
	VolumeM3 float64 `json:"volume_m3"`
	Fed      bool    `json:"fed"`
}

type waterPointJSON struct {
	Name   string  `json:"name"`
	ZM     float64 `json:"z_m"`
	Vessel int     `json:"vessel"` // -1: a joint
}

type waterPipeJSON struct {
	Name      string  `json:"name"`
	Path      string  `json:"path"`
	From      int     `json:"from_point"` // -1: gutter or settling drum
	To        int     `json:"to_point"`
	DiameterM float64 `json:"diameter_m"`
	LengthM   float64 `json:"length_m"`
	Rigid     bool    `json:"rigid"`
	Shut      bool    `json:"shut"`
	FlowM3S   float64 `json:"flow_m3_s"`
	SpeedMS   float64 `json:"speed_m_s"`
	LossM     float64 `json:"loss_m"`
}

type valveJSON struct {
	Name    string `json:"name"`
	Path    string `json:"path"`
	Pipe    int    `json:"pipe"` // -1 inlet, -2 overflow, -3 and less a drip line
	Shut    bool   `json:"shut"`
	Assumed bool   `json:"assumed"`
}

type fillingJSON struct {
	RainMS    float64     `json:"rain_m_s"`
	CaughtM3S float64     `json:"caught_m3_s"`
	FillS     *float64    `json:"fill_s"` // null: no rain comes
	UnevenM   float64     `json:"uneven_m"`
	Limits    []limitJSON `json:"limits"`
}

type limitJSON struct {
	Part    string  `json:"part"`
	Name    string  `json:"name,omitempty"`
	RainMS  float64 `json:"rain_m_s"`
	FlowM3S float64 `json:"flow_m3_s"`
}

type dripStateJSON struct {
	State string         `json:"state"`
	Share float64        `json:"share"`
	ZM    float64        `json:"z_m"`
	Lines []dripLineJSON `json:"lines"`
}

type dripLineJSON struct {
	Name     string    `json:"name"`
	FlowM3S  float64   `json:"flow_m3_s"`
	Evenness float64   `json:"evenness"`
	Dry      int       `json:"dry"`
	HeadsM   []float64 `json:"heads_m"`
	FlowsM3S []float64 `json:"flows_m3_s"`
}

// WaterJSON writes the answer for programs.
func WaterJSON(w io.Writer, a *water.Answer) error {
	l := &a.Levels
	out := waterAnswerJSON{Schema: Schema{"suncellar.water", 1}, Plan: a.Plan.Name, Datum: waterDatum, Sentences: Teller{}.WaterSentences(a),
		Levels:   waterLevelsJSON{l.FullZ, l.LowestZ, l.FullM3, l.UsableM3, l.ByCan, a.Scheme.Overflow.Z, finite(a.Scheme.DrawOff)},
		Findings: []waterFindingJSON{}, Paths: []waterPathJSON{}, Points: []waterPointJSON{}, Valves: []valveJSON{}, Drips: []dripStateJSON{},
		NoRain: a.NoRain, Assumed: assumed(waterValues(a.Plan)), Cautions: a.Cautions}
	for i := range a.Findings {
		f := &a.Findings[i]
		out.Findings = append(out.Findings, waterFindingJSON{string(f.Kind), Teller{}.waterFinding(a, f), waterHint(f), f.Name, f.Way, f.Path, f.File, f.Line, f.Column, f.HeightM, f.LiftM, f.LiftJ, f.VolumeM3, f.Stops})
	}
	for _, p := range a.Paths {
		path := waterPathJSON{p.Name, nil, p.Broken, p.ShortM}
		for _, s := range p.Stations {
			path.Stations = append(path.Stations, stationJSON{s.Name, s.Path, s.Z})
		}
		out.Paths = append(out.Paths, path)
	}
	schemeJSON(&out, a)
	out.Filling = fillingAsJSON(a)
	for _, s := range a.Drips {
		state := dripStateJSON{State: s.Name, Share: s.Share, ZM: s.Z}
		for _, l := range s.Lines {
			state.Lines = append(state.Lines, dripLineJSON{l.Name, l.FlowM3S, l.Evenness, l.Dry, l.Heads, l.Flows})
		}
		out.Drips = append(out.Drips, state)
	}
	out.Rain = rainAsJSON(a.Rain)
	out.Ledgers = ledgersAsJSON(a.Ledgers)
	out.Settled, out.Freezing, out.Care = settledAsJSON(a.Settled), freezingAsJSON(a), careAsJSON(a)
	return WriteJSON(w, out)
}

// schemeJSON writes vessels, points, pipes and valves.
func schemeJSON(out *waterAnswerJSON, a *water.Answer) {
	s := a.Scheme
	fed := make([]bool, len(s.Vessels))
	for _, v := range s.Fed {
		fed[v] = true
	}
	for i, v := range s.Vessels {
		out.Vessels = append(out.Vessels, vesselJSON{v.Name, a.House.BayNamed(v.Bay), v.Bottom, v.Top, v.Volume, fed[i]})
	}
	if v := s.Settling; v != nil {
		out.Vessels = append(out.Vessels, vesselJSON{v.Name, "", v.Bottom, v.Top, v.Volume, true})
	}
	for _, p := range s.Points {
		out.Points = append(out.Points, waterPointJSON{p.Name, p.Z, p.Vessel})
	}
	flows := a.Fill.Pipes
	for i := -1; i < len(s.Pipes); i++ {
		p := &s.Inlet
		if i >= 0 {
			p = &s.Pipes[i]
		}
		one := waterPipeJSON{Name: p.Name, Path: p.Path, From: p.From, To: p.To, DiameterM: p.Diameter, LengthM: p.Length, Rigid: p.Rigid, Shut: p.Shut}
		if len(flows) > 0 {
			one.FlowM3S, one.SpeedMS, one.LossM = flows[i+1].FlowM3S, flows[i+1].SpeedMS, flows[i+1].LossM
		}
		out.Pipes = append(out.Pipes, one)
	}
	for _, v := range s.Valves {
		out.Valves = append(out.Valves, valveJSON(v))
	}
}

func fillingAsJSON(a *water.Answer) fillingJSON {
	f := &a.Fill
	out := fillingJSON{RainMS: a.RainMS, CaughtM3S: f.CaughtM3S, UnevenM: f.UnevenM, Limits: []limitJSON{}}
	if !math.IsInf(f.FillS, 1) {
		out.FillS = &f.FillS
	}
	for _, l := range f.Limits {
		out.Limits = append(out.Limits, limitJSON{string(l.Part), l.Name, l.RainMS, l.FlowM3S})
	}
	return out
}
