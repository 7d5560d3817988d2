package greenhouse

import (
	"math"
	"testing"

	"suncellar/internal/air"
)

// In a steady state the beds give what outdoor air takes away and cold faces catch. By hand, from the temperatures, the humidity of each layer and the air flow
// that the run ends with: soil A (w_s - w)/(1/(h/(c Le)) + r/rho), leaves by night g G (w_s(T) - w)/(G + l g s); faces k (w - w_f) where they catch, or
// dry a film that is there; air in and out.
func TestVapourSettlesAsByHand(t *testing.T) {
	h := mustHouse(t, smallPit)
	w := spellAt(t, h, cold(80, -8), 1, 10)
	g, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(8), Snow: SnowNever}, w)
	sat := func(c float64) float64 { return air.SaturationHumidityRatio(c, g.pressure) }
	const lewis = 1006 * 0.8938 // c [J/kgK], Le^(2/3) of Le 0.845
	rho := g.pressure / (287.05 * 283.15)
	humid := g.vapour.w
	gain := 0.0
	for k := range g.layers {
		gain += g.flows.rate[outdoors][k]*sat(w.Hours[0].DewPointC) - g.flows.rate[k][outdoors]*humid[k]
	}
	gain += h.Beds[0].Area / (lewis/3.0 + 500/rho) * (sat(g.Net.T(g.ground.bedNode(0))) - humid[0])
	leaves := 2 * 2 * 0.8 * h.Beds[0].Area * rho // both sides, leaf area 2, 80 % covered
	leafC := g.Net.T(g.layers[0].node)
	film, open := leaves*1006/275, leaves/(275+82*4.30/0.54)*math.Max(0, math.Min(1, leafC/2))
	slope := (sat(leafC+0.001) - sat(leafC-0.001)) / 0.002
	gain += math.Max(0, open*film*(sat(leafC)-humid[0])/(film+2.477e6*open*slope))
	caught, wet := 0.0, 0
	for i := range g.vapour.faces {
		f := &g.vapour.faces[i]
		if f.s == nil {
			continue
		}
		got := 0.0
		for k := range g.layers {
			got += f.s.area * f.layers[k] * math.Max(f.s.h, 0.5) / lewis * (humid[k] - sat(g.Net.T(f.node)))
		}
		if got > 0 || f.film > 1e-3 {
			caught += got
			wet++
		}
	}
	if wet == 0 || caught <= 0 {
		t.Fatal("no face is below the dew point: the case says nothing")
	}
	if math.Abs(gain-caught) > 0.02*caught { // the house still cools by some mK an hour
		t.Errorf("%.4g kg/h given, %.4g kg/h caught", gain*3600, caught*3600)
	}
	if glass := g.vapour.faceOf(g.panes[0].surface); !(glass.film > 0.1 && glass.ice > 0.99*glass.film) {
		t.Errorf("after twenty days of frost the glazing holds %.3f kg/m², %.3f of it frost", glass.film, glass.ice)
	}
	for _, kg := range r.DripKg {
		if kg > 0.01 {
			t.Fatalf("frost dripped: %.3f kg in an hour", kg)
		}
	}
	closes(t, r)
}

// faceOf is the film on a surface.
func (v *vapour) faceOf(s *surface) *wetFace {
	for i := range v.faces {
		if v.faces[i].s == s {
			return &v.faces[i]
		}
	}
	return nil
}

// What froze on the glazing in cold days melts, dries and drips in mild ones, and the account holds it all the while.
func TestFrostMeltsDriesAndDrips(t *testing.T) {
	h := mustHouse(t, smallPit)
	w := spellAt(t, h, cold(8, -12), 1, 10)
	mild := w.Warmer(20)
	copy(w.Hours[4*24:], mild.Hours[4*24:])
	g, r := mustRun(t, h, Setup{StartC: 8, Ground: flat(8), Snow: SnowNever}, w)
	frozen, dripped := 0.0, 0.0
	for i, kg := range r.DripKg {
		if i < 4*24 {
			frozen += kg
		} else {
			dripped += kg
		}
	}
	glass := g.vapour.faceOf(g.panes[0].surface)
	if frozen > 0.01 || dripped < 0.5 {
		t.Errorf("%.3f kg dripped in the frost, %.3f kg in the thaw", frozen, dripped)
	}
	if glass.ice > 1e-3 || glass.film > filmHolds+1e-9 {
		t.Errorf("after four mild days the glazing holds %.3f kg/m², %.3f of it frost", glass.film, glass.ice)
	}
	if open := r.Vapour.StoredKg - (g.vapour.held() - g.vapour.StartKg); math.Abs(open) > 1e-9 {
		t.Errorf("stored %.3g kg otherwise than the films and the air hold", open)
	}
	closes(t, r)
}

// The heat of what beds give and faces catch is in the account of the heat, latent heat times mass, within what 0 °C does to it: frost gives
// more than dew.
func TestLatentHeatGoesWithVapour(t *testing.T) {
	h := mustHouse(t, smallPit)
	g, r := mustRun(t, h, Setup{StartC: 8, Ground: flat(8), Snow: SnowNever}, spellAt(t, h, cold(6, 2), 1, 10))
	if lows(r)["glazing, inner face"] < 0 {
		t.Fatal("the case is for dew alone")
	}
	given := r.Heat.OutJ["evaporation from beds"] / 2.49e6
	if g := r.Vapour.InKg["evaporation from beds"] + r.Vapour.InKg["transpiration"]; math.Abs(given/g-1) > 0.02 {
		t.Errorf("beds lose the heat of %.3f kg and give %.3f kg", given, g)
	}
	// the heat is set from the pass before the last of a step, the mass from the last
	caught := (r.Heat.InJ["dew and frost"] - r.Heat.OutJ["dew and frost"]) / 2.49e6
	if c := r.Vapour.OutKg["drip"] + g.vapour.filmsKg(); math.Abs(caught/c-1) > 0.03 {
		t.Errorf("faces gain the heat of %.3f kg and catch %.3f kg", caught, c)
	}
}

// filmsKg is what all films hold.
func (v *vapour) filmsKg() float64 {
	sum := 0.0
	for i := range v.faces {
		sum += v.faces[i].film * v.faces[i].area
	}
	return sum
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
				hour := g.site.hourAt(w, i, before, spanOf(g, w, i))
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
