package report

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/unit"
	"suncellar/internal/water"
)

// waterSettled tells what sinks before the drums, and when the mud is to be let out.
func (t Teller) waterSettled(p *page, a *water.Answer) {
	p.head("What settles")
	s := a.Settled
	if s == nil {
		p.say("Nothing: no rain comes to the drums.")
		return
	}
	where := "The settling drum"
	if !s.Drum {
		where = "There is no settling drum: dirt sinks where the water comes in. " + upper(s.Name)
	}
	p.say(fmt.Sprintf("%s: %s of water surface, water at %s. At best, in rain of so much, these are caught whole from a size on, and so much of each kind:", where, t.smallArea(s.AreaM2), t.temp(5)))
	head, sizes := []string{"rain", "flow", "whole"}, []string{"", "", "from"}
	for _, k := range water.Particles {
		head, sizes = append(head, k.Name), append(sizes, micrometres(k.Diameter))
	}
	tab := newTable(head, sizes)
	for _, r := range s.Rains {
		cells := []string{t.rainRate(r.RainMS), t.waterFlow(r.FlowM3S, 0), micrometres(r.SmallestM)}
		for _, v := range r.Shares {
			cells = append(cells, caught(v))
		}
		tab.row(cells...)
	}
	p.table(tab)
	p.say("Mineral dust at 2650 kg/m³, soaked pollen at 1200; speeds after Ferguson and Church (2004), which are Stokes' for the fine; what sinks faster than flow over surface is caught (Hazen 1904). " +
		"A jet that stirs the bottom makes all of it less: let the water in slowly, and below the surface. Leaves float or sink late: sieve them out before.")
	t.waterMud(p, s)
}

// smallArea is an area below a square metre with two decimals.
func (t Teller) smallArea(m2 float64) string {
	if m2 < 1 && t.System == unit.SI {
		return number(m2, 2) + " m²"
	}
	return t.area(m2)
}

// micrometres is the size of a grain; it has no other unit in either system.
func micrometres(m float64) string {
	switch {
	case math.IsInf(m, 1):
		return "none"
	case m < 10e-6:
		return number(m*1e6, 1) + " µm"
	}
	return number(m*1e6, 0) + " µm"
}

// caught is a share in percent that is never rounded up to all, nor a trace down to none.
func caught(v float64) string {
	switch {
	case v >= 1:
		return "all"
	case v > 0.99:
		return "99 %"
	case v < 0.01:
		return "< 1 %"
	}
	return number(math.Floor(100*v), 0) + " %"
}

// waterMud tells how fast mud gathers and when it should go.
func (t Teller) waterMud(p *page, s *water.Settled) {
	leaves := "the lowest pipe leaves"
	if s.Drum {
		leaves = "the water goes on"
	}
	text := fmt.Sprintf("Room for mud: %s %s above the bottom", leaves, t.depth(s.DepthM))
	if s.Drum {
		text += fmt.Sprintf(", and %s of it lie below the drain", t.depth(s.DrainM))
	}
	p.say(text + ". Let it out before it stands half as high as that (own judgement): higher, and a hard rain carries it on.")
	if s.MudM <= 0 {
		p.say("The drain lies as high as that or higher: no mud runs out by itself in time. Scoop or siphon it, or set the drain lower.")
		return
	}
	if s.InflowM3 == 0 {
		p.say("How often is not known, since the rain of a year is not.")
		return
	}
	p.say(fmt.Sprintf("Roofs bring 13 to 120 mg/L of solids (Göbel and others 2007, from memory). If all of it settles out of %s a year, at 416 kg in a cubic metre of mud (Lara and Pemberton 1963, clay, from memory), %s to %s gather in a year: clean %s. "+
		"Leaves, moss and insects come on top. Look in every 2 to 3 years all the same (enHealth 2011, sect. 5.8), and whenever water comes cloudy.",
		t.water(s.InflowM3), t.tenths(s.Mud[0].DepthM), t.tenths(s.Mud[1].DepthM), cleanEvery(s)))
	if !s.Drum {
		p.say("Never climb into a drum to clean it: bad air and a closed lid kill. Siphon the mud from outside.")
	}
}

// cleanEvery is how often, with much dirt and with little.
func cleanEvery(s *water.Settled) string {
	much, little := every(s.Mud[1].Years), every(s.Mud[0].Years)
	if much == little {
		return much + " by this alone"
	}
	return fmt.Sprintf("%s by much dirt, %s by little", much, little)
}

// tenths is a depth to the tenth of a millimetre [m].
func (t Teller) tenths(m float64) string {
	if t.System == unit.US {
		return number(m/0.0254, 2) + " in"
	}
	return number(m*1000, 1) + " mm"
}

// every is how often, rounded to the shorter.
func every(years float64) string {
	switch {
	case years > 30:
		return "once in more than 30 years"
	case years >= 2:
		return fmt.Sprintf("once in %.0f years", math.Floor(years))
	case years >= 1:
		return "once a year"
	}
	return "every " + strings.TrimPrefix(count(int(max(1, math.Floor(12*years))), "month"), "1 ")
}
