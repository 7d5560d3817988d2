package record

import (
	"strings"

	"suncellar/internal/air"
)

// crndNames are the fields of the daily files in their order; the files as published have no headings.
var crndNames = strings.Fields("WBANNO LST_DATE CRX_VN LONGITUDE LATITUDE T_DAILY_MAX T_DAILY_MIN T_DAILY_MEAN T_DAILY_AVG P_DAILY_CALC SOLARAD_DAILY " +
	"SUR_TEMP_DAILY_TYPE SUR_TEMP_DAILY_MAX SUR_TEMP_DAILY_MIN SUR_TEMP_DAILY_AVG RH_DAILY_MAX RH_DAILY_MIN RH_DAILY_AVG " +
	"SOIL_MOISTURE_5_DAILY SOIL_MOISTURE_10_DAILY SOIL_MOISTURE_20_DAILY SOIL_MOISTURE_50_DAILY SOIL_MOISTURE_100_DAILY " +
	"SOIL_TEMP_5_DAILY SOIL_TEMP_10_DAILY SOIL_TEMP_20_DAILY SOIL_TEMP_50_DAILY SOIL_TEMP_100_DAILY")

func isCRND(head string) bool {
	line := firstLine(head)
	if strings.HasPrefix(line, "WBANNO") {
		return strings.Contains(line, "T_DAILY_MAX")
	}
	cells := blankCells(line)
	return len(cells) == len(crndNames) && len(cells[0].text) == 5 && len(cells[1].text) == 8 && len(cells[11].text) == 1
}

// readCRND reads the daily product of the US Climate Reference Network, as published (blanks, no headings) or with headings and commas: °C, mm, MJ/m2, %; days of
// local standard time; -9999 and -99 missing. The dew point is that of the day's mean relative humidity at its mean temperature, which a
// day's swing makes too high by some tenths of a kelvin.
//
// Source: Diamond et al. 2013.
func readCRND(content string, d *draft) {
	names := headings{}
	for i, name := range crndNames {
		names[name] = i
	}
	cut := blankCells
	if strings.Contains(firstLine(content), ",") {
		cut = commaCells
	}
	eachLine(content, func(number int, line string) bool {
		cells := cut(line)
		switch {
		case strings.HasPrefix(line, "WBANNO"):
			names = headingsOf(cells)
		case strings.TrimSpace(line) != "":
			d.crndRow(number, names, cells)
		}
		return !d.full()
	})
}

func (d *draft) crndRow(line int, names headings, cells []cell) {
	at := func(name string) cell { c, _ := names.at(cells, name); return c }
	station, date := at("WBANNO"), at("LST_DATE")
	if d.name == d.file {
		d.name = "CRN " + station.text
	}
	if d.name != "CRN "+station.text {
		d.add(line, station.column, "row of station %s in a record of %s; a record is of one station", quote(station.text), d.name)
		return
	}
	t, ok := d.compactDate(line, date)
	if !ok || !d.takePosition(line, at("LATITUDE"), at("LONGITUDE")) {
		return
	}
	i, ok := d.next(t, line, date)
	if !ok {
		return
	}
	value := func(name string) (float64, cell, bool) {
		c := at(name)
		v, ok := d.number(line, c)
		return v, c, ok && v > -90
	}
	for _, column := range []struct {
		name   string
		q      quantity
		factor float64
	}{{"T_DAILY_MAX", high, 1}, {"T_DAILY_MIN", low, 1}, {"P_DAILY_CALC", rain, 1}, {"SOLARAD_DAILY", sunSum, 1 / 0.0036}} {
		if v, c, ok := value(column.name); ok {
			d.put(i, column.q, v*column.factor, line, c)
		}
	}
	mean, _, ok1 := value("T_DAILY_AVG")
	humidity, c, ok2 := value("RH_DAILY_AVG")
	if ok1 && ok2 {
		d.putHumidity(i, humidity, mean, line, c)
	}
}

// putHumidity stores relative humidity [%, over water] at an air temperature as a dew point.
func (d *draft) putHumidity(i int, percent, airC float64, line int, c cell) {
	if !(percent >= 0 && percent <= 105) {
		d.add(line, c.column, "relative humidity is %s, must be 0 to 105 %%", quote(c.text))
		return
	}
	if f := facts[high]; !(airC >= f.least && airC <= f.most) {
		d.add(line, 0, "mean air temperature is %g °C, must be %g to %g", airC, f.least, f.most)
		return
	}
	share := min(max(percent, 0.5), 100) / 100
	d.put(i, dew, air.DewPointOverWater(share*air.SaturationPressureOverWater(airC)), line, c)
}
