package greenhouse

import (
	"math"

	"suncellar/internal/air"
	"suncellar/internal/house"
	"suncellar/internal/pipes"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
)

// tubes is one row of buried tubes: air goes from one opening to the other as draft or a fan drives it, changes heat with the tube's wall
// along the way and leaves water where the wall is below its dew point. The tubes of a row that lie near one another are a bundle
// with one flow and one soil; their soil is in tubesoil.go.
type tubes struct {
	g       *Greenhouse
	row     *house.Tubes
	bundles []*bundle
	a, b    tubeEnd // inlet and outlet
	neutral float64 // height at which the pressure inside is that outdoors [m]
	fanHeat thermal.InjectID
	heated  bool // the fan's heat comes into the house
	soil    int  // flow from the walls into their soil
	wet     int  // flow of the heat of condensation, -1 none
	h       *hour
	open    bool
	fan     bool // it runs in this hour
	// switched tells that ends or fan stand otherwise than in the hour before
	switched bool
	moved    tubeHour
	next     tubeHour // of the step that began at begin
	begin    float64  // -1 none
}

// tubeEnd is an opening: a layer of the house, or outdoors.
type tubeEnd struct {
	node  thermal.Node
	layer int // outdoors for that
	z     float64
}

// tubeHour is what an hour, or a step, has moved.
type tubeHour struct {
	airM3   float64 // from inlet to outlet, as air of the temperature that the run began with [m³]
	waterKg float64
	lossPa  float64 // greatest
}

// bundle is tubes with one flow and one soil.
type bundle struct {
	tubes     float64 // how many
	path      pipes.Path
	walls     []thermal.Node // of equal parts, from inlet to outlet
	on, back  way
	around    pipes.Around
	wet       []leaning
	massS     float64 // dry air through all its tubes, from inlet to outlet positive [kg/s]
	bypass    float64 // of heat, by one part
	wetBypass float64 // of vapour
	wetSlope  float64 // what it takes out of air at w is wetSlope (w - wetAt) [kg/s]
	wetAt     float64
	saturated []float64 // at each wall, and how fast that rises
	slopes    []float64
	take      []float64 // [kg/kg] by part, see pipes.Condensing
}

// tubeParts is how many equal lengths a tube is cut into: its air and its soil change along it.
const tubeParts = 4

// addTubes adds the tubes of the plan; their far soil has been laid into the ground's slice.
func (g *Greenhouse) addTubes() {
	for i := range g.House.Tubes {
		row := &g.House.Tubes[i]
		t := &tubes{g: g, row: row, begin: -1, wet: -1, neutral: (g.House.FloorZ + g.House.Top()) / 2}
		t.a, t.b = g.tubeEnd(row.Inlet), g.tubeEnd(row.Outlet)
		for k, lanes := range bundlesOf(row) {
			t.bundles = append(t.bundles, t.addBundle(k, lanes))
		}
		t.soil = g.Net.FlowIndex(t.flow("to their soil"))
		t.wet = g.Net.FlowIndex(t.flow("condensation"))
		if f := row.Plan.Fan; f != nil {
			end := t.b
			if f.Blows == "outlet to inlet" {
				end = t.a
			}
			if t.heated = end.layer != outdoors; t.heated {
				t.fanHeat = g.Net.Inject("fan of tubes "+row.Plan.Name, end.node)
			}
		}
		g.tubes = append(g.tubes, t)
		g.parts = append(g.parts, t)
	}
}

// flow names a flow of the row.
func (t *tubes) flow(what string) string {
	if what == "" {
		return "tubes " + t.row.Plan.Name
	}
	return "tubes " + t.row.Plan.Name + ", " + what
}

func (g *Greenhouse) tubeEnd(e house.TubeEnd) tubeEnd {
	if e.Outdoors {
		return tubeEnd{g.outside.air, outdoors, e.Z}
	}
	i := 0
	for i+1 < len(g.layers) && e.Z > g.layers[i].z1 {
		i++
	}
	return tubeEnd{g.layers[i].node, i, e.Z}
}

// loop tells whether both ends are in the house.
func (t *tubes) loop() bool { return t.a.layer != outdoors && t.b.layer != outdoors }

