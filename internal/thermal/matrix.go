package thermal

import (
	"cmp"
	"slices"
)

// matrix is a square matrix whose pattern is fixed before its values, symmetric in pattern though not in values. It is factored
// without pivoting, which is sound here: in the balance of a network every diagonal outweighs the rest of its column.
//
// Rows are taken out in an order of least degree (Tinney and Walker 1967, Proc. IEEE 55:1801-1809): chains go first and cost next to
// nothing. What is left when every row is joined to most of the others is a dense block at the end.
type matrix struct {
	n      int
	place  []int32 // by row: its place in the order
	pivots []pivot // those before the dense block
	begin  int     // place of the first row of the dense block
	a      []float64
	block  []float64 // of a: the dense block by rows
	x      []float64 // right side in the order of places
	at     map[[2]int32]int32
}

// pivot is a row that is taken out by lists. Its diagonal is followed in the values by its row (U) and by its column (L).
type pivot struct {
	diagonal int32
	beside   []int32 // places of the rows joined to it that come later
	targets  []int32 // by pair of them: where the product of column and row is taken off
}

// of gives row and column of the pivot among the values.
func (p *pivot) of(a []float64) (row, column []float64) {
	begin, width := p.diagonal+1, int32(len(p.beside))
	return a[begin : begin+width], a[begin+width : begin+2*width]
}

// denseShare is the share of the other rows that every row is joined to when the rest is taken as dense.
const denseShare = 0.75

// newMatrix makes a matrix of n rows; joined are the pairs of rows that have entries.
func newMatrix(n int, joined [][2]int) *matrix {
	m := &matrix{n: n, place: make([]int32, n), x: make([]float64, n), at: map[[2]int32]int32{}}
	graph := make([]map[int]bool, n)
	for i := range graph {
		graph[i] = map[int]bool{}
	}
	for _, p := range joined {
		if p[0] != p[1] {
			graph[p[0]][p[1]], graph[p[1]][p[0]] = true, true
		}
	}
	rest := make([]int, n)
	for i := range rest {
		rest[i] = i
	}
	var beside [][]int // by place: rows, put into places once all have theirs
	for len(rest) > 0 {
		least := slices.MinFunc(rest, func(a, b int) int { return cmp.Or(cmp.Compare(len(graph[a]), len(graph[b])), cmp.Compare(a, b)) })
		if float64(len(graph[least])) >= denseShare*float64(len(rest)-1) {
			break
		}
		m.place[least] = int32(len(beside))
		rest = slices.DeleteFunc(rest, func(r int) bool { return r == least })
		beside = append(beside, takeOut(graph, least))
	}
	m.begin = len(beside)
	for i, r := range rest {
		m.place[r] = int32(m.begin + i)
	}
	m.lay(beside, len(rest))
	return m
}

// takeOut takes a row out of the graph: all that were joined to it are then joined to each other.
func takeOut(graph []map[int]bool, row int) []int {
	list := make([]int, 0, len(graph[row]))
	for r := range graph[row] {
		list = append(list, r)
	}
	slices.Sort(list)
	for _, a := range list {
		delete(graph[a], row)
		for _, b := range list {
			if a != b {
				graph[a][b] = true
			}
		}
	}
	return list
}

// lay gives every entry its place among the values.
func (m *matrix) lay(beside [][]int, dense int) {
	next := int32(0)
	give := func(i, j int32) int32 {
		m.at[[2]int32{i, j}] = next
		next++
		return next - 1
	}
	m.pivots = make([]pivot, m.begin)
	for k := range m.pivots {
		p := &m.pivots[k]
		p.diagonal = give(int32(k), int32(k))
		for _, r := range beside[k] {
			p.beside = append(p.beside, m.place[r])
		}
		slices.Sort(p.beside)
		for _, j := range p.beside {
			give(int32(k), j)
		}
		for _, i := range p.beside {
			give(i, int32(k))
		}
	}
	first := next
	for i := range dense {
		for j := range dense {
			give(int32(m.begin+i), int32(m.begin+j))
		}
	}
	m.a = make([]float64, next)
	m.block = m.a[first:]
	for k := range m.pivots {
		p := &m.pivots[k]
		for _, i := range p.beside {
			for _, j := range p.beside {
				p.targets = append(p.targets, m.at[[2]int32{i, j}])
			}
		}
	}
}

