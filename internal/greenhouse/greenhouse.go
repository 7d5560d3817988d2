// Package greenhouse is the assembly: it makes of a resolved house one network of heat and runs it through weather, hour by
// hour. New reads aloud as the list of parts; each part has a file of its own, adds nodes and joins them, and sets its
// coefficients as time goes on.
package greenhouse

import (
	"math"
	"time"

	"suncellar/internal/air"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/sun"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
)

// SnowCase says which snow lies on the glazing.
type SnowCase int

// The snow cases: as the weather's snowfalls make it; never; a given layer that lies through the coldest spell; or as another run of
// the same hours had it.
const (
	SnowFalls SnowCase = iota
	SnowNever
	SnowLies
	SnowLogged
)

// Earth says how the ground is computed.
type Earth int

// The grounds, from the quickest to the one that all others are measured against. Where frost comes to earth that is held for
// thawed, Result.Work.ThawedC tells.
const (
	FrostOutdoors Earth = iota // what can freeze outdoors as cells, all else as modes
	FrostInside                // what can freeze under the room too
	FullMesh                   // all as cells
)

// Setup is what a run needs beside the house.
type Setup struct {
	Ground    func(depthM float64) float64 // temperature of the undisturbed ground when the house is set into it [°C]
	FrostM    *float64                     // how deep undisturbed ground freezes [m]; nil means not known
	StartC    float64                      // of air, walls and, where the ground says nothing, water [°C]
	Snow      SnowCase
	Lying     [2]time.Time    // begin and end of the time in which snow lies, for SnowLies
	Log       *SnowLog        // read for SnowLogged, else written where there is one
	WaterLeft float64         // share of the store's water that is there; 0 means all
	BaysLost  []string        // bays whose drums stand empty from the start, by name (house.Row.BayName), or rows, all of whose bays do
	Control   thermal.Control // of the step
	NoSun     bool            // the sun is put out, for tests and for sunless spells
	Earth     Earth           // how the ground is computed
	Parts     int             // cuts every cell of the ground into so many along each side, to see what the cutting costs; 0 means 1
	Begun     *Begun          // what the house begins from, of another much like it; nil: Ground and StartC
	Air       AirBand         // of the exchange between layers of air
}

// part is one part of the house in the network.
type part interface {
	// hour takes in what holds for the whole of an hour.
	hour(h *hour)
	// step sets the coefficients of one step.
	step(m thermal.Moment)
}

// Greenhouse is a house as a network.
type Greenhouse struct {
	House *house.House
	Net   *thermal.Network
	Setup Setup

	site     site
	outside  outside
	layers   []*layer   // of air, from the lowest up
	inside   []*surface // all faces that the air and the room's longwave touch
	panes    []*pane
	walls    []*wall
	offFaces []*offFace // faces that are taken off for a part of the year
	piles    *piles
	ground   *groundPart
	flows    *flows
	store    *store
	room     *room
	vapour   *vapour
	co2      *co2
	air      airHours
	curve    *air.Curve // of saturated air at the house's pressure
	tubes    []*tubes
	light    *light
	parts    []part
	places   []Place
	leaves   []*leaf // by strip of a bed
	pressure float64 // standard pressure of the elevation [Pa]
}

// New makes the network of a house.
func New(h *house.House, s Setup) (*Greenhouse, error) {
	g := &Greenhouse{House: h, Net: &thermal.Network{Control: s.Control}, Setup: s}
	g.site = siteOf(h.Plan)
	g.site.noSun = s.NoSun
	g.site.windShare = windShare(h.Plan.Site.Exposure, h.Top())
	g.pressure = air.StandardPressure(h.Plan.Site.Elevation)
	g.addOutside()
	g.addAir()
	g.addPiles()
	g.addGlazing()
	g.addFaces()
	if err := g.addGround(); err != nil {
		return nil, err
	}
	if err := g.addStore(); err != nil {
		return nil, err
	}
	if err := g.addRoom(); err != nil {
		return nil, err
	}
	g.addLongwave()
	g.addConvection()
	g.addSun()
	g.addThings()
	g.addOpenAir()
	g.addTubes()
	g.addAirFlows()
	g.addVapour()
	g.addCO2()
	g.addPlaces()
	g.logSnow()
	g.beginFrom()
	return g, nil
}

