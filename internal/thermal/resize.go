package thermal

import "fmt"

// ExchangeID names matter that comes or goes between two hours and takes its heat with it.
type ExchangeID int

// Exchange declares a flow across the boundary for what Resize moves.
func (n *Network) Exchange(flow string) ExchangeID {
	n.mustBuild(flow)
	return ExchangeID(n.flow(flow, -1, -1))
}

// InjectFlow is the name of the flow of a source.
func (n *Network) InjectFlow(i InjectID) string { return n.flows[n.injects[i].flow].Name }

// Resize gives a node another law and adds heat to what it holds [J], negative where matter leaves: its temperature is that at which the new
// law holds the sum. The heat is booked under the exchange's flow in the hour that is advanced next. To be called between two hours, never
// within one; the law must have a capacity, so that no node is left without one.
//
// The books close by themselves: what the node holds changes by what is booked.
func (n *Network) Resize(id Node, law Law, heat float64, by ExchangeID) {
	nd := &n.nodes[id]
	if nd.given || !(law.Liquid > 0) || law.Latent > 0 && !(law.Frozen > 0) {
		panic(fmt.Sprintf("thermal: %s cannot be given the law %+v", nd.name, law))
	}
	if heat-heat != 0 {
		panic(fmt.Sprintf("thermal: heat that comes to %s is %g", nd.name, heat))
	}
	n.prepare()
	h := nd.law.Heat(nd.t) + heat
	nd.law = law
	n.SetTemperature(id, law.Temperature(h))
	n.flows[by].nextJ += heat
	n.w.booked[id] += heat
}

// SetLaw gives a node another law at the temperature it has: a new state, to be used between runs, never within one.
func (n *Network) SetLaw(id Node, law Law) {
	n.nodes[id].law = law
	n.SetTemperature(id, n.nodes[id].t)
}
