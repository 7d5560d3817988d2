package house

import (
	"math"

	"suncellar/internal/pipes"
	"suncellar/internal/plan"
)

// Water is the way of the rain resolved: catchments, vessels, and the pipes between them. Heights are above grade [m].
//
// The water comes off each catchment to its gutter's outlet, runs to the settling drum where there is one, and by the inlet pipe to InletEnd, a point of its
// own or over the water of a drum. Vessels stand at one level where open pipes join them below it.
type Water struct {
	Plan       *plan.Water
	Catchments []Catchment
	Settling   *Vessel  // nil: none
	SettleOut  float64  // height of its outlet [m]
	Vessels    []Vessel // drums that stand side by side, those stacked on one another as one
	Points     []WaterPoint
	Pipes      []WaterPipe
	Valves     []WaterValve
	Inlet      WaterPipe // from gutter or settling drum to InletEnd; From is -1
	InletEnd   int       // its point
	Highest    float64   // that the inlet leads over after its beginning [m]
	Overflow   WaterOverflow
	Drips      []DripLine
	DrawOff    float64 // height of the tap for a can [m]
	Fed        []int   // vessels that water reaches through open pipes
}

// Catchment is a surface that rain runs off, and its gutter.
type Catchment struct {
	Name, Path string
	Area       float64 // as seen from above [m²]
	Slope      float64 // [rad]
	Runoff     float64 // share that reaches the gutter
	Assumed    bool    // the share is that of its surface
	Eave       float64 // [m]
	Outlet     float64 // bottom of the gutter at its outlet [m]
	Length     float64 // of the gutter [m]
	Sheds      bool    // snow slides past the gutter
	Smooth     bool    // glass, plastic or metal, which snow slides off where it is steep
}

// Vessel holds water with a surface of its own.
type Vessel struct {
	Name, Path  string
	Bay         BayAt
	Bottom, Top float64 // [m]
	Volume      float64 // to its top [m³]
}

// Holds is the water of the vessel when it stands at a height [m³].
func (v *Vessel) Holds(z float64) float64 {
	return v.Volume * min(1, max(0, (z-v.Bottom)/(v.Top-v.Bottom)))
}

// WaterPoint is an end of pipes: a joint, or where a pipe meets a vessel.
type WaterPoint struct {
	Name   string
	Z      float64 // [m]
	Vessel int     // -1: none
}

// WaterPipe is a pipe between two points.
type WaterPipe struct {
	pipes.Tube
	Name, Path string
	From, To   int // points
	OneWay     bool
	Rigid      bool // couplings
	Shut       bool // by one of its valves
}

// WaterValve is a valve of a pipe.
type WaterValve struct {
	Name, Path string
	Pipe       int // OnInlet, OnOverflow, OnDrip-k for drip line k, or a pipe
	Shut       bool
	Assumed    bool // it parts two bays and is not written
}

// Where a valve sits that is on none of Pipes.
const (
	OnInlet    = -1
	OnOverflow = -2
	OnDrip     = -3
)

// WaterOverflow is where water goes that finds the drums full.
type WaterOverflow struct {
	pipes.Tube
	Vessel int
	Z      float64 // of its lower edge [m]
	End    float64 // [m]
	To     string
	Shut   bool
}

// DripLine is drip lines side by side along a bed.
type DripLine struct {
	Plan     *plan.DripLine
	Path     string
	From     int     // point
	Z        float64 // of the emitters [m]
	Length   float64 // with emitters [m]
	Emitters int     // on each line
	Shut     bool
}

// runoff is the share of rain that reaches the gutter, by surface.
//
// Source: Texas Manual on Rainwater Harvesting, 3rd ed. 2005, ch. 4: most install for 75 to 90 %; single figures common practice, no source, at the low side.
var runoff = map[string]float64{"metal": 0.9, "glass": 0.9, "plastic sheet": 0.9, "tile": 0.8, "shingle": 0.85, "boards": 0.75, "planted": 0.4}

// roughness of a pipe by its material [m].
var roughness = map[string]float64{"plastic": pipes.RoughPlastic, "steel": pipes.RoughSteel, "galvanised steel": pipes.RoughGalvanised,
	"copper": pipes.RoughCopper, "rubber hose": pipes.RoughRubber}

// valveLoss is the loss coefficient of an open valve.
var valveLoss = map[string]float64{"ball": pipes.KBall, "gate": pipes.KGate, "globe": pipes.KGlobe}

func rough(material string, given *float64) float64 {
	if given != nil {
		return *given
	}
	return roughness[material]
}

// overBottom is how far above the bottom of its drums a pipe meets them where nothing is said [m]; own judgement: clear of the bead at the bottom, and of some mud.
const overBottom = 0.05

