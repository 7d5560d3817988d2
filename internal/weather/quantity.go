package weather

// quantity names one field of an Hour.
type quantity int

// The fields of an Hour, in its order.
const (
	airTemperature quantity = iota
	dewPoint
	pressure
	wind
	global
	beam
	diffuse
	skyLongwave
	cloud
	rain
	snowfall
	snowDepth
	snowDensity
	groundAlbedo
	quantities // how many there are
)

// fact is what the readers have to know about a quantity.
type fact struct {
	name      string  // in words
	unit      string  // of the limits below
	low, high float64 // what a reader takes as possible
	state     bool    // an instantaneous value at the end of the hour
	fillHours int     // longest gap bridged by a straight line [h]
	must      bool    // a longer gap cannot be derived from something else
}

// facts holds one row per quantity. The limits are wider than any station has measured:
// lowest and highest air temperature -89.2 and 56.7 °C, pressure at 5 km to the highest at sea
// level, and the sun no more than 1.1 times the solar constant (cloud edges add, for
// minutes). World Meteorological Organization, Archive of Weather and Climate Extremes.
var facts = [quantities]fact{
	airTemperature: {"air temperature", "°C", -90, 60, true, 3, true},
	dewPoint:       {"dew point", "°C", -110, 60, true, 3, true},
	pressure:       {"pressure", "Pa", 40e3, 110e3, true, 3, true},
	wind:           {"wind", "m/s", 0, 115, true, 3, true},
	global:         {"global sun", "W/m2", -5, 1500, false, 1, true},
	beam:           {"beam sun", "W/m2", -5, 1500, false, 1, false},
	diffuse:        {"diffuse sun", "W/m2", -5, 1200, false, 1, false},
	skyLongwave:    {"sky longwave", "W/m2", 40, 700, false, 3, false},
	cloud:          {"cloud", "share", 0, 1, false, 3, false},
	rain:           {"rain", "mm", 0, 310, false, 0, false},
	snowfall:       {"snowfall", "m", 0, 1, false, 0, false},
	snowDepth:      {"snow depth", "m", 0, 15, true, 0, false},
	snowDensity:    {"snow density", "kg/m3", 0, 917, true, 0, false},
	groundAlbedo:   {"ground albedo", "share", 0, 1, false, 0, false},
}

// value points at the field of h that q names.
func (h *Hour) value(q quantity) *float64 {
	switch q {
	case airTemperature:
		return &h.AirC
	case dewPoint:
		return &h.DewPointC
	case pressure:
		return &h.PressurePa
	case wind:
		return &h.WindMS
	case global:
		return &h.GlobalWM2
	case beam:
		return &h.BeamWM2
	case diffuse:
		return &h.DiffuseWM2
	case skyLongwave:
		return &h.SkyLongwaveWM2
	case cloud:
		return &h.CloudShare
	case rain:
		return &h.RainMM
	case snowfall:
		return &h.SnowfallM
	case snowDepth:
		return &h.SnowDepthM
	case snowDensity:
		return &h.SnowDensityKgM3
	case groundAlbedo:
		return &h.GroundAlbedo
	}
	panic("weather: no such quantity")
}
