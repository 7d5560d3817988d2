package greenhouse

import (
	"context"
	"fmt"
	"math"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/sun"
	"suncellar/internal/weather"
)

// Trace is the hourly temperature of a place at the end of each hour [°C].
type Trace struct {
	Place
	C []float64
}

// Flow is the heat of one cause by hour: across the boundary of house and ground (into it positive), or within. It is kept in seven digits, in half the memory: the books are
// closed as the run goes.
type Flow struct {
	Name    string
	Crosses bool
	J       []float32
}

// Result is one run.
type Result struct {
	House  *house.House
	Start  time.Time // begin of the first recorded hour, local standard time
	Traces []Trace
	Flows  []Flow
	// by hour
	GlobalWM2   []float64 // sun on level ground outdoors
	EnteredW    []float64 // sun that enters
	BedMol      []float64 // light at the beds [mol/m² in the hour]
	Strips      []StripLight
	SnowM       []float64 // lying on the first pane [m]
	GroundSnowM []float64
	AirChanges  []float64 // outdoor air [1/h]
	Humidity    []float64 // vapour in the air [kg/kg]
	DripKg      []float64
	ReserveJ    []float64 // heat of the water above 0 °C at the end of the hour
	IceShare    []float64
	WaterM3     []float64 // in the store at the end of the hour, ice with it
	Bays        []BayTrace
	Tubes       []TubesTrace

	Air AirRecord

	Heat   Account
	Vapour VapourAccount
	Water  WaterAccount
	Work   Work

	Begun *Begun // the warmth at the begin of the first recorded hour, where Options asked for it
}

// BayTrace is the water of a bay by hour, at its end, ice with it.
type BayTrace struct {
	Name    string
	M3      []float64
	DregsM3 float64 // what stays when it has run empty
}

// Account is the heat of a run: by cause in and out, netted by hour, and what is stored by part.
type Account struct {
	InJ, OutJ, StoredJ map[string]float64
	ImbalanceRel       float64
	WorstPart          string  // the node or body whose own account was open most on any day
	WorstJ             float64 // by how much [J]
}

// VapourAccount is the vapour of a run [kg].
type VapourAccount struct {
	InKg, OutKg map[string]float64
	StoredKg    float64
	OpenKg      float64 // |in - out - stored|
}

// Work is what a run cost.
type Work struct {
	Nodes, Cells, Ports            int // nodes solved for, states of the blocks behind them, nodes at the ports of the largest
	Hours, Steps, Rejected, Solves int
	Refactors                      int
	SolvesPerHour                  float64
	Earth                          Earth
	ThawedC                        float64 // the lowest that earth came to that was held for thawed [°C]; +Inf where none is
}

// Options of a run.
type Options struct {
	Skip     int                   // hours run before the first that is recorded
	Stop     func(r *Result) bool  // asked after every recorded hour; true ends the run there
	Progress func(done, total int) // told every 24 h
	Keep     bool                  // Result.Begun is kept
	Spans    []sun.Span            // the sun over each hour of the series, when it is known already; see Spans
	trust    bool                  // the run ends where frost comes to earth that is held for thawed
}

// Spans is the sun over each hour of a series at the site of a plan. It is a twentieth of the work of a run, and the same for all runs of a year.
func Spans(p *plan.Plan, s *weather.Series) []sun.Span {
	place := siteOf(p).place
	list := make([]sun.Span, len(s.Hours))
	for i := range list {
		list[i] = sun.OverHour(place, s.HourStart(i).Add(time.Hour))
	}
	return list
}

// trustedC is how cold earth that is held for thawed may become before its run is made again on a ground that lets it freeze [°C].
const trustedC = -0.1

// frostWatch is how often earth that is held for thawed is looked at [h]: a bed is coldest towards morning, and freezes within hours.
const frostWatch = 3

