package weather

import (
	"io"
	"math"
	"strconv"
	"strings"
	"time"
)

func isNSRDB(head string) bool {
	return strings.HasPrefix(head, "Source,") && strings.Contains(head, "\nYear,Month,Day,Hour,Minute,")
}

// nsrdbColumn says which heading feeds which quantity, and the heading of its unit in the first line with the units taken.
type nsrdbColumn struct {
	heading, unitHeading string
	q                    quantity
	units                []plainUnit
}

var (
	celsius    = []plainUnit{{"c", 1, 0}}
	wattPerM2  = []plainUnit{{"w/m2", 1, 0}}
	nsrdbTable = []nsrdbColumn{
		{"Temperature", "Temperature Units", airTemperature, celsius},
		{"Dew Point", "Dew Point Units", dewPoint, celsius},
		{"Pressure", "Pressure Units", pressure, []plainUnit{{"mbar", 100, 0}, {"millibar", 100, 0}}},
		{"Wind Speed", "Wind Speed Units", wind, []plainUnit{{"m/s", 1, 0}, {"meter per second", 1, 0}}},
		{"GHI", "GHI Units", global, wattPerM2},
		{"DNI", "DNI Units", beam, wattPerM2},
		{"DHI", "DHI Units", diffuse, wattPerM2},
		{"Surface Albedo", "", groundAlbedo, nil},
	}
)

// ReadNSRDB reads the CSV of the National Solar Radiation Database (PSM), 5 to 60 minutes, columns in any order. name stands for the file in errors.
//
// Its stamps are instants in the zone the file states: the zenith angles beside them are those of the stamp itself. Between instants values run straight: states are those at
// the end of the hour, sun and albedo the mean of the line over it. Rows with a fill flag are kept and counted. -9999 is missing. Cloud is a type of cloud and no share; it is not read.
//
// Source: Sengupta et al. 2018.
func ReadNSRDB(r io.Reader, name string, options ReadOptions) (Series, error) {
	content, err := text(r, name)
	if err != nil {
		return Series{}, err
	}
	return readNSRDB(content, name, options)
}

func readNSRDB(content, name string, options ReadOptions) (Series, error) {
	n := nsrdbReader{draft: draft{findings: &findings{file: name}, keepGaps: options.KeepGaps}, lines: lines{rest: content}}
	n.series.Name = name
	if n.preamble() {
		n.rows()
	}
	if n.total == 0 {
		n.ofInstants(n.list, n.step(), n.zone)
		if n.flagged > 0 {
			n.series.note(Flagged, "sun", -1, n.flagged*int(n.step()/time.Minute)/60, "%d of %d rows have a fill flag: filled by the database", n.flagged, len(n.list))
		}
	}
	return n.finish()
}

type nsrdbReader struct {
	draft
	lines   lines
	cells   []cell
	column  map[string]int
	unit    [quantities]plainUnit
	zone    *time.Location
	list    []instant
	flagged int
}

// preamble reads place, zone and units from the first two lines and the columns from the third.
func (n *nsrdbReader) preamble() bool {
	names, _ := n.lines.next()
	values, _ := n.lines.next()
	valueLine := n.lines.number
	headings, ok := n.lines.next()
	if !ok {
		n.add(n.lines.number, 0, "must begin with two lines about the place and one of headings")
		return false
	}
	about := map[string]cell{}
	cells := split(values, ',', nil)
	for i, c := range split(names, ',', nil) {
		about[c.text] = at(cells, i)
	}
	number := func(key string, low, high float64) float64 {
		c := about[key]
		v, err := strconv.ParseFloat(c.text, 64)
		if err != nil || !(v >= low && v <= high) {
			n.add(valueLine, c.column, "%s is %s, must be %g to %g", strings.ToLower(key), quote(c.text), low, high)
		}
		return v
	}
	n.series.Place = KnownPlace(number("Latitude", -90, 90), number("Longitude", -180, 180), number("Elevation", -450, 6000))
	n.zone = Zone(time.Duration(number("Time Zone", -12, 14) * float64(time.Hour)))
	n.series.Name = strings.TrimSpace(about["Source"].text + " " + about["Location ID"].text)
	n.column = map[string]int{}
	for i, c := range split(headings, ',', nil) {
		if _, twice := n.column[c.text]; !twice {
			n.column[c.text] = i
		}
	}
	n.units(about, valueLine)
	return n.total == 0
}

