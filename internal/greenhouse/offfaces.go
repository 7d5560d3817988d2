package greenhouse

import (
	"math"

	"suncellar/internal/airflow"
	"suncellar/internal/glazing"
	"suncellar/internal/house"
	"suncellar/internal/thermal"
)

// offFace is a face that is taken off for a part of the year. While it is off, the room sees through it to sky and terrain as if a black face
// hung there, light passes it, and air goes in and out by buoyancy and gusts. The panels keep the heat they had until they come back.
type offFace struct {
	g       *Greenhouse
	face    *house.Face
	surface *surface
	through thermal.JoinID // face to the room to outer face
	glass   float64        // the surface's own share of light that leaves
	area    float64        // the surface's own
	now     bool
	moved   bool
	layers  []int
	shares  []float64
	in, out []thermal.CarryID
}

// addOffFace prepares a face that the plan takes off; nil for any other.
func (g *Greenhouse) addOffFace(f *house.Face, s *surface, skin thermal.Node) *offFace {
	if f.Off == nil || f.Instead != nil {
		return nil
	}
	o := &offFace{g: g, face: f, surface: s, glass: s.glassBack, area: s.area}
	o.through = g.Net.Join("through open "+f.Name, s.node, skin, 0)
	g.offFaces = append(g.offFaces, o)
	return o
}

// is tells whether the face is off.
func (o *offFace) is() bool { return o != nil && o.now }

// hour takes the face off or puts it back at the begin of a day.
func (o *offFace) hour(h *hour) {
	if o == nil {
		return
	}
	now := offNow(o.face, h)
	if o.moved = now != o.now; !o.moved {
		return
	}
	o.now = now
	g, s := o.g, o.surface
	conductance := 0.0
	s.area, s.glassBack = o.area, o.glass
	if now { // no film of air, nothing for dew to form on, all light that meets it leaves
		s.area, s.glassBack, conductance = 0, 1, none*o.area
	}
	g.Net.SetJoin(o.through, conductance)
	if fixed := g.House.Plan.Surfaces.Inside; fixed != nil {
		for i, j := range s.joins {
			g.Net.SetJoin(j, *fixed*s.area*s.shares[i])
		}
	}
}

// offNow tells whether a face's panels are off.
func offNow(f *house.Face, h *hour) bool {
	return f.Off != nil && season(f.Off.From, f.Off.Until, h.start)
}

// stand is another glazing that hangs in a pane for a part of the year. Its sheets have the heat of those that they stand for.
type stand struct {
	stack glazing.Stack
	table *glazing.Table
	now   bool
	moved bool
}

// addStand prepares it; nil for a pane that has none.
func addStand(f *house.Face) *stand {
	if f.Instead == nil {
		return nil
	}
	table, err := glazing.NewTable(*f.Instead, glazing.Angle(f.Tilt))
	if err != nil {
		panic("greenhouse: " + err.Error()) // the house was checked
	}
	return &stand{stack: *f.Instead, table: table}
}

// hour changes the glazing of a pane at the begin of a day: what hangs there and what waits change places.
func (s *stand) hour(w *pane, h *hour) {
	if s == nil {
		return
	}
	now := offNow(w.face, h)
	if s.moved = now != s.now; !s.moved {
		return
	}
	s.now = now
	w.stack, s.stack, w.table, s.table = s.stack, w.stack, s.table, w.table
	w.films.emittance = w.stack.Sheets[0].EmittanceOuter
}

// openAir is the air that goes through open faces.
type openAir struct {
	g *Greenhouse
	h *hour
}

// addOpenAir joins the layers of air that open faces touch to outdoors. It stands before the other air flows, which make up for what it moves.
func (g *Greenhouse) addOpenAir() {
	if len(g.offFaces) == 0 {
		return
	}
	for _, o := range g.offFaces {
		for k, l := range g.layers {
			share := l.share(o.face.Z0, o.face.Z1)
			if share <= 0 {
				continue
			}
			o.layers, o.shares = append(o.layers, k), append(o.shares, share)
			o.in = append(o.in, g.Net.Carry("air through open faces", g.outside.air, l.node))
			o.out = append(o.out, g.Net.Carry("air through open faces", l.node, g.outside.air))
		}
	}
	g.parts = append(g.parts, &openAir{g: g})
}

func (a *openAir) hour(h *hour) { a.h = h }

// step sets the exchange of each open face by itself, as one large opening: what open faces and vents at other heights draw from one another
// is left out, the warm side.
func (a *openAir) step(m thermal.Moment) {
	g := a.g
	out := m.T(g.outside.air)
	heat := g.airHeat(g.Net.T(g.outside.air)) // of outdoor air both ways: as much goes out as comes in
	for _, o := range g.offFaces {
		for i, k := range o.layers {
			q := 0.0
			if o.now {
				q = o.exchange(m.T(g.layers[k].node), out, a.h.windHouse) * o.shares[i]
				g.addTransfer(outdoors, k, q*heat/airHeatKg)
				g.addTransfer(k, outdoors, q*heat/airHeatKg)
			}
			g.Net.SetCarry(o.in[i], q*heat)
			g.Net.SetCarry(o.out[i], q*heat)
		}
	}
}

// levelRise stands for the upright height of a face that lies level, where puffs rise and sink side by side [m]; own judgement.
const levelRise = 0.3

// exchange is the air that goes each way through the whole face [m³/s].
func (o *offFace) exchange(insideC, outsideC, wind float64) float64 {
	rise := math.Max(levelRise, o.face.Z1-o.face.Z0)
	return airflow.SingleSided(o.face.Area/rise, rise, insideC, outsideC, wind)
}
