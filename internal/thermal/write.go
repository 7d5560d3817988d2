package thermal

import (
	"encoding/json"
	"io"

	"suncellar/internal/thermal/lanes"
)

// Write writes the network as another solver may read it: one JSON object with its nodes, blocks and the ends of its verbs. See WriteHour for the
// coefficients, which change.
func (n *Network) Write(w io.Writer) error {
	type node struct {
		Name  string  `json:"name"`
		Law   Law     `json:"law"`
		Given bool    `json:"given"`
		T     float64 `json:"t"`
	}
	type cell struct {
		Law Law     `json:"law"`
		T   float64 `json:"t"`
	}
	type modes struct {
		Rate  []float64 `json:"rate"`
		Shape []float64 `json:"shape"`
		Total []float64 `json:"total"`
		Nodes []Node    `json:"nodes"`
		Q     []float64 `json:"q"`
	}
	type body struct {
		Cells []cell `json:"cells"`
		Edges []Edge `json:"edges"`
		Ports []Port `json:"ports"`
	}
	var out struct {
		Nodes   []node   `json:"nodes"`
		Joins   [][2]int `json:"joins"`
		Carries [][2]int `json:"carries"`
		Injects []int    `json:"injects"`
		Bodies  []body   `json:"bodies"`
		Modes   []modes  `json:"modes"`
	}
	for i := range n.nodes {
		d := &n.nodes[i]
		out.Nodes = append(out.Nodes, node{d.name, d.law, d.given, d.t})
	}
	for _, j := range n.joins {
		out.Joins = append(out.Joins, [2]int{int(j.from), int(j.to)})
	}
	for _, c := range n.carries {
		out.Carries = append(out.Carries, [2]int{int(c.from), int(c.to)})
	}
	for _, i := range n.injects {
		out.Injects = append(out.Injects, int(i.to))
	}
	for _, x := range n.exchanges { // straight potentials are carries both ways and a source that makes up for 0 °C
		for i, from := range x.nodes {
			out.Injects = append(out.Injects, int(from))
			for j, to := range x.nodes {
				if i != j {
					out.Carries = append(out.Carries, [2]int{int(from), int(to)})
				}
			}
		}
	}
	for _, b := range n.blocks {
		switch b := b.(type) {
		case *Body:
			d := body{Edges: b.edges, Ports: b.ports}
			for i, law := range b.laws {
				d.Cells = append(d.Cells, cell{law, b.t[i]})
			}
			out.Bodies = append(out.Bodies, d)
		case *Modes:
			out.Modes = append(out.Modes, modes{b.model.Rate, b.model.Shape, b.model.Total, b.nodes, b.q})
		}
	}
	return json.NewEncoder(w).Encode(out)
}

// WriteHour writes the coefficients as they were set last, the given temperatures at begin and end of the hour, and the temperatures it has come to: one
// JSON object on a line.
func (n *Network) WriteHour(w io.Writer) error {
	var out struct {
		G      []float64 `json:"g"`
		W      []float64 `json:"w"`
		Q      []float64 `json:"q"`
		T0, T1 []float64
		T      []float64
	}
	for _, j := range n.joins {
		out.G = append(out.G, j.g)
	}
	for _, c := range n.carries {
		out.W = append(out.W, c.w)
	}
	for _, i := range n.injects {
		out.Q = append(out.Q, i.q)
	}
	for _, x := range n.exchanges {
		for i := range x.nodes {
			out.Q = append(out.Q, -x.fixed[i])
			for j := range x.nodes {
				if i != j {
					out.W = append(out.W, -x.table[j*lanes.Whole(len(x.nodes))+i]*x.slope[i])
				}
			}
		}
	}
	for i := range n.nodes {
		d := &n.nodes[i]
		out.T0, out.T1, out.T = append(out.T0, d.t0), append(out.T1, d.t1), append(out.T, d.t)
	}
	return json.NewEncoder(w).Encode(out)
}