// hour is the outdoors of one hour.
type hour struct {
	start       time.Time    // begin of the hour, local standard time
	clock       float64      // hour of the day at its middle [h]
	w           weather.Hour // values at its end, means over it
	air0        float64      // air at its begin [°C]
	span        sun.Span
	sky         sun.Sky
	skyC        float64 // temperature of the sky [°C]
	windHouse   float64 // wind at the house [m/s]
	freshSnow   float64 // snow that falls [m]
	groundSnow  float64 // depth of snow lying on level ground [m]
	sunUp       bool
	snowDensity float64 // of it [kg/m³]
	rainMM      float64 // precipitation [mm]
	neverRains  bool    // the weather knows of no rain
	// past the skyline, see look
	suns        [3]sun.Position // at begin, middle and end of its sunlit part, where anything shades
	groundWM2   float64         // on level ground [W/m²]
	groundShare float64         // of what a level skyline would leave
}

// outside is the given nodes.
type outside struct {
	air, sky, terrain thermal.Node
	zero              thermal.Node // 0 °C, see leaning
}

func (g *Greenhouse) addOutside() {
	o := &g.outside
	o.air = g.Net.Given("outdoor air", g.Setup.StartC)
	o.sky = g.Net.Given("sky", g.Setup.StartC-15)
	o.terrain = g.Net.Given("terrain", g.Setup.StartC) // what outer faces see below the horizon
	o.zero = g.Net.Given("0 °C", 0)
	g.parts = append(g.parts, givenNodes{g})
}

// givenNodes sets them.
type givenNodes struct{ g *Greenhouse }

func (p givenNodes) hour(h *hour) {
	g := p.g
	g.Net.SetGiven(g.outside.air, h.air0, h.w.AirC)
	g.Net.SetGiven(g.outside.sky, h.skyC, h.skyC)
	t := h.air0
	if g.ground != nil {
		t = g.ground.openTop()
	}
	g.Net.SetGiven(g.outside.terrain, t, t)
}

func (givenNodes) step(thermal.Moment) {}

// site is what the outdoors of an hour depends on.
type site struct {
	place      sun.Place
	albedo     float64 // of bare ground
	windShare  float64
	noSun      bool
	skyline    *sun.Skyline // nil: level
	levelView  float64      // share of the sky that level ground sees
	shaded     bool         // by a skyline or by banks
	neverRains bool         // the weather knows of no rain
}

// dry tells whether a series knows of no rain at all.
func dry(s *weather.Series) bool {
	for i := range s.Hours {
		if s.Hours[i].RainMM > 0 {
			return false
		}
	}
	return true
}

func siteOf(p *plan.Plan) site {
	s := p.Site
	out := site{
		place:     sun.Place{Latitude: sun.Angle(s.Latitude), Longitude: sun.Angle(s.Longitude), ElevationM: s.Elevation},
		albedo:    s.Albedo,
		windShare: windShare(s.Exposure, groundWindM),
		skyline:   skylineOf(p),
		levelView: 1,
		shaded:    len(s.Horizon) > 0 || len(s.Banks) > 0,
	}
	if out.skyline != nil {
		out.levelView = out.skyline.SkyView(sun.Plane{})
	}
	return out
}

// groundWindM is the height whose wind is taken for the ground's surface [m].
const groundWindM = 2

