package weather

import (
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	moist "suncellar/internal/air"
)

// plainColumn is one kind of column of the plain format: its name, what it feeds and its units.
type plainColumn struct {
	name  string
	q     quantity
	units []plainUnit // the first is the one written
}

// plainUnit turns a number into the unit of facts: value*factor + offset.
type plainUnit struct {
	name           string
	factor, offset float64
}

// Columns of the plain format that are no quantity of an Hour.
const (
	timeColumn quantity = -1 - iota
	dayColumn
	hourColumn
	humidityColumn
	ratioColumn
)

// plainColumns is the whole vocabulary of the plain format.
var plainColumns = []plainColumn{
	{"time", timeColumn, nil},
	{"day", dayColumn, nil},
	{"hour", hourColumn, nil},
	{"air", airTemperature, []plainUnit{{"degC", 1, 0}, {"degF", 5.0 / 9, -160.0 / 9}}},
	{"dew point", dewPoint, []plainUnit{{"degC", 1, 0}, {"degF", 5.0 / 9, -160.0 / 9}}},
	{"humidity", humidityColumn, []plainUnit{{"%", 1, 0}}},
	{"humidity ratio", ratioColumn, []plainUnit{{"g/kg", 1e-3, 0}}},
	{"pressure", pressure, []plainUnit{{"Pa", 1, 0}, {"hPa", 100, 0}}},
	{"wind", wind, []plainUnit{{"m/s", 1, 0}, {"km/h", 1 / 3.6, 0}, {"mph", 0.44704, 0}}},
	{"global", global, []plainUnit{{"W/m2", 1, 0}}},
	{"beam", beam, []plainUnit{{"W/m2", 1, 0}}},
	{"diffuse", diffuse, []plainUnit{{"W/m2", 1, 0}}},
	{"sky longwave", skyLongwave, []plainUnit{{"W/m2", 1, 0}}},
	{"cloud", cloud, []plainUnit{{"%", 0.01, 0}}},
	{"rain", rain, []plainUnit{{"mm", 1, 0}, {"in", 25.4, 0}}},
	{"snowfall", snowfall, []plainUnit{{"cm", 0.01, 0}, {"in", 0.0254, 0}}},
	{"snow depth", snowDepth, []plainUnit{{"cm", 0.01, 0}, {"in", 0.0254, 0}}},
	{"snow density", snowDensity, []plainUnit{{"kg/m3", 1, 0}}},
	{"ground albedo", groundAlbedo, []plainUnit{{"%", 0.01, 0}}},
}

// ReadPlain reads the project's own CSV, described in docs/weather.md: lines "# key: value", one line of
// headings "name [unit]", one line per hour. name stands for the file in errors.
//
// A row's stamp is the end of its hour in the zone stated, or its start when the file says
// "# stamp: start of hour": then sums are over the hour after the stamp and states those at the stamp. Rows closer than an hour (1 to 30 minutes, told by the first
// two) are read alike, each for its own step, and reduced to hours (toHours).
func ReadPlain(r io.Reader, name string) (Series, error) {
	content, err := text(r, name)
	if err != nil {
		return Series{}, err
	}
	return readPlain(content, name, ReadOptions{})
}

func readPlain(content, name string, options ReadOptions) (Series, error) {
	p := plainReader{draft: draft{findings: &findings{file: name}, keepGaps: options.KeepGaps}, lines: lines{rest: content}, separator: ','}
	p.series.Name = name
	if p.header() && p.headings() {
		p.rows()
	}
	if p.total == 0 && p.stampIsStart {
		p.shiftStates()
	}
	if p.total == 0 && p.brief {
		p.toHours(p.step)
	}
	return p.finish()
}

type plainReader struct {
	draft
	lines        lines
	cells        []cell
	separator    byte
	headingLine  string
	zone         *time.Location
	year         int // of day numbers
	stampIsStart bool
	columns      []plainUse
	place        map[quantity]int // column of each quantity
	step         time.Duration    // from row to row
	last         int
}

// plainUse is a column as the file has it.
type plainUse struct {
	q    quantity
	unit plainUnit
}

// rows reads the hours.
func (p *plainReader) rows() {
	p.last, p.step = -1, p.firstStep()
	p.brief = p.step < time.Hour
	for p.total < enough {
		line, ok := p.lines.next()
		if !ok {
			return
		}
		if strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#") {
			continue
		}
		p.cells = split(line, p.separator, p.cells)
		if len(p.cells) != len(p.columns) {
			p.add(p.lines.number, 0, "the row has %d fields, must have %d as the headings have", len(p.cells), len(p.columns))
			continue
		}
		if i, ok := p.slot(); ok {
			p.row(i)
		}
	}
}

// firstStep is the time from the first row to the second where it is a part of an hour, an hour otherwise: then each row is held against that.
func (p *plainReader) firstStep() time.Duration {
	k, given := p.place[timeColumn]
	if !given {
		return time.Hour
	}
	ahead, found := p.lines, [2]time.Time{}
	for n := 0; n < len(found); {
		line, ok := ahead.next()
		if !ok {
			return time.Hour
		}
		if strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if found[n], ok = parseTime(at(split(line, p.separator, nil), k).text, p.zone); !ok {
			return time.Hour
		}
		n++
	}
	if step := found[1].Sub(found[0]); step >= time.Minute && step < time.Hour && time.Hour%step == 0 {
		return step
	}
	return time.Hour
}

