package greenhouse

import (
	"math"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
)

// Water that leaves the bays or comes to them on dates: leaks, drains, refills and draws.
//
// What this file promises: what goes in an hour goes at its begin, between two steps, and takes its heat with it under the flow's own name; only
// water that is liquid goes, ice stays; no bay gives more than it holds but for its dregs, and none takes more than its drums hold; every
// litre is booked (storeledger.go).

// dregsShare is what stays in a drum that has run empty, of what it holds: wet walls and the water below hole or tap. Own judgement.
const dregsShare = 0.002

// waterEvent is an event of the plan in one run.
type waterEvent struct {
	e          *house.WaterEvent
	bays       []*bay
	ways       []waterWay // by bay
	begin, end int        // hours of the run; begin -1: not in this run
	begun      bool
	todo       []float64 // by bay: what is still to be moved [m³]
}

// waterWay is by what name water comes or goes, and the face it runs over.
type waterWay struct {
	flow   thermal.ExchangeID
	cause  string  // in the books of the water
	target *target // nil where it takes its heat out of the house
}

// flowNames are the flows of heat by kind of event.
var flowNames = map[string]string{"leak": "leaked water", "drain": "drained water", "refill": "water filled in", "draw": "water drawn for beds"}

// addEvents adds the plan's events for the bays that hold water.
func (s *store) addEvents(at map[house.BayAt]*bay) {
	for i := range s.g.House.Events {
		e := &s.g.House.Events[i]
		w := &waterEvent{e: e, begin: -1}
		flow := s.exchange(flowNames[e.Kind])
		for _, where := range e.Bays {
			if b := at[where]; b != nil {
				w.bays = append(w.bays, b)
				w.ways = append(w.ways, waterWay{flow, causeOfWater(e), s.targetOf(e, b)})
			}
		}
		w.todo = make([]float64, len(w.bays))
		s.events = append(s.events, w)
	}
}

// exchange is the flow of heat of a name, made where it is wanted first.
func (s *store) exchange(name string) thermal.ExchangeID {
	if id, ok := s.exchanges[name]; ok {
		return id
	}
	id := s.g.Net.Exchange(name)
	s.exchanges[name] = id
	return id
}

func causeOfWater(e *house.WaterEvent) string {
	switch e.Kind {
	case "refill":
		return "refill"
	case "draw":
		return "draw, onto " + e.Bed
	}
	return e.Kind + ", to " + e.To
}

// schedule finds the hours of a run in which events begin and end. An event happens once, in the last year of the run; one under way
// at its begin (State) goes on. A season of draws is that of the last year.
func (s *store) schedule(w *weather.Series) {
	const year = 366 * 24
	if s.rain != nil {
		s.rain.begin = max(0, len(w.Hours)-year)
	}
	for _, v := range s.events {
		v.begin, v.end = -1, len(w.Hours)
		if v.seasonal() {
			v.begin = max(0, len(w.Hours)-year)
			continue
		}
		if v.begun && v.e.Kind != "draw" {
			v.begin = 0
		}
		for i := range w.Hours {
			switch t := w.HourStart(i); {
			case v.at(t, v.e.From):
				v.begin, v.end, v.begun = i, len(w.Hours), false
			case v.begin >= 0 && v.end == len(w.Hours) && v.e.Until != nil && v.at(t, *v.e.Until):
				v.end = i
			}
		}
		if v.begin >= 0 && v.e.Kind == "draw" {
			v.end = v.begin + 1
		}
	}
}

// at tells whether t is the event's hour of a day.
func (v *waterEvent) at(t time.Time, d plan.Date) bool {
	return int(t.Month()) == d.Month && t.Day() == d.Day && t.Hour() == v.e.Hour
}

// seasonal tells of a draw that is done every day from one date to another.
func (v *waterEvent) seasonal() bool { return v.e.Kind == "draw" && v.e.Until != nil }

func (v *waterEvent) inSeason(t time.Time) bool {
	return season(plan.Date{Month: v.e.From.Month, Day: v.e.From.Day}, plan.Date{Month: v.e.Until.Month, Day: v.e.Until.Day}, t)
}

// move makes what happens at the begin of hour i of the run.
func (s *store) move(i int, h *hour) {
	for _, t := range s.targets {
		t.clear()
	}
	if s.rain != nil {
		s.rain.move(i, h)
	}
	for _, v := range s.events {
		if v.begin < 0 || i < v.begin || i >= v.end {
			v.begun = false
			continue
		}
		first := !v.begun
		v.begun = true
		for k, b := range v.bays {
			if first {
				v.todo[k] = v.wanted(s.g.Net, b)
			}
			v.moveBay(s.g.Net, k, h.start)
		}
	}
}

// wanted is what an event is to move of a bay in all, by what is there when it begins [m³].
func (v *waterEvent) wanted(n *thermal.Network, b *bay) float64 {
	switch e := v.e; {
	case e.Kind == "drain" && e.Share != nil:
		return *e.Share * b.mass(n) / waterDensity
	case e.Kind == "drain":
		return b.above(n, e.Level)
	case e.Kind == "refill" && e.Level != nil:
		return math.Max(0, *e.Level/b.stack*b.full-b.mass(n)/waterDensity)
	case e.Volume != nil:
		return *e.Volume
	}
	return 0
}

