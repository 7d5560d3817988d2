package worth

import (
	"fmt"
	"math"
	"strings"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
)

// Measures are what a run came to at the places that are told, or a difference of two runs. The lowests are the lowest of each
// place in the hours that count, whichever hour it comes at: a minimum over hours is continuous in what it depends on, with a bend
// where another hour takes over.
type Measures struct {
	LeafC    float64 // lowest [°C], as a difference [K]
	AirC     float64
	SoilC    float64
	StoreC   float64 // lowest of the mean of all water
	ColdKh   float64 // degree-hours of the leaves below the limit [K h]
	LightMol float64 // at the beds, mean of a day [mol/m²]
	ReserveJ float64 // heat of the water above freezing, mean of the hours that count
	NightC   float64 // lowest of the leaves in the night that was asked after, see UnitRequest; 0 where none was [°C]
}

// plus is m + k o.
func (m Measures) plus(k float64, o Measures) Measures {
	return Measures{m.LeafC + k*o.LeafC, m.AirC + k*o.AirC, m.SoilC + k*o.SoilC, m.StoreC + k*o.StoreC, m.ColdKh + k*o.ColdKh, m.LightMol + k*o.LightMol, m.ReserveJ + k*o.ReserveJ, m.NightC + k*o.NightC}
}

// Times is k m.
func (m Measures) Times(k float64) Measures { return Measures{}.plus(k, m) }

// each takes a function of every measure of two.
func (m Measures) each(o Measures, f func(a, b float64) float64) Measures {
	return Measures{f(m.LeafC, o.LeafC), f(m.AirC, o.AirC), f(m.SoilC, o.SoilC), f(m.StoreC, o.StoreC), f(m.ColdKh, o.ColdKh), f(m.LightMol, o.LightMol), f(m.ReserveJ, o.ReserveJ), f(m.NightC, o.NightC)}
}

// distance is |m - o|.
func (m Measures) distance(o Measures) Measures {
	return m.each(o, func(a, b float64) float64 { return math.Abs(a - b) })
}

// At names the places that measures are taken at; "" where the house has none.
type At struct {
	Leaf  string // the watched place, else the coldest leaf; without beds the coldest air
	Air   string // the highest air
	Soil  string // the coldest soil at 10 cm
	Water bool   // there is a store
	// Night is the noons between which the lowest of one night is taken; zero: none.
	Night [2]time.Time
}

// soilDepthM is the depth that is told of beds [m].
const soilDepthM = 0.10

// placesOf chooses them from a winter.
func placesOf(a *winter.Answer) At {
	var at At
	air, soil := math.Inf(-1), math.Inf(1)
	for _, p := range a.Places {
		switch {
		case p.Kind == greenhouse.AirPlace && p.HeightM > air:
			at.Air, air = p.Name, p.HeightM
		case p.Kind == greenhouse.SoilPlace && math.Abs(p.DepthM-soilDepthM) < 1e-9 && p.LowestC < soil:
			at.Soil, soil = p.Name, p.LowestC
		}
		at.Water = at.Water || p.Kind == greenhouse.WaterPlace
	}
	if a.Watched >= 0 {
		at.Leaf = a.Places[a.Watched].Name
	}
	return at
}

// measure takes the figures of a run. Errors: a place that the run does not have.
func (at At) measure(r *greenhouse.Result, limitC float64) (Measures, error) {
	m := Measures{LightMol: lightOf(r)}
	for _, place := range []struct {
		name string
		c    *float64
	}{{at.Leaf, &m.LeafC}, {at.Air, &m.AirC}, {at.Soil, &m.SoilC}} {
		if place.name == "" {
			continue
		}
		t := r.Trace(place.name)
		if t == nil {
			return m, fmt.Errorf("the house has no %q then", place.name)
		}
		*place.c, _ = t.Lowest()
		if place.name == at.Leaf {
			for _, c := range t.C {
				m.ColdKh += math.Max(0, limitC-c)
			}
			m.NightC = lowestBetween(r, t, at.Night)
		}
	}
	for _, j := range r.ReserveJ {
		m.ReserveJ += j / float64(len(r.ReserveJ))
	}
	if at.Water {
		m.StoreC = lowestWater(r)
	}
	return m, nil
}

// lowestBetween is the lowest of a place between two instants, 0 where the run has no hour there.
func lowestBetween(r *greenhouse.Result, t *greenhouse.Trace, night [2]time.Time) float64 {
	low := math.Inf(1)
	for i, c := range t.C {
		if at := r.Time(i); at.After(night[0]) && !at.After(night[1]) {
			low = math.Min(low, c)
		}
	}
	if math.IsInf(low, 1) {
		return 0
	}
	return low
}

// lowestWater is the lowest of the mean of all water [°C].
func lowestWater(r *greenhouse.Result) float64 {
	var water []*greenhouse.Trace
	for i := range r.Traces {
		if t := &r.Traces[i]; t.Kind == greenhouse.WaterPlace && !strings.Contains(t.Name, "shell") {
			water = append(water, t)
		}
	}
	low := math.Inf(1)
	for i := range r.Hours() {
		sum := 0.0
		for _, t := range water {
			sum += t.C[i] / float64(len(water))
		}
		low = math.Min(low, sum)
	}
	return low
}