func (t *tubes) addBundle(k int, lanes []house.Point) *bundle {
	p := t.row.Plan
	b := &bundle{tubes: float64(len(lanes)) * t.row.Lane / p.Length, saturated: make([]float64, tubeParts), slopes: make([]float64, tubeParts), take: make([]float64, tubeParts)}
	b.path = pipes.Path{Tube: pipes.Tube{Diameter: p.Diameter, Length: p.Length, Roughness: p.Roughness, Fittings: p.Fittings},
		RiseA: t.a.z - lanes[0].Z, RiseB: t.b.z - lanes[0].Z}
	b.walls = t.addSoil(k, b.tubes, lanes[0].Z)
	b.around = pipes.Around{Pressure: t.g.pressure, Walls: make([]float64, tubeParts)}
	b.on = t.addWay(t.a, t.b, b.walls)
	turned := make([]thermal.Node, tubeParts)
	for i, w := range b.walls {
		turned[tubeParts-1-i] = w
	}
	b.back = t.addWay(t.b, t.a, turned)
	if t.loop() {
		for _, w := range b.walls {
			b.wet = append(b.wet, addLeaning(t.g.Net, t.flow("condensation"), w, t.g.outside.zero))
		}
	}
	return b
}

func (t *tubes) hour(h *hour) {
	p := t.row.Plan
	t.h, t.moved = h, tubeHour{}
	wasOpen, ran := t.open, t.fan
	t.open = within(p.Open.From, p.Open.Until, h.clock)
	t.fan = t.open && p.Fan != nil && runs(p.Fan, h.clock, t.g.Net.T(t.g.layers[len(t.g.layers)-1].node))
	t.switched = t.open != wasOpen || t.fan != ran
	if t.heated {
		watt := 0.0
		if t.fan {
			watt = p.Fan.Power
		}
		t.g.Net.SetInject(t.fanHeat, watt)
	}
}

// tubesSwitched tells whether any tubes are opened, shut, or their fan set going or stopped with this hour.
func (g *Greenhouse) tubesSwitched() bool {
	for _, t := range g.tubes {
		if t.switched {
			return true
		}
	}
	return false
}

// runs tells whether a fan runs in an hour that begins with the canopy at a temperature [°C].
func runs(f *plan.TubeFan, clock, canopyC float64) bool {
	if !within(f.Hours.From, f.Hours.Until, clock) {
		return false
	}
	if f.Below == nil && f.Above == nil {
		return true
	}
	return f.Below != nil && canopyC < *f.Below || f.Above != nil && canopyC > *f.Above
}

func (t *tubes) step(m thermal.Moment) {
	if m.Pass == 0 {
		if m.Begin > t.begin {
			t.commit()
		}
		t.begin = m.Begin
	}
	t.next = tubeHour{}
	head, push := 0.0, 0.0
	if t.open {
		head, push = t.head(m), t.windPush()
	}
	for _, b := range t.bundles {
		v := 0.0
		if t.open {
			b.look(t, m, head, push)
			v = t.speed(b)
		}
		b.set(t.g, v)
		if from, to := b.ends(t); b.massS != 0 {
			t.g.addTransfer(from, to, math.Abs(b.massS))
		}
		t.next.airM3 += b.massS / t.g.startDensity() * m.Step
		t.next.lossPa = math.Max(t.next.lossPa, math.Abs(b.path.Loss(b.around.Air, v)))
	}
}

// look takes down what stands round a bundle.
func (b *bundle) look(t *tubes, m thermal.Moment, head, push float64) {
	a := &b.around
	a.AC, a.BC, a.Head, a.Push = m.T(t.a.node), m.T(t.b.node), head, push
	mean := (a.AC + a.BC) / (2 * (tubeParts + 1))
	for i, w := range b.walls {
		a.Walls[i] = m.T(w)
		mean += a.Walls[i] / (tubeParts + 1)
		if t.loop() {
			b.saturated[i], b.slopes[i] = t.g.saturated(a.Walls[i])
		}
	}
	p := air.TransportAt(clamp(mean, -60, 80), t.g.pressure)
	a.Air = pipes.Fluid{Density: p.DensityKgPerM3, Viscosity: p.DynamicPascalSecond, Conductivity: p.ConductivityWMK, Heat: air.HeatDry}
}

