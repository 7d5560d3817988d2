package report

import (
	"math"
	"strings"
	"testing"

	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
)

// dampHouse is four invented hours: a wet night, a bright thin noon.
func dampHouse() *winter.Answer {
	r := &greenhouse.Result{GlobalWM2: make([]float64, 4), Air: greenhouse.AirRecord{
		Moist: []greenhouse.Moist{{Layer: "bed air", Share: []float64{0.96, 0.92, 0.70, 0.62}}},
		Wet:   []greenhouse.Wet{{Bed: "bed", Is: []bool{true, true, true, false}}},
		Dark:  []bool{true, true, false, false}, CO2PPM: []float64{500, 480, 240, 260}, LightWM2: []float64{0, 0, 30, 200},
		Noons: []greenhouse.Airing{{HeatJ: 3.6e6, ColderK: 2}, {HeatJ: 10.8e6, ColderK: 6}},
	}}
	return &winter.Answer{Prepared: &winter.Prepared{Plan: &plan.Plan{}, House: &house.House{}}, Result: r}
}

func TestAirIsSummedUp(t *testing.T) {
	a := dampHouse()
	s := sumAir(a.Result)
	l := s.layers[0]
	if math.Abs(l.mean-0.80) > 1e-12 || math.Abs(l.night-0.94) > 1e-12 || l.damp != 2 {
		t.Errorf("layer: %+v", l)
	}
	if s.wet[0] != (wetSums{"bed", 3, 2}) || s.light != 2 || s.thin != 1 || s.leastPPM != 240 {
		t.Errorf("%+v", s)
	}
	p := &page{}
	Teller{System: unit.SI}.air(p, a)
	for _, want := range []string{"bed air    80        94          2", "wet in 3 hours, 2 hours of them by night", "2 hours of light at the beds, 1 have less than 250 ppm",
		"cost 2.0 kWh in the mean of 2 days, 3.0 kWh at the most", "4.0 °C colder"} {
		if !strings.Contains(strings.Join(strings.Fields(p.String()), " "), strings.Join(strings.Fields(want), " ")) {
			t.Errorf("%q is not in\n%s", want, p.String())
		}
	}
	j := airAsJSON(a.Result)
	if j.Airing.MeanJ != 7.2e6 || j.Carbon.LightHoursBelow != 1 || math.Abs(*j.Carbon.LeastInLightShare-240e-6) > 1e-12 || j.WetLeaves[0].NightHours != 2 {
		t.Errorf("%+v", j)
	}
}

// Without beds nothing is told of moisture, and where it is never light no least is made up.
func TestAirWithoutBedsOrLight(t *testing.T) {
	a := dampHouse()
	a.Result.Air.LightWM2 = make([]float64, 4)
	if j := airAsJSON(a.Result); j.Carbon.LeastInLightShare != nil || j.Carbon.LightHours != 0 {
		t.Errorf("%+v", j.Carbon)
	}
	a.Result.Air.Wet = nil
	p := &page{}
	Teller{}.air(p, a)
	if p.String() != "" || airAsJSON(a.Result) != nil {
		t.Errorf("told: %s", p.String())
	}
}
