package pipes

import "slices"

// matrix is symmetric, positive and sparse: a map of neighbours for each row. Drip lines are chains and manifolds combs, so that
// elimination by fewest neighbours adds next to nothing.
type matrix struct {
	diagonal []float64
	others   []map[int]float64
}

func newMatrix(n int) *matrix {
	m := &matrix{make([]float64, n), make([]map[int]float64, n)}
	for i := range m.others {
		m.others[i] = map[int]float64{}
	}
	return m
}

// add adds to an entry; one off the diagonal is added once for each side.
func (m *matrix) add(i, j int, v float64) {
	if i == j {
		m.diagonal[i] += v
		return
	}
	m.others[i][j] += v
}

// solve eliminates the rows with fewest neighbours first, and goes back. The matrix is used up.
func (m *matrix) solve(right []float64) []float64 {
	n := len(right)
	order := make([]int, 0, n)
	kept := make([]map[int]float64, n) // neighbours at the time of its elimination
	done := make([]bool, n)
	for range n {
		i := m.fewest(done)
		done[i] = true
		order = append(order, i)
		row := m.others[i]
		kept[i] = row
		for _, a := range sortedKeys(row) {
			share := row[a] / m.diagonal[i]
			right[a] -= share * right[i]
			m.diagonal[a] -= share * row[a]
			delete(m.others[a], i)
			for b, v := range row {
				if b != a {
					m.others[a][b] -= share * v
				}
			}
		}
	}
	x := make([]float64, n)
	for k := n - 1; k >= 0; k-- {
		i := order[k]
		sum := right[i]
		for _, a := range sortedKeys(kept[i]) {
			sum -= kept[i][a] * x[a]
		}
		x[i] = sum / m.diagonal[i]
	}
	return x
}

// fewest is the first row left with the fewest neighbours.
func (m *matrix) fewest(done []bool) int {
	best := -1
	for i := range done {
		if !done[i] && (best < 0 || len(m.others[i]) < len(m.others[best])) {
			best = i
			if len(m.others[i]) <= 1 {
				break
			}
		}
	}
	return best
}

// sortedKeys are the neighbours in order, so that sums are the same on every run.
func sortedKeys(row map[int]float64) []int {
	list := make([]int, 0, len(row))
	for k := range row {
		list = append(list, k)
	}
	slices.Sort(list)
	return list
}
