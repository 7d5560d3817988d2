package weather

import (
	"io"
	"math"
	"strconv"
	"strings"
	"time"
)

// nominalYear is the year typical years are dated to: the first of two without a 29 February.
const nominalYear = 2001

// hoursOfYear is a year without 29 February [h].
const hoursOfYear = 8760

// tmy3Column says which heading feeds which quantity and by which factor and offset it becomes SI.
type tmy3Column struct {
	heading string // start of the heading, without the unit
	q       quantity
	factor  float64
}

// tmy3Columns are the columns read. Wilcox & Marion 2008, Users Manual for TMY3 Data Sets, NREL/TP-581-43156, table 1-5.
// The precipitation depth is said to be in mm; yearly sums over the published stations are ten
// times their climate (Duluth 7346 against some 780 mm), so tenths of a millimetre are read.
var tmy3Columns = []tmy3Column{
	{"GHI", global, 1}, {"DNI", beam, 1}, {"DHI", diffuse, 1}, {"OpqCld", cloud, 0.1},
	{"Dry-bulb", airTemperature, 1}, {"Dew-point", dewPoint, 1}, {"Pressure", pressure, 100}, {"Wspd", wind, 1},
	{"Alb", groundAlbedo, 1}, {"Lprecip depth", rain, 0.1},
}

// tmy3Missing is the mark of a missing value.
const tmy3Missing = -9900

// ReadTMY3 reads a typical year in the TMY3 format, as published (quotes, two-digit dates) or
// saved again by a spreadsheet. name stands for the file in errors.
//
// A row's stamp is the end of its hour in local standard time: sun and precipitation are over that
// hour, the states at its end, the sky cover seen at the end (the hour's share is the mean of both
// ends; opaque cover before total, since thin high cloud hardly warms the night). Months come from different years, so rows are placed by month, day and hour and the year
// is dated 2001. Precipitation of more than one hour is spread over its hours; it is not snow.
// Source: Wilcox & Marion 2008, NREL/TP-581-43156.
func ReadTMY3(r io.Reader, name string) (Series, error) {
	content, err := text(r, name)
	if err != nil {
		return Series{}, err
	}
	return readTMY3(content, name)
}

func readTMY3(content, name string) (Series, error) {
	t := tmy3Reader{draft: draft{findings: &findings{file: name}}, lines: lines{rest: content}, last: -1}
	if t.station() && t.headings() {
		t.rows()
	}
	if t.total == 0 {
		t.afterwards()
	}
	return t.finish()
}

type tmy3Reader struct {
	draft
	lines  lines
	cells  []cell
	column [quantities]int // index of the cell, -1 when the file has none
	factor [quantities]float64
	rh     int // index of relative humidity
	span   int // index of the hours the precipitation fell in
	last   int // hour of the year last read
	wet    int // hours with precipitation that was spread or dropped
}

// station reads line 1: code, name, state, zone, latitude, longitude, elevation.
func (t *tmy3Reader) station() bool {
	line, _ := t.lines.next()
	t.cells = split(line, ',', t.cells)
	if len(t.cells) < 7 {
		t.add(1, 0, "the station line has %d fields, must have 7: code, name, state, zone, latitude, longitude, elevation", len(t.cells))
		return false
	}
	zone := t.limited(1, 3, "time zone", -12, 14)
	p := KnownPlace(t.limited(1, 4, "latitude", -90, 90), t.limited(1, 5, "longitude", -180, 180), t.limited(1, 6, "elevation", -450, 6000))
	start := time.Date(nominalYear, 1, 1, 0, 0, 0, 0, Zone(time.Duration(zone*60)*time.Minute))
	t.series = emptySeries(start, hoursOfYear)
	t.series.Name, t.series.Place, t.series.TypicalYear = strings.TrimSpace(t.cells[1].text+" "+t.cells[2].text), p, true
	t.line = make([]int, hoursOfYear)
	return t.total == 0
}

// limited is the number in cell i of the station line.
func (t *tmy3Reader) limited(line, i int, what string, low, high float64) float64 {
	c := at(t.cells, i)
	v, err := strconv.ParseFloat(c.text, 64)
	if err != nil || !(v >= low && v <= high) {
		t.add(line, c.column, "%s is %s, must be %g to %g", what, quote(c.text), low, high)
		return 0
	}
	return v
}

// headings finds the columns by the names in line 2.
func (t *tmy3Reader) headings() bool {
	line, _ := t.lines.next()
	t.cells = split(line, ',', t.cells)
	if !strings.HasPrefix(at(t.cells, 0).text, "Date") || !strings.HasPrefix(at(t.cells, 1).text, "Time") {
		t.add(2, 1, "the headings begin with %s, must begin with Date, Time", quote(at(t.cells, 0).text+", "+at(t.cells, 1).text))
		return false
	}
	for q := range quantities {
		t.column[q] = -1
	}
	for _, c := range tmy3Columns {
		t.column[c.q], t.factor[c.q] = t.heading(c.heading), c.factor
	}
	if t.column[cloud] < 0 {
		t.column[cloud] = t.heading("TotCld")
	}
	t.rh, t.span = t.heading("RHum"), t.heading("Lprecip quantity")
	if t.column[airTemperature] < 0 {
		t.add(2, 0, "no column Dry-bulb among the headings")
		return false
	}
	return true
}

