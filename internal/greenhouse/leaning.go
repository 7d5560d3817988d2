package greenhouse

import "suncellar/internal/thermal"

// leaning is a source of heat that falls as its node warms: dew and evaporation. A plain source, made from the temperature of the
// pass before, would swing to and fro; this one is set with its slope, q - slope (T - at), as a source and a conductance to a node
// at 0 °C, both under one name.
type leaning struct {
	inject thermal.InjectID
	join   thermal.JoinID
}

func addLeaning(n *thermal.Network, flow string, node, zero thermal.Node) leaning {
	return leaning{n.Inject(flow, node), n.Join(flow, node, zero, 0)}
}

// named is the name of its flow.
func (l leaning) named(n *thermal.Network) string { return n.InjectFlow(l.inject) }

// set makes the source q [W] at node temperature at [°C], falling by slope [W/K], at least 0.
func (l leaning) set(n *thermal.Network, q, slope, at float64) {
	n.SetInject(l.inject, q+slope*at)
	n.SetJoin(l.join, slope)
}