// Simulate makes a house and runs it, on the quickest ground that lets freeze what freezes: from Setup.Earth on, and on the next where frost
// came to earth that was held for thawed.
func Simulate(ctx context.Context, h *house.House, setup Setup, s *weather.Series, o Options) (*Greenhouse, *Result, error) {
	for {
		g, err := New(h, setup)
		if err != nil {
			return nil, nil, err
		}
		o.trust = setup.Earth != FullMesh
		r, err := g.Run(ctx, s, o)
		if err != nil || setup.Earth == FullMesh || r.Work.ThawedC >= trustedC {
			return g, r, err
		}
		setup.Earth++
	}
}

// Run carries the greenhouse through a series of weather from its present state.
func (g *Greenhouse) Run(ctx context.Context, s *weather.Series, o Options) (*Result, error) {
	r := &Result{House: g.House, Start: s.HourStart(o.Skip)}
	r.Work.ThawedC = math.Inf(1)
	hours := len(s.Hours) - o.Skip
	for _, p := range g.places {
		r.Traces = append(r.Traces, Trace{Place: p, C: make([]float64, 0, hours)})
	}
	for _, v := range []*[]float64{&r.GlobalWM2, &r.EnteredW, &r.BedMol, &r.SnowM, &r.GroundSnowM, &r.AirChanges, &r.Humidity, &r.DripKg, &r.ReserveJ, &r.IceShare, &r.WaterM3} {
		*v = make([]float64, 0, hours)
	}
	for _, b := range g.store.bays {
		r.Bays = append(r.Bays, BayTrace{Name: b.name, M3: make([]float64, 0, hours), DregsM3: dregsShare * b.full})
	}
	r.Strips = g.newStrips(hours)
	for _, f := range g.Net.Flows() {
		r.Flows = append(r.Flows, Flow{Name: f.Name, Crosses: f.Crosses, J: make([]float32, 0, hours)})
	}
	g.store.schedule(s)
	g.store.restart()
	for _, t := range g.tubes {
		r.Tubes = append(r.Tubes, TubesTrace{Name: t.row.Plan.Name})
	}
	balance := g.Net.NewBalance()
	stored := g.storedByPart()
	g.site.neverRains = dry(s)
	before := s.Hours[0]
	if o.Spans == nil {
		o.Spans = Spans(g.House.Plan, s)
	}
	var h hour
	for i := range s.Hours {
		if i == o.Skip {
			balance, stored = g.Net.NewBalance(), g.storedByPart()
			g.vapour.restart()
			g.store.restart()
			if o.Keep {
				r.Begun = g.begun()
			}
		}
		if i%frostWatch == 0 {
			r.Work.ThawedC = min(r.Work.ThawedC, g.thawedC())
			if o.trust && r.Work.ThawedC < trustedC {
				break
			}
		}
		if i%24 == 0 {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if o.Progress != nil {
				o.Progress(i, len(s.Hours))
			}
		}
		h = g.site.hourAt(s, i, before, o.Spans[i])
		before = s.Hours[i]
		g.store.move(i, &h)
		for _, p := range g.parts {
			p.hour(&h)
		}
		g.Net.Control.Coarsest = g.Setup.Control.Coarsest
		if g.flows.active() {
			g.Net.Control.Coarsest = max(g.Net.Control.Coarsest, ventRung)
		}
		if g.partsMoved() || g.tubesSwitched() {
			g.Net.Control.Coarsest = max(g.Net.Control.Coarsest, coverRung)
		}
		if err := g.Net.Advance(g.step); err != nil {
			return nil, fmt.Errorf("%s: %w", h.start.Format("2006-01-02 15:04"), err)
		}
		g.settleAir()
		for _, t := range g.tubes {
			t.settle()
		}
		if i < o.Skip {
			continue
		}
		g.Net.AddHour(balance)
		if (i-o.Skip)%24 == 23 {
			g.Net.CloseDay(balance)
		}
		if err := g.record(r, &h); err != nil {
			return nil, err
		}
		if o.Stop != nil && o.Stop(r) {
			break
		}
	}
	g.Net.CloseDay(balance)
	in, out := g.Net.InOut(balance)
	r.Heat = Account{InJ: in, OutJ: out, StoredJ: g.storedByPart(), WorstPart: balance.WorstNode, WorstJ: balance.WorstJ}
	for k := range r.Heat.StoredJ {
		r.Heat.StoredJ[k] -= stored[k]
	}
	r.Heat.ImbalanceRel, _ = g.Net.Imbalance(balance)
	r.Vapour = g.vapour.account()
	r.Work.ThawedC = min(r.Work.ThawedC, g.thawedC())
	r.Work.Earth = g.Setup.Earth
	r.Water = g.store.account()
	r.Work.Nodes, r.Work.Cells, r.Work.Ports = g.Net.Size()
	st := g.Net.Stats
	r.Work.Hours, r.Work.Steps, r.Work.Rejected, r.Work.Solves, r.Work.Refactors = len(s.Hours), st.Steps, st.Rejected, st.Solves, st.Refactors
	r.Work.SolvesPerHour = float64(st.Solves) / float64(len(s.Hours))
	return r, nil
}

