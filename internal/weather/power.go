package weather

import (
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	moist "suncellar/internal/air"
)

// PowerHeader is what stands above the rows of a CSV of NASA POWER.
type PowerHeader struct {
	Place  Place // the elevation is the mean of the grid cell
	UTC    bool  // else local solar time, in whole hours
	Names  []string
	Units  map[string]string // of each parameter, as written
	Rows   string            // the text below the headings
	Before int               // how many lines stand before Rows
}

const powerBegin, powerEnd = "-BEGIN HEADER-", "-END HEADER-"

func isPower(head string) bool { return strings.HasPrefix(head, powerBegin) }

var (
	powerPlace     = regexp.MustCompile(`(?i)latitude\s+(-?[\d.]+)\s+longitude\s+(-?[\d.]+)`)
	powerElevation = regexp.MustCompile(`(?i)elevation from.*=\s*(-?[\d.]+)\s*met`)
	powerParameter = regexp.MustCompile(`^(\S+)\s.*\(([^()]+)\)\s*$`)
)

// PowerMissing marks a value that is not there.
const PowerMissing = -999

// ParsePower reads the header of a CSV of NASA POWER: place, kind of time, parameters and their units. name stands for the file in errors.
func ParsePower(content, name string) (PowerHeader, error) {
	h := PowerHeader{Units: map[string]string{}, Rows: content}
	f := findings{file: name}
	l := lines{rest: content}
	for {
		line, ok := l.next()
		if !ok {
			f.add(l.number, 0, "no line %s", powerEnd)
			return h, f.err()
		}
		line = strings.TrimSpace(line)
		if line == powerEnd {
			break
		}
		if m := powerPlace.FindStringSubmatch(line); m != nil {
			lat, err1 := strconv.ParseFloat(m[1], 64)
			lon, err2 := strconv.ParseFloat(m[2], 64)
			if err1 != nil || err2 != nil || math.Abs(lat) > 90 || math.Abs(lon) > 180 {
				f.add(l.number, 0, "latitude and longitude are %s and %s, must be -90 to 90 and -180 to 180", quote(m[1]), quote(m[2]))
			}
			h.Place.LatitudeDeg, h.Place.LongitudeDeg, h.Place.PositionKnown = lat, lon, true
		} else if m := powerElevation.FindStringSubmatch(strings.ToLower(line)); m != nil {
			v, err := strconv.ParseFloat(m[1], 64)
			if err != nil || !(v >= -450 && v <= 9000) {
				f.add(l.number, 0, "elevation is %s, must be -450 to 9000 m", quote(m[1]))
			}
			h.Place.ElevationM, h.Place.ElevationKnown = v, true
		} else if strings.HasPrefix(line, "Dates") {
			h.UTC = strings.HasSuffix(line, "in UTC")
			if !h.UTC && !strings.HasSuffix(line, "in LST") {
				f.add(l.number, 0, "time is neither in UTC nor in LST: %s", quote(line))
			}
		} else if m := powerParameter.FindStringSubmatch(line); m != nil {
			h.Units[m[1]] = m[2]
		}
	}
	headings, _ := l.next()
	for _, c := range split(headings, ',', nil) {
		h.Names = append(h.Names, c.text)
	}
	h.Rows, h.Before = l.rest, l.number
	if !h.Place.PositionKnown {
		f.add(1, 0, "latitude and longitude are missing in the header")
	}
	return h, f.err()
}

// Column is where a heading stands, -1 where it is not.
func (h PowerHeader) Column(name string) int {
	for i, n := range h.Names {
		if n == name {
			return i
		}
	}
	return -1
}

var (
	powerSun   = []plainUnit{{"Wh/m^2", 1, 0}, {"W/m^2", 1, 0}, {"MJ/hr", 1 / 0.0036, 0}, {"MJ/m^2/hr", 1 / 0.0036, 0}}
	powerTable = []struct {
		name  string
		q     quantity
		units []plainUnit
	}{
		{"T2M", airTemperature, []plainUnit{{"C", 1, 0}}}, {"T2MDEW", dewPoint, []plainUnit{{"C", 1, 0}}}, {"PS", pressure, []plainUnit{{"kPa", 1000, 0}}},
		{"WS2M", wind, []plainUnit{{"m/s", 1, 0}}}, {"WS10M", wind, []plainUnit{{"m/s", 1, 0}}},
		{"ALLSKY_SFC_SW_DWN", global, powerSun}, {"ALLSKY_SFC_SW_DNI", beam, powerSun}, {"ALLSKY_SFC_SW_DIFF", diffuse, powerSun}, {"ALLSKY_SFC_LW_DWN", skyLongwave, powerSun},
		{"CLOUD_AMT", cloud, []plainUnit{{"%", 0.01, 0}}}, {"PRECTOTCORR", rain, []plainUnit{{"mm/hour", 1, 0}, {"mm/hr", 1, 0}, {"mm", 1, 0}, {"mm/day", 1.0 / 24, 0}}},
		{"SNODP", snowDepth, []plainUnit{{"cm", 0.01, 0}}},
	}
)

// ReadPower reads hourly CSV of NASA POWER. name stands for the file in errors.
//
// A row's hour is the one that begins at its stamp (HR 0 is 00:00 to 01:00), in UTC or in local solar time moved by whole hours from it; the sun's middle of the day
// shows the beginning. Values are means of the hour; states take them as those at its end, half an hour late, since the mean of two of them would blunt the coldest. -999 is
// missing; hours without air at the ends are cut off. The wind at 10 m comes before that at 2 m. The zone is the whole hour nearest the longitude, or the one given.
//
// Source: NASA POWER, hourly API and parameter lists (from memory).
func ReadPower(r io.Reader, name string, options ReadOptions) (Series, error) {
	content, err := text(r, name)
	if err != nil {
		return Series{}, err
	}
	return readPowerHours(content, name, options)
}

