package greenhouse

// airState is what the air holds beside heat, and where the openers stand.
type airState struct {
	humid   [maxLayers]float64
	films   map[string][2]float64 // film and ice by face [kg/m²]
	co2     float64
	openers [][2]float64 // temperature of the wax and share that is open
}

func (g *Greenhouse) airState() airState {
	s := airState{humid: g.vapour.w, films: map[string][2]float64{}, co2: g.co2.q}
	for i := range g.vapour.faces {
		if f := &g.vapour.faces[i]; f.s != nil {
			s.films[f.s.name] = [2]float64{f.film, f.ice}
		}
	}
	for _, o := range g.flows.openers {
		s.openers = append(s.openers, [2]float64{o.waxC, o.stands})
	}
	return s
}

func (g *Greenhouse) loadAir(s airState) {
	g.vapour.w, g.co2.q = s.humid, s.co2
	for i := range g.vapour.faces {
		if f := &g.vapour.faces[i]; f.s != nil {
			f.film, f.ice = s.films[f.s.name][0], s.films[f.s.name][1]
		}
	}
	for i := range g.flows.openers {
		if i < len(s.openers) {
			g.flows.openers[i].waxC, g.flows.openers[i].stands = s.openers[i][0], s.openers[i][1]
		}
	}
}
