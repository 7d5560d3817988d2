package record

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"suncellar/internal/weather"
)

var (
	archiveAir   = []unit{{"°C", 1, 0}, {"°F", 5.0 / 9, -160.0 / 9}}
	archiveTable = []struct {
		name  string
		q     quantity
		units []unit
	}{
		{"temperature_2m_min", low, archiveAir}, {"temperature_2m_max", high, archiveAir}, {"dew_point_2m_mean", dew, archiveAir},
		{"shortwave_radiation_sum", sunSum, []unit{{"MJ/m²", 1 / 0.0036, 0}}},
		{"precipitation_sum", rain, []unit{{"mm", 1, 0}, {"inch", 25.4, 0}}},
		{"snowfall_sum", freshSnow, []unit{{"cm", 0.01, 0}, {"inch", 0.0254, 0}}},
		{"wind_speed_10m_mean", wind, []unit{{"km/h", 1 / 3.6, 0}, {"m/s", 1, 0}, {"mp/h", 0.44704, 0}, {"mph", 0.44704, 0}, {"kn", 1852.0 / 3600, 0}}},
	}
)

// archiveFile is the days of an answer of an open archive.
type archiveFile struct {
	Latitude, Longitude, Elevation *float64
	OffsetS                        float64                    `json:"utc_offset_seconds"`
	Units                          map[string]string          `json:"daily_units"`
	Daily                          map[string]json.RawMessage `json:"daily"`
	Hourly                         json.RawMessage            `json:"hourly"`
}

// archiveDays is the file where the text is one with days and no hours.
func archiveDays(content string) (archiveFile, bool) {
	var file archiveFile
	if !strings.HasPrefix(strings.TrimSpace(content[:min(len(content), headBytes)]), "{") {
		return file, false
	}
	err := json.Unmarshal([]byte(content), &file)
	return file, err == nil && file.Daily != nil && file.Hourly == nil
}

// readArchive reads the daily values of an open archive in JSON, metric or imperial as its own table of units says; null is missing. Days are local ones at the
// offset the file states, which is the zone of the record unless another is given.
func readArchive(file archiveFile, d *draft) {
	d.name = "open archive"
	if a, b := file.Latitude, file.Longitude; a != nil && b != nil {
		if !(math.Abs(*a) <= 90 && math.Abs(*b) <= 180) {
			d.add(0, 0, "latitude and longitude are %g and %g, must be -90 to 90 and -180 to 180", *a, *b)
		}
		d.place = weather.Place{LatitudeDeg: *a, LongitudeDeg: *b, PositionKnown: true}
	}
	if e := file.Elevation; e != nil {
		if !(*e >= -450 && *e <= 9000) {
			d.add(0, 0, "elevation is %g, must be -450 to 9000 m", *e)
		}
		d.place.ElevationM, d.place.ElevationKnown = *e, true
	}
	if !(math.Abs(file.OffsetS) <= 14*3600) || file.OffsetS != math.Trunc(file.OffsetS/60)*60 {
		d.add(0, 0, "utc_offset_seconds is %g, must be whole minutes of at most 14 h", file.OffsetS)
	} else if !d.options.ZoneGiven {
		d.options.ZoneGiven, d.options.UTCOffset = true, time.Duration(file.OffsetS)*time.Second
	}
	index, ok := d.archiveDates(file.Daily["time"])
	if !ok || d.total > 0 {
		return
	}
	for _, row := range archiveTable {
		raw := file.Daily[row.name]
		if raw == nil {
			continue
		}
		u, ok := unitNamed(row.units, file.Units[row.name])
		if !ok {
			d.add(0, 0, "unit of daily.%s is %s, must be %s", row.name, quote(file.Units[row.name]), unitNames(row.units))
			continue
		}
		var values []*float64
		if err := json.Unmarshal(raw, &values); err != nil || len(values) != len(index) {
			d.add(0, 0, "daily.%s must be a list of %d numbers or nulls, as daily.time has", row.name, len(index))
			continue
		}
		for k, v := range values {
			if v != nil {
				d.put(index[k], row.q, *v*u.factor+u.offset, 0, cell{text: fmt.Sprintf("%s at daily.%s[%d]", strconv.FormatFloat(*v, 'g', -1, 64), row.name, k)})
			}
		}
	}
}

// archiveDates enters the days and gives where each is.
func (d *draft) archiveDates(raw json.RawMessage) ([]int, bool) {
	var times []string
	if err := json.Unmarshal(raw, &times); err != nil {
		d.add(0, 0, "daily.time is no list of dates like 2025-01-31")
		return nil, false
	}
	var index []int
	for _, text := range times {
		c := cell{text: text}
		t, ok := d.compactDate(0, c)
		if !ok {
			continue
		}
		if i, ok := d.next(t, 0, c); ok {
			index = append(index, i)
		}
		if d.full() {
			return nil, false
		}
	}
	return index, d.total == 0
}
