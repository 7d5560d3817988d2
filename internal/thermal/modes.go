package thermal

import "suncellar/internal/thermal/modal"

// Modes is a linear body in a network, as its modes.
type Modes struct {
	name  string
	model *modal.Model
	nodes []Node
	flows []int

	q, base, y, t1, kept []float64
	s                    []float64
	slots                []*modalReply
	now                  *modalReply
	staged, isFirst      bool
	booked               float64
}

type modalReply struct {
	reply
	perStep float64
	share   []float64 // by mode: 1/(1/(gamma h) + rate) [s]
}

// AddModes adds a linear body as modes in state q; ports name a node each, all of them different, and flows the flow at each port:
// heat from the node into the body is positive.
func (n *Network) AddModes(name string, model *modal.Model, q []float64, ports []Node, flows []string) *Modes {
	n.mustBuild(name)
	k, p := len(model.Rate), len(model.Total)
	if len(ports) != p || len(flows) != p || len(q) != k {
		panic("thermal: " + name + " does not fit its model")
	}
	m := &Modes{name: name, model: model, nodes: ports, s: make([]float64, p)}
	for i, id := range ports {
		m.flows = append(m.flows, n.bodyFlow(flows[i], id))
	}
	for _, v := range []*[]float64{&m.q, &m.base, &m.y, &m.t1, &m.kept} {
		*v = make([]float64, k)
	}
	copy(m.q, q)
	n.blocks = append(n.blocks, m)
	return m
}

// Name is the name it was added under.
func (m *Modes) Name() string { return m.name }

// Len is the number of modes.
func (m *Modes) Len() int { return len(m.q) }

// State is the modes' coordinates.
func (m *Modes) State() []float64 { return append([]float64(nil), m.q...) }

// SetState puts the modes at coordinates that State gave.
func (m *Modes) SetState(q []float64) { copy(m.q, q) }

// Stored is the heat it holds now, counted from 0 °C [J].
func (m *Modes) Stored() float64 { return dot(m.model.Weight, m.q) }

// Read is the temperature [°C] that a reading of the modes gives now: one row of modal.Reduced.Read.
func (m *Modes) Read(row []float64) float64 { return dot(row, m.q) }

func (m *Modes) nodesAt() []Node   { return m.nodes }
func (m *Modes) totals() []float64 { return m.model.Total }
func (m *Modes) bookedJ() *float64 { return &m.booked }
func (m *Modes) swap()             { m.y, m.t1 = m.t1, m.y }
func (m *Modes) save()             { copy(m.kept, m.q) }
func (m *Modes) recall()           { copy(m.q, m.kept) }
func (m *Modes) accept()           { copy(m.q, m.y) }
func (m *Modes) settle()           { copy(m.q, m.y) }

func (m *Modes) open() {
	copy(m.base, m.q)
	m.staged, m.isFirst = false, true
}

func (m *Modes) begin() {
	if m.isFirst {
		return
	}
	m.open()
}

func (m *Modes) rest() {
	clear(m.base)
	m.staged = false
}

// reply is made once for every length of step.
func (m *Modes) reply(perStep float64, st *Stats) *reply {
	if m.now != nil && m.now.perStep == perStep {
		return &m.now.reply
	}
	m.staged = false
	for _, r := range m.slots {
		if r.perStep == perStep {
			m.now = r
			return &r.reply
		}
	}
	st.Refactors++
	k, p := len(m.q), len(m.nodes)
	r := &modalReply{reply: reply{resp: make([]float64, p*p)}, perStep: perStep, share: make([]float64, k)}
	for i, rate := range m.model.Rate {
		r.share[i] = 1 / (perStep + rate)
		row := m.model.Shape[i*p : i*p+p]
		for a, x := range row {
			x *= r.share[i]
			for c, y := range row {
				r.resp[a*p+c] += float64(x * y)
			}
		}
	}
	m.slots = append(m.slots, r)
	m.now = r
	return &r.reply
}

func (m *Modes) stage() []float64 {
	if m.staged {
		return m.s
	}
	m.staged = true
	clear(m.s)
	p := len(m.s)
	shape, s := m.model.Shape, m.s
	for i, share := range m.now.share {
		b := float64(m.base[i]*m.now.perStep) * share
		addTo(s, shape[i*p:i*p+p], b)
	}
	return s
}

// addTo adds f times row to s.
func addTo(s, row []float64, f float64) {
	row = row[:len(s)]
	for j := range s {
		s[j] += float64(row[j] * f)
	}
}

func (m *Modes) finish(ports []float64) bool {
	p := len(ports)
	shape := m.model.Shape
	for i, share := range m.now.share {
		m.y[i] = (float64(m.base[i]*m.now.perStep) + dot(shape[i*p:i*p+p], ports)) * share
	}
	return true
}

func (m *Modes) second(perStep, h float64) {
	copy(m.t1, m.y)
	f := h * (1 - gamma) * perStep
	for i, y := range m.y {
		m.base[i] = m.q[i] + float64(f*(y-m.q[i]))
	}
	m.staged, m.isFirst = false, false
}

// stepError is that of Network.stepError, looked at from the ports: the error in the heat at each, over what it conducts [K].
func (m *Modes) stepError(perStep float64) float64 {
	clear(m.s) // used again for the next stage
	m.staged = false
	p := len(m.s)
	for i, q := range m.q {
		e := (m.y[i] - q - (m.t1[i]-q)/gamma) * perStep * m.now.share[i]
		addTo(m.s, m.model.Shape[i*p:i*p+p], e)
	}
	worst := 0.0
	for j, e := range m.s {
		if e < 0 {
			e = -e
		}
		worst = max(worst, e/m.model.Total[j])
	}
	return worst
}

// book books the ports' flows of one stage at the temperatures of the stage.
func (m *Modes) book(n *Network, weight float64) {
	p := len(m.nodes)
	clear(m.s)
	m.staged = false
	for i, y := range m.y {
		addTo(m.s, m.model.Shape[i*p:i*p+p], y)
	}
	for j, id := range m.nodes {
		e := weight * (float64(m.model.Total[j]*n.w.at(n, id)) - m.s[j])
		n.flows[m.flows[j]].HourJ += e
		n.w.booked[id] -= e
		m.booked += e
	}
}