func (g *Greenhouse) record(r *Result, h *hour) error {
	for k := range r.Traces {
		t := r.Traces[k].read()
		if math.IsNaN(t) || t < -150 || t > 250 {
			return fmt.Errorf("%s: %s would be at %.1f °C", h.start.Format("2006-01-02 15:04"), r.Traces[k].Name, t)
		}
		r.Traces[k].C = append(r.Traces[k].C, t)
	}
	for k, f := range g.Net.Flows() {
		r.Flows[k].J = append(r.Flows[k].J, float32(f.HourJ))
	}
	snow := 0.0
	if len(g.panes) > 0 {
		snow = g.panes[0].snow.depth()
	}
	reserve, ice := g.Reserve()
	r.GlobalWM2 = append(r.GlobalWM2, h.sky.GlobalWM2(h.span))
	r.EnteredW = append(r.EnteredW, g.light.EnteredW)
	r.BedMol = append(r.BedMol, g.photons())
	g.recordStrips(r)
	r.SnowM = append(r.SnowM, snow)
	r.GroundSnowM = append(r.GroundSnowM, h.groundSnow)
	r.AirChanges = append(r.AirChanges, g.flows.m3s*3600/g.House.Gross)
	r.Humidity = append(r.Humidity, g.vapour.mean())
	r.DripKg = append(r.DripKg, g.vapour.dripKg)
	r.ReserveJ = append(r.ReserveJ, reserve)
	r.IceShare = append(r.IceShare, ice)
	sum := 0.0
	for k, b := range g.store.bays {
		m3 := b.mass(g.Net) / waterDensity
		r.Bays[k].M3 = append(r.Bays[k].M3, m3)
		sum += m3
	}
	r.WaterM3 = append(r.WaterM3, sum)
	g.recordAir(r, h)
	for k, t := range g.tubes {
		t.record(&r.Tubes[k])
	}
	return nil
}

// Hours is how many hours were recorded.
func (r *Result) Hours() int { return len(r.GlobalWM2) }

// Time is the end of recorded hour i, which is when its temperatures hold.
func (r *Result) Time(i int) time.Time { return r.Start.Add(time.Duration(i+1) * time.Hour) }

// Trace finds the trace of a place by name, nil when there is none.
func (r *Result) Trace(name string) *Trace {
	for i := range r.Traces {
		if r.Traces[i].Name == name {
			return &r.Traces[i]
		}
	}
	return nil
}

// RanDry tells whether a bay holds no more than its dregs at the end of recorded hour i: what stands there then is no water to speak of.
func (r *Result) RanDry(bay string, i int) bool {
	for k := range r.Bays {
		if b := &r.Bays[k]; b.Name == bay {
			return b.M3[i] <= 2*b.DregsM3
		}
	}
	return false
}

// Lowest is the lowest temperature of a trace and the hour it comes at.
func (t *Trace) Lowest() (c float64, hour int) {
	for i, v := range t.C {
		if i == 0 || v < c {
			c, hour = v, i
		}
	}
	return c, hour
}