// units holds the units of the file against those that are taken.
func (n *nsrdbReader) units(about map[string]cell, line int) {
	for _, column := range nsrdbTable {
		n.unit[column.q] = plainUnit{"", 1, 0}
		c, told := about[column.unitHeading]
		if _, there := n.column[column.heading]; !there || !told {
			if column.q == pressure {
				n.unit[column.q].factor = 100
			}
			continue
		}
		if u, ok := unitNamed(column.units, c.text); ok {
			n.unit[column.q] = u
			continue
		}
		n.add(line, c.column, "unit of %s is %s, must be %s", column.heading, quote(c.text), unitNames(plainColumn{units: column.units}))
	}
}

// unitNamed finds a unit by its name, whatever its letters' case.
func unitNamed(units []plainUnit, name string) (plainUnit, bool) {
	for _, u := range units {
		if strings.EqualFold(u.name, name) {
			return u, true
		}
	}
	return plainUnit{}, false
}

func (n *nsrdbReader) rows() {
	for n.total < enough {
		line, ok := n.lines.next()
		if !ok {
			return
		}
		if strings.Trim(line, ", ") == "" {
			continue
		}
		n.cells = split(line, ',', n.cells)
		if t, ok := n.stamp(); ok {
			n.row(t)
		}
	}
}

// stamp is the instant of the row at hand, which must come after the one before.
func (n *nsrdbReader) stamp() (time.Time, bool) {
	var part [5]int
	for k, name := range []string{"Year", "Month", "Day", "Hour", "Minute"} {
		c := at(n.cells, n.column[name])
		v, err := strconv.Atoi(c.text)
		if err != nil {
			n.add(n.lines.number, c.column, "%s is %s, must be a whole number", strings.ToLower(name), quote(c.text))
			return time.Time{}, false
		}
		part[k] = v
	}
	t := time.Date(part[0], time.Month(part[1]), part[2], part[3], part[4], 0, 0, n.zone)
	if t.Year() != part[0] || int(t.Month()) != part[1] || t.Day() != part[2] || t.Hour() != part[3] || t.Minute() != part[4] || part[0] < 1800 || part[0] > 2200 {
		n.add(n.lines.number, 1, "%v is no instant of the years 1800 to 2200", part)
		return t, false
	}
	if k := len(n.list); k > 0 {
		if since := t.Sub(n.list[k-1].at); since <= 0 || since > longestJump*time.Hour {
			n.add(n.lines.number, 1, "%s does not follow the row before it, of %s", stamp(t), stamp(n.list[k-1].at))
			return t, false
		}
	}
	return t, true
}

// row keeps the values of an instant.
func (n *nsrdbReader) row(t time.Time) {
	now := instant{t, n.lines.number, unknownHour()}
	for _, column := range nsrdbTable {
		if v, c, ok := n.number(column.heading); ok {
			if v, ok = n.possible(column.q, v*n.unit[column.q].factor, n.lines.number, c); ok {
				*now.now.value(column.q) = v
			}
		}
	}
	if math.IsNaN(now.now.DewPointC) {
		if v, c, ok := n.number("Relative Humidity"); ok {
			if dew, ok := n.dewOf(v, now.now.AirC, n.lines.number, c); ok {
				now.now.DewPointC = dew
			}
		}
	}
	if v, _, ok := n.number("Fill Flag"); ok && v != 0 {
		n.flagged++
	}
	n.list = append(n.list, now)
}

// number is the value under a heading; false where there is none, or, with a finding, no number.
func (n *nsrdbReader) number(heading string) (float64, cell, bool) {
	k, there := n.column[heading]
	if !there {
		return 0, cell{}, false
	}
	c := at(n.cells, k)
	if c.text == "" {
		return 0, c, false
	}
	v, err := strconv.ParseFloat(c.text, 64)
	if err != nil {
		n.add(n.lines.number, c.column, "%s is not a number", quote(c.text))
		return 0, c, false
	}
	return v, c, v > -9000
}

// step is the time from row to row, the shortest there is, an hour where there is one row.
func (n *nsrdbReader) step() time.Duration {
	shortest := time.Hour
	for k := 1; k < len(n.list); k++ {
		shortest = min(shortest, n.list[k].at.Sub(n.list[k-1].at))
	}
	return shortest
}
