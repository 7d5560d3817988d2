package weather

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"suncellar/internal/sun"
)

// inventedTMY3 is a whole typical year in the TMY3 format of an invented station: air is day + hour/100, quoted or not.
func inventedTMY3(published bool) string {
	var b strings.Builder
	if published {
		b.WriteString("999999,\"INVENTED, HILL\",XX,-7.0,40.000,-105.000,1500\n")
	} else {
		b.WriteString("999999,INVENTED HILL,XX,-7,40,-105,1500,,,,\n")
	}
	b.WriteString("Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),OpqCld (tenths),Dry-bulb (C),Dew-point (C),RHum (%),Pressure (mbar),Wspd (m/s),Alb (unitless),Lprecip depth (mm),Lprecip quantity (hr)\n")
	start := time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := range 8760 {
		day := start.Add(time.Duration(i) * time.Hour)
		year := 1980 + int(day.Month())*7%20 // months of different years
		date, clock := fmt.Sprintf("%d/%d/%d", day.Month(), day.Day(), year), fmt.Sprintf("%d:00", day.Hour()+1)
		if day.Hour() == 23 {
			clock = "24:00:00"
		}
		if published {
			date, clock = fmt.Sprintf("%02d/%02d/%d", day.Month(), day.Day(), year), fmt.Sprintf("%02d:00", day.Hour()+1)
		}
		global := 0
		if day.Hour() >= 10 && day.Hour() < 14 {
			global = 200
		}
		fmt.Fprintf(&b, "%s,%s,0,%d,0,%d,%d,%.2f,-20,50,840,2.5,0.2,10,1\n", date, clock, global, global, i%11, airOfHour(i))
	}
	return b.String()
}

// airOfHour is the invented air temperature of hour i of a year [°C].
func airOfHour(i int) float64 { return float64(i/24)/10 + float64(i%24)/100 - 10 }

// inventedPVGIS is a whole year in the PVGIS form under a cloudless sky: instants offset [h] after the full hour.
func inventedPVGIS(place Place, offset float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Latitude (decimal degrees): %.3f\r\nLongitude (decimal degrees): %.3f\r\nElevation (m): %.1f\r\nIrradiance Time Offset (h): %.4f\r\n",
		place.LatitudeDeg, place.LongitudeDeg, place.ElevationM, offset)
	b.WriteString("month,year\r\n1,2010\r\n2,2011\r\ntime(UTC),T2m,RH,G(h),Gb(n),Gd(h),IR(h),WS10m,WD10m,SP\r\n")
	start := time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := range 8760 {
		t := start.Add(time.Duration(i) * time.Hour)
		light, global := cloudless(place, t.Add(time.Duration(offset*float64(time.Hour))))
		fmt.Fprintf(&b, "%s,%.2f,80,%.3f,%.3f,%.3f,%d,2,0,98000\r\n", t.Format("20060102:1504"), airOfHour(i), global, light.BeamNormalWM2, light.DiffuseWM2, 250+i%5)
	}
	b.WriteString("\r\nT2m: 2-m air temperature (degree Celsius)\r\n")
	return b.String()
}

func cloudless(place Place, t time.Time) (sun.Light, float64) {
	span := sun.Instant(place.sun(), t)
	light := sun.ClearSky(sun.Haze{LinkeTurbidity: 3, ElevationM: place.ElevationM}, span)
	return light, light.GlobalWM2(span)
}

func gzipped(t testing.TB, s string) string {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write([]byte(s)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// inventedWinter is a complete series of n hours at 40 N 105 W, 1500 m, UTC-7, with a daily wave of air and a cloudless sky.
func inventedWinter(t testing.TB, start time.Time, n int) Series {
	t.Helper()
	s := emptySeries(start, n)
	s.Name, s.Place = "invented", KnownPlace(40, -105, 1500)
	for i, span := range sunHours(s) {
		h := &s.Hours[i]
		h.AirC = -5 + 6*math.Cos(2*math.Pi*float64(i+1-15)/24)
		light := sun.ClearSky(sun.Haze{LinkeTurbidity: 3, ElevationM: 1500}, span)
		h.BeamWM2, h.DiffuseWM2, h.GlobalWM2 = light.BeamNormalWM2, light.DiffuseWM2, light.GlobalWM2(span)
	}
	s, err := Complete(s, Place{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var mountain = Zone(-7 * time.Hour)
