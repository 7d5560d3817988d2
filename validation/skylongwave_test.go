package validation

import (
	"fmt"
	"math"
	"testing"
	"time"

	"suncellar/internal/sun"
	"suncellar/internal/weather"
)

// What is asked of a derived sky: mean error over a record [W/m²].
const skyBias = 10.0

// skyRecord is weather with its measured sky longwave.
type skyRecord struct {
	name, source string
	weather      weather.Series
	mark         mark
	note         string
}

func TestMeasuredSkyLongwave(t *testing.T) {
	t.Parallel()
	s := begin(t, "Measured sky longwave", "instruments as named; derived: Prata 1996 with cloud after Crawford and Duchon 1999, cloud by day from the sun, carried through the night",
		"The measured longwave is taken out of the record and derived by weather.Complete from what is left, as for a file that has none. Asked: mean error at most 10 W/m2. \"Cold\" are the hours of the coldest tenth, \"clear night\" hours without sun and measured emissivity below 0.78.")
	for _, r := range []skyRecord{
		alamosaSky(t),
		{"Bondville 1998, year", "NOAA flux site, column 30", bondvilleRecord(t).weather, measured, ""},
		{"Col de Porte 2005-06, October to June", "Morin et al. 2012", snowForcing(t, placeOfSite(colDePorte.site), "met_CdP_0506.txt.gz").weather, measured, "among mountains, whose slopes shine warmer than sky"},
		{"Alptal 2004-05, September to May", "forcing of a snow model intercomparison", snowForcing(t, placeOfSite(alptal.site), "met_Alptal_0405.txt.gz").weather, measured, "in a valley, by a wood"},
		netherlandsSky(t),
		pvgisSky(t),
	} {
		skyRow(t, s, r)
	}
	worst := 0.0
	for _, r := range s.rows {
		var bias float64
		if _, err := fmt.Sscanf(r.computed, "mean error %f", &bias); err == nil && r.counts() && math.Abs(bias) > math.Abs(worst) {
			worst = bias
		}
	}
	s.head("", "derived, five records, a very cold clear day among them", "pyrgeometers", fmt.Sprintf("mean errors, the largest %+.1f W/m2", worst), fmt.Sprintf("%g W/m2", skyBias))
	s.done(t)
}

func skyRow(t *testing.T, s *section, r skyRecord) {
	t.Helper()
	bare := r.weather.Clone()
	for i := range bare.Hours {
		bare.Hours[i].SkyLongwaveWM2 = math.NaN()
	}
	made, err := weather.Complete(bare, weather.Place{})
	if err != nil {
		t.Fatal(err)
	}
	var all, cold, night fit
	limit := coldestTenth(r.weather)
	for i, h := range r.weather.Hours {
		is, was := made.Hours[i].SkyLongwaveWM2, h.SkyLongwaveWM2
		all.add(is, was)
		if h.AirC <= limit {
			cold.add(is, was)
		}
		if made.Hours[i].GlobalWM2 < 1 && was < 0.78*sun.BlackWM2(h.AirC) {
			night.add(is, was)
		}
	}
	row := s.add(row{name: r.name, source: r.source, published: fmt.Sprintf("measured, %d hours", all.n),
		computed: fmt.Sprintf("mean error %+.1f, RMSE %.1f W/m2", all.bias(), all.rmse()), allowed: fmt.Sprintf("mean error ±%g W/m2", skyBias), mark: r.mark, met: math.Abs(all.bias()) <= skyBias,
		note: fmt.Sprintf("cold hours %+.1f; clear nights %+.1f W/m2 (%d h)", cold.bias(), night.bias(), night.n)})
	if r.note != "" {
		row.note += "; " + r.note
	}
	if !row.met {
		row.missed = skyWhy[r.name]
	}
}

// skyWhy is why a record is missed, looked for after the run.
var skyWhy = map[string]string{}