// speed is that of the air in a bundle's tubes [m/s]: given by a fan that keeps its flow, or found.
func (t *tubes) speed(b *bundle) float64 {
	a := &b.around
	a.Fan = pipes.Fan{}
	if t.fan {
		f := t.row.Plan.Fan
		back := f.Blows == "outlet to inlet"
		free := f.Flow * pipes.AirDensity(ratedC, t.g.pressure) / a.Air.Density / (float64(t.row.Plan.Count) * b.path.Section())
		if f.Pressure == nil {
			if back {
				return -free
			}
			return free
		}
		a.Fan = pipes.Fan{Shut: *f.Pressure, Free: free, Back: back}
	}
	return b.path.Flow(a)
}

// set sets a bundle's carries for a speed.
func (b *bundle) set(g *Greenhouse, speed float64) {
	on, back := 0.0, 0.0
	b.bypass, b.massS = 0, 0
	if speed != 0 {
		b.bypass = math.Exp(-b.path.NTU(b.around.Air, speed) / tubeParts)
		b.wetBypass = pipes.WetBypass(b.bypass)
		b.massS = b.tubes * b.path.Section() * b.around.Air.Density * speed
		on, back = math.Max(0, b.massS)*air.HeatDry, math.Max(0, -b.massS)*air.HeatDry
	}
	b.on.set(g.Net, on, b.bypass)
	b.back.set(g.Net, back, b.bypass)
}

// head is the weight of the air outside the tubes from inlet up to outlet [kg/m²]: that of the house, or outdoors as far as the height at
// which the pressures are equal.
func (t *tubes) head(m thermal.Moment) float64 {
	if t.loop() {
		return t.g.airColumn(m, t.a.z, t.b.z)
	}
	out := pipes.AirDensity(m.T(t.g.outside.air), t.g.pressure)
	if t.a.layer == outdoors {
		return out*(t.neutral-t.a.z) + t.g.airColumn(m, t.neutral, t.b.z)
	}
	return t.g.airColumn(m, t.a.z, t.neutral) + out*(t.b.z-t.neutral)
}

// windOnOpening is the share of the wind's pressure that stands on an opening outdoors and presses air in. Own judgement, on the cold
// side: 0.3 is between a face to the wind (0.6) and a place in its lee (below 0).
const windOnOpening = 0.3

// windPush is the wind's pressure from inlet to outlet [Pa].
func (t *tubes) windPush() float64 {
	p := windOnOpening * 0.6 * t.h.windHouse * t.h.windHouse // half the density of air times speed squared
	switch {
	case t.a.layer == outdoors:
		return p
	case t.b.layer == outdoors:
		return -p
	}
	return 0
}

// airColumn is the weight of the house's air from one height up to another, negative downward [kg/m²].
func (g *Greenhouse) airColumn(m thermal.Moment, from, to float64) float64 {
	if to < from {
		return -g.airColumn(m, to, from)
	}
	sum := 0.0
	for i, l := range g.layers {
		z0, z1 := l.z0, l.z1
		if i == 0 {
			z0 = math.Min(z0, from)
		}
		if i == len(g.layers)-1 {
			z1 = math.Max(z1, to)
		}
		if over := math.Min(z1, to) - math.Max(z0, from); over > 0 {
			sum += over * pipes.AirDensity(m.T(l.node), g.pressure)
		}
	}
	return sum
}

// startDensity is the density by which the vapour's balance counts air [kg/m³].
func (g *Greenhouse) startDensity() float64 { return g.pressure / (287.05 * (g.Setup.StartC + 273.15)) }

// commit keeps what the last step moved.
func (t *tubes) commit() {
	if t.begin < 0 {
		return
	}
	t.moved.airM3 += t.next.airM3
	t.moved.waterKg += t.next.waterKg
	t.moved.lossPa = math.Max(t.moved.lossPa, t.next.lossPa)
}

// settle keeps the last step of an hour.
func (t *tubes) settle() {
	t.commit()
	t.begin = -1
}
