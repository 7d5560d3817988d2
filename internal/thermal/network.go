package thermal

import "fmt"

// Node names a node of a Network.
type Node int

// JoinID, CarryID and InjectID name the verbs of a Network.
type (
	JoinID   int
	CarryID  int
	InjectID int
)

type node struct {
	name   string
	law    Law
	given  bool    // temperature given from outside
	inner  bool    // of a cluster
	row    int     // row in the system, -1 when given or inner
	t      float64 // now [°C]
	t0, t1 float64 // given nodes: temperature at begin and end of the hour [°C]
	branch branch
}

type join struct {
	way
	g float64 // [W/K]
}

type carry struct {
	way
	w float64 // heat capacity flow [W/K]
}

// way is where heat goes under a name.
type way struct {
	flow     int
	from, to Node
	sign     float64 // -1 where it crosses outward, to a given node: a crossing flow counts into the system positive
}

type inject struct {
	flow int
	to   Node
	q    float64 // [W]
}

// Network is nodes and the verbs between them. Build it once, set its coefficients as time goes on, and Advance it.
// It is not safe for concurrent use.
type Network struct {
	nodes     []node
	joins     []join
	carries   []carry
	injects   []inject
	exchanges []*Exchange
	blocks    []Block
	flows     []Flow
	byName    map[string]int

	rows  []Node // state nodes in order of their row
	ready bool
	w     work
	// Control of the step; the zero value means the documented defaults.
	Control Control
	// Stats counts the work done.
	Stats Stats
	rung  int // ladder rung used last: step = hour / 2^rung
}

// Stats counts work since the network was made.
type Stats struct {
	Steps, Rejected, Solves, Factors, Refactors int
}

// Add adds a node with an enthalpy law at temperature t [°C].
func (n *Network) Add(name string, law Law, t float64) Node {
	n.mustBuild(name)
	n.nodes = append(n.nodes, node{name: name, law: law, row: len(n.rows), t: t, branch: law.branchAt(t)})
	id := Node(len(n.nodes) - 1)
	n.rows = append(n.rows, id)
	return id
}

// Given adds a node whose temperature is given from outside (SetGiven).
func (n *Network) Given(name string, t float64) Node {
	n.mustBuild(name)
	n.nodes = append(n.nodes, node{name: name, given: true, row: -1, t: t, t0: t, t1: t})
	return Node(len(n.nodes) - 1)
}

func (n *Network) mustBuild(name string) {
	if n.ready {
		panic("thermal: network is already running, cannot add " + name)
	}
}

// Join adds a conductance between a and b under the flow's name; set it with SetJoin.
func (n *Network) Join(flow string, a, b Node, g float64) JoinID {
	n.mustBuild(flow)
	n.joins = append(n.joins, join{n.way(flow, a, b), g})
	return JoinID(len(n.joins) - 1)
}

// Carry adds a mass flow that takes heat from one node to another; set it with SetCarry. The heat is counted from 0 °C,
// so each carry into a node needs its carry out of it (under the same name, if they are to be told as one).
func (n *Network) Carry(flow string, from, to Node) CarryID {
	n.mustBuild(flow)
	n.carries = append(n.carries, carry{n.way(flow, from, to), 0})
	return CarryID(len(n.carries) - 1)
}

// Inject adds a source from outside into a node; set it with SetInject.
func (n *Network) Inject(flow string, to Node) InjectID {
	n.mustBuild(flow)
	n.injects = append(n.injects, inject{n.flow(flow, -1, to), to, 0})
	return InjectID(len(n.injects) - 1)
}

// SetJoin sets a conductance [W/K], at least 0.
func (n *Network) SetJoin(j JoinID, g float64) {
	if !(g >= 0) {
		panic(fmt.Sprintf("thermal: conductance of %q is %g", n.flows[n.joins[j].flow].Name, g))
	}
	n.joins[j].g = g
}

// JoinValue is the conductance set last [W/K].
func (n *Network) JoinValue(j JoinID) float64 { return n.joins[j].g }

// InjectValue is the source set last [W].
func (n *Network) InjectValue(i InjectID) float64 { return n.injects[i].q }

// SetCarry sets a heat capacity flow, mass flow times specific heat [W/K], at least 0.
func (n *Network) SetCarry(c CarryID, w float64) {
	if !(w >= 0) {
		panic(fmt.Sprintf("thermal: carried flow of %q is %g", n.flows[n.carries[c].flow].Name, w))
	}
	n.carries[c].w = w
}

// SetInject sets a source [W], into the node positive.
func (n *Network) SetInject(i InjectID, q float64) {
	if q-q != 0 {
		panic(fmt.Sprintf("thermal: source %q is %g", n.flows[n.injects[i].flow].Name, q))
	}
	n.injects[i].q = q
}

// SetGiven sets a given node's temperature at the begin and the end of the coming hour [°C]; it runs linearly between.
func (n *Network) SetGiven(id Node, begin, end float64) {
	nd := &n.nodes[id]
	if !nd.given {
		panic("thermal: " + nd.name + " is not a given node")
	}
	nd.t0, nd.t1, nd.t = begin, end, begin
}

// SetTemperature puts a node at t [°C]: a new state, to be used between runs, never within one.
func (n *Network) SetTemperature(id Node, t float64) {
	nd := &n.nodes[id]
	nd.t, nd.branch = t, nd.law.branchAt(t)
}

// T is the temperature of a node now [°C].
func (n *Network) T(id Node) float64 { return n.nodes[id].t }

// Heat is the heat a node holds now, counted from thawed at 0 °C [J].
func (n *Network) Heat(id Node) float64 { nd := &n.nodes[id]; return nd.law.Heat(nd.t) }

// Name is the name of a node.
func (n *Network) Name(id Node) string { return n.nodes[id].name }

// Law is the enthalpy law of a node.
func (n *Network) Law(id Node) Law { return n.nodes[id].law }

// Size is the number of nodes solved for, of the states of the blocks behind them, and of the nodes at the ports of the largest block.
func (n *Network) Size() (nodes, cells, ports int) {
	for _, b := range n.blocks {
		cells += b.Len()
		ports = max(ports, len(b.nodesAt()))
	}
	return len(n.rows), cells, ports
}

// Stored is the heat held by all nodes and blocks now [J], from the states themselves.
func (n *Network) Stored() float64 {
	sum := 0.0
	for _, id := range n.rows {
		sum += n.Heat(id)
	}
	for _, b := range n.blocks {
		sum += b.Stored()
	}
	return sum
}

// EachNode goes through the nodes that are solved for, in the order in which they were added.
func (n *Network) EachNode(do func(id Node, name string)) {
	for _, id := range n.rows {
		do(id, n.nodes[id].name)
	}
}

// EachBlock goes through the blocks in the order in which they were added.
func (n *Network) EachBlock(do func(b Block)) {
	for _, b := range n.blocks {
		do(b)
	}
}
