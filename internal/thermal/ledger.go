package thermal

// Flow is heat that moves under one name, summed over everything that carries the name.
type Flow struct {
	Name string
	// Crosses tells that the flow passes the boundary of the system: from a given node, or injected.
	Crosses bool
	// HourJ is the heat of the hour that was advanced last [J]: into the system for a crossing flow, from the
	// first node to the second otherwise.
	HourJ float64
	nextJ float64 // moved since, see Resize: it belongs to the next hour [J]
}

func (n *Network) flow(name string, from, to Node) int {
	crosses := from < 0 || n.nodes[from].given || n.nodes[to].given
	if n.byName == nil {
		n.byName = map[string]int{}
	}
	if i, ok := n.byName[name]; ok {
		if n.flows[i].Crosses != crosses {
			panic("thermal: flow " + name + " is both inside and across the boundary")
		}
		return i
	}
	n.flows = append(n.flows, Flow{Name: name, Crosses: crosses})
	n.byName[name] = len(n.flows) - 1
	return len(n.flows) - 1
}

// Flows are all flows with the heat of the last hour, in the order in which they were first named. Do not change them.
func (n *Network) Flows() []Flow { return n.flows }

// FlowIndex is the place of a named flow in Flows, -1 when there is none.
func (n *Network) FlowIndex(name string) int {
	if i, ok := n.byName[name]; ok {
		return i
	}
	return -1
}

// book adds the heat of one stage: weight [s] times each flow at the stage's temperatures.
func (n *Network) book(weight float64) {
	for i := range n.joins {
		j := &n.joins[i]
		if j.g == 0 {
			continue
		}
		n.bookPair(&j.way, weight*j.g*(n.w.now[j.from]-n.w.now[j.to]))
	}
	for i := range n.carries {
		c := &n.carries[i]
		if c.w == 0 {
			continue
		}
		n.bookPair(&c.way, weight*c.w*n.w.now[c.from])
	}
	for i := range n.injects {
		in := &n.injects[i]
		n.flows[in.flow].HourJ += weight * in.q
		n.w.booked[in.to] += weight * in.q
	}
	for _, x := range n.exchanges {
		x.book(n, weight)
	}
	for _, b := range n.blocks {
		b.book(n, weight)
	}
}

// bookPair books heat e [J] along its way.
func (n *Network) bookPair(w *way, e float64) {
	n.flows[w.flow].HourJ += float64(w.sign * e)
	n.w.booked[w.from] -= e
	n.w.booked[w.to] += e
}

func (n *Network) way(flow string, from, to Node) way {
	w := way{flow: n.flow(flow, from, to), from: from, to: to, sign: 1}
	if n.nodes[to].given {
		w.sign = -1
	}
	return w
}

// Balance is the account of the heat of one run: what crossed the boundary, netted by hour and cause, and what is stored.
type Balance struct {
	in, out   []float64 // by flow [J]
	StartJ    float64
	start     []float64 // heat held per node and body at the begin of the day
	WorstNode string
	WorstJ    float64
}

// NewBalance begins an account at the present state.
func (n *Network) NewBalance() *Balance {
	n.prepare()
	b := &Balance{in: make([]float64, len(n.flows)), out: make([]float64, len(n.flows)), StartJ: n.Stored()}
	n.openDay(b)
	return b
}

func (n *Network) openDay(b *Balance) {
	b.start = b.start[:0]
	for i := range n.nodes {
		b.start = append(b.start, n.nodeHeat(Node(i)))
	}
	for _, bd := range n.blocks {
		b.start = append(b.start, bd.Stored())
		*bd.bookedJ() = 0
	}
	clear(n.w.booked)
}

func (n *Network) nodeHeat(id Node) float64 {
	if n.nodes[id].given {
		return 0
	}
	return n.Heat(id)
}

// AddHour books the hour that was advanced last.
func (n *Network) AddHour(b *Balance) {
	for i := range n.flows {
		f := &n.flows[i]
		if !f.Crosses {
			continue
		}
		if f.HourJ >= 0 {
			b.in[i] += f.HourJ
		} else {
			b.out[i] -= f.HourJ
		}
	}
}

// InOut is what has crossed the boundary inward and outward, netted by hour and cause [J].
func (n *Network) InOut(b *Balance) (in, out map[string]float64) {
	in, out = map[string]float64{}, map[string]float64{}
	for i, f := range n.flows {
		if !f.Crosses {
			continue
		}
		if b.in[i] > 0 || b.out[i] == 0 {
			in[f.Name] = b.in[i]
		}
		if b.out[i] > 0 {
			out[f.Name] = b.out[i]
		}
	}
	return in, out
}

// CloseDay compares, for every node and body, what was booked since the day was opened with what it holds more, and keeps
// the worst difference [J]. It opens the next day.
func (n *Network) CloseDay(b *Balance) {
	for i := range n.nodes {
		if !n.nodes[i].given {
			b.worst(n.nodes[i].name, n.nodeHeat(Node(i))-b.start[i]-n.w.booked[i])
		}
	}
	for i, bd := range n.blocks {
		b.worst(bd.Name(), bd.Stored()-b.start[len(n.nodes)+i]-*bd.bookedJ())
	}
	n.openDay(b)
}

func (b *Balance) worst(name string, diff float64) {
	if diff < 0 {
		diff = -diff
	}
	if diff > b.WorstJ || diff-diff != 0 {
		b.WorstJ, b.WorstNode = diff, name
	}
}

// Imbalance is |in - out - stored| over the heat that crossed inward, and the heat stored since the account began [J].
func (n *Network) Imbalance(b *Balance) (rel, storedJ float64) {
	in, out := 0.0, 0.0
	for i := range n.flows {
		in += b.in[i]
		out += b.out[i]
	}
	storedJ = n.Stored() - b.StartJ
	d := in - out - storedJ
	if d < 0 {
		d = -d
	}
	if in == 0 {
		if d == 0 {
			return 0, storedJ
		}
		in = d
	}
	return d / in, storedJ
}