// windShare is the wind at a height [m] over that of a station in open country, 10 m high:
//
//	(270/10)^0.14 (H/d)^a
//
// with the thickness d of the boundary layer and the exponent a of the terrain; never below 1 m.
// Source: ASHRAE Fundamentals 2017 ch. 24 eq. 4 and table 1, from memory.
func windShare(exposure string, height float64) float64 {
	a, d := 0.14, 270.0
	switch exposure {
	case "scattered":
		a, d = 0.22, 370
	case "sheltered":
		a, d = 0.33, 460
	}
	return math.Pow(270.0/10, 0.14) * math.Pow(math.Max(1, height)/d, a)
}

// hourAt makes the outdoors of hour i of a series, after the hour before it and under the sun of that hour.
func (s site) hourAt(series *weather.Series, i int, before weather.Hour, span sun.Span) hour {
	w := series.Hours[i]
	start := series.HourStart(i)
	h := hour{start: start, clock: float64(start.Hour()) + float64(start.Minute())/60 + 0.5, w: w, air0: before.AirC}
	h.span = span
	l := sun.Light{BeamNormalWM2: w.BeamWM2, DiffuseWM2: w.DiffuseWM2}
	albedo := s.albedo
	if w.SnowDepthM > 0 {
		h.groundSnow, h.snowDensity = w.SnowDepthM, openSnowDensity
		if w.SnowDensityKgM3 > 0 {
			h.snowDensity = w.SnowDensityKgM3
		}
		if w.GroundAlbedo == w.GroundAlbedo {
			albedo = w.GroundAlbedo
		}
	}
	if s.noSun {
		l = sun.Light{}
	}
	h.sky = sun.Sky{Span: h.span, Light: l, Albedo: albedo}
	h.sunUp = h.span.UpShare > 0 && (l.BeamNormalWM2 > 0 || l.DiffuseWM2 > 0)
	s.look(&h)
	h.skyC = sun.SkyTemperatureC(w.SkyLongwaveWM2)
	h.windHouse = w.WindMS * s.windShare
	h.neverRains = s.neverRains
	if w.RainMM == w.RainMM {
		h.rainMM = w.RainMM
	}
	if w.SnowfallM == w.SnowfallM {
		h.freshSnow = w.SnowfallM
	}
	return h
}

// stefan is the Stefan-Boltzmann constant [W/m²K⁴].
const stefan = 5.670374419e-8

// radiative is the linear coefficient of longwave exchange between t1 and t2 [°C], per unit of exchange factor [W/m²K]:
// (T1²+T2²)(T1+T2) sigma, which is exact for the two.
func radiative(t1, t2 float64) float64 {
	a, b := t1+273.15, t2+273.15
	return stefan * (a*a + b*b) * (a + b)
}

// airHeat is density times specific heat of moist air at t [°C] [J/m³K].
func (g *Greenhouse) airHeat(t float64) float64 {
	return g.pressure / (287.05 * (t + 273.15)) * 1006
}

// within tells whether an hour of the clock lies within a daily span.
func within(from, until, clock float64) bool {
	if from <= until {
		return clock >= from && clock < until
	}
	return clock >= from || clock < until
}

// season tells whether a time lies between two days, both included: of any year, over the year's end if need be; or, written with their year, of that
// year alone.
func season(from, until plan.Date, t time.Time) bool {
	if from.Year > 0 {
		day := func(d plan.Date) time.Time {
			return time.Date(d.Year, time.Month(d.Month), d.Day, 0, 0, 0, 0, t.Location())
		}
		return !t.Before(day(from)) && t.Before(day(until).AddDate(0, 0, 1))
	}
	d := int(t.Month())*100 + t.Day()
	first, last := from.Month*100+from.Day, until.Month*100+until.Day
	if first <= last {
		return d >= first && d <= last
	}
	return d >= first || d <= last
}

func clamp(x, lo, hi float64) float64 { return max(lo, min(hi, x)) }

// step sets the coefficients of all parts for one step.
func (g *Greenhouse) step(m thermal.Moment) {
	for _, p := range g.parts {
		p.step(m)
	}
}
