package weather

import (
	"bytes"
	"compress/gzip"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"suncellar/internal/sun"
)

// reference returns the folder of published data, or skips.
func reference(t testing.TB) string {
	t.Helper()
	folder := os.Getenv("SUNCELLAR_REFERENCE")
	if folder == "" {
		t.Skip("SUNCELLAR_REFERENCE is not set: published weather is not compared")
	}
	return folder
}

func unpacked(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return string(data)
	}
	out, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// yearFigures are lowest, mean and highest air temperature [°C] and the sums of global, beam and diffuse [kWh/m2].
func yearFigures(s Series) [6]float64 {
	f := [6]float64{math.Inf(1), 0, math.Inf(-1)}
	for _, h := range s.Hours {
		f[0], f[2] = math.Min(f[0], h.AirC), math.Max(f[2], h.AirC)
		f[1] += h.AirC / float64(len(s.Hours))
		f[3] += h.GlobalWM2 / 1e3
		f[4] += h.BeamWM2 / 1e3
		f[5] += h.DiffuseWM2 / 1e3
	}
	return f
}

// Yearly figures of the published typical years: NREL/TP-581-43156 files, and the PVGIS year of 45 N 8 E (JRC), as summed
// independently of this package.
func TestTypicalYearsMeetTheirYearlyFigures(t *testing.T) {
	t.Parallel()
	folder := reference(t)
	for _, row := range []struct {
		file string
		want [6]float64
	}{
		{"725650TYA.CSV.gz", [6]float64{-19.4, 10.88, 40.0, 1670, 1978, 556}},
		{"724666TYA.CSV.gz", [6]float64{-25.0, 9.76, 36.0, 1620, 1867, 578}},
		{"724620TYA.CSV.gz", [6]float64{-32.2, 5.27, 30.6, 1956, 2579, 505}},
		{"725645TYA.CSV.gz", [6]float64{-23.0, 6.72, 32.2, 1640, 2072, 524}},
		{"726410TYA.CSV.gz", [6]float64{-33.3, 7.73, 34.4, 1427, 1301, 691}},
		{"726797TYA.CSV.gz", [6]float64{-33.9, 6.18, 38.3, 1462, 1695, 555}},
		{"727450TYA.CSV.gz", [6]float64{-30.6, 4.02, 32.8, 1342, 1408, 596}},
		{"726170TYA.CSV.gz", [6]float64{-27.8, 7.87, 37.2, 1341, 1233, 651}},
		{"702610TYA.CSV.gz", [6]float64{-38.3, -1.43, 30.0, 946, 1142, 467}},
		{"703165TY.csv.gz", [6]float64{-10.6, 4.42, 19.4, 829, 819, 461}},
		{"tmy_45.000_8.000_2005_2023.csv.gz", [6]float64{-2.3, 13.56, 34.3, 1436, 1592, 571}},
	} {
		t.Run(row.file, func(t *testing.T) {
			s, err := Open(filepath.Join(folder, "weather", row.file), ReadOptions{})
			if err != nil {
				t.Fatal(err)
			}
			tolerance := [6]float64{0.051, 0.0051, 0.051, 0.51, 0.51, 0.51} // the figures are rounded so
			for k, got := range yearFigures(s) {
				if math.Abs(got-row.want[k]) > tolerance[k] {
					t.Errorf("figure %d is %.3f, want %.3f", k, got, row.want[k])
				}
			}
			if len(s.Hours) != 8760 || !s.TypicalYear {
				t.Errorf("%d hours, typical year %v", len(s.Hours), s.TypicalYear)
			}
		})
	}
}