// above is the water of a bay above a level, all of it where none is given [m³].
func (b *bay) above(n *thermal.Network, level *float64) float64 {
	v := b.mass(n) / waterDensity
	if level != nil {
		v -= *level / b.stack * b.full
	}
	return math.Max(0, v)
}

// moveBay moves the water of one hour of one bay.
func (v *waterEvent) moveBay(n *thermal.Network, k int, start time.Time) {
	b, e := v.bays[k], v.e
	switch e.Kind {
	case "leak":
		b.takeOut(n, &v.ways[k], v.leaks(n, b))
	case "draw":
		if start.Hour() == e.Hour && (!v.seasonal() || v.inSeason(start)) {
			want := *e.Volume
			b.books.short += want - b.takeOut(n, &v.ways[k], want)
		}
	default:
		now := v.todo[k]
		if e.Rate != nil {
			now = math.Min(now, *e.Rate*thermal.HourS)
		}
		v.todo[k] -= now
		if e.Kind == "drain" {
			b.takeOut(n, &v.ways[k], now)
		} else {
			b.books.short += now - b.fillIn(n, &v.ways[k], now, *e.WaterC)
		}
	}
}

// leaks is what runs out of a bay in an hour, as long as it is there [m³].
func (v *waterEvent) leaks(n *thermal.Network, b *bay) float64 {
	there := b.above(n, v.e.Level)
	if v.e.Hole == nil {
		return math.Min(there, *v.e.Rate*thermal.HourS)
	}
	section := b.full / b.stack
	return drainedM3(section, *v.e.Hole, there/section, thermal.HourS)
}

// takeOut takes water out of a bay, of each layer the same share of what is liquid there but for its dregs, and tells how much came [m³].
func (b *bay) takeOut(n *thermal.Network, by *waterWay, m3 float64) float64 {
	var free [waterLayers]float64 // [kg]
	sum := 0.0
	dregs := dregsShare * b.full * waterDensity / waterLayers
	for l := range b.layers {
		law, m := n.Law(b.layers[l].node), b.kg(n, l)
		ice := law.IceShare(n.T(b.layers[l].node)) * m
		free[l] = math.Max(0, math.Min(m-ice, m-dregs))
		sum += free[l]
	}
	if sum == 0 || m3 <= 0 {
		return 0
	}
	share := math.Min(1, m3*waterDensity/sum)
	heat := 0.0
	for l := range b.layers {
		gone := share * free[l]
		q := waterHeat * gone * math.Max(0, n.T(b.layers[l].node))
		n.Resize(b.layers[l].node, waterLaw(b.kg(n, l)-gone), -q, by.flow)
		heat += q
	}
	b.wetted(n)
	kg := share * sum
	b.books.gone(by.cause, kg)
	if t := by.target; t != nil {
		t.comes(kg, heat)
	}
	return kg / waterDensity
}

// fillIn brings water of a temperature [°C] into a bay, as much into each layer, and tells how much found room [m³].
func (b *bay) fillIn(n *thermal.Network, by *waterWay, m3, waterC float64) float64 {
	kg := math.Min(m3*waterDensity, b.full*waterDensity-b.mass(n))
	if kg <= 0 {
		return 0
	}
	for l := range b.layers {
		n.Resize(b.layers[l].node, waterLaw(b.kg(n, l)+kg/waterLayers), waterHeat*kg/waterLayers*waterC, by.flow)
	}
	b.wetted(n)
	b.books.came(by.cause, kg)
	return kg / waterDensity
}

// eventState is how far an event is.
type eventState struct {
	begun bool
	todo  map[string]float64 // by bay
}

// water is that of each bay's layers over what they began with.
func (s *store) water() map[string][waterLayers]float64 {
	water := map[string][waterLayers]float64{}
	for _, b := range s.bays {
		var share [waterLayers]float64
		for k := range share {
			share[k] = b.kg(s.g.Net, k) / (b.start / waterLayers)
		}
		water[b.name] = share
	}
	return water
}

// loadWater gives each bay as much of the water that it began with.
func (s *store) loadWater(water map[string][waterLayers]float64) {
	for _, b := range s.bays {
		share, ok := water[b.name]
		if !ok {
			continue
		}
		for k := range b.layers {
			s.g.Net.SetLaw(b.layers[k].node, waterLaw(b.start*share[k]/waterLayers))
		}
		b.wetted(s.g.Net)
	}
}

// state is how far each event is.
func (s *store) state() []eventState {
	var events []eventState
	for _, v := range s.events {
		e := eventState{v.begun, map[string]float64{}}
		for k, b := range v.bays {
			e.todo[b.name] = v.todo[k]
		}
		events = append(events, e)
	}
	return events
}

// load puts bays and events into a state.
func (s *store) load(from State) {
	s.loadWater(from.water)
	for i, v := range s.events {
		if i >= len(from.events) {
			break
		}
		v.begun = from.events[i].begun
		for k, b := range v.bays {
			v.todo[k] = from.events[i].todo[b.name]
		}
	}
}
