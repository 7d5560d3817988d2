package record

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"suncellar/internal/air"
	"suncellar/internal/weather"
)

// unit turns a number of a file into that of facts.
type unit struct {
	name           string
	factor, offset float64
}

func unitNamed(units []unit, name string) (unit, bool) {
	for _, u := range units {
		if strings.EqualFold(u.name, name) {
			return u, true
		}
	}
	return unit{}, false
}

func unitNames(units []unit) string {
	names := make([]string, len(units))
	for i, u := range units {
		names[i] = u.name
	}
	return strings.Join(names, " or ")
}

// powerTable is what is read of days; of two winds the later counts.
var powerTable = []struct {
	name  string
	q     quantity
	units []unit
}{
	{"T2M_MIN", low, []unit{{"C", 1, 0}}}, {"T2M_MAX", high, []unit{{"C", 1, 0}}}, {"T2MDEW", dew, []unit{{"C", 1, 0}}},
	{"ALLSKY_SFC_SW_DWN", sunSum, []unit{{"MJ/m^2/day", 1 / 0.0036, 0}, {"kW-hr/m^2/day", 1000, 0}, {"kWh/m^2/day", 1000, 0}, {"W/m^2", 24, 0}}},
	{"PRECTOTCORR", rain, []unit{{"mm/day", 1, 0}, {"mm", 1, 0}}},
	{"WS2M", wind, []unit{{"m/s", 1, 0}}}, {"WS10M", wind, []unit{{"m/s", 1, 0}}},
	{"SNODP", lyingSnow, []unit{{"cm", 0.01, 0}}},
}

func isPowerDays(head string) bool {
	const begin = "-BEGIN HEADER-"
	return strings.HasPrefix(head, begin) && strings.Contains(head, "\nYEAR,") && !strings.Contains(head, ",HR,")
}

// readPower reads daily CSV of NASA POWER, dated by month and day or by day of the year: units are those of its header, -999 is missing. Days of UTC are
// taken as the place's own and told. The dew point comes from humidity where it is not there itself. The elevation is the mean of the grid cell.
//
// Source: NASA POWER, daily API and parameter lists (from memory).
func readPower(content string, d *draft) {
	d.name = "POWER"
	header, err := weather.ParsePower(content, d.file)
	if err != nil {
		d.take(err)
		return
	}
	d.place = header.Place
	units := map[string]unit{}
	for _, row := range powerTable {
		if header.Column(row.name) < 0 {
			continue
		}
		u, ok := unitNamed(row.units, header.Units[row.name])
		if !ok {
			d.add(header.Before, 0, "unit of %s is %s, must be %s", row.name, quote(header.Units[row.name]), unitNames(row.units))
		}
		units[row.name] = u
	}
	if d.total > 0 {
		return
	}
	eachLine(header.Rows, func(number int, line string) bool {
		if strings.TrimSpace(line) != "" {
			d.powerRow(header, units, number+header.Before, commaCells(line))
		}
		return !d.full()
	})
	if header.UTC {
		d.note(weather.Flagged, "days", len(d.days), "are those of UTC: lows and highs may belong to the night and the afternoon beside them")
	}
}

// take makes the findings of another reader those of the draft.
func (d *draft) take(err error) {
	if e, ok := err.(*weather.FileError); ok {
		d.found, d.total = e.Findings, e.Total
		return
	}
	d.add(0, 0, "%v", err)
}

func (d *draft) powerRow(h weather.PowerHeader, units map[string]unit, line int, cells []cell) {
	if len(cells) != len(h.Names) {
		d.add(line, 0, "the row has %d fields, must have %d as the headings have", len(cells), len(h.Names))
		return
	}
	t, c, ok := d.powerDate(h, line, cells)
	if !ok {
		return
	}
	i, ok := d.next(t, line, c)
	if !ok {
		return
	}
	value := func(name string) (float64, cell, bool) {
		k := h.Column(name)
		if k < 0 {
			return 0, cell{}, false
		}
		v, ok := d.number(line, cells[k])
		return v, cells[k], ok && v != weather.PowerMissing
	}
	for _, row := range powerTable {
		if v, c, ok := value(row.name); ok {
			d.put(i, row.q, v*units[row.name].factor, line, c)
		}
	}
	if known(d.days[i].values[dew]) {
		return
	}
	mean, _, ok1 := value("T2M")
	if humidity, c, ok := value("RH2M"); ok && ok1 {
		d.putHumidity(i, humidity, mean, line, c)
	} else if specific, c, ok := value("QV2M"); ok {
		pressure := air.StandardPressure(h.Place.ElevationM)
		d.put(i, dew, air.DewPointOverWater(air.VapourPressure(ratio(specific/1000), pressure)), line, c)
	}
}

// powerDate reads YEAR with MO and DY, or with DOY.
func (d *draft) powerDate(h weather.PowerHeader, line int, cells []cell) (time.Time, cell, bool) {
	part := func(name string) int {
		k := h.Column(name)
		if k < 0 {
			return -1
		}
		v, err := strconv.Atoi(cells[k].text)
		if err != nil {
			return -1
		}
		return v
	}
	year, month, day, ordinal := part("YEAR"), part("MO"), part("DY"), part("DOY")
	if h.Column("DOY") < 0 {
		c := cell{fmt.Sprintf("%d-%d-%d", year, month, day), 1}
		t, ok := d.date(line, c, year, month, day)
		return t, c, ok
	}
	c := cell{fmt.Sprintf("day %d of %d", ordinal, year), 1}
	t := time.Date(year, 1, max(ordinal, 0), 0, 0, 0, 0, time.UTC)
	if year < firstYear || year > lastYear || t.Year() != year {
		d.add(line, 1, "date is %s, must be a day of the years %d to %d", quote(c.text), firstYear, lastYear)
		return t, c, false
	}
	return t, c, true
}
