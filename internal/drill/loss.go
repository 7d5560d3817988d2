package drill

import (
	"errors"

	"suncellar/internal/house"
	"suncellar/internal/material"
)

// Table is what each joint costs when it fails, and where more valves save most.
type Table struct {
	House    *house.House
	Scheme   *house.Water
	HeightsZ []float64 // where the vessels stand
	Warm     bool      // the temperature of the water is known, and with it the heat
	Joints   []JointLoss
	DrawnM3  float64     // expected loss of a winter with the valves as the plan has them
	Places   []Placement // with no, one, two, three valves more, those that exist shut; fewer where pipes are few
}

// JointLoss is one joint: what it costs with the valves as the plan has them, and with every valve shut, which nothing saves.
type JointLoss struct {
	Joint
	Odds      float64 // that it fails in one winter
	Now, Shut Loss
}

// Loss is what runs out.
type Loss struct {
	Falls []Fall
	M3    float64
	HeatJ float64 // above 0 °C
}

// Joints reckons the table of a house. waterC is the water's temperature by vessel [°C], nil where it is not known; heights are where the vessels stand [m], nil for full. A joint
// has the odds of its least safe coupling. The error is that of a plan without water.
func Joints(h *house.House, waterC func(vessel int) float64, heights []float64) (*Table, error) {
	if h.Scheme == nil {
		return nil, errNoWater
	}
	w := h.Scheme
	if heights == nil {
		heights = Full(h)
	}
	t := &Table{House: h, Scheme: w, HeightsZ: standing(w, heights), Warm: waterC != nil}
	g := newGraph(w)
	valved := Valved(w)
	for _, j := range All(w) {
		l := JointLoss{Joint: j, Odds: w.Plan.JointOdds.Flexible}
		if j.Rigid {
			l.Odds = w.Plan.JointOdds.Rigid
		}
		l.Now = t.loss(g, j.Point, waterC, func(p int) bool { return !w.Pipes[p].Shut })
		l.Shut = t.loss(g, j.Point, waterC, func(p int) bool { return !valved[p] })
		t.DrawnM3 += l.Odds * l.Now.M3
		t.Joints = append(t.Joints, l)
	}
	t.places(g, valved)
	return t, nil
}

var errNoWater = errors.New("the plan says nothing of its water: it has no key water\nhint: joints are those of its pipes, such as 'water: {catchments: [{name: roof, of: back roof}], manifolds: [{row: NAME OF A ROW}]}'")

func (t *Table) loss(g *graph, point int, waterC func(int) float64, open func(int) bool) Loss {
	l := Loss{Falls: g.falls(point, t.HeightsZ, open)}
	for _, f := range l.Falls {
		l.M3 += f.LostM3
		if waterC != nil {
			l.HeatJ += f.LostM3 * heat(waterC(f.Vessel))
		}
	}
	return l
}

// heat is what a cubic metre of water gives on its way to 0 °C [J/m³], none where it is as cold or colder.
func heat(celsius float64) float64 {
	if !(celsius > 0) {
		return 0
	}
	return material.WaterDensity(celsius) * material.Water(celsius/2).HeatJKgK * celsius
}

// Valved tells of each pipe of a scheme whether a valve sits on it.
func Valved(w *house.Water) []bool {
	on := make([]bool, len(w.Pipes))
	for i := range on {
		on[i] = w.Pipes[i].Shut
	}
	for _, v := range w.Valves {
		if v.Pipe >= 0 {
			on[v.Pipe] = true
		}
	}
	return on
}

// At is the joint of a point, nil where it is none.
func (t *Table) At(point int) *JointLoss {
	for i := range t.Joints {
		if t.Joints[i].Point == point {
			return &t.Joints[i]
		}
	}
	return nil
}
