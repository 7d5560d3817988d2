package weather

import (
	"math"
	"testing"
	"time"
)

// Lowest, highest and the sum of sun of each day come back from the hours made of them.
func TestFromDaysKeepsTheDays(t *testing.T) {
	days := make([]Day, 20)
	for d := range days {
		low := -10 + 8*math.Sin(float64(d))
		days[d] = Day{LowC: low, HighC: low + 9 + math.Cos(3*float64(d)), SunWhM2: 1500 + 800*math.Cos(float64(d)), DewPointC: low - 2, RainMM: float64(d % 3)}
	}
	days[7].LowC, days[7].HighC = math.NaN(), math.NaN()
	s, err := FromDays(time.Date(2014, 1, 1, 0, 0, 0, 0, Zone(-6*time.Hour)), KnownPlace(39.1, -96.6, 348), days)
	if err != nil {
		t.Fatal(err)
	}
	for d := 1; d < 19; d++ {
		low, high, sum, rain := math.Inf(1), math.Inf(-1), 0.0, 0.0
		for i := 24 * d; i < 24*d+24; i++ {
			h := s.Hours[i]
			low, high, sum, rain = min(low, h.AirC), max(high, h.AirC), sum+h.GlobalWM2, rain+h.RainMM
			if h.DewPointC > h.AirC {
				t.Errorf("hour %d: dew point %.2f above air %.2f °C", i, h.DewPointC, h.AirC)
			}
		}
		if math.Abs(sum-days[d].SunWhM2) > 1e-6 || math.Abs(rain-days[d].RainMM) > 1e-9 {
			t.Errorf("day %d: sun %.1f, rain %.2f; want %.1f and %.2f", d, sum, rain, days[d].SunWhM2, days[d].RainMM)
		}
		// the shape at whole hours misses its own extremes by some per cent of the range; cold air of the next morning may be lower before midnight
		if d != 7 && math.Abs(high-days[d].HighC) > 0.5 {
			t.Errorf("day %d: highest %.2f, want %.2f °C", d, high, days[d].HighC)
		}
		if d != 7 && low > days[d].LowC+0.5 {
			t.Errorf("day %d: lowest %.2f, want %.2f °C", d, low, days[d].LowC)
		}
	}
	days[8].LowC, days[9].LowC, days[10].LowC = math.NaN(), math.NaN(), math.NaN()
	if _, err := FromDays(s.Start, s.Place, days); err == nil {
		t.Error("a gap of four days is bridged")
	}
}

// The sun of a day is highest at the sun's noon and the same before and after.
func TestFromDaysSunIsEven(t *testing.T) {
	s, err := FromDays(time.Date(2014, 4, 15, 0, 0, 0, 0, Zone(0)), KnownPlace(45, 0, 0), []Day{{LowC: 0, HighC: 10, SunWhM2: 4000, DewPointC: 0}})
	if err != nil {
		t.Fatal(err)
	}
	for k := range 6 { // the equation of time is nothing on 15 April
		a, b := s.Hours[11-k].GlobalWM2, s.Hours[12+k].GlobalWM2
		if math.Abs(a-b) > 0.02*max(a, 40) {
			t.Errorf("%d h from noon: %.1f and %.1f W/m2", k, a, b)
		}
	}
}

// Snow that is made of rain holds its water.
func TestSnowFromRainKeepsItsWater(t *testing.T) {
	s := emptySeries(time.Date(2014, 1, 1, 0, 0, 0, 0, Zone(0)), 48)
	for i := range s.Hours {
		s.Hours[i].AirC, s.Hours[i].RainMM = -5, 1
		if i >= 24 {
			s.Hours[i].AirC = 3
		}
	}
	out := s.WithSnowFromRain()
	water := 0.0
	for _, h := range out.Hours {
		water += h.SnowfallM * FreshDensity(h.AirC)
	}
	if math.Abs(water-24) > 1e-9 {
		t.Errorf("%.3f kg/m2 of snow from 24 mm in the cold", water)
	}
	if !(out.Hours[23].SnowDepthM > 0.1) {
		t.Errorf("%.3f m lie after it", out.Hours[23].SnowDepthM)
	}
}

// Wind and snow lying run on straight lines between noons, fresh snow round noon; days that know neither leave them open.
func TestFromDaysWindAndSnow(t *testing.T) {
	days := make([]Day, 6)
	for d := range days {
		days[d] = Day{LowC: -5, HighC: 3, SunWhM2: 1500, DewPointC: -6, WindMS: float64(d + 1)}
		days[d].Snow = DaySnow{Known: true, FallM: 0.03 * float64(d), LyingM: 0.1 * float64(d)}
	}
	days[3].WindMS = 0
	days[4].Snow = DaySnow{}
	s, err := FromDays(time.Date(2014, 1, 1, 0, 0, 0, 0, Zone(0)), KnownPlace(45, 0, 0), days)
	if err != nil {
		t.Fatal(err)
	}
	for d := 1; d < 4; d++ {
		noon, fall := s.Hours[24*d+11], 0.0
		for _, h := range s.Hours[24*d : 24*d+24] {
			fall += h.SnowfallM
		}
		near(t, "wind at noon", noon.WindMS, float64(d+1), 1e-9) // that of day 3 lies between those beside it
		if d < 3 {                                               // day 3 runs on to one that does not know its snow
			near(t, "snow lying at noon", noon.SnowDepthM, 0.1*float64(d), 1e-9)
		}
		near(t, "fresh snow of the day", fall, 0.03*float64(d), 1e-9)
	}
	if h := s.Hours[24*4+12]; !math.IsNaN(h.SnowDepthM) || !math.IsNaN(h.SnowfallM) {
		t.Errorf("snow of a day that does not know it is %.2f, %.2f m", h.SnowfallM, h.SnowDepthM)
	}
	s, err = FromDays(s.Start, s.Place, []Day{{LowC: 0, HighC: 10}, {LowC: 0, HighC: 10}})
	if err != nil {
		t.Fatal(err)
	}
	if h := s.Hours[20]; !math.IsNaN(h.WindMS) || !math.IsNaN(h.SnowDepthM) || !math.IsNaN(h.SnowfallM) {
		t.Errorf("days without wind and snow made %.2f m/s, %.2f m, %.2f m", h.WindMS, h.SnowfallM, h.SnowDepthM)
	}
}
