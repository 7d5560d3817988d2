package thermal

import (
	"suncellar/internal/thermal/lanes"
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

	shape, across []float64 // model.Shape by modes, and by ports: rows kept in whole fours

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
	back, off      []float64 // by port: what it gets back of its own and others' temperatures, and the error in its heat [W]
}

type modalReply struct {
	reply
	perStep    float64
	share      []float64 // by mode: c [s]
	back, far  []float64 // by mode: factors of q in s1 and in s20
	begin      []float64 // by mode: factor of q in e0
	own        []float64 // resp, this and the next with rows in whole fours
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
	m := &Modes{name: name, model: model, nodes: ports, judged: p, q: lanes.Make(k), kept: make([]float64, k)}
	for i, id := range ports {
		m.flows = append(m.flows, n.bodyFlow(flows[i], id))
	}
	wide, long := lanes.Whole(p), lanes.Whole(k)
	for _, v := range []*[]float64{&m.u[0], &m.u[1], &m.s[0], &m.s[1], &m.s20, &m.e0, &m.back, &m.off} {
		*v = lanes.Make(p)
	}
	for _, v := range []*[]float64{&m.scaled, &m.y1, &m.y2} {
		*v = lanes.Make(k)
	}
	m.shape, m.across = make([]float64, k*wide), make([]float64, p*long)
	for i, x := range model.Shape {
		m.shape[i/p*wide+i%p], m.across[i%p*long+i/p] = x, x
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
func (m *Modes) Read(row []float64) float64 { return dot(row, m.q) }

// Readings are temperatures that are read from the modes again and again.
type Readings struct {
	modes *Modes
	rows  []float64 // in whole fours, and kept in whole fours
	now   []float64
}

// Readings are those that rows of modal.Reduced.Read give.
func (m *Modes) Readings(rows [][]float64) *Readings {
	wide := lanes.Whole(len(m.q))
	r := &Readings{modes: m, rows: make([]float64, lanes.Whole(len(rows))*wide), now: lanes.Make(len(rows))}
	for i, row := range rows {
		copy(r.rows[i*wide:(i+1)*wide], row)
	}
	return r
}

// Now are the temperatures now [°C], by row; the slice is used again by the next call.
func (r *Readings) Now() []float64 {
	q, now := lanes.Made(r.modes.q), lanes.Made(r.now)
	clear(now)
	lanes.AddDots(now, r.rows, len(q), q)
	return r.now
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
	wide := lanes.Whole(p)
	square := func() []float64 { return make([]float64, wide*wide) }
	r := &modalReply{reply: reply{resp: make([]float64, p*p)}, perStep: a, share: make([]float64, k), back: make([]float64, k), far: make([]float64, k),
		begin: make([]float64, k), own: square(), second: square(), err1: square(), err2: square()}
	f := (1 - gamma) / gamma
	for i, rate := range m.model.Rate {
		c := 1 / (a + rate)
		w := a * c
		r.share[i], r.back[i], r.far[i] = c, w, w*(1-f+f*w)
		r.begin[i] = w * (w*(1-f) + w*f*w - 1 - (w-1)/gamma)
		row := m.shape[i*wide : i*wide+wide]
		for j, x := range row[:p] {
			for _, to := range []struct {
				matrix []float64
				factor float64
			}{{r.own, c}, {r.second, f * w * c}, {r.err1, w * (w*f*c - c/gamma)}, {r.err2, w * c}} {
				addTo(to.matrix[j*wide:j*wide+wide], row, x*to.factor)
			}
		}
	}
	for j := range p {
		copy(r.resp[j*p:j*p+p], r.own[j*wide:])
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
	s, s20, e0 := lanes.Made(m.s[0]), lanes.Made(m.s20), lanes.Made(m.e0[:m.judged])
	clear(s)
	clear(s20)
	clear(e0)
	if m.rest {
		return
	}
	m.sendBack(s, m.now.back)
	m.sendBack(s20, m.now.far)
	m.sendBack(e0, m.now.begin)
}

// sendBack adds what the modes, each times its factor, send back to the first ports, as many as to is long [W].
func (m *Modes) sendBack(to, factors []float64) {
	for i, q := range m.q {
		m.scaled[i] = q * factors[i]
	}
	lanes.Add(to, m.shape, lanes.Whole(len(m.nodes)), m.scaled)
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
	s := lanes.Made(m.s[1])
	lanes.Add(s, m.now.second, len(s), m.u[0])
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
	off, wide := lanes.Made(m.off[:m.judged]), lanes.Whole(len(m.nodes))
	copy(off, m.e0)
	lanes.AddDots(off, m.now.err1, wide, lanes.Made(u1))
	lanes.AddDots(off, m.now.err2, wide, lanes.Made(u2))
	worst := 0.0
	for j, e := range off[:m.judged] {
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
	y1, y2 := lanes.Made(m.y1), lanes.Made(m.y2)
	clear(y1)
	clear(y2)
	lanes.Add(y1, m.across, len(y1), m.u[0])
	lanes.Add(y2, m.across, len(y2), m.u[1])
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
	u, s, sum := m.u[m.at], m.s[m.at], 0.0
	back := lanes.Made(m.back)
	clear(back)
	lanes.Add(back, m.now.own, len(back), u)
	for j, id := range m.nodes {
		e := weight * (float64(m.model.Total[j]*u[j]) - s[j] - m.back[j])
		n.flows[m.flows[j]].HourJ += e
		n.w.booked[id] -= e
		sum += e
	}
	m.booked += sum
}
