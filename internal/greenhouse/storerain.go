package greenhouse

import (
	"math"
	"slices"

	"suncellar/internal/air"
	"suncellar/internal/catchment"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
)

// Rain and use: what comes off the roofs into the drums, what is taken out for the beds, and what goes over the overflow, by the plan's water.
//
// What this file promises: open pipes join the drums that are fed, so water comes first to those that stand lowest, and is taken first from those that
// stand highest; a day lives on no rain of its own; what finds the drums full drives as much of theirs out, mixed as they are, and leaves its cold behind; every
// litre and its heat are booked.

// useHour is the hour of the clock at which the beds are watered [h]; own judgement: in the morning.
const useHour = 9

// passShare is how much of the store's water passes through at once where it is full: it then mixes. Small enough that a day of rain washes the
// drums as a stream would.
const passShare = 0.01

// rain is the water of the plan in one run.
type rain struct {
	s      *store
	of     *house.Water
	levels house.WaterLevels
	bays   []rainBay
	beds   []bedShare
	roofs  *catchment.Roofs
	begin  int // hour of the run from which on it rains and is used
	rainState
	in    waterWay
	over  []waterWay // by bay
	books RainAccount
}

// rainState is what an hour leaves to the next.
type rainState struct {
	lying  catchment.Lying
	day    catchment.Day // so far
	fellMM float64       // of it, as rain
	fellC  float64       // its temperature, times fellMM [°C mm]
}

// state is a copy of it.
func (s rainState) state() rainState {
	s.lying.SnowMM = slices.Clone(s.lying.SnowMM)
	return s
}

// load puts it into a state; one of other roofs is passed over.
func (s *rainState) load(from rainState) {
	if len(from.lying.SnowMM) == len(s.lying.SnowMM) {
		*s = from.state()
	}
}

// rainBay is a bay whose drums are fed, all or some.
type rainBay struct {
	*bay
	share float64    // of its drums that are fed
	ways  []waterWay // by bed
}

// bedShare is how much of what is used a bed gets.
type bedShare struct {
	name  string
	share float64
}

// RainAccount is the water that the plan's scheme moved in a run [m³], and at what temperature.
type RainAccount struct {
	CaughtM3         float64 // came to the drums
	FlushedM3        float64 // let go first
	PastM3           float64 // with the inlet shut, off roofs that do not run, slid off as snow, or without room
	OverM3           float64 // of the drums' water, driven over the overflow by what came
	WantedM3, UsedM3 float64
	KeptDays         int     // on which less was used than wanted because water is kept
	ShortDays        int     // on which less was used than wanted for any reason
	CaughtC          float64 // mean of what came [°C]; NaN where nothing did
}

// addRain adds the plan's scheme for the bays that hold water.
func (s *store) addRain(at map[house.BayAt]*bay) {
	w := s.g.House.Scheme
	if w == nil {
		return
	}
	r := &rain{s: s, of: w, levels: w.Levels(), roofs: w.Roofs()}
	r.lying = r.roofs.Lying
	r.findBays(at)
	if len(r.bays) == 0 {
		return
	}
	r.in = waterWay{flow: s.exchange("rain into the drums"), cause: "rain off the roofs"}
	r.findBeds()
	drawn := s.exchange(flowNames["draw"])
	over := s.exchange("water over the overflow")
	to, cause := w.Overflow.To, "over the overflow, to "+w.Overflow.To
	if !w.Overflows() {
		to, cause = "floor", "over the rims, to floor"
	}
	for i := range r.bays {
		b := &r.bays[i]
		r.over = append(r.over, waterWay{over, cause, s.targetTo("overflow", to, b.bay)})
		for _, bed := range r.beds {
			b.ways = append(b.ways, waterWay{drawn, "use, onto " + bed.name, s.bedTarget(bed.name)})
		}
		if len(r.beds) == 0 {
			b.ways = []waterWay{{drawn, "use, outside", nil}}
		}
	}
	if len(r.beds) == 0 {
		r.beds = []bedShare{{"", 1}}
	}
	s.rain = r
}

// findBays finds the bays that are fed and hold water.
func (r *rain) findBays(at map[house.BayAt]*bay) {
	fed := map[house.BayAt]float64{}
	var order []house.BayAt
	for _, v := range r.of.Fed {
		vessel := &r.of.Vessels[v]
		if fed[vessel.Bay] == 0 {
			order = append(order, vessel.Bay)
		}
		fed[vessel.Bay] += vessel.Volume
	}
	for _, where := range order {
		if b := at[where]; b != nil {
			r.bays = append(r.bays, rainBay{bay: b, share: math.Min(1, fed[where]/b.full)})
		}
	}
}

