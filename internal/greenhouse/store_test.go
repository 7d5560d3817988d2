package greenhouse

import (
	"math"
	"testing"
	"time"

	"suncellar/internal/weather"
)

// boxWithDrums is the lit box with four drums in one bay.
const boxWithDrums = litBox + "store: {rows: [{name: drums, drums: 4, at: 1.5 m}]}\n"

// A drum that begins at its freezing point in given cold freezes through a wall of ice that grows inward. With fixed films the ice share x
// of a layer of water of volume V behind area A comes after
//
//	t = L V rho/(A dT) ((1/h + R) x + V/(A k) x²/2)
//
// h film of the air, R wall of the drum, k ice. Source: quasi-steady front, Stefan 1891; the sensible heat of ice is left out.
func TestDrumFreezesInTheTimeOfItsIce(t *testing.T) {
	h := mustHouse(t, boxWithDrums, "surfaces.inside=8 W/m2K", "leakage.air_changes=60 ach", "store.rows[0].start=0 degC")
	w := spellAt(t, h, weather.SpellSpec{Days: 14, MeanC: -12, Cloud: 1, WindMS: 3, DewPointBelowK: 2}, time.January, 5)
	g, r := mustRun(t, h, Setup{StartC: -12, Snow: SnowNever}, w)
	b := g.store.bays[0]
	side := b.contacts[1].area // of the middle band
	water, air := r.Trace("drums, middle").C, r.Trace("air").C
	volume := b.start / waterDensity / waterLayers
	for _, x := range []float64{0.1, 0.25, 0.5} { // later the upper layer is all ice, colder, and draws on this one
		hours, sum := 0, 0.0
		for hours < len(water) && water[hours] > x*waterFrozenC {
			sum += air[hours]
			hours++
		}
		if hours == len(water) {
			t.Fatalf("after %d h the ice share is %.3f", hours, water[hours-1]/waterFrozenC)
		}
		dT := x*waterFrozenC/2 - sum/float64(hours)
		want := 333.6e3 * b.start / waterLayers / (side * dT) * ((1.0/8+b.row.Wall.R)*x + volume/side/2.2*x*x/2) / 3600
		// 4 %: hours are whole, and the layers above and below give a little
		if math.Abs(float64(hours)+0.5-want) > 0.5+0.04*want {
			t.Errorf("ice share %.2f after %d h, want %.1f h", x, hours+1, want)
		} else {
			t.Logf("ice share %.2f after %d h, want %.1f h", x, hours+1, want)
		}
	}
	closes(t, r)
}

// The reserve is the heat of water above 0 °C: ice gives nothing to it.
func TestReserveCountsNoIce(t *testing.T) {
	h := mustHouse(t, boxWithDrums)
	for _, c := range []struct{ atC, reserve, ice float64 }{
		{6, 6 * 4192, 0}, {0, 0, 0}, {waterFrozenC / 2, 0, 0.5}, {-5, 0, 1},
	} {
		g, err := New(h, Setup{StartC: 5})
		if err != nil {
			t.Fatal(err)
		}
		mass := 0.0
		for _, b := range g.store.bays {
			mass += b.mass(g.Net)
		}
		g.Load(State{}, &c.atC)
		joules, ice := g.Reserve()
		if math.Abs(joules-c.reserve*mass) > 1e-6*mass || math.Abs(ice-c.ice) > 1e-9 {
			t.Errorf("at %g °C: %.4g J and %.3f ice, want %.4g J and %.3f", c.atC, joules, ice, c.reserve*mass, c.ice)
		}
	}
}

// The enthalpy of water: 1 kg from 10 °C to ice at -10 °C gives 10 · 4192 + 333.6e3 + 10 · 2050 J, within what freezing
// over a tenth of a kelvin instead of at a point is worth.
func TestWaterLaw(t *testing.T) {
	law := waterLaw(1)
	if got, want := law.Heat(10)-law.Heat(-10), 10*4192+333.6e3+10*2050.0; math.Abs(got-want) > 4192*0.1 {
		t.Errorf("10 °C to -10 °C: %.0f J/kg, want %.0f", got, want)
	}
}
