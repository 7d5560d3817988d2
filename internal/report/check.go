package report

import (
	"fmt"
	"io"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/quantities"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
)

// Check tells the quantities of a house and what its plan assumes.
func (t Teller) Check(s *quantities.Sheet, findings []plan.Finding) string {
	p := &page{}
	h := s.House
	p.say(fmt.Sprintf("%s: nothing in this plan keeps it from being computed%s.", h.Plan.Name, t.doubts(findings)))
	p.say("Whether it holds through a winter is told by 'suncellar simulate', not here.")
	t.sizes(p, s)
	t.faces(p, h)
	t.steadyLoss(p, s)
	if s.WaterM3 > 0 {
		p.head("Store")
		p.say(fmt.Sprintf("%s of water, %s; %s for each %s of glazing.", t.water(s.WaterM3), unit.Format(unit.Mass, s.WaterKg, t.System, 0), t.waterOver(s.LitresPerM2), unit.Main(unit.Area, t.System)))
		p.say(fmt.Sprintf("It holds %s for each %s, and gives %s kWh more while it freezes, which is too late for the beds.",
			t.perDegree(s.StoreJK), t.degree(), kWh(s.FreezingJ)))
		for _, r := range h.Rows {
			p.item(fmt.Sprintf("%s: %s of %s, %s a drum, %s high, %s wide, %s", r.Name, count(r.Drums, "drum"), count(r.Tiers, "tier"), t.water(r.Volume*r.Fill),
				t.height(r.Height), t.height(r.Diameter), count(r.Bays, "bay")))
		}
	}
	t.soilLayers(p, s)
	t.footings(p, h)
	t.tubesLaid(p, h)
	t.notKnown(p, h)
	t.assumed(p, h.Plan.Assumed())
	return p.String()
}

func (t Teller) doubts(findings []plan.Finding) string {
	switch n := len(findings); n {
	case 0:
		return ""
	case 1:
		return "; there is 1 warning, see above"
	default:
		return fmt.Sprintf("; there are %d warnings, see above", n)
	}
}

// waterOver is water for each unit of glazing: litres for a m², gallons for a ft².
func (t Teller) waterOver(litresPerM2 float64) string {
	if t.System == unit.US {
		return number(litresPerM2/1000/0.003785411784*0.3048*0.3048, 1) + " gal"
	}
	return number(litresPerM2, 0) + " L"
}

// perDegree is a heat capacity in kWh for each degree of the reader.
func (t Teller) perDegree(jPerK float64) string {
	return number(jPerK/3.6e6/unit.InMain(unit.TemperatureDifference, 1, t.System), 2) + " kWh"
}

func (t Teller) sizes(p *page, s *quantities.Sheet) {
	h := s.House
	p.head("Sizes")
	tab := newTable([]string{"", ""})
	tab.row("length inside", t.height(h.Length))
	tab.row("floor, below grade", t.height(-h.FloorZ))
	tab.row("top, above grade", t.height(h.Top()))
	tab.row("floor area", t.area(h.Floor))
	tab.row("beds", t.area(s.BedM2))
	tab.row("glazing, frames counted in", t.area(s.GlazedM2))
	tab.row("all that touches outdoor air", t.area(s.EnvelopeM2))
	tab.row("room", t.room(h.Gross))
	tab.row("air in it, beds and drums taken out", t.room(h.Volume))
	tab.heads = nil
	p.table(tab)
}

// faces is the table of all faces of the room.
func (t Teller) faces(p *page, h *house.House) {
	p.head("Faces")
	tab := newTable([]string{"", "area", "slope", "faces", "behind it"})
	tab.left[3], tab.left[4] = true, true
	for i := range h.Faces {
		f := &h.Faces[i]
		slope := unit.Format(unit.Angle, f.Tilt, unit.SI, 0)
		facing := compass(f.Azimuth)
		if f.Tilt < 0.02 {
			facing = "up"
		}
		if f.Tilt > 3.12 {
			slope, facing = "0°", "down"
		}
		behind := [...]string{"air", "earth", "nothing passes", "fixed " + t.temp(f.FixedC)}[f.Behind]
		tab.row(f.Name, t.area(f.Area), slope, facing, behind)
	}
	p.table(tab)
}