// findBeds shares what is used among the beds with drip lines that run, by their emitters; where there is none, among all beds by their area.
func (r *rain) findBeds() {
	h := r.s.g.House
	weight := map[string]float64{}
	sum := 0.0
	for i := range r.of.Drips {
		if d := &r.of.Drips[i]; r.of.DripRuns(i) && d.Z+d.Plan.Emitter.LeastHead < r.levels.FullZ {
			w := float64(d.Emitters*d.Plan.Lines) * d.Plan.Emitter.Flow
			weight[d.Plan.Bed] += w
			sum += w
		}
	}
	if sum == 0 {
		for _, b := range h.Beds {
			weight[b.Name] += b.X1 - b.X0
			sum += b.X1 - b.X0
		}
	}
	for _, b := range h.Beds {
		if w := weight[b.Name]; w > 0 {
			r.beds = append(r.beds, bedShare{b.Name, w / sum})
		}
	}
}

// move lets the rain of the day before in at midnight, and waters the beds in the morning.
func (r *rain) move(i int, h *hour) {
	if i < r.begin {
		return
	}
	if h.start.Hour() == 0 {
		r.endDay()
		r.day = catchment.Day{Month: h.start.Month(), Day: h.start.Day()}
		r.fellMM, r.fellC = 0, 0
	}
	if h.start.Hour() == useHour {
		r.use(plan.DayOf(h.start.Month(), h.start.Day()))
	}
	before := r.day.RainMM
	r.day.Hour(h.w)
	if mm := r.day.RainMM - before; mm > 0 {
		r.fellMM += mm
		r.fellC += mm * r.rainC(h)
	}
}

// rainC is the temperature of rain that falls: the wet-bulb temperature of the air, not below 0 °C. Roof and gutter are left out.
//
// Source: drops take the wet-bulb temperature within some metres of fall: Kinzer and Gunn, The evaporation, temperature and thermal relaxation-time of freely
// falling waterdrops, Journal of Meteorology 8:71, 1951, from memory.
func (r *rain) rainC(h *hour) float64 {
	p := r.s.g.pressure
	w := air.HumidityRatio(math.Min(air.SaturationPressure(h.w.DewPointC), air.SaturationPressure(h.w.AirC)), p)
	t, err := air.WetBulb(h.w.AirC, w, p)
	if err != nil { // a day without dew point
		t = h.w.AirC
	}
	return math.Max(0, t)
}

// endDay lets what the day brought come to the drums.
func (r *rain) endDay() {
	if r.day.Month == 0 {
		return
	}
	r.roofs.Lying = r.lying
	ran := r.roofs.Day(r.day)
	r.lying = r.roofs.Lying
	r.books.FlushedM3 += ran.Flushed
	r.books.PastM3 += ran.Shed
	all, comes := ran.Flushed, 0.0
	at := plan.DayOf(r.day.Month, r.day.Day)
	for c, q := range ran.Off {
		all += q
		if !r.of.RunsOn(c, at) || r.of.Source(c) < r.levels.FullZ-1e-9 && r.held() >= r.upTo(r.of.Source(c)) {
			r.books.PastM3 += q
		} else {
			comes += q
		}
	}
	if comes > 0 {
		r.comes(comes, r.dayC(ran.SnowMelted/all))
	}
}

// dayC is the temperature of what the day brought, of which a share is melted snow at 0 °C.
func (r *rain) dayC(melted float64) float64 {
	if r.fellMM == 0 {
		return 0
	}
	return (1 - melted) * r.fellC / r.fellMM
}

// held is the water of the drums that are fed [m³].
func (r *rain) held() float64 {
	sum := 0.0
	for i := range r.bays {
		sum += r.bays[i].holds(r.s.g.Net)
	}
	return sum
}

// upTo is what they hold standing at a height [m³].
func (r *rain) upTo(z float64) float64 {
	sum := 0.0
	for i := range r.bays {
		sum += r.bays[i].upTo(z)
	}
	return sum
}

func (b *rainBay) holds(n *thermal.Network) float64 { return b.share * b.mass(n) / waterDensity }

func (b *rainBay) upTo(z float64) float64 {
	return b.share * b.full * clamp((z-b.row.Base)/b.stack, 0, 1)
}
