package thermal

import (
	"cmp"
	"slices"

	"suncellar/internal/thermal/lanes"
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
	whole  int       // rows and columns of the dense block, made up to whole fours
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

// denseShare is the share of the other rows that every row is joined to when the rest is taken as dense: what is dense goes four numbers at a time, and costs
// a fifth of what lists do.
const denseShare = 0.4

// newMatrix makes a matrix of n rows; joined are the pairs of rows that have entries.
func newMatrix(n int, joined [][2]int) *matrix {
	m := &matrix{n: n, place: make([]int32, n), at: map[[2]int32]int32{}}
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
		if len(rest) >= 4 && float64(len(graph[least])) >= denseShare*float64(len(rest)-1) {
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
	m.x = make([]float64, m.begin+m.whole)
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
	m.whole = lanes.Whole(dense)
	for i := range dense {
		next = first + int32(i*m.whole)
		for j := range dense {
			give(int32(m.begin+i), int32(m.begin+j))
		}
	}
	m.a = make([]float64, int(first)+m.whole*m.whole)
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
	for i := m.n - m.begin; i < m.whole; i++ {
		m.block[i*m.whole+i] = 1
	}
	return lanes.Factor(m.block, m.whole)
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

// solveDense solves with the factors of a dense matrix of whole fours, four rows at a time.
func solveDense(a, x []float64) {
	n := len(x)
	for k := 0; k < n; k += 4 {
		lanes.SubtractDots(x[k:k+4], a[k*n:], n, x[:k])
		y, r1, r2, r3 := x[k:k+4:k+4], a[(k+1)*n+k:][:1], a[(k+2)*n+k:][:2], a[(k+3)*n+k:][:3]
		y[1] -= float64(r1[0] * y[0])
		y[2] -= float64(r2[0]*y[0]) + float64(r2[1]*y[1])
		y[3] -= float64(r3[0]*y[0]) + float64(r3[1]*y[1]) + float64(r3[2]*y[2])
	}
	for k := n - 4; k >= 0; k -= 4 {
		if k+4 < n {
			lanes.SubtractDots(x[k:k+4], a[k*n+k+4:], n, x[k+4:])
		}
		y, r0, r1, r2, r3 := x[k:k+4:k+4], a[k*n+k:][:4], a[(k+1)*n+k:][:4], a[(k+2)*n+k:][:4], a[(k+3)*n+k:][:4]
		y[3] *= r3[3]
		y[2] = (y[2] - float64(r2[3]*y[3])) * r2[2]
		y[1] = (y[1] - float64(r1[3]*y[3]) - float64(r1[2]*y[2])) * r1[1]
		y[0] = (y[0] - float64(r0[3]*y[3]) - float64(r0[2]*y[2]) - float64(r0[1]*y[1])) * r0[0]
	}
}