func (t Teller) steadyLoss(p *page, s *quantities.Sheet) {
	p.head(fmt.Sprintf("Heat lost in steady cold, at %s inside and %s outside", t.temp(quantities.InsideC), t.temp(quantities.OutsideC)))
	u, wk := unit.Main(unit.Transmittance, t.System), unit.Main(unit.Conductance, t.System)
	decimals := 2
	if t.System == unit.US {
		decimals = 3
	}
	tab := newTable([]string{"", "area", "U", "loss", ""}, []string{"", unit.Main(unit.Area, t.System), u, wk, "how"})
	tab.left[4] = true
	for _, l := range s.Losses {
		area, uValue := "", ""
		if l.M2 > 0 {
			area, uValue = number(unit.InMain(unit.Area, l.M2, t.System), 1), number(unit.InMain(unit.Transmittance, l.UWM2K, t.System), decimals)
		}
		tab.row(l.Part, area, uValue, number(unit.InMain(unit.Conductance, l.WK, t.System), 1), t.how(s, l))
	}
	tab.sum("all", "", "", number(unit.InMain(unit.Conductance, s.LossWK, t.System), 1))
	p.table(tab)
	p.say(fmt.Sprintf("Surface films of ISO 6946 where the plan fixes none; wind %s at the station; no sun, no snow, no cover, clear sky not counted. To compare designs by; a winter is computed hour by hour instead.",
		unit.Format(unit.Speed, quantities.WindMS, t.System, 0)))
}

// how tells from what a loss was found.
func (t Teller) how(s *quantities.Sheet, l quantities.Loss) string {
	words := strings.ReplaceAll(l.Build, "_", " ")
	switch l.Kind {
	case quantities.Glazing:
		words += fmt.Sprintf(", frame %s %%", number(100*s.House.Plan.Frame.Share, 0))
	case quantities.Door:
		words = "U of the leaf"
	case quantities.Earth:
		layers := ""
		if len(s.Soil.Layers) > 0 {
			layers = " in layers, mean"
		}
		return fmt.Sprintf("ISO 13370, soil%s %s", layers, unit.Format(unit.Conductivity, s.SoilWMK, t.System, 2))
	case quantities.Leakage:
		return fmt.Sprintf("%s air changes an hour", number(s.AirChanges, 2))
	}
	if l.ToC != nil {
		words += ", to " + t.temp(*l.ToC)
	}
	return words
}

// assumed lists what the plan leaves out.
func (t Teller) assumed(p *page, values []plan.Value) {
	p.head("Assumed, because the plan leaves it out (path: value; source)")
	if len(values) == 0 {
		p.item("nothing")
	}
	for _, v := range values {
		p.item(v.Path + ": " + v.Text + "; " + v.Source)
	}
}

// The JSON answer of a check.
type checkJSON struct {
	Schema     Schema         `json:"schema"`
	Plan       string         `json:"plan"`
	Good       bool           `json:"good"`
	Findings   []findingJSON  `json:"findings"`
	Quantities *sizesJSON     `json:"quantities,omitempty"`
	NotKnown   []notKnownJSON `json:"not_known,omitempty"`
	Assumed    []assumedJSON  `json:"assumed"`
}

type findingJSON struct {
	File     string `json:"file"`
	Line     int    `json:"line"`
	Column   int    `json:"column"`
	Path     string `json:"path"`
	Severity string `json:"severity"`
	Message  string `json:"message"`
	Hint     string `json:"hint,omitempty"`
}

