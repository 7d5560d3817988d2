package validation

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"

	"suncellar/internal/sun"
	"suncellar/internal/weather"
)

// drycold is the Denver year of the older editions of the standard test, read through a plain header and completed.
func drycold(t *testing.T) weather.Series {
	t.Helper()
	text, err := os.ReadFile(reference(t, "weather", "drycold_hourly.csv"))
	if err != nil {
		t.Fatal(err)
	}
	_, rows, _ := strings.Cut(string(text), "\n")
	s, err := weather.ReadPlain(strings.NewReader(drycoldHeader+rows), "drycold.csv")
	if err != nil {
		t.Fatal(err)
	}
	if s, err = weather.Complete(s, weather.Place{}); err != nil {
		t.Fatal(err)
	}
	return s
}

const drycoldHeader = "# name: Denver\n# latitude: 39.76 deg\n# longitude: -104.86 deg\n# elevation: 1609 m\n# time zone: UTC-7\n" +
	"day,hour,air [degC],humidity ratio [g/kg],beam [W/m2],diffuse [W/m2],wind [m/s]\n"

// typical is a typical year of the reference folder, completed for a place.
func typical(t *testing.T, file string, place weather.Place) weather.Series {
	t.Helper()
	s, err := weather.Open(reference(t, "weather", file), weather.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if s, err = weather.Complete(s, place); err != nil {
		t.Fatal(err)
	}
	return s
}

func sunAlbedoSky(s weather.Series, i int, albedo float64) sun.Sky {
	p := sunPlace(s.Place.LatitudeDeg, s.Place.LongitudeDeg, s.Place.ElevationM)
	h := s.Hours[i]
	return sun.Sky{Span: sun.OverHour(p, s.HourStart(i).Add(time.Hour)), Light: sun.Light{BeamNormalWM2: h.BeamWM2, DiffuseWM2: h.DiffuseWM2}, Albedo: albedo}
}

// incident is the yearly sum on a plane, ground albedo 0.2 [kWh/m²]; each hour is handed to see, where it is given.
func incident(s weather.Series, p sun.Plane, see func(hour int, wm2 float64)) float64 {
	sum := 0.0
	for i := range s.Hours {
		w := p.Irradiance(sunAlbedoSky(s, i, 0.2)).TotalWM2()
		sum += w / 1000
		if see != nil {
			see(i, w)
		}
	}
	return sum
}

// A plain header is all that the file needs: nothing of it is changed on the way.
func TestDrycoldWrites(t *testing.T) {
	s := drycold(t)
	var b bytes.Buffer
	if err := weather.WritePlain(&b, s); err != nil {
		t.Fatal(err)
	}
	if len(s.Hours) != 8760 {
		t.Errorf("%d hours, want 8760", len(s.Hours))
	}
}
