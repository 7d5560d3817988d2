package thermal

import (
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"

	"suncellar/internal/thermal/modal"
)

// Modes is a linear body in a network, as its modes: dq/dt = -rate q + shape u, with port temperatures u.
//
// Being linear, both stages of a step follow from its begin and the port temperatures alone. With a = 1/(gamma h), c = 1/(a + rate) and
// f = (1-gamma)/gamma, for each mode:
//
//	y1 = c (a q + shape u1)
//	y2 = c (a (q + f (y1 - q)) + shape u2)
//
// So the modes are gone through twice a step, once for what they send back to the ports and once to move on; all passes between need the ports
// alone: s1, s2 = s20 + R u1, and the error of the step.
type Modes struct {
	name  string
	model *modal.Model
	nodes []Node
	flows []int

	q, kept      []float64
	u            [2][]float64 // port temperatures of the stages
	s            [2][]float64 // what comes back at the ports, by stage [W]
	s20, e0      []float64    // s2 and the error as far as they follow from the begin
	at           int          // the stage that is solved, or booked
	slots        []*modalReply
	now          *modalReply
	judged       int  // ports whose error counts
	staged, rest bool // rest: a steady state is sought, in which nothing is held
	booked       float64

	scaled, y1, y2 []float64 // by mode
	back           []float64 // by port: what it gets back of its own and others' temperatures [W]
}

type modalReply struct {
	reply
	perStep    float64
	share      []float64 // by mode: c [s]
	back, far  []float64 // by mode: factors of q in s1 and in s20
	begin      []float64 // by mode: factor of q in e0
	second     []float64 // R
	err1, err2 []float64 // error for u1 and for u2
}

// AddModes adds a linear body as modes in state q; ports name a node each, all of them different, and flows the flow at each port:
// heat from the node into the body is positive.
func (n *Network) AddModes(name string, model *modal.Model, q []float64, ports []Node, flows []string) *Modes {
	n.mustBuild(name)
	k, p := len(model.Rate), len(model.Total)
	if len(ports) != p || len(flows) != p || len(q) != k {
		panic("thermal: " + name + " does not fit its model")
	}
	m := &Modes{name: name, model: model, nodes: ports, judged: p, q: make([]float64, k), kept: make([]float64, k)}
	for i, id := range ports {
		m.flows = append(m.flows, n.bodyFlow(flows[i], id))
	}
	for _, v := range []*[]float64{&m.u[0], &m.u[1], &m.s[0], &m.s[1], &m.s20, &m.e0, &m.back} {
		*v = make([]float64, p)
	}
	for _, v := range []*[]float64{&m.scaled, &m.y1, &m.y2} {
		*v = make([]float64, k)
	}
	copy(m.q, q)
	n.blocks = append(n.blocks, m)
	return m
}

// JudgeFirst says that the length of a step is judged by what happens at the first ports alone: what is slow or quick beyond them, such as the outer
// skin of a wall or the inner nodes of a cluster, is nobody's concern.
func (m *Modes) JudgeFirst(ports int) { m.judged = ports }

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
func (m *Modes) Read(row []float64) float64 { return blas64.Dot(vector(row), vector(m.q)) }

// ReadInto is Read of several rows, one after the other in readings.
func (m *Modes) ReadInto(to, readings []float64) {
	clear(to)
	along(to, readings, m.q)
}

func (m *Modes) nodesAt() []Node   { return m.nodes }
func (m *Modes) totals() []float64 { return m.model.Total }
func (m *Modes) bookedJ() *float64 { return &m.booked }
func (m *Modes) open()             { m.staged, m.rest, m.at = false, false, 0 }
func (m *Modes) still()            { m.staged, m.rest, m.at = false, true, 0 }
func (m *Modes) save()             { copy(m.kept, m.q) }
func (m *Modes) recall()           { copy(m.q, m.kept) }

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
	m.now = m.forStep(perStep)
	m.slots = append(m.slots, m.now)
	return &m.now.reply
}

