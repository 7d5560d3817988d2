package validation

import (
	"fmt"
	"math"
	"testing"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// wave is the yearly wave of a temperature: mean, amplitude, day of the year on which it is warmest.
type wave struct{ mean, amplitude, warmest float64 }

// waveOf is the best fit of mean and one yearly sine to values at days of the year.
func waveOf(days, c []float64) wave {
	// normal equations of 1, cos, sin
	var m [3][4]float64
	for i, d := range days {
		w := 2 * math.Pi * d / 365
		f := [3]float64{1, math.Cos(w), math.Sin(w)}
		for a := range 3 {
			for b := range 3 {
				m[a][b] += f[a] * f[b]
			}
			m[a][3] += f[a] * c[i]
		}
	}
	for a := range 3 {
		for b := a + 1; b < 3; b++ {
			k := m[b][a] / m[a][a]
			for j := range 4 {
				m[b][j] -= k * m[a][j]
			}
		}
	}
	var x [3]float64
	for a := 2; a >= 0; a-- {
		x[a] = m[a][3]
		for b := a + 1; b < 3; b++ {
			x[a] -= m[a][b] * x[b]
		}
		x[a] /= m[a][a]
	}
	day := math.Atan2(x[2], x[1]) / (2 * math.Pi) * 365
	if day < 0 {
		day += 365
	}
	return wave{x[0], math.Hypot(x[1], x[2]), day}
}

func TestWaveOf(t *testing.T) {
	var days, c []float64
	for d := range 365 {
		days = append(days, float64(d))
		c = append(c, 7+5*math.Cos(2*math.Pi/365*(float64(d)-224)))
	}
	if w := waveOf(days, c); math.Abs(w.mean-7) > 1e-9 || math.Abs(w.amplitude-5) > 1e-9 || math.Abs(w.warmest-224) > 1e-6 {
		t.Errorf("%+v, want 7, 5, 224", w)
	}
}

// fargoRows holds the phase of the deep ground against four years of thermometers; the weather is a typical year of other years, so
// amplitude and mean are shown alone, with and without snow.
func fargoRows(t *testing.T, s *section) {
	depths := []float64{0.05, 0.50, 1, 1.5, 2}
	columns := []int{2, 7, 10, 12, 14}
	measuredWaves := make([]wave, len(depths))
	rows := lines(t, ',', "soil", "fargo_hourly_deep_soil_temperature.csv.gz")[1:]
	for k, column := range columns {
		var days, c []float64
		for _, f := range rows {
			at, err := time.Parse("1/2/06 15:04", f[1])
			if err != nil {
				t.Fatal(err)
			}
			if v := value(t, or(f[column], "-999"), -60); !math.IsNaN(v) {
				days, c = append(days, float64(at.YearDay()-1)+float64(at.Hour())/24), append(c, v)
			}
		}
		measuredWaves[k] = waveOf(days, c)
	}
	place := placeOfSite(fargo.site)
	bare := typical(t, "727530TYA.CSV.gz", place)
	for _, v := range []struct {
		name string
		year weather.Series
	}{{"without snow", bare}, {"with snow", bare.WithSnowNormals(fargoSnow.fall, fargoSnow.days, 1)}} {
		u, err := greenhouse.UndisturbedGround(&plan.Plan{Site: fargo.site}, &v.year)
		if err != nil {
			t.Fatal(err)
		}
		for k, d := range depths {
			var days, c []float64
			for date := time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC); date.Year() == 2001; date = date.AddDate(0, 0, 1) {
				days, c = append(days, float64(date.YearDay()-1)), append(c, u.Profile(int(date.Month()), date.Day())(d))
			}
			is, was := waveOf(days, c), measuredWaves[k]
			words := fmt.Sprintf("mean %.2f for %.2f °C, amplitude %.2f for %.2f K", is.mean, was.mean, is.amplitude, was.amplitude)
			if v.name == "without snow" {
				s.tell(fmt.Sprintf("North Dakota, %.0f cm, %s: warmest day", 100*d, v.name), figure(was.warmest, 1), figure(is.warmest, 1), "not judged, snow lies there; "+words)
				continue
			}
			r := s.near(measured, fmt.Sprintf("North Dakota, %.0f cm, %s: warmest day of the yearly wave", 100*d, v.name), is.warmest, was.warmest, 7, "")
			r.note = "weather of other years: " + words
			if !r.met {
				r.missed = fargoWhy
			}
		}
	}
}

func or(text, other string) string {
	if text == "" || text == "NA" {
		return other
	}
	return text
}
