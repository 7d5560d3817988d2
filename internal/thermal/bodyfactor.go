package thermal

import "suncellar/internal/thermal/lanes"

// factor is all of a body that a length of step needs, until a branch or a conductance changes.
type factor struct {
	reply
	perStep float64   // 1/(gamma h), 0 for a steady state
	l       []float64 // Cholesky factor, row band, diagonal kept as reciprocal
	v       []float64 // L^-1 B, n x p, rows kept in whole fours
	changed int       // first cell whose row has changed since it was made
	sums    []float64 // V'V over the first rows, at every mark
}

// marks is in how many parts the rows are cut to keep the sum V'V so far: what lies before the first changed row need not be summed again.
const marks = 8

// reply gives the factor of a step, made anew when branches or conductances have changed since.
func (b *Body) reply(perStep float64, st *Stats) *reply {
	var f *factor
	for _, slot := range b.slots {
		if slot.perStep == perStep {
			f = slot
			break
		}
	}
	if f == nil {
		k, p := len(b.t), len(b.nodes)
		f = &factor{perStep: perStep, reply: reply{version: -1, resp: make([]float64, p*p)},
			l: make([]float64, k*(b.band+1)), v: make([]float64, lanes.Whole(k)*lanes.Whole(p)), sums: make([]float64, (marks+1)*p*p)}
		b.slots = append(b.slots, f)
	}
	if f.version != b.version {
		st.Refactors++
		b.refactor(f)
		f.version = b.version
	}
	b.now = f
	return &f.reply
}

// change notes that the row of a cell has changed.
func (b *Body) change(cell int) {
	b.version++
	for _, f := range b.slots {
		f.changed = min(f.changed, cell)
	}
}

// refactor makes the factor anew from the first changed row on.
func (b *Body) refactor(f *factor) {
	w, p, n := b.band+1, lanes.Whole(len(b.nodes)), len(b.t)
	first := f.changed
	if first == n {
		return
	}
	clear(f.l[first*w:])
	diag := b.band
	for i := first; i < n; i++ {
		f.l[i*w+diag] = b.lines[i].c * f.perStep
	}
	for i := range b.edges {
		e := &b.edges[i]
		if e.I < first {
			continue
		}
		f.l[e.I*w+diag] += e.g
		f.l[e.I*w+diag-(e.I-e.J)] -= e.g
		if e.J >= first {
			f.l[e.J*w+diag] += e.g
		}
	}
	clear(f.v[first*p:])
	for i := range b.ports {
		pt := &b.ports[i]
		if pt.Cell >= first {
			f.l[pt.Cell*w+diag] += pt.g
			f.v[pt.Cell*p+pt.column] += pt.g
		}
	}
	choleskyBand(f.l, first, n, b.band)
	forwardMany(f.l, f.v, first, n, b.band, p, b.columns)
	b.respond(f, first)
	f.changed = n
}

// respond sums S = V'V from the mark before the first changed row on.
func (b *Body) respond(f *factor, first int) {
	p, n := len(b.nodes), len(b.t)
	part := max(1, (n+marks-1)/marks)
	mark := first / part
	copy(f.resp, f.sums[mark*p*p:(mark+1)*p*p])
	for ; mark*part < n; mark++ {
		copy(f.sums[mark*p*p:(mark+1)*p*p], f.resp)
		respond(f.v, f.resp, mark*part, min(n, (mark+1)*part), p, b.columns)
	}
	mirror(f.resp, p)
}