// row stores the cells of hour i: quantities first, then the humidity that leans on them.
func (p *plainReader) row(i int) {
	for k, use := range p.columns {
		if use.q < 0 {
			continue
		}
		if v, ok := p.number(k); ok {
			p.put(i, use.q, v, p.lines.number, p.cells[k])
		}
	}
	h := p.series.Hours[i]
	if k, given := p.place[humidityColumn]; given && math.IsNaN(h.DewPointC) {
		if v, ok := p.number(k); ok {
			p.putHumidity(i, v, p.lines.number, p.cells[k])
		}
	}
	if k, given := p.place[ratioColumn]; given && math.IsNaN(h.DewPointC) {
		if v, ok := p.number(k); ok {
			pressurePa := h.PressurePa
			if math.IsNaN(pressurePa) {
				pressurePa = moist.StandardPressure(p.series.Place.ElevationM)
			}
			p.putHumidityRatio(i, v, pressurePa, p.lines.number, p.cells[k])
		}
	}
}

// number is the value of column k in the unit of facts; false when the cell is empty, or, with a finding, no number.
func (p *plainReader) number(k int) (float64, bool) {
	c := p.cells[k]
	if c.text == "" || strings.EqualFold(c.text, "nan") || c.text == "-" {
		return 0, false
	}
	v, err := strconv.ParseFloat(c.text, 64)
	if err != nil {
		p.add(p.lines.number, c.column, "%s is not a number", quote(c.text))
		p.hint("leave a cell empty where the value is missing; a decimal point, not a comma")
		return 0, false
	}
	return v*p.columns[k].unit.factor + p.columns[k].unit.offset, true
}

// longestJump is the most hours between two rows that is taken for a gap [h].
const longestJump = 31 * 24

// slot finds the hour a row stands for, and makes the series longer up to it.
func (p *plainReader) slot() (int, bool) {
	end, c, ok := p.hourEnd()
	if !ok {
		return 0, false
	}
	if len(p.series.Hours) == 0 {
		p.series.Start = end.Add(-p.step)
	}
	since, perHour := end.Sub(p.series.Start), int(time.Hour/p.step)
	if since%p.step != 0 {
		p.add(p.lines.number, c.column, "%s is not a whole number of %s after the first row", quote(c.text), stepName(p.step))
		return 0, false
	}
	i := int(since/p.step) - 1
	if i <= p.last {
		p.add(p.lines.number, c.column, "%s does not come after the row before it", quote(c.text))
		return 0, false
	}
	if i-p.last > longestJump*perHour {
		p.add(p.lines.number, c.column, "%s comes %d h after the row before it; rows must be hourly or closer", quote(c.text), (i-p.last)/perHour)
		return 0, false
	}
	if gap := (i - p.last - 1) / perHour; gap > facts[airTemperature].fillHours && !p.keepGaps {
		p.add(p.lines.number, c.column, "%d h are missing before %s; at most %d h are bridged", gap, quote(c.text), facts[airTemperature].fillHours)
	}
	for len(p.series.Hours) <= i {
		p.series.Hours = append(p.series.Hours, unknownHour())
		p.line = append(p.line, 0)
	}
	p.last, p.line[i] = i, p.lines.number
	return i, true
}

// hourEnd is the end of the hour a row stands for, and the cell it was read from.
func (p *plainReader) hourEnd() (time.Time, cell, bool) {
	var t time.Time
	var c cell
	if k, given := p.place[timeColumn]; given {
		var ok bool
		c = p.cells[k]
		if t, ok = parseTime(c.text, p.zone); !ok {
			p.add(p.lines.number, c.column, "time is %s, must be like 2024-01-31 13:00", quote(c.text))
			return t, c, false
		}
	} else {
		c = p.cells[p.place[dayColumn]]
		day, err1 := strconv.Atoi(c.text)
		hour, err2 := strconv.Atoi(p.cells[p.place[hourColumn]].text)
		if err1 != nil || err2 != nil || day < 1 || day > 366 || hour < 0 || hour > 24 {
			p.add(p.lines.number, c.column, "day and hour are %s and %s, must be whole numbers 1 to 366 and 0 to 24",
				quote(c.text), quote(p.cells[p.place[hourColumn]].text))
			return t, c, false
		}
		t = time.Date(p.year, 1, day, hour, 0, 0, 0, p.zone)
	}
	if p.stampIsStart {
		t = t.Add(p.step)
	}
	return t, c, true
}

// parseTime reads a local time, with T or a blank between date and clock, or one that states its own offset.
func parseTime(s string, zone *time.Location) (time.Time, bool) {
	s = strings.Replace(s, "T", " ", 1)
	nextDay := false
	if date, clock, found := strings.Cut(s, " "); found && (clock == "24:00" || clock == "24:00:00") {
		s, nextDay = date+" 00:00", true
	}
	for _, layout := range []string{"2006-01-02 15:04", "2006-01-02 15:04:05", "2006-01-02 15:04Z07:00", "2006-01-02 15:04:05Z07:00"} {
		if t, err := time.ParseInLocation(layout, s, zone); err == nil && t.Year() >= 1800 && t.Year() <= 2200 {
			if nextDay {
				t = t.AddDate(0, 0, 1)
			}
			return t.In(zone), true
		}
	}
	return time.Time{}, false
}

// shiftStates moves the states of a file stamped at the start of its hours: the state of a row is that of
// the end of the hour before. The last end is held.
func (p *plainReader) shiftStates() {
	hours := p.series.Hours
	for q := range quantities {
		if !facts[q].state {
			continue
		}
		for i := 0; i+1 < len(hours); i++ {
			*hours[i].value(q) = *hours[i+1].value(q)
		}
	}
	p.series.note(Filled, "states", max(0, len(hours)-1), 1, "stamped at the start of the hour; those of the last end are held")
}