// coldestTenth is the air below which a tenth of the hours lie [°C].
func coldestTenth(s weather.Series) float64 {
	low, high := -60.0, 40.0
	for range 40 {
		middle, n := (low+high)/2, 0
		for _, h := range s.Hours {
			if h.AirC <= middle {
				n++
			}
		}
		if n*10 < len(s.Hours) {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// alamosaSky is the very cold clear day, minutes made hours.
func alamosaSky(t *testing.T) skyRecord {
	rows := lines(t, 0, "weather", "surfrad_alamosa_slv16001_1min.dat.gz")[2:]
	s := blank(time.Date(2016, 1, 1, 0, 0, 0, 0, zone(0)), 24, weather.KnownPlace(37.70, -105.92, 2317))
	for i := range s.Hours {
		var sums [4]float64
		var last []string
		for _, last = range rows[60*i : 60*i+60] {
			for k, column := range []int{8, 12, 14, 16} {
				sums[k] += value(t, last[column], -900) / 60
			}
		}
		h := &s.Hours[i]
		h.GlobalWM2, h.BeamWM2, h.DiffuseWM2, h.SkyLongwaveWM2 = max(0, sums[0]), max(0, sums[1]), max(0, sums[2]), sums[3]
		h.AirC, h.PressurePa = value(t, last[38], -900), 100*value(t, last[46], -900)
		h.DewPointC = min(h.AirC, dewPoint(h.AirC, value(t, last[40], -900)))
	}
	return skyRecord{"Alamosa, 1 January 2016, very cold and clear", "NOAA SURFRAD", s, measured, ""}
}

// netherlandsSky is a mild cloudy winter in steps of five minutes; the instrument reads the sky's longwave less that of the air.
func netherlandsSky(t *testing.T) skyRecord {
	rows := lines(t, ',', "weather", "agc2019_weather_5min.csv.gz")[1:]
	// serial 43815 is 16 December 2019; each row is the state at its stamp. Hours are made of the twelve rows that end with it
	s := blank(time.Date(2019, 12, 16, 0, 0, 0, 0, zone(1)), (len(rows)-1)/12, weather.KnownPlace(52.0, 4.5, 0))
	for i := range s.Hours {
		h := &s.Hours[i]
		global, long, n := 0.0, 0.0, 0.0
		for k := 12*i + 1; k <= 12*i+12; k++ {
			f := rows[k]
			if want := 43815 + float64(k)/288; math.Abs(value(t, f[0], 0)-want) > 0.01 {
				t.Fatalf("row %d has the serial %s, want %.4f", k, f[0], want)
			}
			g, p, a := number0(f[2]), number0(f[4]), number0(f[8])
			if math.IsNaN(g) || math.IsNaN(p) || math.IsNaN(a) {
				continue
			}
			global, long, n = global+g, long+p+sun.BlackWM2(a), n+1
		}
		f := rows[12*i+12]
		if n > 0 {
			h.GlobalWM2, h.SkyLongwaveWM2 = max(0, global/n), long/n
		}
		h.AirC, h.WindMS = number0(f[8]), number0(f[10])
		if i > 0 && math.IsNaN(h.AirC) {
			h.AirC = s.Hours[i-1].AirC
		}
		h.DewPointC = min(h.AirC, dewPoint(h.AirC, min(100, number0(f[7]))))
	}
	return skyRecord{"Netherlands, winter 2019-20, cloudy and mild", "4TU.ResearchData 10.4121/uuid:88d22c60-21b3-4ea8-90db-20249a5be2a7", s, measured, "place and zone from memory; the instrument reads the sky less the air"}
}

// number0 is a number, NaN where there is none.
func number0(text string) float64 {
	var v float64
	if _, err := fmt.Sscanf(text, "%g", &v); err != nil {
		return math.NaN()
	}
	return v
}

func pvgisSky(t *testing.T) skyRecord {
	s, err := weather.Open(reference(t, "weather", "tmy_45.000_8.000_2005_2023.csv.gz"), weather.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return skyRecord{"PVGIS typical year, 45 N 8 E", "European Commission JRC", s, shown, "not counted: a reanalysis, no instrument"}
}
