package report

import (
	"fmt"
	"math"

	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
)

// The air of a winter told: how damp each layer is, how long leaves are wet, what carbon dioxide plants find, and what airing costs.

// dampShare is the humidity above which grey mould gains and leaves hardly dry; common practice, no source: 90 to 93 % at the leaf.
const dampShare = 0.90

// thinPPM is the carbon dioxide below which plants in light hardly grow [ppm]; common practice, no source: 150 to 200 halves growth or stops it.
const thinPPM = 250.0

// lightAtBeds is the sun at the beds from which an hour counts as one of light [W/m²]; judgement: leaves begin to gain there.
const lightAtBeds = 20.0

// airSums is the record of the air, summed up.
type airSums struct {
	layers           []layerSums
	wet              []wetSums
	light, thin      int     // hours
	leastPPM         float64 // in light, infinite where there is none
	airings          int     // noons that count
	airingJ, airingK float64
	dearestJ         float64
}

type layerSums struct {
	name        string
	mean, night float64
	damp        int // hours
}

type wetSums struct {
	bed          string
	hours, night int
}

func sumAir(r *greenhouse.Result) airSums {
	a := &r.Air
	s := airSums{leastPPM: math.Inf(1)}
	for _, m := range a.Moist {
		s.layers = append(s.layers, sumLayer(m, a.Dark))
	}
	for _, w := range a.Wet {
		sums := wetSums{bed: w.Bed}
		for i, is := range w.Is {
			if !is {
				continue
			}
			sums.hours++
			if a.Dark[i] {
				sums.night++
			}
		}
		s.wet = append(s.wet, sums)
	}
	for i, ppm := range a.CO2PPM {
		if a.LightWM2[i] > lightAtBeds {
			s.light++
			s.leastPPM = math.Min(s.leastPPM, ppm)
			if ppm < thinPPM {
				s.thin++
			}
		}
	}
	for _, n := range a.Noons {
		s.airings++
		s.airingJ += n.HeatJ
		s.airingK += n.ColderK
		s.dearestJ = math.Max(s.dearestJ, n.HeatJ)
	}
	return s
}

func sumLayer(m greenhouse.Moist, dark []bool) layerSums {
	s := layerSums{name: m.Layer}
	nights := 0
	for i, v := range m.Share {
		s.mean += v
		if dark[i] {
			s.night += v
			nights++
		}
		if v > dampShare {
			s.damp++
		}
	}
	s.mean /= math.Max(1, float64(len(m.Share)))
	s.night /= math.Max(1, float64(nights))
	return s
}

// air tells it; a house without beds has no moisture of its own, and is told nothing.
func (t Teller) air(p *page, a *winter.Answer) {
	s := sumAir(a.Result)
	if len(s.wet) == 0 {
		return
	}
	p.head("Air: damp, wet leaves, carbon dioxide")
	tab := newTable([]string{"", "mean", "by night", "over 90 %"}, []string{"", "%", "%", "hours"})
	for _, l := range s.layers {
		tab.row(l.name, number(100*l.mean, 0), number(100*l.night, 0), fmt.Sprint(l.damp))
	}
	p.table(tab)
	for _, w := range s.wet {
		p.say(fmt.Sprintf("Leaf tips of %s are wet in %s, %s of them by night.", w.bed, count(w.hours, "hour"), count(w.night, "hour")))
	}
	if s.light > 0 {
		p.say(fmt.Sprintf("Of %s of light at the beds, %s have less than %s ppm of carbon dioxide; the least is %s ppm. Plants, soil and leakage are of published middling values.",
			count(s.light, "hour"), fmt.Sprint(s.thin), number(thinPPM, 0), number(s.leastPPM, 0)))
	}
	if s.airings > 0 {
		n := float64(s.airings)
		p.say(fmt.Sprintf("An hour with all vents open from noon would cost %s kWh in the mean of %s, %s kWh at the most, and make the air %s colder in that hour.",
			number(s.airingJ/3.6e6/n, 1), count(s.airings, "day"), number(s.dearestJ/3.6e6, 1), t.span(s.airingK/n)))
	}
}

// The air of the JSON answer.
type airJSON struct {
	Layers    []dampJSON  `json:"layers"`
	WetLeaves []wetJSON   `json:"wet_leaves"`
	Carbon    carbonJSON  `json:"carbon_dioxide"`
	Airing    *airingJSON `json:"airing,omitempty"`
}

type dampJSON struct {
	Name           string  `json:"name"`
	MeanShare      float64 `json:"mean_share"`
	NightMeanShare float64 `json:"night_mean_share"`
	HoursAbove90   int     `json:"hours_above_90_percent"`
}

type wetJSON struct {
	Bed        string `json:"bed"`
	Hours      int    `json:"hours"`
	NightHours int    `json:"night_hours"`
}

type carbonJSON struct {
	LightHours        int      `json:"light_hours"`
	LightHoursBelow   int      `json:"light_hours_below_250_ppm"`
	LeastInLightShare *float64 `json:"least_in_light_share,omitempty"` // of the air's volume
}

type airingJSON struct {
	Days        int     `json:"days"`
	MeanJ       float64 `json:"mean_j"`
	DearestJ    float64 `json:"dearest_j"`
	MeanColderK float64 `json:"mean_colder_k"`
}

func airAsJSON(r *greenhouse.Result) *airJSON {
	s := sumAir(r)
	if len(s.wet) == 0 {
		return nil
	}
	out := &airJSON{Carbon: carbonJSON{LightHours: s.light, LightHoursBelow: s.thin, LeastInLightShare: finite(s.leastPPM * 1e-6)}}
	for _, l := range s.layers {
		out.Layers = append(out.Layers, dampJSON{l.name, l.mean, l.night, l.damp})
	}
	for _, w := range s.wet {
		out.WetLeaves = append(out.WetLeaves, wetJSON{w.bed, w.hours, w.night})
	}
	if n := float64(s.airings); n > 0 {
		out.Airing = &airingJSON{s.airings, s.airingJ / n, s.dearestJ, s.airingK / n}
	}
	return out
}
