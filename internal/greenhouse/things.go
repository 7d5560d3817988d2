package greenhouse

import "suncellar/internal/thermal"

// things is heat given off inside: by what the plan lists, and by the motors of fans.
type things struct {
	g     *Greenhouse
	air   thermal.InjectID
	faces []thermal.InjectID
	area  float64
}

func (g *Greenhouse) addThings() {
	if len(g.House.Plan.Heat) == 0 && len(g.House.Plan.Fans) == 0 {
		return
	}
	t := &things{g: g, air: g.Net.Inject("things inside", g.layers[len(g.layers)-1].node)}
	for _, s := range g.inside {
		t.faces = append(t.faces, g.Net.Inject("things inside", s.node))
		t.area += s.seen
	}
	g.parts = append(g.parts, t)
}

func (t *things) hour(h *hour) {
	toAir, toFaces := 0.0, 0.0
	for _, q := range t.g.House.Plan.Heat {
		if within(q.Hours.From, q.Hours.Until, h.clock) {
			toAir += q.Power * (1 - q.Radiant)
			toFaces += q.Power * q.Radiant
		}
	}
	for _, f := range t.g.House.Plan.Fans {
		if within(f.Hours.From, f.Hours.Until, h.clock) {
			toAir += f.Power
		}
	}
	t.g.Net.SetInject(t.air, toAir)
	for i, s := range t.g.inside {
		t.g.Net.SetInject(t.faces[i], toFaces*s.seen/t.area)
	}
}

func (t *things) step(thermal.Moment) {}
