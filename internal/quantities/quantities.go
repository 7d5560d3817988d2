// Package quantities reckons up a house before any winter is computed: areas, volumes, what each part loses in steady cold, and what
// the store holds.
//
// What it promises: every loss is told with its area and its transmittance, and how they were found; the figures are those of steady
// declared conditions, to compare designs and to be checked by hand, and are not what the simulation uses from hour to hour.
package quantities

import (
	"suncellar/internal/air"
	"suncellar/internal/glazing"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
)

// Conditions of the steady loss.
const (
	InsideC  = 10.0  // [°C]
	OutsideC = -10.0 // [°C]; 20 K less than inside
	WindMS   = 4.0   // at the site's station [m/s]
)

// Sheet is the quantities of a house.
type Sheet struct {
	House       *house.House
	BedM2       float64
	GlazedM2    float64
	EnvelopeM2  float64 // what touches outdoor air
	WaterM3     float64
	LitresPerM2 float64 // of water over glazing; 0 where there is none
	StoreJK     float64 // heat the water holds, per kelvin
	FreezingJ   float64 // heat it gives while it freezes
	WaterKg     float64
	Losses      []Loss
	LossWK      float64 // sum
	AirChanges  float64 // by leakage at the conditions [1/h]
	Soil        greenhouse.Soil
	SoilWMK     float64 // conductivity of the earth, of layers their mean; 0 where no face touches it
}

// Loss is what one part loses in steady cold for each kelvin.
type Loss struct {
	Part  string
	Kind  Kind
	M2    float64 // 0 for air
	UWM2K float64 // from air to air; 0 for air
	WK    float64
	Build string   // name of the build or glazing; "" for a door, earth and air
	ToC   *float64 // fixed temperature behind the part [°C]; nil: outdoors
}

// Kind sorts losses.
type Kind string

// The kinds of losses.
const (
	Opaque  Kind = "opaque"
	Glazing Kind = "glazing"
	Door    Kind = "door"
	Earth   Kind = "earth"
	Leakage Kind = "leakage"
)

// Of reckons up a house. Errors: soil that has no conductivity, a leakage that cannot be.
func Of(h *house.House) (*Sheet, error) {
	s := &Sheet{House: h, GlazedM2: h.GlazedArea(), EnvelopeM2: h.Envelope(), WaterM3: h.Water()}
	for _, b := range h.Beds {
		s.BedM2 += b.Area
	}
	s.WaterKg = s.WaterM3 * 999.7
	s.StoreJK = s.WaterKg * 4192
	s.FreezingJ = s.WaterKg * 333.6e3
	if s.GlazedM2 > 0 {
		s.LitresPerM2 = s.WaterM3 * 1000 / s.GlazedM2
	}
	for i := range h.Faces {
		if l, ok := faceLoss(h, &h.Faces[i]); ok {
			s.Losses = append(s.Losses, l)
		}
	}
	if err := s.addGround(); err != nil {
		return nil, err
	}
	if err := s.addLeakage(); err != nil {
		return nil, err
	}
	for _, l := range s.Losses {
		s.LossWK += l.WK
	}
	return s, nil
}

// Surface resistances [m²K/W]. Source: ISO 6946, table 7, heat flow sideways; taken for all slopes here.
const (
	insideFilm  = 0.13
	outsideFilm = 0.04
)

// films are the surface resistances of a face: those that the plan fixes, else ISO 6946.
func films(h *house.House, glazed bool) (inside, outside float64) {
	fixed := h.Plan.Surfaces
	inside, outside = insideFilm, outsideFilm
	if fixed.Inside != nil {
		inside = 1 / *fixed.Inside
	}
	out := fixed.Outside
	if glazed {
		out = fixed.OutsideGlazing
	}
	if out != nil {
		outside = 1 / *out
	}
	return inside, outside
}

// faceLoss is the loss of a face that touches outdoor air or a fixed temperature.
func faceLoss(h *house.House, f *house.Face) (Loss, bool) {
	if f.Behind != house.Air && f.Behind != house.Fixed {
		return Loss{}, false
	}
	in, out := films(h, f.Glass != nil)
	l := Loss{Part: f.Name, Kind: Opaque, M2: f.Area}
	if f.Glass != nil {
		at := glazing.Place{Slope: glazing.Angle(f.Tilt), PressurePa: air.StandardPressure(h.Plan.Site.Elevation)}
		pane := f.Glass.U(OutsideC, InsideC, glazing.Films{Outside: 1 / out, Inside: 1 / in}, at)
		frame := h.Plan.Frame
		l.UWM2K = (1-frame.Share)*pane + frame.Share*frame.UValue
		l.Kind, l.Build = Glazing, f.Glazing
	} else {
		l.UWM2K = 1 / (in + f.Build.R() + out)
		l.Build = f.Build.Name
		if f.Door {
			l.Kind, l.Build = Door, ""
		}
	}
	if f.Behind == house.Fixed {
		l.ToC = &f.FixedC
	}
	l.WK = l.M2 * l.UWM2K
	return l, true
}

// addGround adds the loss through the earth of all faces that touch it.
//
// Source: ISO 13370:2017, steady-state ground heat transfer coefficient (greenhouse.Footprint).
func (s *Sheet) addGround() error {
	h := s.House
	area := 0.0
	for i := range h.Faces {
		if h.Faces[i].Behind == house.Soil {
			area += h.Faces[i].Area
		}
	}
	if area == 0 {
		return nil
	}
	soil, err := greenhouse.SoilOf(h.Plan.Site)
	if err != nil {
		return err
	}
	f, _, _ := greenhouse.Footprint(h, soil)
	loss := f.Loss()
	s.Soil, s.SoilWMK = soil, f.K
	s.Losses = append(s.Losses, Loss{Part: "earth under and beside", Kind: Earth, M2: area, UWM2K: loss / area, WK: loss})
	return nil
}

// airHeatJM3K is density times specific heat of air at 0 °C and a pressure [J/m³K].
func airHeatJM3K(pressurePa float64) float64 { return pressurePa / (287.05 * 273.15) * 1006 }

func (s *Sheet) addLeakage() error {
	h := s.House
	flow, err := greenhouse.Leak(h, InsideC, OutsideC, WindMS)
	if err != nil {
		return err
	}
	if flow == 0 {
		return nil
	}
	s.AirChanges = flow * 3600 / h.Gross
	s.Losses = append(s.Losses, Loss{Part: "leakage", Kind: Leakage, WK: flow * airHeatJM3K(air.StandardPressure(h.Plan.Site.Elevation))})
	return nil
}