type sizesJSON struct {
	LengthM       float64       `json:"length_m"`
	FloorBelowM   float64       `json:"floor_below_grade_m"`
	TopAboveM     float64       `json:"top_above_grade_m"`
	FloorM2       float64       `json:"floor_m2"`
	BedsM2        float64       `json:"beds_m2"`
	GlazingM2     float64       `json:"glazing_m2"`
	EnvelopeM2    float64       `json:"touching_outdoor_air_m2"`
	RoomM3        float64       `json:"room_m3"`
	AirM3         float64       `json:"air_m3"`
	WaterM3       float64       `json:"water_m3"`
	WaterPerGlass float64       `json:"water_per_glazing_l_m2"`
	StoreJK       float64       `json:"store_j_k"`
	FreezingJ     float64       `json:"store_freezing_j"`
	AirChanges    float64       `json:"leakage_per_hour"`
	LossWK        float64       `json:"loss_w_k"`
	Losses        []lossJSON    `json:"losses"`
	Soil          []soilJSON    `json:"soil_layers,omitempty"`
	Footings      []footingJSON `json:"footings,omitempty"`
	Cautions      []string      `json:"cautions,omitempty"`
	Faces         []faceJSON    `json:"faces"`
}

type lossJSON struct {
	Part  string  `json:"part"`
	M2    float64 `json:"area_m2,omitempty"`
	UWM2K float64 `json:"u_w_m2k,omitempty"`
	WK    float64 `json:"loss_w_k"`
	Kind  string  `json:"kind"`
	Build string  `json:"build,omitempty"`
}

type faceJSON struct {
	Name       string  `json:"name"`
	M2         float64 `json:"area_m2"`
	TiltRad    float64 `json:"tilt_rad"`
	AzimuthRad float64 `json:"azimuth_rad"`
	Behind     string  `json:"behind"`
}

// CheckJSON writes findings, and where the plan can be computed its quantities. s and p are nil where it cannot.
func CheckJSON(w io.Writer, p *plan.Plan, s *quantities.Sheet, findings []plan.Finding) error {
	out := checkJSON{Schema: Schema{"suncellar.check", 1}, Good: s != nil, Findings: []findingJSON{}, Assumed: []assumedJSON{}}
	for _, f := range findings {
		out.Findings = append(out.Findings, findingJSON{f.File, f.Line, f.Column, f.Path, f.Severity.String(), f.Message, f.Hint})
	}
	if p != nil {
		out.Plan, out.Assumed = p.Name, assumed(p.Assumed())
	}
	if s != nil {
		out.Quantities, out.NotKnown = sizes(s), notKnownAsJSON(s.House)
	}
	return WriteJSON(w, out)
}

func sizes(s *quantities.Sheet) *sizesJSON {
	h := s.House
	out := &sizesJSON{LengthM: h.Length, FloorBelowM: -h.FloorZ, TopAboveM: h.Top(), FloorM2: h.Floor, BedsM2: s.BedM2, GlazingM2: s.GlazedM2,
		EnvelopeM2: s.EnvelopeM2, RoomM3: h.Gross, AirM3: h.Volume, WaterM3: s.WaterM3, WaterPerGlass: s.LitresPerM2, StoreJK: s.StoreJK,
		FreezingJ: s.FreezingJ, AirChanges: s.AirChanges, LossWK: s.LossWK}
	for _, l := range s.Losses {
		out.Losses = append(out.Losses, lossJSON{l.Part, l.M2, l.UWM2K, l.WK, string(l.Kind), l.Build})
	}
	out.Soil, out.Footings, out.Cautions = soilLayersJSON(s), footingsJSON(h), winter.FootingCautions(h)
	for i := range h.Faces {
		f := &h.Faces[i]
		out.Faces = append(out.Faces, faceJSON{f.Name, f.Area, f.Tilt, f.Azimuth, [...]string{"air", "earth", "adiabatic", "fixed"}[f.Behind]})
	}
	return out
}
