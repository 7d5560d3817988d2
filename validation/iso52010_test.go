package validation

import (
	"math"
	"testing"
	"time"

	"suncellar/internal/sun"
)

// perezBins are the coefficients of Perez et al. 1990, table 6, as ISO 52010-1 prints them: upper bound of clearness, F11 F12 F13 F21 F22 F23.
var perezBins = [8][7]float64{
	{1.065, -0.008, 0.588, -0.062, -0.060, 0.072, -0.022}, {1.230, 0.130, 0.683, -0.151, -0.019, 0.066, -0.029},
	{1.500, 0.330, 0.487, -0.221, 0.055, -0.064, -0.026}, {1.950, 0.568, 0.187, -0.295, 0.109, -0.152, -0.014},
	{2.800, 0.873, -0.392, -0.362, 0.226, -0.462, 0.001}, {4.500, 1.132, -1.237, -0.412, 0.288, -0.823, 0.056},
	{6.200, 1.060, -1.600, -0.359, 0.264, -1.127, 0.131}, {math.Inf(1), 0.678, -0.327, -0.250, 0.156, -1.377, 0.251}}

// sheetPlane is the irradiance of a plane as the sheet of ISO 52010-1 reads that standard [W/m²]: clearness from the sun's altitude (Perez has its
// zenith) and 1.014 (1.041), the sun at mid-hour; sun, incidence and geometry are the program's own.
func sheetPlane(p sun.Plane, at sun.Position, day int, beam, diffuse float64) float64 {
	if beam <= 0 && diffuse <= 0 {
		return 0
	}
	altitude, clearness := float64(at.Elevation), 999.0
	if diffuse > 0 {
		k := 1.014 * altitude * altitude * altitude
		clearness = ((diffuse+beam)/diffuse + k) / (1 + k)
	}
	bin := perezBins[0]
	for i := range perezBins {
		if bin = perezBins[i]; clearness < bin[0] {
			break
		}
	}
	degrees := altitude * 180 / math.Pi
	mass := 1 / at.Elevation.Sin()
	if degrees < 10 {
		mass = 1 / (at.Elevation.Sin() + 0.15*math.Pow(math.Max(degrees, 0)+3.885, -1.253))
	}
	brightness := mass * diffuse / (1370 * (1 + 0.033*math.Cos(2*math.Pi/365*float64(day))))
	zenith, tilt := math.Pi/2-altitude, float64(p.Tilt)
	f1 := math.Max(0, bin[1]+bin[2]*brightness+bin[3]*zenith)
	f2 := bin[4] + bin[5]*brightness + bin[6]*zenith
	cos := p.CosIncidence(at)
	round := math.Max(0, cos) / math.Max(math.Cos(85*math.Pi/180), at.Elevation.Sin())
	sky := diffuse * ((1-f1)*(1+math.Cos(tilt))/2 + f1*round + f2*math.Sin(tilt))
	ground := 0.2 * (diffuse + beam*at.Elevation.Sin()) * (1 - math.Cos(tilt)) / 2
	return beam*math.Max(0, cos) + sky + ground
}

// sheetReading holds the sheet, hour by hour, against its own reading of clearness with the program's sun and planes: what then differs is sun and
// geometry alone.
func sheetReading(t *testing.T, s *section, sheet [][]string, name string, p sun.Plane, column int) {
	t.Helper()
	place := sunPlace(39.76, -104.86, 1609)
	start := time.Date(2001, 1, 1, 0, 30, 0, 0, zone(-7))
	var f fit
	for i, r := range sheet {
		at := sun.At(place, start.Add(time.Duration(i)*time.Hour))
		if is, was := sheetPlane(p, at, i/24+1, number(t, r[3]), number(t, r[4])), number(t, r[column]); is > 0 || was > 0 {
			f.add(is, was)
		}
	}
	row := s.worst(seen, "ISO 52010-1 sheet, hour by hour, its reading of clearness with the program's sun and planes, "+name+": RMS", f.n, f.rmse(), 5, " W/m2")
	row.source, row.note = "companion sheet of ISO 52010-1", "mean "+short(f.bias())+" W/m2"
}
