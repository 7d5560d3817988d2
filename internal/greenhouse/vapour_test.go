package greenhouse

import (
	"math"
	"testing"

	"suncellar/internal/air"
)

// In a steady state the beds give what outdoor air takes away and cold faces catch. By hand, from the temperatures and the air flow that the run
// ends with: k_b (w_b - w) + m (w_o - w) = sum of k_f (w - w_f) over the faces colder than the dew point, with k = A h/(c Le).
func TestVapourSettlesAsByHand(t *testing.T) {
	h := mustHouse(t, smallPit)
	w := spellAt(t, h, cold(80, -8), 1, 10)
	g, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(8), Snow: SnowNever}, w)
	sat := func(c float64) float64 { return air.SaturationHumidityRatio(c, g.pressure) }
	humid := g.vapour.w
	flow := g.vapour.dryKg() / h.Volume * g.flows.m3s
	gain := flow * (air.SaturationHumidityRatio(w.Hours[0].DewPointC, g.pressure) - humid)
	bed := 0.35 * h.Beds[0].Area * 3.0 / (1006 * 0.8938) // share of wet, film [W/m²K], c [J/kgK], Le^(2/3) of Le 0.845
	gain += bed * (sat(g.Net.T(g.ground.bedNode(0))) - humid)
	caught, wet := 0.0, 0
	for _, s := range g.inside {
		if ws := sat(g.Net.T(s.node)); s.wets && ws < humid {
			caught += s.area * math.Max(s.h, 0.5) / (1006 * 0.8938) * (humid - ws)
			wet++
		}
	}
	if wet == 0 || caught == 0 {
		t.Fatal("no face is below the dew point: the case says nothing")
	}
	if math.Abs(gain-caught) > 0.01*caught { // the house still cools by some mK an hour
		t.Errorf("%.4g kg/h given, %.4g kg/h caught", gain*3600, caught*3600)
	}
	if !g.isWet(g.panes[0].surface, humid) {
		t.Errorf("glazing at %.2f °C stays dry in air of %.2f g/kg", g.Net.T(g.panes[0].room), humid*1000)
	}
	if hours := r.Hours(); r.DripKg[hours-1] <= 0 {
		t.Error("nothing was caught by the glazing in the last hour")
	}
	closes(t, r)
}

// isWet tells whether a face lies below the dew point of air of humidity w.
func (g *Greenhouse) isWet(s *surface, w float64) bool {
	return air.SaturationHumidityRatio(g.Net.T(s.node), g.pressure) < w
}

// The heat of what beds give and faces catch is in the account of the heat, latent heat times mass, within what 0 °C does to it: frost gives
// more than dew.
func TestLatentHeatGoesWithVapour(t *testing.T) {
	h := mustHouse(t, smallPit)
	_, r := mustRun(t, h, Setup{StartC: 8, Ground: flat(8), Snow: SnowNever}, spellAt(t, h, cold(6, 2), 1, 10))
	if lows(r)["glazing, inner face"] < 0 {
		t.Fatal("the case is for dew alone")
	}
	given, caught := r.Heat.OutJ["evaporation from beds"]/2.5e6, r.Heat.InJ["dew and frost"]/2.5e6
	if g := r.Vapour.InKg["evaporation from beds"]; math.Abs(given/g-1) > 0.02 {
		t.Errorf("beds lose the heat of %.3f kg and give %.3f kg", given, g)
	}
	// the heat is set from the pass before the last of a step, the mass from the last
	if c := r.Vapour.OutKg["dew and frost"]; math.Abs(caught/c-1) > 0.03 {
		t.Errorf("faces gain the heat of %.3f kg and catch %.3f kg", caught, c)
	}
}

// A flow that is booked double, or not at all, in one hour opens the account by its heat.
func TestForgottenFlowOpensTheAccount(t *testing.T) {
	h := mustHouse(t, smallPit)
	w := spellAt(t, h, bright(2, -5), 2, 10)
	for _, name := range []string{"leakage", "glazing to sky", "sun into the room"} {
		for _, times := range []float64{1, 0, 2} {
			g, err := New(h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever})
			if err != nil {
				t.Fatal(err)
			}
			balance := g.Net.NewBalance()
			before := w.Hours[0]
			for i := range w.Hours {
				hour := g.site.hourAt(w, i, before)
				before = w.Hours[i]
				for _, p := range g.parts {
					p.hour(&hour)
				}
				if err := g.Net.Advance(g.step); err != nil {
					t.Fatal(err)
				}
				if i == 36 { // past noon of the second day
					g.Net.Flows()[g.Net.FlowIndex(name)].HourJ *= times
				}
				g.Net.AddHour(balance)
			}
			rel, _ := g.Net.Imbalance(balance)
			if open := rel > 1e-6; open != (times != 1) {
				t.Errorf("%s booked %g times: %.3g of the heat is open", name, times, rel)
			}
		}
	}
}
