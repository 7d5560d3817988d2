package greenhouse

// airHours is what is recorded of the air by hour beside its temperature.
type airHours struct{ dew []leafDew }

// Moist is the humidity of a layer of air by hour, as the share of what air of its temperature can hold.
type Moist struct {
	Layer string
	Share []float64
}

// Wet is the hours in which the leaf tips of a bed are wet.
type Wet struct {
	Bed string
	Is  []bool
}

// BedKg is the vapour that a bed gives [kg]; the soil takes some back where dew falls on it.
type BedKg struct{ Soil, Leaves float64 }

// Given is the vapour of a bed by hour.
type Given struct {
	Bed string
	Kg  []BedKg
}

// AirRecord is the air of a run by hour.
type AirRecord struct {
	Moist    []Moist
	Wet      []Wet
	Given    []Given
	Dark     []bool    // the sun is down
	CO2PPM   []float64 // of the whole room
	LightWM2 []float64 // sun on the beds
	Noons    []Airing  // by day, where there are vents
}

// Airing is what an hour with all vents open from noon on would cost.
type Airing struct {
	HeatJ   float64
	ColderK float64 // the air in that hour
}

// recordAir adds an hour to the record; temperatures of the places must be there.
func (g *Greenhouse) recordAir(r *Result, h *hour) {
	a := &r.Air
	if a.Moist == nil {
		g.beginAir(r)
	}
	for k, l := range g.layers {
		sat, _ := g.saturated(g.Net.T(l.node))
		a.Moist[k].Share = append(a.Moist[k].Share, g.vapour.w[k]/sat)
	}
	for i := range g.air.dew {
		d := &g.air.dew[i]
		c := r.Traces[d.trace].C
		a.Wet[i].Is = append(a.Wet[i].Is, d.hour(g, c[len(c)-1], g.vapour.w[d.layer]))
	}
	for i := range g.vapour.beds {
		a.Given[i].Kg = append(a.Given[i].Kg, g.vapour.beds[i].hour)
	}
	a.Dark = append(a.Dark, !h.sunUp)
	a.CO2PPM = append(a.CO2PPM, g.co2.ppm())
	a.LightWM2 = append(a.LightWM2, g.light.bedWM2)
	if g.flows.vents != nil && h.clock >= 12 && h.clock < 13 {
		a.Noons = append(a.Noons, g.flows.airing())
	}
}

func (g *Greenhouse) beginAir(r *Result) {
	hours := cap(r.GlobalWM2)
	for _, l := range g.layers {
		r.Air.Moist = append(r.Air.Moist, Moist{Layer: l.name, Share: make([]float64, 0, hours)})
	}
	for _, v := range []*[]float64{&r.Air.CO2PPM, &r.Air.LightWM2} {
		*v = make([]float64, 0, hours)
	}
	if len(g.vapour.beds) == 0 {
		return
	}
	for i := range g.vapour.beds {
		r.Air.Given = append(r.Air.Given, Given{Bed: g.House.Beds[g.vapour.beds[i].bed].Name, Kg: make([]BedKg, 0, hours)})
	}
	for i, b := range g.House.Beds {
		for k := range r.Traces {
			if r.Traces[k].Name == b.Name+", leaf tips" {
				if len(g.air.dew) == i {
					g.air.dew = append(g.air.dew, leafDew{trace: k, layer: g.layerAt(b.LeafZ)})
				}
				r.Air.Wet = append(r.Air.Wet, Wet{Bed: b.Name, Is: make([]bool, 0, hours)})
			}
		}
	}
}
