package greenhouse

// SnowLog is the snow on every pane and roof as one run had it, hour by hour. A second run of the same hours that is set up with
// SnowLogged has the same snow whatever its faces' temperatures: when snow slides is a matter of one warm hour, and two runs that differ
// in it differ by more than what was changed between them.
type SnowLog struct {
	faces  [][]logged // in the order in which faces are added
	byRule bool       // it lay by rule and did not melt: where it is read it takes no heat to melt either
}

// logged is the snow of one face in one hour, and the pile at its foot.
type logged struct {
	lying
	buried, pileR float64
}

// Faces is how many panes and roofs were logged.
func (l *SnowLog) Faces() int { return len(l.faces) }

// logSnow gives each pane and roof its place in the log.
func (g *Greenhouse) logSnow() {
	log := g.Setup.Log
	if log == nil {
		return
	}
	var all []*snowLayer
	for _, p := range g.panes {
		all = append(all, &p.snow)
	}
	all = append(all, g.roofSnow()...)
	if g.Setup.Snow != SnowLogged {
		log.faces, log.byRule = make([][]logged, len(all)), g.Setup.Snow == SnowLies
	}
	for i, s := range all {
		if i < len(log.faces) {
			s.log = &log.faces[i]
		}
	}
}

// byRule tells whether snow lies by rule: it does not melt, and no heat goes into it.
func (s *snowLayer) byRule() bool {
	return s.g.Setup.Snow == SnowLies || s.g.Setup.Snow == SnowLogged && s.g.Setup.Log != nil && s.g.Setup.Log.byRule
}

// replay takes the snow of the next hour from the log; false where the log does not know the face or has ended.
func (s *snowLayer) replay() bool {
	if s.log == nil || s.hours >= len(*s.log) {
		return false
	}
	l := (*s.log)[s.hours]
	s.lying, s.buried, s.pileR = l.lying, l.buried, l.pileR
	s.hours++
	return true
}
