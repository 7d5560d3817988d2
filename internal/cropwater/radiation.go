package cropwater

import "math"

// declination of the sun on a day of the year, and the inverse relative distance from it. Source: FAO paper 56, eq. 23, 24.
func declination(day int) (angle, near float64) {
	turn := 2 * math.Pi * float64(day) / 365
	return 0.409 * math.Sin(turn-1.39), 1 + 0.033*math.Cos(turn)
}

// sunset is the hour angle at which the sun sets on a level horizon: arccos(-tan latitude tan declination), 0 where it does not rise and pi where it does
// not set. Source: FAO paper 56, eq. 25.
func sunset(latitude Angle, decl float64) float64 {
	return math.Acos(math.Max(-1, math.Min(1, -math.Tan(float64(latitude))*math.Tan(decl))))
}

// ExtraterrestrialMJ is what falls on a level plane outside the air on a day of the year, 1 to 366 [MJ/m²].
// Source: FAO paper 56, eq. 21.
func ExtraterrestrialMJ(latitude Angle, day int) float64 {
	decl, near := declination(day)
	ws, lat := sunset(latitude, decl), float64(latitude)
	return 24 * 60 / math.Pi * solarMJMin * near * (ws*math.Sin(lat)*math.Sin(decl) + math.Cos(lat)*math.Cos(decl)*math.Sin(ws))
}

// DaylightH is how long the sun is up on a day [h]: 24/pi times the hour angle of its setting. Source: FAO paper 56, eq. 34.
func DaylightH(latitude Angle, day int) float64 {
	decl, _ := declination(day)
	return 24 / math.Pi * sunset(latitude, decl)
}

// Clock is where the standard time of a clock stands to the sun. Longitudes are positive to the east.
type Clock struct {
	Longitude Angle
	Zone      Angle // longitude of the middle of the time zone
}

// ExtraterrestrialHourMJ is what falls on a level plane outside the air in an hour about the middle of the hour of the clock [MJ/m²], not below 0.
// Source: FAO paper 56, eq. 28 to 33; the paper counts longitudes to the west.
func ExtraterrestrialHourMJ(latitude Angle, c Clock, day int, middleH float64) float64 {
	decl, near := declination(day)
	b := 2 * math.Pi * float64(day-81) / 364 // eq. 33
	equation := 0.1645*math.Sin(2*b) - 0.1255*math.Cos(b) - 0.025*math.Sin(b)
	w := math.Pi / 12 * (middleH + float64(c.Longitude-c.Zone)*12/math.Pi + equation - 12) // eq. 31
	ws := sunset(latitude, decl)
	from, to := math.Max(-ws, w-math.Pi/24), math.Min(ws, w+math.Pi/24)
	if to <= from {
		return 0
	}
	lat := float64(latitude)
	return 12 * 60 / math.Pi * solarMJMin * near * ((to-from)*math.Sin(lat)*math.Sin(decl) + math.Cos(lat)*math.Cos(decl)*(math.Sin(to)-math.Sin(from)))
}

// SolarOfSunshineMJ is the sun on level ground by the hours in which it shone: (0.25 + 0.50 n/N) Ra. Source: FAO paper 56, eq. 35.
func SolarOfSunshineMJ(sunH, daylightH, extraterrestrialMJ float64) float64 {
	return (0.25 + 0.50*sunH/daylightH) * extraterrestrialMJ
}

// SolarOfTemperaturesMJ is the same by the day's range of temperature: k √(Tmax - Tmin) Ra, k 0.16 inland and 0.19 at coasts.
// Source: FAO paper 56, eq. 50.
func SolarOfTemperaturesMJ(k, highC, lowC, extraterrestrialMJ float64) float64 {
	return k * math.Sqrt(highC-lowC) * extraterrestrialMJ
}

// ClearSkyMJ is the sun on level ground under a clear sky: (0.75 + 0.00002 z) Ra. Source: FAO paper 56, eq. 37.
func ClearSkyMJ(elevationM, extraterrestrialMJ float64) float64 {
	return (0.75 + 2e-5*elevationM) * extraterrestrialMJ
}

// NetSolarMJ is what the reference keeps of the sun: 0.77 Rs. Source: FAO paper 56, eq. 38.
func NetSolarMJ(solarMJ float64) float64 { return (1 - albedo) * solarMJ }

// NetLongwaveMJ is what the reference loses to the sky in a day [MJ/m²], from its highest and lowest temperature, vapour, and the sun as a share of that
// under a clear sky, at most 1:
//
//	sigma (Tmax⁴ + Tmin⁴)/2 (0.34 - 0.14 √ea)(1.35 Rs/Rso - 0.35)
//
// Source: FAO paper 56, eq. 39.
func NetLongwaveMJ(highC, lowC, vapourKPa, clearShare float64) float64 {
	return stefanMJDay * (fourth(highC) + fourth(lowC)) / 2 * skyShare(vapourKPa, clearShare)
}

// NetLongwaveHourMJ is the same in an hour; by night the share is that of the hours before sunset.
// Source: FAO paper 56, eq. 39 as in chapter 4.
func NetLongwaveHourMJ(celsius, vapourKPa, clearShare float64) float64 {
	return stefanMJHour * fourth(celsius) * skyShare(vapourKPa, clearShare)
}

func skyShare(vapourKPa, clearShare float64) float64 {
	return (0.34 - 0.14*math.Sqrt(vapourKPa)) * (1.35*math.Min(1, clearShare) - 0.35)
}

func fourth(celsius float64) float64 {
	k := celsius + zeroKelvin
	return k * k * k * k
}

// SoilHeatHourMJ is what goes into the soil under the reference in an hour: a tenth of the net radiation by day, half of it by night.
// Source: FAO paper 56, eq. 45, 46.
func SoilHeatHourMJ(netMJ float64, day bool) float64 {
	if day {
		return 0.1 * netMJ
	}
	return 0.5 * netMJ
}