// The other published stations read too, and one each of both flavours and of the service completes.
func TestAllStationsRead(t *testing.T) {
	t.Parallel()
	folder := filepath.Join(reference(t), "weather")
	for _, file := range []string{"724677TYA.CSV.gz", "724699TYA.CSV.gz", "725460TYA.CSV.gz", "725510TYA.CSV.gz", "725700TYA.CSV.gz",
		"726580TYA.CSV.gz", "727120TYA.CSV.gz", "727470TYA.CSV.gz", "727530TYA.CSV.gz", "727640TYA.CSV.gz", "727796TYA.CSV.gz"} {
		if _, err := Open(filepath.Join(folder, file), ReadOptions{}); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
	for _, file := range []string{"725650TYA.CSV.gz", "703165TY.csv.gz", "tmy_45.000_8.000_2005_2023.csv.gz"} {
		s, err := Open(filepath.Join(folder, file), ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if s, err = Complete(s, Place{}); err != nil {
			t.Fatal(err)
		}
		allKnown(t, s)
	}
}

// The Denver typical year is mild: its coldest 72 h have -6.8 °C in the mean, so cold spells are not to be judged on it.
func TestColdestOfTheDenverYear(t *testing.T) {
	t.Parallel()
	s, err := Open(filepath.Join(reference(t), "weather", "725650TYA.CSV.gz"), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if _, mean, _ := s.Coldest(72); math.Abs(mean+6.8) > 0.051 {
		t.Errorf("coldest 72 h have %.2f °C, want -6.8", mean)
	}
	winter, err := s.Winter(october, april)
	if err != nil || len(winter.Hours) != 212*24 {
		t.Fatalf("%d hours of winter, %v", len(winter.Hours), err)
	}
}

// allKnown fails when a value other than snow and ground albedo is not known.
func allKnown(t *testing.T, s Series) {
	t.Helper()
	for i := range s.Hours {
		for q := airTemperature; q < snowfall; q++ {
			if math.IsNaN(*s.Hours[i].value(q)) {
				t.Fatalf("%s: %s of hour %d is not known", s.Name, facts[q].name, i)
			}
		}
	}
}

// The Denver year of the standard test for building models becomes a series by a header alone; its lowest, mean and highest air are -24.39, 9.71 and 35.00 °C.
// Its horizontal sum with the sun at mid-hour is 1848.5 kWh/m2 (ISO 52010-1 companion sheet). Here the beam of the hours of sunrise and sunset is met at the middle
// of their lit part, which must add, and no more than a part in 500.
func TestDrycoldYearByHeader(t *testing.T) {
	t.Parallel()
	_, rows, _ := strings.Cut(unpacked(t, filepath.Join(reference(t), "weather", "drycold_hourly.csv")), "\n")
	header := "# name: Denver\n# latitude: 39.76 deg\n# longitude: -104.86 deg\n# elevation: 1609 m\n# time zone: UTC-7\n" +
		"day,hour,air [degC],humidity ratio [g/kg],beam [W/m2],diffuse [W/m2],wind [m/s]\n"
	s, err := ReadPlain(strings.NewReader(header+rows), "drycold.csv")
	if err != nil {
		t.Fatal(err)
	}
	if s, err = Complete(s, Place{}); err != nil {
		t.Fatal(err)
	}
	allKnown(t, s)
	f := yearFigures(s)
	midHour := 0.0
	for i, h := range s.Hours {
		mid := sun.At(s.Place.sun(), s.HourStart(i).Add(30*time.Minute))
		midHour += (h.DiffuseWM2 + h.BeamWM2*math.Max(0, mid.Elevation.Sin())) / 1e3
	}
	for _, row := range []struct {
		what                 string
		got, want, tolerance float64
	}{
		{"lowest", f[0], -24.39, 0.01}, {"mean", f[1], 9.71, 0.005}, {"highest", f[2], 35.0, 0.01},
		{"global with the sun at mid-hour", midHour, 1848.5, 2.8}, // 0.15 %: the sheet places the sun by the day of the year
		{"what the lit part adds to global", f[3] - midHour, 1.9, 1.9},
	} {
		if math.Abs(row.got-row.want) > row.tolerance {
			t.Errorf("%s is %.3f, want %.3f within %g", row.what, row.got, row.want, row.tolerance)
		}
	}
}

// The sky longwave made from the PVGIS year's air, humidity and sun against the longwave it carries. Published spread of single hours of such
// estimates under all skies: about 25 W/m2 (Crawford and Duchon 1999, table 4, from memory).
func TestSkyLongwaveAgainstPVGIS(t *testing.T) {
	t.Parallel()
	s, err := Open(filepath.Join(reference(t), "weather", "tmy_45.000_8.000_2005_2023.csv.gz"), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	without := s.Clone()
	for i := range without.Hours {
		without.Hours[i].SkyLongwaveWM2 = math.NaN()
	}
	made, err := Complete(without, Place{})
	if err != nil {
		t.Fatal(err)
	}
	bias, square := 0.0, 0.0
	for i := range s.Hours {
		d := made.Hours[i].SkyLongwaveWM2 - s.Hours[i].SkyLongwaveWM2
		bias += d / 8760
		square += d * d / 8760
	}
	t.Logf("bias %.1f W/m2, root mean square %.1f W/m2", bias, math.Sqrt(square))
	if math.Abs(bias) > 10 || math.Sqrt(square) > 25 {
		t.Errorf("bias %.1f W/m2, root mean square %.1f W/m2", bias, math.Sqrt(square))
	}
}

// The satellite's instants are mapped onto hours so that the sun stays in step: over clear days the mean of
// what the morning and afternoon get at equal sun is the same, so the centre of the day's beam-on-level is solar noon.
func TestPVGISNoonSymmetry(t *testing.T) {
	t.Parallel()
	s, err := Open(filepath.Join(reference(t), "weather", "tmy_45.000_8.000_2005_2023.csv.gz"), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	suns := sunHours(s)
	misfit := map[int]float64{}
	for shift := -1; shift <= 1; shift++ {
		// root mean square of global less (beam sin h + diffuse): smallest when the clock is right
		for i, h := range s.Hours {
			j := (i + shift + 8760) % 8760
			d := h.GlobalWM2 - h.DiffuseWM2 - h.BeamWM2*math.Max(0, suns[j].Elevation.Sin())
			misfit[shift] += d * d / 8760
		}
		misfit[shift] = math.Sqrt(misfit[shift])
	}
	t.Logf("misfit an hour early, in step, an hour late: %.1f %.1f %.1f W/m2", misfit[-1], misfit[0], misfit[1])
	if !(misfit[0] < 10 && misfit[0] < misfit[-1]/4 && misfit[0] < misfit[1]/4) {
		t.Errorf("misfit an hour early, in step, an hour late: %.1f %.1f %.1f W/m2", misfit[-1], misfit[0], misfit[1])
	}
}

func BenchmarkReadTMY3(b *testing.B) {
	content := unpacked(b, filepath.Join(reference(b), "weather", "725650TYA.CSV.gz"))
	for b.Loop() {
		if _, err := ReadTMY3(strings.NewReader(content), "denver"); err != nil {
			b.Fatal(err)
		}
	}
}

// The degree-day pack against the depth measured at Col de Porte, 1325 m, French Alps, winter 2005-06: Morin et al., Earth System
// Science Data 4:13, 2012. Snowfall is given as mass, here turned to depth by FreshDensity.
func TestPackAgainstColDePorte(t *testing.T) {
	t.Parallel()
	folder := filepath.Join(reference(t), "snow")
	weather := strings.Split(strings.TrimSpace(unpacked(t, filepath.Join(folder, "met_CdP_0506.txt.gz"))), "\n")
	s := emptySeries(time.Date(2005, 10, 1, 0, 0, 0, 0, Zone(time.Hour)), len(weather))
	for i, line := range weather {
		f := numbers(t, line)
		h := &s.Hours[i]
		h.AirC = f[8] - kelvin
		h.SnowfallM = f[6] * 3600 / FreshDensity(h.AirC)
	}
	s = s.WithPack(GroundUnderSnow{})
	var days, bias, square, white, measured, made float64
	for d, line := range strings.Split(strings.TrimSpace(unpacked(t, filepath.Join(folder, "obs_CdP_0506.txt"))), "\n") {
		f := numbers(t, line)
		albedo, depth, i := f[3], f[5], d*24+11
		if i >= len(s.Hours) || depth < 0 {
			continue
		}
		e := s.Hours[i].SnowDepthM - depth
		days, bias, square = days+1, bias+e, square+e*e
		if albedo > 0 && depth > 0.1 && s.Hours[i].SnowDepthM > 0.1 {
			white, measured, made = white+1, measured+albedo, made+s.Hours[i].GroundAlbedo
		}
	}
	t.Logf("%g days: depth bias %.3f m, root mean square %.3f m; albedo measured %.2f, made %.2f", days, bias/days, math.Sqrt(square/days), measured/white, made/white)
	near(t, "bias of depth", bias/days, 0, 0.15) // of 1.43 m at the most; rain that freezes in the pack is left out
	near(t, "root mean square of depth", math.Sqrt(square/days), 0, 0.20)
	near(t, "mean albedo under snow", made/white, measured/white, 0.05)
}

// Years made from the normals of a published typical year, its lowest temperature among them, have a coldest 72 h like its own.
func TestMadeYearsHaveTheColdOfTheirPlace(t *testing.T) {
	t.Parallel()
	s, err := Open(filepath.Join(reference(t), "weather", "726170TYA.CSV.gz"), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	n := Normals{MeanC: make([]float64, 12), YearLowestKnown: true, YearLowestC: yearFigures(s)[0]}
	for m, month := range s.Months() {
		n.MeanLowC[m], n.MeanHighC[m], n.MeanC[m] = month.MeanLowC, month.MeanHighC, month.MeanC
		n.DailySunKWhM2[m] = month.GlobalKWhM2 / float64(daysIn[m])
		n.WetDays[m], n.PrecipMM[m] = 12, 75
	}
	_, want, _ := s.Coldest(72)
	for seed := range uint64(2) {
		made, err := Typical(n, s.Place, seed)
		if err != nil {
			t.Fatal(err)
		}
		_, got, _ := made.Coldest(72)
		near(t, "coldest 72 h", got, want, 5)
		near(t, "mean of the year", yearFigures(made)[1], yearFigures(s)[1], 0.1)
	}
}

func numbers(t *testing.T, line string) []float64 {
	t.Helper()
	fields := strings.Fields(line)
	out := make([]float64, len(fields))
	for i, f := range fields {
		out[i] = number(t, f)
	}
	return out
}
