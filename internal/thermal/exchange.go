package thermal

import "suncellar/internal/thermal/lanes"

// Exchange is heat that nodes exchange pair by pair by potentials of their own, as longwave is by the fourth powers of their temperatures: from a to b go
// G_ab (E_a - E_b). A potential is taken as straight about the temperature that it is set for, E = value + slope (T - t), so that all pairs of a node need but
// one number, and a pass is as good as Newton's. What leaves one node comes to others, for any slopes.
type Exchange struct {
	nodes  []Node
	kinds  []int
	flows  []int // by flow, see table
	of     map[[2]int]int
	offset []float64 // by node: E at 0 °C
	slope  []float64
	// table gives from the potentials what leaves every node (a row each, kept in whole fours) and, in the rows after them, every flow.
	table   []float64
	sums    []float64 // of the rows of table, at the potentials last looked at [W]
	e       []float64
	rows    []int
	entries []int32   // by pair of nodes
	fixed   []float64 // by node: what leaves it at potentials of 0 °C [W]
}

// AddExchange lets all pairs of nodes exchange heat. The flow between two kinds of nodes goes under the name of the two, and counts from the lower kind to
// the higher; between nodes of one kind, from the later to the earlier.
func (n *Network) AddExchange(nodes []Node, kinds []int, name func(low, high int) string) *Exchange {
	k := len(nodes)
	wide := lanes.Whole(k)
	x := &Exchange{nodes: nodes, kinds: kinds, of: map[[2]int]int{}, offset: lanes.Make(k), slope: make([]float64, k), e: lanes.Make(k), fixed: lanes.Make(k)}
	for i, id := range nodes {
		n.mustBuild(n.nodes[id].name)
		if n.nodes[id].row < 0 {
			panic("thermal: " + n.nodes[id].name + " is not solved for and cannot exchange")
		}
		x.rows = append(x.rows, n.nodes[id].row)
		for j := range i {
			low, high := min(kinds[i], kinds[j]), max(kinds[i], kinds[j])
			if _, ok := x.of[[2]int{low, high}]; !ok {
				x.of[[2]int{low, high}] = len(x.flows)
				x.flows = append(x.flows, n.flow(name(low, high), nodes[i], nodes[j]))
			}
		}
	}
	sums := k + len(x.flows)
	x.table, x.sums = make([]float64, lanes.Whole(sums)*wide), lanes.Make(sums)
	n.exchanges = append(n.exchanges, x)
	return x
}

// SetAreas sets what each pair exchanges by unit of potential, at least 0; g(i, j) is asked for j < i.
func (x *Exchange) SetAreas(g func(i, j int) float64) {
	k, wide := len(x.nodes), lanes.Whole(len(x.nodes))
	clear(x.table)
	for i := range k {
		for j := range i {
			v := g(i, j)
			if !(v >= 0) {
				panic("thermal: nodes cannot exchange less than nothing")
			}
			x.table[i*wide+i] += v
			x.table[j*wide+j] += v
			x.table[i*wide+j], x.table[j*wide+i] = -v, -v
			from, to := i, j
			if x.kinds[i] > x.kinds[j] {
				from, to = j, i
			}
			row := x.table[(k+x.of[[2]int{x.kinds[from], x.kinds[to]}])*wide:][:k]
			row[from] += v
			row[to] -= v
		}
	}
}

// SetPotential sets the potential of a node at temperature t [°C] and its slope there, above 0.
func (x *Exchange) SetPotential(node int, t, value, slope float64) {
	x.offset[node], x.slope[node] = value-float64(slope*t), slope
}

// assemble adds the exchange to the values of the matrix.
func (x *Exchange) assemble(a []float64) {
	k, wide := len(x.nodes), lanes.Whole(len(x.nodes))
	for i := range k {
		row, at := x.table[i*wide:i*wide+k], x.entries[i*k:i*k+k]
		slope := x.slope[:len(row)]
		for j, to := range at[:len(row)] {
			a[to] += float64(row[j] * slope[j])
		}
	}
	fixed := lanes.Made(x.fixed)
	clear(fixed)
	lanes.AddDots(fixed, x.table, wide, lanes.Made(x.offset))
}

// book books one stage: weight [s] times each flow at the temperatures of the stage.
func (x *Exchange) book(n *Network, weight float64) {
	for i, id := range x.nodes {
		x.e[i] = x.offset[i] + float64(x.slope[i]*n.w.now[id])
	}
	sums := lanes.Made(x.sums)
	clear(sums)
	lanes.AddDots(sums, x.table, lanes.Whole(len(x.nodes)), lanes.Made(x.e))
	for i, id := range x.nodes {
		n.w.booked[id] -= weight * x.sums[i]
	}
	for f, flow := range x.flows {
		n.flows[flow].HourJ += weight * x.sums[len(x.nodes)+f]
	}
}