// entry is where the value of row r, column c stands; -1 when one of them is no row.
func (m *matrix) entry(r, c int) int32 {
	if r < 0 || c < 0 {
		return -1
	}
	i, ok := m.at[[2]int32{m.place[r], m.place[c]}]
	if !ok {
		panic("thermal: an entry outside the pattern")
	}
	return i
}

// factor puts L and U in place of the values, with reciprocals on the diagonal; false when a diagonal is 0.
func (m *matrix) factor() bool {
	a := m.a
	for k := range m.pivots {
		p := &m.pivots[k]
		d := a[p.diagonal]
		if d == 0 {
			return false
		}
		d = 1 / d
		a[p.diagonal] = d
		row, column := p.of(a)
		targets := p.targets
		for i, l := range column {
			l *= d
			column[i] = l
			to := targets[:len(row)]
			targets = targets[len(row):]
			if l == 0 {
				continue
			}
			for j, u := range row {
				a[to[j]] -= float64(l * u)
			}
		}
	}
	return factorDense(m.block, m.n-m.begin)
}

// factorDense factors a dense matrix by rows, each with four rows above it at a time; reciprocals are left on the diagonal.
func factorDense(a []float64, n int) bool {
	for i := range n {
		row := a[i*n : i*n+n]
		k := 0
		for ; k+4 <= i; k += 4 {
			u0, u1 := a[k*n:k*n+n], a[(k+1)*n:(k+1)*n+n]
			u2, u3 := a[(k+2)*n:(k+2)*n+n], a[(k+3)*n:(k+3)*n+n]
			l0 := row[k] * u0[k]
			l1 := (row[k+1] - float64(l0*u0[k+1])) * u1[k+1]
			l2 := (row[k+2] - float64(l0*u0[k+2]) - float64(l1*u1[k+2])) * u2[k+2]
			l3 := (row[k+3] - float64(l0*u0[k+3]) - float64(l1*u1[k+3]) - float64(l2*u2[k+3])) * u3[k+3]
			row[k], row[k+1], row[k+2], row[k+3] = l0, l1, l2, l3
			r := row[k+4:]
			u0, u1, u2, u3 = u0[k+4:][:len(r)], u1[k+4:][:len(r)], u2[k+4:][:len(r)], u3[k+4:][:len(r)]
			for j := range r {
				r[j] -= (float64(l0*u0[j]) + float64(l1*u1[j])) + (float64(l2*u2[j]) + float64(l3*u3[j]))
			}
		}
		for ; k < i; k++ {
			u := a[k*n : k*n+n]
			l := row[k] * u[k]
			row[k] = l
			r := row[k+1:]
			u = u[k+1:][:len(r)]
			for j := range r {
				r[j] -= float64(l * u[j])
			}
		}
		if row[i] == 0 {
			return false
		}
		row[i] = 1 / row[i]
	}
	return true
}

// solve solves for the right side b by rows, in place.
func (m *matrix) solve(b []float64) {
	x := m.x
	for r, p := range m.place {
		x[p] = b[r]
	}
	for k := range m.pivots {
		p := &m.pivots[k]
		v := x[k]
		_, column := p.of(m.a)
		for i, to := range p.beside {
			x[to] -= float64(column[i] * v)
		}
	}
	solveDense(m.block, x[m.begin:])
	for k := len(m.pivots) - 1; k >= 0; k-- {
		p := &m.pivots[k]
		v := x[k]
		row, _ := p.of(m.a)
		for j, from := range p.beside {
			v -= float64(row[j] * x[from])
		}
		x[k] = v * m.a[p.diagonal]
	}
	for r, p := range m.place {
		b[r] = x[p]
	}
}

func solveDense(a, x []float64) {
	n := len(x)
	for i := 1; i < n; i++ {
		x[i] -= dot(a[i*n:i*n+i], x[:i])
	}
	for i := n - 1; i >= 0; i-- {
		x[i] = (x[i] - dot(a[i*n+i+1:i*n+n], x[i+1:])) * a[i*n+i]
	}
}
