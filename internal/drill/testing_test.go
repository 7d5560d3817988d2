package drill

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// scheme is pipework made by hand: vessels of 100 L and 1 m, pipes between places of them and points.
type scheme struct{ w house.Water }

func made() *scheme {
	s := &scheme{}
	s.w.Plan = &plan.Water{JointOdds: plan.JointOdds{Rigid: 0.02, Flexible: 0.005}}
	s.w.InletEnd = s.point("end of the inlet", 5)
	s.w.Inlet.Shut = true
	s.w.DrawOff = math.Inf(1)
	return s
}

func (s *scheme) vessel(bottom float64) int {
	s.w.Vessels = append(s.w.Vessels, house.Vessel{Name: fmt.Sprintf("row, drum %d", len(s.w.Vessels)+1), Bottom: bottom, Top: bottom + 1, Volume: 0.1})
	return len(s.w.Vessels) - 1
}

func (s *scheme) point(name string, z float64) int {
	s.w.Points = append(s.w.Points, house.WaterPoint{Name: name, Z: z, Vessel: -1})
	return len(s.w.Points) - 1
}

// meet is a point of a vessel.
func (s *scheme) meet(vessel int, z float64) int {
	p := s.point(s.w.Vessels[vessel].Name, z)
	s.w.Points[p].Vessel = vessel
	return p
}

func (s *scheme) pipe(from, to int) int {
	n := len(s.w.Pipes)
	s.w.Pipes = append(s.w.Pipes, house.WaterPipe{Name: fmt.Sprintf("pipe %d", n), From: from, To: to, Rigid: true})
	return n
}

func (s *scheme) valve(pipe int, shut bool) int {
	s.w.Valves = append(s.w.Valves, house.WaterValve{Name: fmt.Sprintf("valve %d", len(s.w.Valves)), Pipe: pipe, Shut: shut})
	if pipe >= 0 {
		s.w.Pipes[pipe].Shut = s.w.Pipes[pipe].Shut || shut
	}
	return len(s.w.Valves) - 1
}

// feed says which vessels are fed, and lets the inlet end in the first.
func (s *scheme) feed(vessels ...int) {
	s.w.Fed = vessels
	s.w.Inlet.Shut = false
	s.w.InletEnd = s.meet(vessels[0], s.w.Vessels[vessels[0]].Top)
	s.w.Overflow = house.WaterOverflow{Vessel: vessels[len(vessels)-1], Z: s.w.Vessels[vessels[0]].Top, End: -9}
}

// house is one round the scheme, its row full to the brim.
func (s *scheme) house() *house.House {
	return &house.House{Scheme: &s.w, Rows: []house.Row{{Name: "row", Fill: 1}}}
}

func (s *scheme) open(p int) bool { return !s.w.Pipes[p].Shut }

// at is the joint of a point.
func (s *scheme) at(t testing.TB, point int) Joint {
	t.Helper()
	all := All(&s.w)
	i := slices.IndexFunc(all, func(j Joint) bool { return j.Point == point })
	if i < 0 {
		t.Fatalf("point %d is no joint", point)
	}
	return all[i]
}

// to are the heights that vessels fall to by a failed joint, NaN for one that loses nothing.
func (s *scheme) to(t testing.TB, point int, heights ...float64) []float64 {
	t.Helper()
	out := make([]float64, len(s.w.Vessels))
	for i := range out {
		out[i] = math.NaN()
	}
	for _, f := range Falls(&s.w, s.at(t, point), heights, s.open) {
		out[f.Vessel] = f.ToZ
	}
	return out
}

func same(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) < 1e-9 || math.IsNaN(x) && math.IsNaN(y) })
}

var none = math.NaN()

// drawScheme is any pipework of up to five drums: rings, pipes over the water, drums without a pipe, one-way pipes and shut valves among it.
func drawScheme(t *rapid.T, mostPipes int) *scheme {
	s := made()
	for range rapid.IntRange(1, 5).Draw(t, "drums") {
		s.vessel(rapid.SampledFrom([]float64{0, 0, 0.3, 1.1}).Draw(t, "bottom"))
	}
	var points []int
	for i := range rapid.IntRange(0, 4).Draw(t, "points") {
		points = append(points, s.point(fmt.Sprintf("point %d", i), rapid.Float64Range(-0.5, 2.5).Draw(t, "z")))
	}
	end := func() int {
		i := rapid.IntRange(0, len(s.w.Vessels)+len(points)-1).Draw(t, "end")
		if i >= len(s.w.Vessels) {
			return points[i-len(s.w.Vessels)]
		}
		return s.meet(i, s.w.Vessels[i].Bottom+rapid.SampledFrom([]float64{0, 0.05, 0.5, 1}).Draw(t, "over bottom"))
	}
	for range rapid.IntRange(1, mostPipes).Draw(t, "pipes") {
		i := s.pipe(end(), end())
		s.w.Pipes[i].OneWay = rapid.IntRange(0, 4).Draw(t, "one-way") == 0
		s.w.Pipes[i].Rigid = rapid.Bool().Draw(t, "rigid")
		if valve := rapid.IntRange(0, 5).Draw(t, "valve"); valve < 2 {
			s.valve(i, valve == 0)
		}
	}
	if rapid.Bool().Draw(t, "fed") {
		s.feed(0)
		s.w.Fed = s.w.Joined(s.w.InletEnd, func(p *house.WaterPipe) bool { return !p.Shut })
		s.w.DrawOff = rapid.Float64Range(-0.5, 1.5).Draw(t, "tap")
	}
	if rapid.Bool().Draw(t, "drips") {
		s.w.Drips = append(s.w.Drips, house.DripLine{Plan: &plan.DripLine{Name: "line"}, From: end(), Z: rapid.Float64Range(-0.5, 1.5).Draw(t, "emitters"), Shut: rapid.Bool().Draw(t, "drip shut")})
	}
	return s
}

func drawHeights(t *rapid.T, s *scheme) []float64 {
	var list []float64
	for _, v := range s.w.Vessels {
		list = append(list, v.Bottom+rapid.SampledFrom([]float64{0, 0.2, 0.9, 1}).Draw(t, "water"))
	}
	return list
}

// larch is Larch Hollow with the usual scheme on its one row, and whatever changes are given.
func larch(t testing.TB, changes ...string) *house.House {
	t.Helper()
	var list []plan.Change
	for _, text := range append([]string{`water={catchments: [{name: front, area: 40 m2, eave_height: 2.4 m}], manifolds: [{row: back drums, couplings: flexible}], inlet: {mouth: flap}, overflow: {to: floor}, drip_lines: [{name: line, bed: front bed}]}`}, changes...) {
		c, err := plan.ParseChange(text)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, c)
	}
	p, findings := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known(), list...)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	h, bad := house.Resolve(p)
	if err := plan.AsError(bad); err != nil {
		t.Fatal(err)
	}
	return h
}
