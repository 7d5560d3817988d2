package chance

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"

	"suncellar/internal/ensemble"
	"suncellar/internal/plan"
	"suncellar/internal/unknown"
	"suncellar/internal/winter"
)

// House is how far the watched place's lowest lies off for what is not known of the house. Each drawn house runs through one of the winters, in turn, and is compared
// with the plan in that same winter, so that no winter is in its band.
type House struct {
	Draws  int
	Failed int
	Shift  Band // of a winter's lowest, from the plan's [K]
	Both   Band // of the lowest of a drawn house in a winter drawn with it: winters and house together [°C]
	// WinterShare is the winters' share of the variance of lowests, the rest is the house's.
	WinterShare float64
	Inputs      []Input // the largest share first
}

// Input is one unknown input's share of the variance that the house makes.
type Input struct {
	Label, Spread, Source string
	PerDeviation          float64 // what one standard deviation more moves the lowest by [K]
	Share                 float64 // of the house's variance, 0 to 1
}

// inputs are drawn houses.
type inputs struct {
	names [][3]string // label, spread, source
	z     [][]float64 // by draw and input: standard deviations off
	as    []ensemble.Plan
}

// plans are the plan as it is, then every drawn house.
func (in *inputs) plans() []ensemble.Plan { return append([]ensemble.Plan{nil}, in.as...) }

// runs put draw i into winter i, and round again.
func (in *inputs) runs(winters int) []ensemble.Run {
	var list []ensemble.Run
	for i := range in.as {
		list = append(list, ensemble.Run{Plan: i + 1, Winter: i % winters})
	}
	return list
}

// house sums up the drawn houses beside the plan in the same winters; nil where none was drawn or no place is watched.
func (in *inputs) house(a *Answer, planned, drawn []ensemble.Summary) *House {
	if len(drawn) == 0 || a.Watched < 0 {
		return nil
	}
	name := a.Places[a.Watched].Name
	h := &House{}
	var shift, both []float64
	var z [][]float64
	for i := range drawn {
		own, beside := &drawn[i], &planned[drawn[i].Winter]
		if own.Err != nil || beside.Err != nil {
			h.Failed++
			continue
		}
		low := own.Place(name).LowestC
		shift, both = append(shift, low-beside.Place(name).LowestC), append(both, low)
		z = append(z, in.z[i])
	}
	h.Draws = len(shift)
	if h.Draws < fewest {
		return nil
	}
	h.Shift, h.Both = BandOf(shift), BandOf(both)
	h.Both.Lo -= a.Places[a.Watched].LeanK
	var lows []float64
	for _, c := range a.Places[a.Watched].LowestC {
		if !math.IsInf(c, 0) {
			lows = append(lows, c)
		}
	}
	w, v := stat.Variance(lows, nil), stat.Variance(shift, nil)
	if w+v > 0 {
		h.WinterShare = w / (w + v)
	}
	h.Inputs = in.shares(z, shift, v)
	return h
}

// shares are what each input makes of the variance v of the shifts: the square of its slope in a plane through all draws, by least squares, for inputs of unit
// variance that are independent. What is bent or of two inputs together is in none of them. Source: Saltelli et al., Global Sensitivity Analysis, 2008, section 1.2.5
// (standardised regression coefficients), from memory. nil where the draws are too few.
func (in *inputs) shares(z [][]float64, shift []float64, v float64) []Input {
	n, k := len(z), len(in.names)
	if n < 3*k || v == 0 {
		return nil
	}
	rows := mat.NewDense(n, k+1, nil)
	for i := range z {
		rows.Set(i, 0, 1)
		for j, x := range z[i] {
			rows.Set(i, j+1, x)
		}
	}
	var slope mat.VecDense
	if err := slope.SolveVec(rows, mat.NewVecDense(n, shift)); err != nil {
		return nil
	}
	var list []Input
	for j, name := range in.names {
		b := slope.AtVec(j + 1)
		column := mat.Col(nil, j+1, rows)
		list = append(list, Input{name[0], name[1], name[2], b, min(1, b*b*stat.Variance(column, nil)/v)})
	}
	return largestFirst(list)
}

// inputsOf draws houses from what is not known of the plan's.
func inputsOf(base *winter.Prepared, req Request) *inputs {
	in := &inputs{}
	all := unknown.Of(base.Plan, base.House)
	for i := range all {
		if all[i].On {
			in.names = append(in.names, [3]string{all[i].Label, all[i].Words, all[i].Source})
		}
	}
	draws := req.Draws
	if draws == 0 {
		draws = unknown.UsualHouses
	}
	if len(in.names) == 0 {
		return in
	}
	for _, z := range unknown.Houses(all, uint64(base.Plan.Run.Seed), draws) {
		var on []float64
		for i := range all {
			if all[i].On {
				on = append(on, z[i])
			}
		}
		in.z = append(in.z, on)
		in.as = append(in.as, func() (*plan.Plan, error) { return unknown.Apply(base.Plan, all, z) })
	}
	return in
}
