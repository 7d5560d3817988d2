package weather

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"
)

// ReadOptions are the choices a file leaves open. The zero value is sound.
type ReadOptions struct {
	// UTCOffset is the zone of the series read from a file in UTC; it counts when ZoneGiven. Otherwise
	// the whole hour nearest the longitude is taken (15° to the hour).
	UTCOffset time.Duration
	ZoneGiven bool
	// KeepGaps leaves gaps in the air too long to be bridged open and tells them, in place of refusing the file: a record of many years
	// has winters without them. Complete refuses hours whose air is not known.
	KeepGaps bool
}

// pvgisColumn says which heading feeds which quantity.
type pvgisColumn struct {
	heading string
	q       quantity
}

var pvgisColumns = []pvgisColumn{
	{"T2m", airTemperature}, {"G(h)", global}, {"Gb(n)", beam}, {"Gd(h)", diffuse}, {"IR(h)", skyLongwave}, {"WS10m", wind}, {"SP", pressure},
}

// ReadPVGIS reads the CSV form of the typical year served by the European Commission's PVGIS. name stands for
// the file in errors.
//
// Its stamps are instants HH:00 UTC. Air, humidity, wind and pressure are taken as those of the instant, which is the
// end of an hour. Sun is that of the instant HH:00 + the file's irradiance time offset (the satellite's minute); between
// those instants it is taken as running straight, and an hour's mean is the mean of that line, so that yearly
// sums stay exactly as served. Sky longwave is treated alike, without the offset. The year is taken
// as a ring: the first local hours come from its last UTC ones. It is dated 2001.
// Source: PVGIS user manual, European Commission JRC, section on the typical meteorological year.
func ReadPVGIS(r io.Reader, name string, options ReadOptions) (Series, error) {
	content, err := text(r, name)
	if err != nil {
		return Series{}, err
	}
	return readPVGIS(content, name, options)
}

func readPVGIS(content, name string, options ReadOptions) (Series, error) {
	p := pvgisReader{draft: draft{findings: &findings{file: name}}, lines: lines{rest: content}, last: -1}
	p.series = emptySeries(time.Time{}, hoursOfYear)
	p.line = make([]int, hoursOfYear)
	if p.preamble() {
		p.rows()
	}
	if p.total == 0 {
		p.toLocal(options)
	}
	return p.finish()
}

type pvgisReader struct {
	draft
	lines    lines
	cells    []cell
	column   [quantities]int
	humidity int
	offset   float64 // of the sun's instants after the full hour [h]
	last     int
}

// preamble reads the place, skips the months chosen and finds the columns.
func (p *pvgisReader) preamble() bool {
	place := &p.series.Place
	seen := map[string]bool{}
	for {
		line, ok := p.lines.next()
		if !ok {
			p.add(p.lines.number, 0, "no line of headings beginning with time(UTC)")
			return false
		}
		if strings.HasPrefix(line, "time(UTC)") {
			p.cells = split(line, ',', p.cells)
			break
		}
		key, value, found := strings.Cut(line, ":")
		if !found {
			continue
		}
		column := len(line) - len(strings.TrimLeft(value, " \t")) + 1
		value = strings.Trim(value, " ,\t")
		switch strings.TrimSpace(key) {
		case "Latitude (decimal degrees)":
			place.LatitudeDeg = p.limited(value, column, "latitude", -90, 90)
			seen["latitude"] = true
		case "Longitude (decimal degrees)":
			place.LongitudeDeg = p.limited(value, column, "longitude", -180, 180)
			seen["longitude"] = true
		case "Elevation (m)":
			place.ElevationM, place.ElevationKnown = p.limited(value, column, "elevation", -450, 6000), true
		case "Irradiance Time Offset (h)":
			p.offset = p.limited(value, column, "irradiance time offset", -1, 1)
		}
	}
	place.PositionKnown = seen["latitude"] && seen["longitude"]
	if !place.PositionKnown {
		p.add(1, 0, "latitude and longitude are missing above the headings")
	}
	for q := range quantities {
		p.column[q] = -1
	}
	for _, c := range pvgisColumns {
		p.column[c.q] = p.heading(c.heading)
	}
	p.humidity = p.heading("RH")
	return p.total == 0
}

func (p *pvgisReader) limited(s string, column int, what string, low, high float64) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || !(v >= low && v <= high) {
		p.add(p.lines.number, column, "%s is %s, must be %g to %g", what, quote(s), low, high)
		return 0
	}
	return v
}

func (p *pvgisReader) heading(name string) int {
	for i, c := range p.cells {
		if c.text == name {
			return i
		}
	}
	return -1
}

