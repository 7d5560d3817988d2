package weather

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
)

// readJSON reads one of the JSON forms known.
func readJSON(content, name string, options ReadOptions) (Series, error) {
	f := &findings{file: name}
	var top map[string]json.RawMessage
	if err := json.Unmarshal([]byte(content), &top); err != nil {
		f.add(jsonLine(content, err), 0, "is not whole JSON: %v", err)
		return Series{}, f.err()
	}
	_, outputs := top["outputs"]
	_, hourly := top["hourly"]
	_, daily := top["daily"]
	switch {
	case outputs:
		return readPVGISJSON(content, f, options)
	case hourly:
		return readArchive(content, f, options)
	case daily:
		f.add(0, 0, "holds days and no hours")
		f.hint("suncellar weather convert makes hours of them")
	default:
		f.add(1, 0, "the JSON is of no kind known; known are the PVGIS typical year and open archives with hourly values")
	}
	return Series{}, f.err()
}

// jsonLine is the line of an error of syntax, 0 when it tells none.
func jsonLine(content string, err error) int {
	if e, ok := err.(*json.SyntaxError); ok {
		return 1 + strings.Count(content[:min(int(e.Offset), len(content))], "\n")
	}
	return 0
}

// inside is a value within JSON, for errors: the number, and the path to it.
func inside(v float64, format string, args ...any) cell {
	return cell{text: strconv.FormatFloat(v, 'g', -1, 64) + " at " + fmt.Sprintf(format, args...)}
}

// readPVGISJSON reads the JSON form of the typical year of PVGIS, which holds the same as its CSV: see ReadPVGIS.
func readPVGISJSON(content string, f *findings, options ReadOptions) (Series, error) {
	var file struct {
		Inputs struct {
			Location struct {
				Latitude, Longitude, Elevation *float64
				Offset                         float64 `json:"irradiance_time_offset"`
			} `json:"location"`
		} `json:"inputs"`
		Outputs struct {
			Hours []map[string]any `json:"tmy_hourly"`
		} `json:"outputs"`
	}
	if err := json.Unmarshal([]byte(content), &file); err != nil {
		f.add(0, 0, "is no PVGIS typical year: %v", err)
		return Series{}, f.err()
	}
	p := pvgisReader{draft: draft{findings: f}, last: -1, offset: file.Inputs.Location.Offset}
	p.series = emptySeries(time.Time{}, hoursOfYear)
	p.line = make([]int, hoursOfYear)
	where, place := file.Inputs.Location, &p.series.Place
	switch {
	case len(file.Outputs.Hours) == 0:
		p.add(0, 0, "no outputs.tmy_hourly found: only the typical year of PVGIS is read")
	case where.Latitude == nil || where.Longitude == nil || !(math.Abs(*where.Latitude) <= 90 && math.Abs(*where.Longitude) <= 180):
		p.add(0, 0, "inputs.location must have a latitude of -90 to 90 and a longitude of -180 to 180")
	case !(math.Abs(p.offset) <= 1):
		p.add(0, 0, "irradiance time offset is %g, must be -1 to 1", p.offset)
	default:
		place.LatitudeDeg, place.LongitudeDeg, place.PositionKnown = *where.Latitude, *where.Longitude, true
		if e := where.Elevation; e != nil && *e >= -450 && *e <= 6000 {
			place.ElevationM, place.ElevationKnown = *e, true
		}
		p.jsonRows(file.Outputs.Hours)
	}
	if p.total == 0 {
		p.toLocal(options)
	}
	return p.finish()
}

func (p *pvgisReader) jsonRows(rows []map[string]any) {
	for k, row := range rows {
		stamp, _ := row["time(UTC)"].(string)
		i, leap, ok := p.instant(cell{text: stamp})
		if leap || !ok {
			if p.total >= enough {
				return
			}
			continue
		}
		for _, c := range pvgisColumns {
			if v, ok := row[c.heading].(float64); ok {
				p.put(i, c.q, v, 0, inside(v, "tmy_hourly[%d] of %s", k, stamp))
			}
		}
		if v, ok := row["RH"].(float64); ok {
			p.putHumidity(i, v, 0, inside(v, "tmy_hourly[%d] of %s", k, stamp))
		}
	}
}

// archiveTable says which names of an open archive feed which quantity, and the units that are taken. Older answers write some names together.
var archiveTable = []struct {
	names []string
	q     quantity
	units []plainUnit
}{
	{[]string{"temperature_2m"}, airTemperature, archiveTemperature},
	{[]string{"dew_point_2m", "dewpoint_2m"}, dewPoint, archiveTemperature},
	{[]string{"surface_pressure"}, pressure, []plainUnit{{"hPa", 100, 0}}},
	{[]string{"wind_speed_10m", "windspeed_10m"}, wind, []plainUnit{{"km/h", 1 / 3.6, 0}, {"m/s", 1, 0}, {"mp/h", 0.44704, 0}, {"mph", 0.44704, 0}, {"kn", 1852.0 / 3600, 0}}},
	{[]string{"shortwave_radiation"}, global, archiveSun},
	{[]string{"direct_normal_irradiance"}, beam, archiveSun},
	{[]string{"diffuse_radiation"}, diffuse, archiveSun},
	{[]string{"cloud_cover", "cloudcover"}, cloud, []plainUnit{{"%", 0.01, 0}}},
	{[]string{"precipitation"}, rain, []plainUnit{{"mm", 1, 0}, {"inch", 25.4, 0}}},
	{[]string{"snowfall"}, snowfall, []plainUnit{{"cm", 0.01, 0}, {"inch", 0.0254, 0}}},
	{[]string{"snow_depth"}, snowDepth, []plainUnit{{"m", 1, 0}, {"ft", 0.3048, 0}}},
}

