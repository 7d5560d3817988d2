package thermal

// saveBooks copies what the hour has booked so far; recallBooks goes back to it. The slice is used again by the next call.
func (n *Network) saveBooks() []float64 {
	b := n.w.saveB[:0]
	for i := range n.flows {
		b = append(b, n.flows[i].HourJ)
	}
	b = append(b, n.w.booked...)
	for _, bd := range n.blocks {
		b = append(b, *bd.bookedJ())
	}
	n.w.saveB = b
	return b
}

func (n *Network) recallBooks(b []float64) {
	for i := range n.flows {
		n.flows[i].HourJ = b[i]
	}
	b = b[len(n.flows):]
	copy(n.w.booked, b)
	b = b[len(n.nodes):]
	for i, bd := range n.blocks {
		*bd.bookedJ() = b[i]
	}
}

// accept takes the end of the step as the state.
func (n *Network) accept() {
	w := &n.w
	n.Stats.Steps++
	for r, id := range n.rows {
		n.nodes[id].t = w.x[r]
	}
	for i := range n.nodes {
		if n.nodes[i].given {
			n.nodes[i].t = w.now[i]
		}
	}
	for _, b := range n.blocks {
		b.accept()
	}
}

// store keeps the state at the begin of a step; recall goes back to it. Branches are kept with temperatures: within a step
// they are moved before it is accepted.
func (n *Network) store() {
	for r, id := range n.rows {
		n.w.saveT[r] = n.nodes[id].t
	}
	for _, b := range n.blocks {
		b.save()
	}
}

// takeBack goes back to the begin of a step, and to the books of then.
func (n *Network) takeBack(books []float64) {
	n.recall()
	n.recallBooks(books)
}

func (n *Network) recall() {
	for r, id := range n.rows {
		n.SetTemperature(id, n.w.saveT[r])
	}
	for _, b := range n.blocks {
		b.recall()
	}
}
