package weather

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// header reads the lines "# key: value" above the headings.
func (p *plainReader) header() bool {
	place := &p.series.Place
	p.year = nominalYear
	p.series.TypicalYear = false
	known := map[string]bool{}
	for {
		line, ok := p.lines.next()
		if !ok {
			p.add(0, 0, "no line of headings found below the lines that begin with #")
			return false
		}
		if strings.TrimSpace(line) == "" {
			continue
		}
		if !strings.HasPrefix(line, "#") {
			p.headingLine = line
			break
		}
		key, value, found := strings.Cut(line[1:], ":")
		if !found {
			continue // a remark
		}
		column := len(line) - len(strings.TrimLeft(value, " \t")) + 1
		key, value = strings.ToLower(strings.TrimSpace(key)), strings.Trim(value, " \t,;")
		known[key] = true
		switch key {
		case "name":
			p.series.Name = value
		case "latitude":
			place.LatitudeDeg = p.measure(value, column, key, "deg", -90, 90)
		case "longitude":
			place.LongitudeDeg = p.measure(value, column, key, "deg", -180, 180)
		case "elevation":
			place.ElevationM, place.ElevationKnown = p.measure(value, column, key, "m", -450, 6000), true
		case "time zone":
			p.zone = p.readZone(value, column)
		case "stamp":
			p.stampIsStart = p.choice(value, column, key, "end of hour", "start of hour")
		case "typical year":
			p.series.TypicalYear = p.choice(value, column, key, "no", "yes")
		case "year":
			p.year = int(p.measure(value, column, key, "", 1800, 2200))
		default:
			delete(known, key)
		}
	}
	place.PositionKnown = known["latitude"] && known["longitude"]
	if known["latitude"] != known["longitude"] {
		p.add(0, 0, "one of latitude and longitude is given, both or none must be")
	}
	if p.zone == nil {
		p.zone = time.UTC
		if !known["time zone"] {
			p.add(0, 0, "the time zone is not given")
			p.hint("add a line above the headings, like: # time zone: UTC-7")
		}
	}
	return true
}

// measure is a number with its unit, which may be left out.
func (p *plainReader) measure(value string, column int, key, unit string, low, high float64) float64 {
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(value, unit)), 64)
	if err != nil || !(v >= low && v <= high) {
		p.add(p.lines.number, column, "%s is %s, must be %g to %g %s", key, quote(value), low, high, unit)
		return 0
	}
	return v
}

// choice tells whether the value is the second of two.
func (p *plainReader) choice(value string, column int, key, first, second string) bool {
	if value != first && value != second {
		p.add(p.lines.number, column, "%s is %s, must be %q or %q", key, quote(value), first, second)
	}
	return value == second
}

var zonePattern = regexp.MustCompile(`^UTC(?:([+-])(\d{1,2})(?::(\d{2}))?)?$`)

// ParseZone reads a fixed zone like "UTC-7" or "UTC+5:30"; false for anything else.
func ParseZone(text string) (*time.Location, bool) {
	m := zonePattern.FindStringSubmatch(text)
	if m == nil {
		return nil, false
	}
	hours, _ := strconv.Atoi("0" + m[2])
	minutes, _ := strconv.Atoi("0" + m[3])
	offset := time.Duration(hours*60+minutes) * time.Minute
	if m[1] == "-" {
		offset = -offset
	}
	return Zone(offset), offset >= -12*time.Hour && offset <= 14*time.Hour && minutes < 60
}

// readZone reads the zone of the file.
func (p *plainReader) readZone(value string, column int) *time.Location {
	if zone, ok := ParseZone(value); ok {
		return zone
	}
	p.add(p.lines.number, column, "time zone is %s, must be like UTC-7 or UTC+5:30", quote(value))
	p.hint("standard time the whole year, without summer time")
	return nil
}

// headings reads the line of column names and units.
func (p *plainReader) headings() bool {
	if !strings.Contains(p.headingLine, ",") {
		for _, other := range []byte{';', '\t'} {
			if strings.IndexByte(p.headingLine, other) >= 0 {
				p.separator = other
			}
		}
	}
	p.place = map[quantity]int{}
	for _, c := range split(p.headingLine, p.separator, nil) {
		use := p.heading(c)
		if _, twice := p.place[use.q]; twice {
			p.add(p.lines.number, c.column, "column %s is there twice", quote(c.text))
		}
		p.place[use.q] = len(p.columns)
		p.columns = append(p.columns, use)
	}
	p.needed()
	return p.total == 0
}

// heading reads one "name [unit]".
func (p *plainReader) heading(c cell) plainUse {
	name, unit, _ := strings.Cut(c.text, "[")
	name, unit = strings.ToLower(strings.TrimSpace(name)), strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(unit), "]"))
	k := slices.IndexFunc(plainColumns, func(column plainColumn) bool { return column.name == name })
	if k < 0 {
		p.add(p.lines.number, c.column, "column %s is not known", quote(c.text))
		p.hint("known are " + columnNames())
		return plainUse{q: quantities + quantity(len(p.columns))}
	}
	column := plainColumns[k]
	if column.units == nil {
		return plainUse{q: column.q}
	}
	for _, u := range column.units {
		if u.name == unit {
			return plainUse{column.q, u}
		}
	}
	p.add(p.lines.number, c.column, "unit of column %s is %s, must be %s", name, quote(unit), unitNames(column))
	p.hint("write the heading as: " + name + " [" + column.units[0].name + "]")
	return plainUse{q: column.q}
}

// needed holds the set of columns against what a series must have.
func (p *plainReader) needed() {
	has := func(q quantity) bool { _, ok := p.place[q]; return ok }
	line := p.lines.number
	if !has(timeColumn) && !(has(dayColumn) && has(hourColumn)) {
		p.add(line, 0, "no column time, and not both day and hour")
	}
	if !has(airTemperature) {
		p.add(line, 0, "no column air, it must be given")
	}
	if has(ratioColumn) && !has(pressure) && !p.series.Place.ElevationKnown {
		p.add(line, 0, "humidity ratio needs a pressure column or the elevation")
		p.hint("add a line above the headings, like: # elevation: 1609 m")
	}
	if !has(timeColumn) && has(dayColumn) {
		p.series.TypicalYear = p.series.TypicalYear || p.year == nominalYear
	}
}

func columnNames() string {
	names := make([]string, len(plainColumns))
	for i, c := range plainColumns {
		names[i] = c.name
	}
	return strings.Join(names, ", ")
}

func unitNames(c plainColumn) string {
	names := make([]string, len(c.units))
	for i, u := range c.units {
		names[i] = u.name
	}
	return strings.Join(names, " or ")
}
