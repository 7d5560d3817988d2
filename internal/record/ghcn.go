package record

import (
	"strings"
	"time"

	"suncellar/internal/weather"
)

// ghcnElements are the elements that are taken: SI of facts is value*factor.
var ghcnElements = map[string]struct {
	q      quantity
	factor float64
}{
	"TMAX": {high, 0.1}, "TMIN": {low, 0.1}, "PRCP": {rain, 0.1}, "AWND": {wind, 0.1}, "ADPT": {dew, 0.1},
	"SNOW": {freshSnow, 1e-3}, "SNWD": {lyingSnow, 1e-3},
}

// ghcnHeadings begin a list of one station whose rows leave its name out.
const ghcnHeadings = "date,attr,value"

func isGHCN(head string) bool {
	cells := commaCells(firstLine(head))
	if strings.HasPrefix(firstLine(head), ghcnHeadings) {
		return true
	}
	return len(cells) == 8 && len(cells[0].text) == 11 && len(cells[1].text) == 8 && len(cells[2].text) == 4
}

// readGHCN reads the long lists of the Global Historical Climatology Network, a row per day and element: station (left out where headings say
// date,attr,value), date, element, value, mark of measurement, mark of quality, source, hour. TMAX, TMIN, ADPT in tenths of °C, PRCP tenths of mm, AWND tenths of
// m/s, SNOW and SNWD mm; other elements are passed over. A mark of quality means the value failed a check: it is missing. A mark T is a trace.
//
// Source: Menne et al. 2012, and the network's own readme (from memory).
func readGHCN(content string, d *draft) {
	short := strings.HasPrefix(firstLine(content), ghcnHeadings)
	station := ""
	var rows []ghcnRow
	eachLine(content, func(number int, line string) bool {
		if (short && number == 1) || strings.TrimSpace(line) == "" {
			return true
		}
		cells := commaCells(line)
		if !short {
			if station == "" {
				station = cells[0].text
				d.name = station
			}
			if cells[0].text != station {
				d.add(number, 1, "row of station %s after one of %s; a record is of one station", quote(cells[0].text), quote(station))
				return !d.full()
			}
			cells = cells[1:]
		}
		if row, ok := d.ghcnRow(number, cells); ok {
			rows = append(rows, row)
		}
		return !d.full()
	})
	d.placeRows(rows)
}

// ghcnRow is one value of a list, whose days may come in any order.
type ghcnRow struct {
	date    time.Time
	q       quantity
	value   float64
	line    int
	c       cell
	nothing bool // the source itself does not trust it
	trace   bool
}

// ghcnRow reads date, element, value and marks.
func (d *draft) ghcnRow(line int, cells []cell) (ghcnRow, bool) {
	if len(cells) < 5 {
		d.add(line, 0, "the row has %d fields, must have date, element, value and marks", len(cells))
		return ghcnRow{}, false
	}
	element, wanted := ghcnElements[cells[1].text]
	if !wanted {
		return ghcnRow{}, false
	}
	t, ok := d.compactDate(line, cells[0])
	if !ok {
		return ghcnRow{}, false
	}
	v, ok := d.number(line, cells[2])
	if !ok || v == -9999 {
		return ghcnRow{}, false
	}
	return ghcnRow{t, element.q, v * element.factor, line, cells[2], cells[4].text != "", cells[3].text == "T"}, true
}

// placeRows puts the rows of a list into their days.
func (d *draft) placeRows(rows []ghcnRow) {
	if len(rows) == 0 || d.total > 0 {
		return
	}
	d.first = rows[0].date
	for _, r := range rows {
		if r.date.Before(d.first) {
			d.first = r.date
		}
	}
	for _, r := range rows {
		i := int(r.date.Sub(d.first) / (24 * time.Hour))
		d.grow(i)
		if d.days[i].line == 0 {
			d.days[i].line = r.line
		}
		switch {
		case r.nothing:
			d.doubted++
			continue
		case known(d.days[i].values[r.q]):
			d.add(r.line, 0, "%s of %s stands twice", facts[r.q].name, r.date.Format("2006-01-02"))
			continue
		case r.trace:
			d.trace++
		}
		d.put(i, r.q, r.value, r.line, r.c)
		if d.full() {
			return
		}
	}
	d.note(weather.Flagged, "days", len(d.days), "are those of the observer, which may end in the morning")
}