var (
	archiveTemperature = []plainUnit{{"°C", 1, 0}, {"°F", 5.0 / 9, -160.0 / 9}}
	archiveSun         = []plainUnit{{"W/m²", 1, 0}}
)

// archiveFile is an answer of an open archive or forecast.
type archiveFile struct {
	Latitude, Longitude, Elevation *float64
	OffsetS                        float64                    `json:"utc_offset_seconds"`
	Units                          map[string]string          `json:"hourly_units"`
	Hourly                         map[string]json.RawMessage `json:"hourly"`
}

type archiveReader struct {
	draft
	file archiveFile
	zone *time.Location
}

// readArchive reads the hourly values of an open archive or forecast in JSON, metric or imperial as its own table of units says.
//
// A stamp is local time at the offset stated, the same all through. Sun, rain and snowfall are those of the hour before the stamp, the rest is of the instant: so stamp = end
// of the hour (from memory, and the sun's middle of the day shows it). Cloud is seen at the end; the hour gets the mean of both ends. null is missing.
func readArchive(content string, f *findings, options ReadOptions) (Series, error) {
	a := archiveReader{draft: draft{findings: f, keepGaps: options.KeepGaps}}
	if err := json.Unmarshal([]byte(content), &a.file); err != nil {
		f.add(0, 0, "is no open archive: %v", err)
		return Series{}, f.err()
	}
	if a.preamble() {
		a.rows()
	}
	if a.total == 0 {
		a.cloudOfHours()
		a.trim()
	}
	return a.finish()
}

func (a *archiveReader) preamble() bool {
	lat, lon, p := a.file.Latitude, a.file.Longitude, &a.series.Place
	a.series.Name = "open archive"
	if lat != nil && lon != nil {
		if !(math.Abs(*lat) <= 90 && math.Abs(*lon) <= 180) {
			a.add(0, 0, "latitude and longitude are %g and %g, must be -90 to 90 and -180 to 180", *lat, *lon)
		}
		p.LatitudeDeg, p.LongitudeDeg, p.PositionKnown = *lat, *lon, true
	}
	if e := a.file.Elevation; e != nil {
		if !(*e >= -450 && *e <= 9000) {
			a.add(0, 0, "elevation is %g, must be -450 to 9000 m", *e)
		}
		p.ElevationM, p.ElevationKnown = *e, true
	}
	offset := a.file.OffsetS
	if !(math.Abs(offset) <= 14*3600) || offset != math.Trunc(offset/60)*60 {
		a.add(0, 0, "utc_offset_seconds is %g, must be whole minutes of at most 14 h", offset)
		return false
	}
	a.zone = Zone(time.Duration(offset) * time.Second)
	return a.total == 0
}

func (a *archiveReader) rows() {
	var times []string
	if err := json.Unmarshal(a.file.Hourly["time"], &times); err != nil {
		a.add(0, 0, "hourly.time is no list of times like 2025-01-31T13:00")
		return
	}
	for k, text := range times {
		t, ok := parseTime(text, a.zone)
		if !ok {
			a.add(0, 0, "hourly.time[%d] is %s, must be like 2025-01-31T13:00", k, quote(text))
		} else if i, ok := a.hourEnding(t, 0, cell{text: text}); ok && i != k {
			a.add(0, 0, "hourly.time[%d] is %s: %d h are missing before it", k, quote(text), i-k)
		}
		if a.total >= enough {
			return
		}
	}
	if a.total > 0 {
		return
	}
	for _, row := range archiveTable {
		if name, values, u, ok := a.column(row.names, row.units, len(times)); ok {
			for i, v := range values {
				if v != nil {
					a.put(i, row.q, *v*u.factor+u.offset, 0, inside(*v, "hourly.%s[%d]", name, i))
				}
			}
		}
	}
	name, values, _, ok := a.column([]string{"relative_humidity_2m", "relativehumidity_2m"}, []plainUnit{{"%", 1, 0}}, len(times))
	for i := range values {
		if ok && values[i] != nil && math.IsNaN(a.series.Hours[i].DewPointC) {
			a.putHumidity(i, *values[i], 0, inside(*values[i], "hourly.%s[%d]", name, i))
		}
	}
}

// column is the first of the names that is there, with its unit; false where none is, or, with a finding, none that can be taken.
func (a *archiveReader) column(names []string, units []plainUnit, n int) (string, []*float64, plainUnit, bool) {
	k := slices.IndexFunc(names, func(name string) bool { return a.file.Hourly[name] != nil })
	if k < 0 {
		return "", nil, plainUnit{}, false
	}
	name := names[k]
	u, ok := unitNamed(units, a.file.Units[name])
	if !ok {
		a.add(0, 0, "unit of hourly.%s is %s, must be %s", name, quote(a.file.Units[name]), unitNames(plainColumn{units: units}))
		return name, nil, u, false
	}
	var values []*float64
	if err := json.Unmarshal(a.file.Hourly[name], &values); err != nil || len(values) != n {
		a.add(0, 0, "hourly.%s must be a list of %d numbers or nulls, as hourly.time has", name, n)
		return name, nil, u, false
	}
	return name, values, u, true
}

// cloudOfHours makes the mean of both ends of what is seen at the ends.
func (d *draft) cloudOfHours() {
	hours := d.series.Hours
	for i := len(hours) - 1; i > 0; i-- {
		if before := hours[i-1].CloudShare; !math.IsNaN(before) {
			hours[i].CloudShare = (hours[i].CloudShare + before) / 2
		}
	}
}
