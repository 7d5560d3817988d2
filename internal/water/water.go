// Package water is what a plan's scheme of rain water comes to: whether it runs by gravity from roof to drums to beds, how fast it fills and where
// it overflows first, what the drippers get, and how the store fares through years of rain.
//
// Heights are above grade. Wording is the business of package report.
package water

import (
	"context"
	"errors"
	"slices"

	"suncellar/internal/catchment"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/pipes"
	"suncellar/internal/plan"
	"suncellar/internal/record"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Request is a plan with its water, and the rain.
type Request struct {
	Plan   *plan.Plan
	RainMS float64         // rate of rain that filling is told for [m/s]; 0: UsualRainMS
	Record *record.Record  // its days are the rain; nil: years made from the plan's normals
	Years  int             // how many are made; 0: usualYears
	Draw   *Draw           // water taken once; nil: none
	Year   *weather.Series // of the simulated winter, as read; nil: one made from the plan's normals

	Winter     *winter.Answer // of the plan, where it was run already; nil: it is run
	SchemeOnly bool           // what follows from the pipes alone: no years of rain, no winter
}

// UsualRainMS is a hard shower: 25 mm/h; own judgement.
const UsualRainMS = 25e-3 / 3600

// usualYears is how many years are made.
const usualYears = 30

// waterC is the temperature of the water in the pipes [°C]: cold water is the thicker, so that flows lean to the small side. Own judgement.
const waterC = 5

// Answer is what the water comes to.
type Answer struct {
	Plan   *plan.Plan
	House  *house.House
	Scheme *house.Water
	RainMS float64

	Paths    []Path    // from each roof to the overflow, and from the drums to each drip line
	Findings []Finding // what keeps water from running, and what spills
	Levels   house.WaterLevels
	Fill     Fill
	Drips    []State        // of the drip lines: full, half and nearly empty; nil without drip lines that run
	Rain     *Balance       // nil where no rain is known
	NoRain   string         // why it is not known
	Winter   *winter.Answer // with its water; nil where there is no weather
	Ledgers  *Ledgers       // of the simulated winter; nil where there is none, or no drum is fed
	Settled  *Settled       // where the dirt of the roofs settles; nil where no rain comes
	Freezing *Freezing      // what freezes in that winter; nil where there is none
	Care     []Care         // what is to be done, in the order of the year
	Cautions []string

	days []catchment.Day     // of the rain
	snow *greenhouse.SnowLog // on panes and roofs in the plan's own winter; nil until it is wanted
}

// Run computes it.
func Run(ctx context.Context, req Request, progress winter.Progress) (*Answer, error) {
	if req.Plan.Water == nil {
		return nil, errors.New("the plan says nothing of its water: it has no key water\nhint: begin with 'water: {catchments: [{name: roof, of: back roof}], manifolds: [{row: NAME OF A ROW}]}'")
	}
	h, bad := house.Resolve(req.Plan)
	if err := plan.AsError(bad); err != nil {
		return nil, err
	}
	if req.RainMS == 0 {
		req.RainMS = UsualRainMS
	}
	a := &Answer{Plan: req.Plan, House: h, Scheme: h.Scheme, RainMS: req.RainMS}
	a.gravity()
	a.Levels = a.Scheme.Levels()
	var err error
	if a.Fill, err = a.fill(req.RainMS); err != nil {
		return nil, err
	}
	if a.Drips, err = a.dripStates(); err != nil {
		return nil, err
	}
	if req.SchemeOnly {
		a.cautions()
		return a, nil
	}
	if err := a.rain(ctx, req, progress); err != nil {
		return nil, err
	}
	if err := a.winter(ctx, req, progress); err != nil {
		return nil, err
	}
	if err := a.ledgers(ctx, req); err != nil {
		return nil, err
	}
	a.Settled = a.settle()
	a.Freezing = a.freeze()
	a.Care = a.care()
	a.cautions()
	return a, nil
}

// winter runs the winter of the plan, where there is weather for it.
func (a *Answer) winter(ctx context.Context, req Request, progress winter.Progress) error {
	if a.Winter = req.Winter; a.Winter != nil || req.Year == nil && req.Plan.Climate == nil {
		return nil
	}
	var err error
	a.Winter, err = winter.Run(ctx, winter.Request{Plan: req.Plan, Year: req.Year}, progress)
	return err
}

func cold() pipes.Fluid { return pipes.Water(waterC) }

// height is where the water stands when the fed drums hold a volume, between empty and full [m].
func (a *Answer) height(m3 float64) float64 {
	lo, hi := a.lowestBottom(), a.Levels.FullZ
	for range 100 {
		if mid := (lo + hi) / 2; a.Scheme.Holds(mid) < m3 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

func (a *Answer) lowestBottom() float64 {
	low := a.Levels.FullZ
	for _, v := range a.Scheme.Fed {
		low = min(low, a.Scheme.Vessels[v].Bottom)
	}
	return low
}

// cautions are those of the trade, and who decides.
func (a *Answer) cautions() {
	a.Cautions = []string{
		"Water off a roof is not drinking water: birds, dust, moss and what the roof is made of are in it. Drip it to the soil rather than onto leaves that are eaten, never use it to wash food, and do not catch it off treated wood, asbestos, lead or fresh tar; have it tested before anything else.",
		"A drum of 208 L weighs 220 kg when full. Fill in place, on a level footing that carries it; never stand below stacked drums while they are filled or drained, and do not dig or compact beside full ones.",
		"Gutters are reached from a ladder: on firm ground, tied, with somebody at its foot, and never in wind or on ice.",
		"Cover every opening with fine mesh: open water breeds mosquitoes, and a child can drown in a drum.",
	}
	if a.Rain != nil && a.Rain.SnowShare > 0.1 {
		a.Cautions = append(a.Cautions, "Pipes and gutters outside the warm part freeze and split while they hold water: let them drain, and let the water go elsewhere in frost.")
	}
	if slices.ContainsFunc(a.Findings, func(f Finding) bool { return f.LiftM > 0 }) {
		a.Cautions = append(a.Cautions, "A pump beside water: only on a residual-current device, its plug and joints dry and above any water that can spill, or on a small battery.")
	}
	if a.Rain != nil && a.Rain.Made {
		a.Cautions = append(a.Cautions, "Made and typical years have the rain of normal months, wet days and amounts drawn by chance. Years that are dry as a whole come too seldom in them: a long record (--record) tells of droughts, these do not.")
	}
	for _, c := range a.Scheme.Catchments {
		if c.Smooth && !c.Sheds && c.Slope > steepRad {
			a.Cautions = append(a.Cautions, "Snow slides off smooth roofs as steep as "+c.Name+": it is counted here as if it melted into the gutter. Set its snow to 'slides off' where it does not, and keep from below it.")
		}
	}
}

// steepRad is the slope from which snow is told to slide off smooth roofs [rad]: 30°; own judgement after the slope factors of ASCE 7.
const steepRad = 0.5236
