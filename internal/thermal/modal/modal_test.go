package modal

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// chain is cells one after the other, with ports at its ends and a begin of its own.
func chain(t *rapid.T) Body {
	n := rapid.IntRange(2, 60).Draw(t, "cells")
	b := Body{Count: 2}
	positive := rapid.Float64Range(0.1, 50)
	for i := range n {
		b.Capacity = append(b.Capacity, 1e4*positive.Draw(t, "capacity"))
		b.Start = append(b.Start, rapid.Float64Range(-10, 20).Draw(t, "start"))
		if i > 0 {
			b.Edges = append(b.Edges, Edge{I: i, J: i - 1, G: positive.Draw(t, "edge")})
		}
	}
	b.Ports = []Port{{Cell: 0, Port: 0, R: 1 / positive.Draw(t, "first")}, {Cell: n - 1, Port: 1, R: 1 / positive.Draw(t, "last")}}
	return b
}

// What a reduction promises of any body: where it begins is where the body begins; all cells equally warm is a steady state; with one port warm and the
// other at 0 the steady temperatures are the body's; and what enters is what is stored.
func TestPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := chain(t)
		r, err := Reduce(b)
		if err != nil {
			t.Fatal(err)
		}
		near := func(what string, got, want, scale float64) {
			if math.Abs(got-want) > 1e-7*(1+scale) {
				t.Errorf("%s: %g, must be %g", what, got, want)
			}
		}
		cell := func(i int, q []float64) float64 {
			sum := 0.0
			for k, v := range r.Read(i) {
				sum += v * q[k]
			}
			return sum
		}
		held := 0.0
		for i, c := range b.Capacity {
			near("begin", cell(i, r.Start), b.Start[i], 20)
			held += c * b.Start[i]
		}
		stored := 0.0
		for k, w := range r.Weight {
			stored += w * r.Start[k]
		}
		near("heat held", stored/held, 1, 0)
		for _, u := range [][2]float64{{1, 1}, {1, 0}} {
			q := make([]float64, len(r.Rate))
			for k := range q {
				q[k] = (r.Shape[2*k]*u[0] + r.Shape[2*k+1]*u[1]) / r.Rate[k]
			}
			steady := b.steady(u)
			for i := range b.Capacity {
				near("steady", cell(i, q), steady.AtVec(i), 1)
			}
		}
		// d/dt of what is held is what enters: sum Weight (-Rate q + Shape u) = sum Total u - Shape q
		in, more := 0.0, 0.0
		u := [2]float64{3, -4}
		for j := range u {
			in += r.Total[j] * u[j]
		}
		for k, q := range r.Start {
			in -= (r.Shape[2*k] + r.Shape[2*k+1]) * q
			more += r.Weight[k] * (-r.Rate[k]*q + r.Shape[2*k]*u[0] + r.Shape[2*k+1]*u[1])
		}
		near("what enters", more, in, math.Abs(in)+100*(r.Total[0]+r.Total[1]))
	})
}

// steady is the cells' steady temperatures by gonum's dense solver.
func (b *Body) steady(u [2]float64) *mat.VecDense {
	n := len(b.Capacity)
	k, right := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	for _, e := range b.Edges {
		k.Set(e.I, e.I, k.At(e.I, e.I)+e.G)
		k.Set(e.J, e.J, k.At(e.J, e.J)+e.G)
		k.Set(e.I, e.J, -e.G)
		k.Set(e.J, e.I, -e.G)
	}
	for _, p := range b.Ports {
		k.Set(p.Cell, p.Cell, k.At(p.Cell, p.Cell)+1/p.R)
		right.SetVec(p.Cell, right.AtVec(p.Cell)+u[p.Port]/p.R)
	}
	var x mat.VecDense
	if err := x.SolveVec(k, right); err != nil {
		panic(err)
	}
	return &x
}

// Each bad body is refused for its own reason.
func TestRefusals(t *testing.T) {
	good := Body{Capacity: []float64{1, 1}, Start: []float64{0, 0}, Edges: []Edge{{0, 1, 1}}, Ports: []Port{{0, 0, 1}}, Count: 1}
	if _, err := Reduce(good); err != nil {
		t.Fatal(err)
	}
	bad := map[string]Body{"no heat": good, "no begin": good, "loose": good}
	b := bad["no heat"]
	b.Capacity = []float64{1, 0}
	bad["no heat"] = b
	b = bad["no begin"]
	b.Start = nil
	bad["no begin"] = b
	b = bad["loose"]
	b.Ports = nil
	bad["loose"] = b
	for name, b := range bad {
		if _, err := Reduce(b); err == nil {
			t.Errorf("%s: was reduced", name)
		}
	}
}
