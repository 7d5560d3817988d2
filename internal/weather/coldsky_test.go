package weather

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A very cold clear day measured by the minute at Alamosa, Colorado, 37.70 N 105.92 W, 2317 m, 1 January 2016 (NOAA SURFRAD): the sky longwave completed
// from air, humidity and sun against the pyrgeometer. A sky taken too warm hides frost, so the bias is held on that side more tightly.
func TestSkyOfAVeryColdDay(t *testing.T) {
	t.Parallel()
	minutes := strings.Split(strings.TrimSpace(unpacked(t, filepath.Join(reference(t), "weather", "surfrad_alamosa_slv16001_1min.dat.gz"))), "\n")[2:]
	var table strings.Builder
	table.WriteString("# latitude: 37.70 deg\n# longitude: -105.92 deg\n# elevation: 2317 m\n# time zone: UTC+0\n" +
		"time,air [degC],humidity [%],global [W/m2],beam [W/m2],diffuse [W/m2],pressure [hPa]\n")
	var measured []float64
	for hour := range 24 {
		var sums [4]float64 // global, beam, diffuse, longwave
		var last []float64
		for _, line := range minutes[hour*60 : hour*60+60] {
			last = numbers(t, line)
			for k, column := range []int{8, 12, 14, 16} {
				sums[k] += last[column] / 60
			}
		}
		measured = append(measured, sums[3])
		end := time.Date(2016, 1, 1, hour+1, 0, 0, 0, time.UTC)
		fmt.Fprintf(&table, "%s,%g,%g,%.2f,%.2f,%.2f,%g\n", end.Format("2006-01-02 15:04"), last[38], last[40],
			math.Max(0, sums[0]), math.Max(0, sums[1]), math.Max(0, sums[2]), last[46])
	}
	s, err := Read(strings.NewReader(table.String()), "alamosa", ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if s, err = Complete(s, Place{}); err != nil {
		t.Fatal(err)
	}
	bias, worst := 0.0, 0.0
	for i, h := range s.Hours {
		if h.AirC < -20 && h.SkyLongwaveWM2 > measured[i]+2 {
			t.Errorf("hour %d at %.1f °C: sky %.0f W/m2 made, %.0f measured", i, h.AirC, h.SkyLongwaveWM2, measured[i])
		}
		bias += (h.SkyLongwaveWM2 - measured[i]) / 24
		worst = math.Max(worst, math.Abs(h.SkyLongwaveWM2-measured[i]))
	}
	t.Logf("bias %.1f W/m2, worst hour %.1f", bias, worst)
	near(t, "bias", bias, 0, 5)
	near(t, "worst hour", worst, 0, 35) // two night hours with passing cloud, which no sun tells of
}