func readPowerHours(content, name string, options ReadOptions) (Series, error) {
	header, err := ParsePower(content, name)
	if err != nil {
		return Series{}, err
	}
	p := powerReader{draft: draft{findings: &findings{file: name}, keepGaps: options.KeepGaps}, header: header, lines: lines{rest: header.Rows, number: header.Before}}
	p.series.Name, p.series.Place = "POWER", header.Place
	if p.columns() && p.zones(options) {
		p.rows()
	}
	if p.total == 0 {
		p.trim()
	}
	return p.finish()
}

type powerReader struct {
	draft
	header     PowerHeader
	lines      lines
	cells      []cell
	from, zone *time.Location // of the rows, of the series
	use        []powerUse
	time       [4]int // columns of year, month, day, hour
	humidity   int
	specific   int
}

type powerUse struct {
	column int
	q      quantity
	factor float64
}

// columns finds what is read and holds its units against those that are taken.
func (p *powerReader) columns() bool {
	for k, name := range []string{"YEAR", "MO", "DY", "HR"} {
		if p.time[k] = p.header.Column(name); p.time[k] < 0 {
			p.add(p.lines.number, 0, "no column %s; hours need YEAR, MO, DY and HR", name)
			if name == "HR" {
				p.hint("a file of days is a record, not a year of hours")
			}
			return false
		}
	}
	for _, row := range powerTable {
		if k := p.header.Column(row.name); k >= 0 {
			u, ok := unitNamed(row.units, p.header.Units[row.name])
			if !ok {
				p.add(p.lines.number, 0, "unit of %s is %s, must be %s", row.name, quote(p.header.Units[row.name]), unitNames(plainColumn{units: row.units}))
				continue
			}
			p.use = append(p.use, powerUse{k, row.q, u.factor})
		}
	}
	p.humidity, p.specific = p.header.Column("RH2M"), p.header.Column("QV2M")
	return p.total == 0
}

func (p *powerReader) zones(options ReadOptions) bool {
	var ok bool
	longitude := p.series.Place.LongitudeDeg
	p.from = Zone(time.Duration(math.Round(longitude/15)) * time.Hour)
	if p.header.UTC {
		p.from = time.UTC
	}
	p.zone, ok = p.wholeZone(options, longitude)
	return ok
}

func (p *powerReader) rows() {
	for p.total < enough {
		line, ok := p.lines.next()
		if !ok {
			return
		}
		if strings.TrimSpace(line) == "" {
			continue
		}
		p.cells = split(line, ',', p.cells)
		if len(p.cells) != len(p.header.Names) {
			p.add(p.lines.number, 0, "the row has %d fields, must have %d as the headings have", len(p.cells), len(p.header.Names))
			continue
		}
		if i, ok := p.hour(); ok {
			p.row(i)
		}
	}
}

// hour is the hour of the row at hand.
func (p *powerReader) hour() (int, bool) {
	var part [4]int
	for k := range part {
		c := p.cells[p.time[k]]
		v, err := strconv.ParseFloat(c.text, 64)
		if err != nil || v != math.Trunc(v) || math.Abs(v) > 3000 {
			p.add(p.lines.number, c.column, "%s is %s, must be a whole number", p.header.Names[p.time[k]], quote(c.text))
			return 0, false
		}
		part[k] = int(v)
	}
	begin := time.Date(part[0], time.Month(part[1]), part[2], part[3], 0, 0, 0, p.from)
	c := cell{begin.Format("2006-01-02 15:04"), 1}
	if begin.Year() != part[0] || int(begin.Month()) != part[1] || begin.Day() != part[2] || begin.Hour() != part[3] || part[0] < 1800 {
		p.add(p.lines.number, 1, "%v is no year, month, day and hour", part)
		return 0, false
	}
	return p.hourEnding(begin.Add(time.Hour).In(p.zone), p.lines.number, c)
}

// row stores the values of hour i; of two winds the later in the table counts.
func (p *powerReader) row(i int) {
	for _, u := range p.use {
		if v, c, ok := p.number(u.column); ok {
			p.put(i, u.q, v*u.factor, p.lines.number, c)
		}
	}
	h := &p.series.Hours[i]
	if v, c, ok := p.number(p.humidity); ok && math.IsNaN(h.DewPointC) {
		p.putHumidity(i, v, p.lines.number, c)
	}
	if v, c, ok := p.number(p.specific); ok && math.IsNaN(h.DewPointC) {
		pressurePa := h.PressurePa
		if math.IsNaN(pressurePa) {
			pressurePa = moist.StandardPressure(p.series.Place.ElevationM)
		}
		q := v / 1000
		p.putHumidityRatio(i, q/(1-q), pressurePa, p.lines.number, c)
	}
}

// number is the value of a column; false where there is none, or, with a finding, no number.
func (p *powerReader) number(k int) (float64, cell, bool) {
	if k < 0 {
		return 0, cell{}, false
	}
	c := p.cells[k]
	v, err := strconv.ParseFloat(c.text, 64)
	if err != nil {
		p.add(p.lines.number, c.column, "%s is not a number", quote(c.text))
		return 0, c, false
	}
	return v, c, v != PowerMissing
}