// waterMaker resolves the water of a plan.
type waterMaker struct {
	*resolver
	w     *Water
	stack map[string]int // vessel by name
	point map[string]int // point by name, of those that the plan names
}

func (r *resolver) water() {
	if r.p.Water == nil || r.p.Store == nil {
		return
	}
	m := &waterMaker{resolver: r, w: &Water{Plan: r.p.Water}, stack: map[string]int{}, point: map[string]int{}}
	m.vessels()
	if len(m.w.Vessels) == 0 {
		r.fail("water", "give the rows drums", "there is no drum that the water could go to")
		return
	}
	m.catchments()
	m.settling()
	m.inlet()
	m.points()
	m.manifolds()
	m.pipes()
	m.waterOverflow()
	m.drips()
	m.valves()
	m.fed()
	r.h.Scheme = m.w
}

// vessels are the drums of each row, side by side.
func (m *waterMaker) vessels() {
	for i := range m.h.Rows {
		row, of := &m.h.Rows[i], &m.p.Store.Rows[i]
		stacks := of.Stacks()
		for s := range stacks {
			v := Vessel{Name: of.DrumName(s), Path: pathIndex("store.rows", i), Bay: BayAt{i, s * max(1, row.Bays) / stacks}, Bottom: row.Base, Top: row.Top}
			v.Volume = row.Volume * float64(row.Drums) / float64(stacks)
			m.stack[v.Name] = len(m.w.Vessels)
			m.w.Vessels = append(m.w.Vessels, v)
		}
	}
}

func (m *waterMaker) catchments() {
	g := &m.p.Water.Gutter
	for i := range m.p.Water.Catchments {
		of, path := &m.p.Water.Catchments[i], pathIndex("water.catchments", i)
		c := Catchment{Name: of.Name, Path: path, Slope: of.Slope, Sheds: of.Snow == "slides off", Length: m.h.Length}
		c.Smooth = of.Surface == "metal" || of.Surface == "glass" || of.Surface == "plastic sheet"
		if of.Area != nil {
			c.Area = *of.Area * math.Cos(of.Slope)
		} else if !m.faceCatches(&c, of.Of, path) {
			continue
		}
		c.Runoff, c.Assumed = runoff[of.Surface], of.Runoff == nil
		if of.Runoff != nil {
			c.Runoff = *of.Runoff
		}
		if of.Eave != nil {
			c.Eave = *of.Eave
		}
		if g.Length != nil {
			c.Length = *g.Length
		}
		c.Outlet = c.Eave - g.Drop - g.Fall*c.Length
		m.w.Catchments = append(m.w.Catchments, c)
	}
}

// faceCatches takes area, slope and lower edge of a face of the section.
func (m *waterMaker) faceCatches(c *Catchment, name, path string) bool {
	c.Eave = math.Inf(1)
	for i := range m.h.Faces {
		f := &m.h.Faces[i]
		if f.End != 0 || f.Of != name || f.Behind != Air || f.Tilt > 80*math.Pi/180 {
			continue
		}
		c.Area += math.Abs(f.B.X-f.A.X) * m.h.Length
		c.Slope = f.Tilt
		c.Eave = min(c.Eave, min(f.A.Z, f.B.Z))
	}
	if c.Area == 0 {
		m.fail(path+".of", "rain runs off a roof or glazing that slopes by less than 80°; or give area, slope and eave_height", "%s has no part that rain falls on", name)
		return false
	}
	return true
}

func (m *waterMaker) settling() {
	s := m.p.Water.Settling
	if s == nil {
		return
	}
	m.w.Settling = &Vessel{Name: "settling drum", Path: "water.settling_drum", Bottom: s.Base, Top: s.Base + s.Tall, Volume: s.Volume}
	m.w.SettleOut = s.Outlet
}

// addPoint adds a point and gives its number.
func (m *waterMaker) addPoint(name string, z float64, vessel int) int {
	m.w.Points = append(m.w.Points, WaterPoint{name, z, vessel})
	return len(m.w.Points) - 1
}

// at is the point where a pipe meets a drum, 5 cm above its bottom where no height is given; or the point of that name.
func (m *waterMaker) at(path, name string, z *float64) int {
	v, ok := m.stack[name]
	if !ok {
		return m.point[name]
	}
	vessel := &m.w.Vessels[v]
	height := vessel.Bottom + overBottom
	if z != nil {
		height = *z
		m.meets(path, vessel, height)
	}
	return m.addPoint(name, height, v)
}

// meets tells of a pipe that would meet a drum above its top or below its bottom.
func (m *waterMaker) meets(path string, v *Vessel, z float64) {
	if z < v.Bottom-1e-9 || z > v.Top+1e-9 {
		m.fail(path, "heights under water count from grade, not from the floor", "%.2f m is not at %s, which stands from %.2f to %.2f m", z, v.Name, v.Bottom, v.Top)
	}
}