// forStep makes all that a length of step needs.
func (m *Modes) forStep(a float64) *modalReply {
	k, p := len(m.q), len(m.nodes)
	square := func() []float64 { return make([]float64, p*p) }
	r := &modalReply{reply: reply{resp: square()}, perStep: a, share: make([]float64, k), back: make([]float64, k), far: make([]float64, k),
		begin: make([]float64, k), second: square(), err1: square(), err2: square()}
	f := (1 - gamma) / gamma
	for i, rate := range m.model.Rate {
		c := 1 / (a + rate)
		w := a * c
		r.share[i], r.back[i], r.far[i] = c, w, w*(1-f+f*w)
		r.begin[i] = w * (w*(1-f) + w*f*w - 1 - (w-1)/gamma)
		row := m.model.Shape[i*p : i*p+p]
		for j, x := range row {
			for _, to := range []struct {
				matrix []float64
				factor float64
			}{{r.resp, c}, {r.second, f * w * c}, {r.err1, w * (w*f*c - c/gamma)}, {r.err2, w * c}} {
				addTo(to.matrix[j*p:j*p+p], row, x*to.factor)
			}
		}
	}
	return r
}

func (m *Modes) stage() []float64 {
	if !m.staged {
		m.look()
	}
	return m.s[m.at]
}

// look goes through the modes at the begin of a step.
func (m *Modes) look() {
	m.staged = true
	s, s20, e0 := m.s[0], m.s20, m.e0[:m.judged]
	if m.rest {
		clear(s)
		clear(s20)
		clear(e0)
		return
	}
	m.sendBack(s, m.now.back)
	m.sendBack(s20, m.now.far)
	m.sendBack(e0, m.now.begin)
}

// sendBack is what the modes, each times its factor, send back to the first ports, as many as to is long [W].
func (m *Modes) sendBack(to, factors []float64) {
	for i, q := range m.q {
		m.scaled[i] = q * factors[i]
	}
	shape := rows(m.model.Shape, len(m.q), len(m.nodes))
	shape.Cols = len(to)
	blas64.Gemv(blas.Trans, 1, shape, vector(m.scaled), 0, vector(to))
}

// addTo adds f times row to s.
func addTo(s, row []float64, f float64) {
	row = row[:len(s)]
	for j := range s {
		s[j] += float64(row[j] * f)
	}
}

func (m *Modes) finish(ports []float64) bool {
	copy(m.u[m.at], ports)
	return true
}

func (m *Modes) second(perStep, h float64) {
	m.at = 1
	copy(m.s[1], m.s20)
	along(m.s[1], m.now.second, m.u[0])
}

func (m *Modes) foretold(t []float64) float64 {
	if m.now == nil {
		return 0
	}
	for j, id := range m.nodes {
		m.back[j] = t[id]
	}
	return m.errorFor(m.back, m.back)
}

// stepError is that of Network.stepError, looked at from the ports: the error in the heat at each, over what it conducts [K].
func (m *Modes) stepError(perStep float64) float64 {
	return m.errorFor(m.u[0], m.u[1])
}

// errorFor is the error for port temperatures of the two stages [K].
func (m *Modes) errorFor(u1, u2 []float64) float64 {
	p := len(m.nodes)
	worst := 0.0
	for j := range m.judged {
		e := m.e0[j] + dot(m.now.err1[j*p:j*p+p], u1) + dot(m.now.err2[j*p:j*p+p], u2)
		if e < 0 {
			e = -e
		}
		worst = max(worst, e/m.model.Total[j])
	}
	return worst
}

// accept moves the modes to the end of the step.
func (m *Modes) accept() {
	f := (1 - gamma) / gamma
	clear(m.y1)
	clear(m.y2)
	along(m.y1, m.model.Shape, m.u[0])
	along(m.y2, m.model.Shape, m.u[1])
	for i, q := range m.q {
		c, w := m.now.share[i], m.now.back[i]
		y1 := w*q + c*m.y1[i]
		m.q[i] = w*(q+f*(y1-q)) + c*m.y2[i]
	}
}

// settle moves them to the steady state that was found.
func (m *Modes) settle() {
	p := len(m.nodes)
	for i := range m.q {
		m.q[i] = m.now.share[i] * dot(m.model.Shape[i*p:i*p+p], m.u[0])
	}
}

// book books the ports' flows of one stage at the temperatures of the stage.
func (m *Modes) book(n *Network, weight float64) {
	u, s := m.u[m.at], m.s[m.at]
	across(m.back, m.now.resp, u)
	for j, id := range m.nodes {
		e := weight * (float64(m.model.Total[j]*u[j]) - s[j] - m.back[j])
		n.flows[m.flows[j]].HourJ += e
		n.w.booked[id] -= e
		m.booked += e
	}
}