// heading finds the column whose heading is the name followed by a unit.
func (t *tmy3Reader) heading(name string) int {
	for i, c := range t.cells {
		if strings.HasPrefix(c.text, name+" (") {
			return i
		}
	}
	return -1
}

func (t *tmy3Reader) rows() {
	for t.total < enough {
		line, ok := t.lines.next()
		if !ok {
			return
		}
		if strings.TrimSpace(line) == "" {
			continue
		}
		t.cells = split(line, ',', t.cells)
		i, ok := t.hour()
		if !ok {
			continue
		}
		t.line[i] = t.lines.number
		for _, c := range tmy3Columns {
			t.take(i, c.q)
		}
		t.humidity(i)
	}
}

// hour is the hour of the year the row stands for.
func (t *tmy3Reader) hour() (int, bool) {
	date, clock := t.cells[0], at(t.cells, 1)
	month, day, ok := monthAndDay(date.text)
	if !ok {
		t.add(t.lines.number, date.column, "date is %s, must be month/day/year of a year without 29 February", quote(date.text))
		return 0, false
	}
	hourText, minutes, _ := strings.Cut(clock.text, ":")
	h, err := strconv.Atoi(hourText)
	if err != nil || h < 1 || h > 24 || strings.Trim(minutes, "0:") != "" {
		t.add(t.lines.number, clock.column, "time is %s, must be 1:00 to 24:00", quote(clock.text))
		return 0, false
	}
	i := (dayOfYear(month, day)-1)*24 + h - 1
	if i <= t.last {
		t.add(t.lines.number, date.column, "%s %s does not come after the row before it", date.text, clock.text)
		return 0, false
	}
	t.last = i
	return i, true
}

// take stores one quantity of the row; a missing one stays unknown.
func (t *tmy3Reader) take(i int, q quantity) {
	c := at(t.cells, t.column[q])
	v, ok := t.number(c)
	if !ok {
		return
	}
	switch q {
	case rain:
		t.precipitation(i, v*t.factor[q])
	case groundAlbedo:
		if v > 0 { // stations without a measured albedo carry 0
			t.put(i, q, v, t.lines.number, c)
		}
	default:
		t.put(i, q, v*t.factor[q], t.lines.number, c)
	}
}

// number reads a cell; false when it is missing or, with a finding, no number.
func (t *tmy3Reader) number(c cell) (float64, bool) {
	if c.text == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(c.text, 64)
	if err != nil {
		t.add(t.lines.number, c.column, "%s is not a number", quote(c.text))
		return 0, false
	}
	return v, v != tmy3Missing
}

// precipitation puts the depth [mm] down to the hours it fell in.
func (t *tmy3Reader) precipitation(i int, depth float64) {
	span := 1
	if v, ok := t.number(at(t.cells, t.span)); ok && v >= 1 {
		span = int(min(v, 99))
	}
	if !(depth >= 0 && depth <= facts[rain].high) || span > 24 || span > i+1 {
		t.wet++
		return
	}
	if span > 1 {
		t.wet++
	}
	for j := i - span + 1; j <= i; j++ {
		h := &t.series.Hours[j]
		if math.IsNaN(h.RainMM) {
			h.RainMM = 0
		}
		h.RainMM += depth / float64(span)
	}
	t.read[rain] = true
}

// humidity gives the dew point from the relative humidity where the file lacks it.
func (t *tmy3Reader) humidity(i int) {
	h := &t.series.Hours[i]
	if t.rh < 0 || !math.IsNaN(h.DewPointC) || math.IsNaN(h.AirC) {
		return
	}
	c := at(t.cells, t.rh)
	if rh, ok := t.number(c); ok {
		t.putHumidity(i, rh, t.lines.number, c)
	}
}

// afterwards does what needs all rows: sky cover as the mean of both ends, notes.
func (t *tmy3Reader) afterwards() {
	hours := t.series.Hours
	for i := len(hours) - 1; i > 0; i-- {
		if before := hours[i-1].CloudShare; !math.IsNaN(before) {
			hours[i].CloudShare = (hours[i].CloudShare + before) / 2
		}
	}
	t.series.note(Dated, "calendar", -1, len(hours), "months of different years, dated %d", nominalYear)
	if t.read[rain] {
		t.series.note(Flagged, "rain", -1, len(hours), "precipitation of typical years is incomplete; read as tenths of a millimetre, never as snow")
	}
	if t.wet > 0 {
		t.series.note(Flagged, "rain", -1, t.wet, "given over several hours or impossible: spread or left out")
	}
}

// monthAndDay reads "1/31/1995" or "01/31/1995".
func monthAndDay(s string) (month, day int, ok bool) {
	m, rest, _ := strings.Cut(s, "/")
	d, year, found := strings.Cut(rest, "/")
	month, err1 := strconv.Atoi(m)
	day, err2 := strconv.Atoi(d)
	_, err3 := strconv.Atoi(year)
	if !found || err1 != nil || err2 != nil || err3 != nil || month < 1 || month > 12 {
		return 0, 0, false
	}
	return month, day, day >= 1 && day <= daysIn[month-1]
}

// daysIn are the days of the months of a year without 29 February.
var daysIn = [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// dayOfYear is 1 to 365 in a year without 29 February.
func dayOfYear(month, day int) int {
	for _, d := range daysIn[:month-1] {
		day += d
	}
	return day
}
