package record

import (
	"strconv"
	"strings"
	"time"

	"suncellar/internal/weather"
)

// Marks of the Boulder list. That -999 is a trace is not said in the file; it stands where others write T.
const boulderMissing, boulderTrace = -998, -999

func isBoulder(head string) bool {
	return strings.Contains(head, "Format: year, mon, day, tmax, tmin, precip, snow, snowcover")
}

// readBoulder reads the daily list of Boulder, Colorado, kept by NOAA's Physical Sciences Laboratory: lines of year, month, day, highest and lowest air [°F],
// precipitation [inch], fresh snow [inch], snow lying [inch], remarks above and below, and a row for 29 February in every year. -998 is missing; -999 is a trace, taken as 0, in the last three and missing in the
// temperatures. The day is that of the observer.
func readBoulder(content string, d *draft) {
	d.name = "Boulder daily list"
	columns := []struct {
		q         quantity
		celsius   bool
		toFactsOf float64
	}{{high, true, 0}, {low, true, 0}, {rain, false, 25.4}, {freshSnow, false, 0.0254}, {lyingSnow, false, 0.0254}}
	eachLine(content, func(number int, line string) bool {
		cells := blankCells(line)
		if len(cells) == 0 || strings.HasPrefix(cells[0].text, "#") {
			return true
		}
		if _, err := strconv.Atoi(cells[0].text); err != nil {
			return true // remarks
		}
		if len(cells) != 3+len(columns) {
			d.add(number, 0, "the row has %d fields, must have %d", len(cells), 3+len(columns))
			return !d.full()
		}
		if noSuchDay(cells) {
			if !allMissing(cells[3:]) {
				d.note(weather.Flagged, "days", 1, "%s:%d is of a 29 February that its year has not; left out with what stands there", d.file, number)
			}
			return true
		}
		i, ok := d.rowOfDate(number, cells)
		if !ok {
			return !d.full()
		}
		for k, column := range columns {
			c := cells[3+k]
			v, ok := d.number(number, c)
			switch {
			case !ok || v == boulderMissing || (v == boulderTrace && column.celsius):
			case v == boulderTrace:
				d.trace++
				d.put(i, column.q, 0, number, c)
			case column.celsius:
				d.put(i, column.q, (v-32)/1.8, number, c)
			default:
				d.put(i, column.q, v*column.toFactsOf, number, c)
			}
		}
		return !d.full()
	})
	d.note(weather.Flagged, "days", len(d.days), "are those of the observer, read at one hour of the day that has changed over the years")
}

// noSuchDay tells whether the row is the 29 February of a common year.
func noSuchDay(cells []cell) bool {
	if cells[1].text != "2" || cells[2].text != "29" {
		return false
	}
	year, err := strconv.Atoi(cells[0].text)
	return err == nil && time.Date(year, time.February, 29, 0, 0, 0, 0, time.UTC).Day() != 29
}

func allMissing(cells []cell) bool {
	for _, c := range cells {
		if v, err := strconv.ParseFloat(c.text, 64); err != nil || v != boulderMissing {
			return false
		}
	}
	return true
}

// rowOfDate is the entry of a row that begins with year, month and day.
func (d *draft) rowOfDate(line int, cells []cell) (int, bool) {
	var part [3]int
	for k := range part {
		v, err := strconv.Atoi(cells[k].text)
		if err != nil {
			d.add(line, cells[k].column, "%s is not a whole number of a date", quote(cells[k].text))
			return 0, false
		}
		part[k] = v
	}
	whole := cell{cells[0].text + "-" + cells[1].text + "-" + cells[2].text, cells[0].column}
	t, ok := d.date(line, whole, part[0], part[1], part[2])
	if !ok {
		return 0, false
	}
	return d.next(t, line, whole)
}
