package weather

import (
	"math"
	"testing"
	"time"

	"suncellar/internal/sun"
)

// Air alone becomes a whole series, and the notes tell each thing that stands in.
func TestCompleteFromAirAlone(t *testing.T) {
	s := emptySeries(time.Date(2001, 1, 1, 0, 0, 0, 0, mountain), 72)
	for i := range s.Hours {
		s.Hours[i].AirC = 5 * math.Cos(2*math.Pi*float64(i-14)/24)
	}
	if _, err := Complete(s, Place{}); err == nil {
		t.Error("completed without a place")
	}
	got, err := Complete(s, KnownPlace(40, -105, 1500))
	if err != nil {
		t.Fatal(err)
	}
	allKnown(t, got)
	near(t, "wind", got.Hours[0].WindMS, 2, 0)
	near(t, "pressure", got.Hours[0].PressurePa, 84556, 10) // ASHRAE Fundamentals 2017, ch. 1, table 1: 84.556 kPa at 1500 m
	near(t, "dew point", got.Hours[30].DewPointC, -5, 0.01)
	told := map[string]bool{}
	for _, n := range got.Notes {
		told[n.What] = true
	}
	for q := dewPoint; q < snowfall; q++ {
		if !told[facts[q].name] {
			t.Errorf("%s is not told", facts[q].name)
		}
	}
	if !math.IsNaN(s.Hours[0].WindMS) {
		t.Error("the series given was changed")
	}
}

// Global, beam and diffuse agree whichever of them is missing.
func TestCompleteSunFromItsParts(t *testing.T) {
	whole := inventedWinter(t, time.Date(2001, 2, 1, 0, 0, 0, 0, mountain), 48)
	for _, row := range []struct {
		name string
		lose []quantity
	}{{"global", []quantity{global}}, {"beam", []quantity{beam}}, {"diffuse", []quantity{diffuse}}, {"both", []quantity{beam, diffuse}}} {
		s := whole.Clone()
		for i := range s.Hours {
			for _, q := range row.lose {
				*s.Hours[i].value(q) = math.NaN()
			}
		}
		got, err := Complete(s, Place{})
		if err != nil {
			t.Fatal(err)
		}
		for i, span := range sunHours(s) {
			h := got.Hours[i]
			if span.Elevation < sun.Degrees(3) {
				continue // no ratio is taken there
			}
			near(t, row.name+": level", h.BeamWM2*span.Elevation.Sin()+h.DiffuseWM2, h.GlobalWM2, 1e-9)
			want := whole.Hours[i].BeamWM2
			if len(row.lose) == 2 { // by Erbs
				want = sun.Split(h.GlobalWM2, span).BeamNormalWM2
			}
			near(t, row.name+": beam", h.BeamWM2, want, 1e-6)
		}
	}
}

// A clear day is known as clear and an overcast one as overcast, also in the night after, and the sky is warmer under cloud.
func TestCloudIsCarriedThroughTheNight(t *testing.T) {
	s := inventedWinter(t, time.Date(2001, 2, 1, 0, 0, 0, 0, mountain), 72)
	for i := range s.Hours {
		h := &s.Hours[i]
		h.CloudShare, h.SkyLongwaveWM2 = math.NaN(), math.NaN()
		if i >= 24 && i < 48 {
			h.GlobalWM2 *= 0.2
		}
		h.BeamWM2, h.DiffuseWM2 = math.NaN(), math.NaN()
	}
	got, err := Complete(s, Place{})
	if err != nil {
		t.Fatal(err)
	}
	if c := got.Hours[3].CloudShare; c > 0.15 {
		t.Errorf("cloud before a clear day is %g", c)
	}
	if c := got.Hours[36].CloudShare; math.Abs(c-0.8) > 0.06 {
		t.Errorf("cloud of a day with a fifth of the sun is %g", c)
	}
	if a, b, c := got.Hours[18].CloudShare, got.Hours[24].CloudShare, got.Hours[30].CloudShare; !(a < b && b < c) {
		t.Errorf("cloud through the night is %g %g %g", a, b, c)
	}
	if !(got.Hours[37].SkyLongwaveWM2 > got.Hours[13].SkyLongwaveWM2+30) {
		t.Errorf("sky %g under cloud, %g clear", got.Hours[37].SkyLongwaveWM2, got.Hours[13].SkyLongwaveWM2)
	}
}

// Weather with nothing missing is not touched.
func TestCompleteLeavesWhatIsKnown(t *testing.T) {
	s := inventedWinter(t, time.Date(2001, 2, 1, 0, 0, 0, 0, mountain), 48)
	got, err := Complete(s, Place{})
	if err != nil || len(got.Notes) != len(s.Notes) {
		t.Fatalf("%v, %d notes after %d", err, len(got.Notes), len(s.Notes))
	}
	for i := range s.Hours {
		if !sameHour(s.Hours[i], got.Hours[i]) {
			t.Fatalf("hour %d changed", i)
		}
	}
}
