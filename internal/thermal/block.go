package thermal

// Block is a body of its own states behind ports: to the network it is the reply of its ports. There are two kinds: Body, cells that
// may freeze, and Modes, a linear body as independent modes.
type Block interface {
	// Name is the name it was added under.
	Name() string
	// Len is the number of its states.
	Len() int
	// State is its states now, to be put back with SetState into a block made in the same way; between runs.
	State() []float64
	// SetState puts the states that State gave.
	SetState(s []float64)
	// Stored is the heat it holds now, counted from thawed at 0 °C [J].
	Stored() float64

	nodesAt() []Node   // the distinct nodes at its ports, a column each
	totals() []float64 // by column: sum of the port's conductances [W/K]
	open()             // a step begins: what is held now is the base of its first stage
	reply(perStep float64, st *Stats) *reply
	stage() []float64 // by column: heat that comes back from what it holds at the begin of the stage [W]
	finish(ports []float64) (settled bool)
	second(perStep, h float64) // the second stage of a step of h seconds is prepared from the first
	stepError(perStep float64) float64
	foretold(t []float64) float64 // what stepError would be if ports stood still at temperatures t (by node) from the first stage on; 0 when not known
	accept()                      // the end of the step is the state
	book(n *Network, weight float64)
	bookedJ() *float64 // since the day was opened
	still()            // a steady state is sought: nothing is held
	settle()           // the steady state is the state
	save()
	recall()
}

// reply is how the ports answer each other within one stage, S = B^T A^-1 B, by columns (p x p): the heat into the body at port j is
// total_j u_j - s_j - sum_k S_jk u_k.
type reply struct {
	version int // counts changes
	resp    []float64
}