// rows reads the instants; at first hour i of the draft holds the instant i:00 UTC of the year.
func (p *pvgisReader) rows() {
	for p.total < enough {
		line, ok := p.lines.next()
		if !ok || line == "" {
			return
		}
		p.cells = split(line, ',', p.cells)
		i, leap, ok := p.instant(p.cells[0])
		if leap || !ok {
			continue
		}
		p.line[i] = p.lines.number
		for _, c := range pvgisColumns {
			if v, ok := p.number(at(p.cells, p.column[c.q])); ok {
				p.put(i, c.q, v, p.lines.number, at(p.cells, p.column[c.q]))
			}
		}
		if c := at(p.cells, p.humidity); p.humidity >= 0 {
			if v, ok := p.number(c); ok {
				p.putHumidity(i, v, p.lines.number, c)
			}
		}
	}
}

// instant is the hour of the year of a stamp like 20180131:1300; leap for one of 29 February.
func (p *pvgisReader) instant(c cell) (i int, leap, ok bool) {
	t, err := time.Parse("20060102:1504", c.text)
	if err != nil || t.Minute() != 0 {
		p.add(p.lines.number, c.column, "time is %s, must be like 20180131:1300", quote(c.text))
		return 0, false, false
	}
	if t.Month() == time.February && t.Day() == 29 {
		return 0, true, true
	}
	i = (dayOfYear(int(t.Month()), t.Day())-1)*24 + t.Hour()
	if i <= p.last {
		p.add(p.lines.number, c.column, "%s does not come after the row before it", c.text)
		return 0, false, false
	}
	p.last = i
	return i, false, true
}

func (p *pvgisReader) number(c cell) (float64, bool) {
	if c.text == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(c.text, 64)
	if err != nil {
		p.add(p.lines.number, c.column, "%s is not a number", quote(c.text))
		return 0, false
	}
	return v, true
}

// toLocal turns the ring of UTC instants into hours of local standard time.
func (p *pvgisReader) toLocal(options ReadOptions) {
	zone := int(math.Round(p.series.Place.LongitudeDeg / 15))
	if options.ZoneGiven {
		if options.UTCOffset%time.Hour != 0 || options.UTCOffset.Abs() > 14*time.Hour {
			p.add(0, 0, "time zone is %s from UTC, must be a whole hour of at most 14 for a file of full UTC hours", options.UTCOffset)
			return
		}
		zone = int(options.UTCOffset / time.Hour)
	}
	s := &p.series
	s.Start = time.Date(nominalYear, 1, 1, 0, 0, 0, 0, Zone(time.Duration(zone)*time.Hour))
	s.Name, s.TypicalYear = fmt.Sprintf("typical year at %.3f, %.3f", s.Place.LatitudeDeg, s.Place.LongitudeDeg), true
	instants, n := s.Hours, len(s.Hours)
	lineOf := p.line
	s.Hours, p.line = make([]Hour, n), make([]int, n)
	sunShares, skyShares := lineShares(p.offset), lineShares(0)
	means := []struct {
		q      quantity
		shares [4]float64
	}{{global, sunShares}, {beam, sunShares}, {diffuse, sunShares}, {skyLongwave, skyShares}}
	for i := range s.Hours {
		end := ((i+1-zone)%n + n) % n // the instant at which hour i ends
		h := instants[end]
		for _, mean := range means {
			*h.value(mean.q) = blend(instants, mean.q, end, mean.shares)
		}
		s.Hours[i], p.line[i] = h, lineOf[end]
	}
	s.note(Dated, "calendar", -1, n, "months of different years, dated %d, moved from UTC to %s", nominalYear, s.Start.Location())
	s.note(Derived, "sun", -1, n, "hourly means of straight lines between instants %.0f min after the full hour", p.offset*60)
}

// lineShares returns what the values at the instants end-2, end-1, end and end+1 h, each later by offset [h, -1 to 1],
// weigh in the mean of a straight line between them over the hour that ends at end.
//
// The mean over the hour of the hat function of width 2 h centred at k+offset.
func lineShares(offset float64) [4]float64 {
	area := func(x float64) float64 { // integral of the hat from -1 to x
		switch {
		case x <= -1:
			return 0
		case x >= 1:
			return 1
		case x < 0:
			return (1 + x) * (1 + x) / 2
		}
		return 1 - (1-x)*(1-x)/2
	}
	var shares [4]float64
	for k := range shares {
		centre := float64(k-2) + offset // relative to end
		shares[k] = area(0-centre) - area(-1-centre)
	}
	return shares
}

// blend is the weighted mean of a quantity round the ring, NaN when a weighted value is not known.
func blend(ring []Hour, q quantity, end int, shares [4]float64) float64 {
	n, sum := len(ring), 0.0
	for k, share := range shares {
		if share > 0 {
			sum += share * *ring[((end+k-2)%n+n)%n].value(q)
		}
	}
	return sum
}
