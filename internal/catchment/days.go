package catchment

import (
	"math"
	"time"

	"suncellar/internal/weather"
)

// Day is the rain of one day.
type Day struct {
	Month  time.Month
	Day    int     // of the month
	RainMM float64 // that falls as rain [mm]
	SnowMM float64 // that falls as snow, its water [mm]
	MeltKD float64 // mean of the air above 0 °C over the day [K d]
}

// warmestSnowC is the air below which what falls is snow [°C]; about half of it is at +1. Source: US Army Corps of Engineers, Snow Hydrology, 1956.
const warmestSnowC = 1.0

// Fall puts what falls in a mean air into rain or snow.
func (d *Day) Fall(mm, airC float64) {
	if airC < warmestSnowC {
		d.SnowMM += mm
	} else {
		d.RainMM += mm
	}
}

// Hour adds an hour. What falls in it counts as nothing where it is not known.
func (d *Day) Hour(h weather.Hour) {
	if !math.IsNaN(h.RainMM) {
		d.Fall(h.RainMM, h.AirC)
	}
	if h.AirC > 0 {
		d.MeltKD += h.AirC / 24
	}
}

// Days sums the hours of each whole day. What is not known counts as nothing; unknown is how many days lack it.
func Days(s *weather.Series) (list []Day, unknown int) {
	for i := range s.Hours {
		at := s.HourStart(i)
		if at.Hour() == 0 || len(list) == 0 {
			if len(s.Hours)-i < 24 {
				break
			}
			list = append(list, Day{Month: at.Month(), Day: at.Day()})
		}
		d, h := &list[len(list)-1], s.Hours[i]
		if math.IsNaN(h.RainMM) && at.Hour() == 12 {
			unknown++
		}
		d.Hour(h)
	}
	return list, unknown
}
