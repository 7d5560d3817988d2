package winter

import (
	"math"
	"time"

	"suncellar/internal/greenhouse"
)

// Limits of heat that are told [°C].
const (
	WarmC = 30.0 // above it most leaf crops of the cold half of the year bolt or stop; common practice, no source
	HotC  = 35.0 // above it fruit of tomato and pepper no longer sets, and work inside is a danger; common practice, no source
)

// Heat is how hot the house became in the hours that count.
type Heat struct {
	Places []HotPlace // air layers and leaves
	Day    time.Time  // begin of the hottest day: that on which the air inside stood highest
	// of that day: highest of the air inside and outdoors [°C]
	AirC, OutdoorC float64
	// the warmest water and the warmest bed soil; nil without
	Water, Soil *Peak
}

// Peak is the highest of a place.
type Peak struct {
	Name string
	C    float64
	At   time.Time
}

// HotPlace is one place's heat.
type HotPlace struct {
	Peak
	Kind      greenhouse.PlaceKind
	HoursWarm int     // above WarmC
	KhWarm    float64 // degree-hours above it [K h]
	HoursHot  int     // above HotC
	KhHot     float64
}

// Overheats tells whether any air or leaf was above WarmC.
func (h *Heat) Overheats() bool {
	for i := range h.Places {
		if h.Places[i].HoursWarm > 0 {
			return true
		}
	}
	return false
}

// heatOf gathers the heat of a run.
func heatOf(r *greenhouse.Result) Heat {
	h := Heat{AirC: math.Inf(-1), OutdoorC: math.Inf(-1)}
	for i := range r.Traces {
		t := &r.Traces[i]
		switch t.Kind {
		case greenhouse.AirPlace, greenhouse.LeafPlace:
			p := hotPlace(r, t)
			h.Places = append(h.Places, p)
			if t.Kind == greenhouse.AirPlace && p.C > h.AirC {
				at := p.At.Add(-time.Minute)
				h.AirC, h.Day = p.C, time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, at.Location())
			}
		case greenhouse.WaterPlace:
			h.Water = higher(h.Water, peak(r, t))
		case greenhouse.SoilPlace:
			h.Soil = higher(h.Soil, peak(r, t))
		}
	}
	if out := r.Trace("outdoor air"); out != nil {
		for i, c := range out.C {
			if at := r.Time(i); at.After(h.Day) && !at.After(h.Day.AddDate(0, 0, 1)) {
				h.OutdoorC = math.Max(h.OutdoorC, c)
			}
		}
	}
	return h
}

func peak(r *greenhouse.Result, t *greenhouse.Trace) Peak {
	p := Peak{Name: t.Name, C: math.Inf(-1)}
	for i, c := range t.C {
		if c > p.C {
			p.C, p.At = c, r.Time(i)
		}
	}
	return p
}

func higher(a *Peak, b Peak) *Peak {
	if a != nil && a.C >= b.C {
		return a
	}
	return &b
}

func hotPlace(r *greenhouse.Result, t *greenhouse.Trace) HotPlace {
	p := HotPlace{Peak: peak(r, t), Kind: t.Kind}
	for _, c := range t.C {
		if c > WarmC {
			p.HoursWarm++
			p.KhWarm += c - WarmC
		}
		if c > HotC {
			p.HoursHot++
			p.KhHot += c - HotC
		}
	}
	return p
}

// heatCautions stand with an answer whose house became hot.
func heatCautions(h *Heat) []string {
	var list []string
	if h.AirC > HotC {
		list = append(list, "The house becomes hotter than anybody should work in: go in early or late, drink, never alone; children and animals are never left in it. Heat stroke can kill within the hour.")
	}
	if h.AirC > 45 {
		list = append(list, "Air of more than 45 °C kills most plants and softens plastic drums, sheets and pipes: more vents, shade, or panels taken off (taken_off) before summer. Nothing here opens a vent that somebody forgot.")
	}
	if h.Water != nil && h.Water.C > 25 {
		list = append(list, "Water that stands above 25 °C can breed legionella: it is not for spraying or drinking.")
	}
	return list
}
