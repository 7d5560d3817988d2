package record

import (
	"slices"
	"strings"

	"suncellar/internal/air"
	"suncellar/internal/weather"
)

func isGridMET(head string) bool {
	h := headingsOf(commaCells(firstLine(head)))
	for _, name := range []string{"timestamp", "tmmn", "tmmx", "srad", "sph", "vs", "latitude", "longitude"} {
		if _, ok := h[name]; !ok {
			return false
		}
	}
	return true
}

// readGridMET reads daily CSV of the gridded record of the United States: tmmn, tmmx, srad, sph [kg/kg], vs [m/s at 10 m], pr [mm], longitude and latitude in
// each row. The grids are served in kelvin and W/m2 (mean of the day); tables cut of them are about in °C and MJ/m2 and say neither. So both are told by size:
// temperatures above 150 are kelvin, and a greatest sun above 45 is W/m2, since no day has more than 45 MJ/m2 outside the air. A note tells what was taken.
//
// Source: Abatzoglou 2013.
func readGridMET(content string, d *draft) {
	d.name = "gridMET"
	g := gridMET{draft: d}
	eachLine(content, func(number int, line string) bool {
		cells := commaCells(line)
		switch {
		case number == 1:
			g.headings = headingsOf(cells)
		case strings.TrimSpace(line) == "":
		default:
			g.row(number, cells)
		}
		return !d.full()
	})
	if d.total == 0 && len(g.rows) > 0 {
		g.store()
	}
}

type gridMET struct {
	*draft
	headings headings
	rows     []gridRow
}

// gridNames are the columns read.
var gridNames = []string{"tmmn", "tmmx", "srad", "sph", "vs", "pr"}

// gridRow is one day as it stands in the file.
type gridRow struct {
	day, line int
	values    [6]float64 // as gridNames
	cells     [6]cell
	known     [6]bool
}

func (g *gridMET) row(number int, cells []cell) {
	c, _ := g.headings.at(cells, "timestamp")
	t, ok := g.compactDate(number, c)
	if !ok || !g.position(number, cells) {
		return
	}
	r := gridRow{line: number}
	if r.day, ok = g.next(t, number, c); !ok {
		return
	}
	for k, name := range gridNames {
		c, ok := g.headings.at(cells, name)
		if !ok || c.text == "" || strings.EqualFold(c.text, "nan") {
			continue
		}
		r.cells[k] = c
		r.values[k], r.known[k] = g.number(number, c)
		r.known[k] = r.known[k] && r.values[k] > -9000
	}
	g.rows = append(g.rows, r)
}

// position takes latitude and longitude, which must be the same in all rows.
func (d *draft) takePosition(line int, latitude, longitude cell) bool {
	lat, ok1 := d.number(line, latitude)
	lon, ok2 := d.number(line, longitude)
	if !ok1 || !ok2 {
		return false
	}
	if !(lat >= -90 && lat <= 90 && lon >= -180 && lon <= 180) {
		d.add(line, latitude.column, "latitude and longitude are %s and %s, must be -90 to 90° and -180 to 180°", quote(latitude.text), quote(longitude.text))
		return false
	}
	const same = 0.02 // degrees; a station is surveyed anew now and then
	if d.place.PositionKnown && (abs(lat-d.place.LatitudeDeg) > same || abs(lon-d.place.LongitudeDeg) > same) {
		d.add(line, latitude.column, "latitude and longitude are %s and %s, and %g and %g above; a record is of one place",
			quote(latitude.text), quote(longitude.text), d.place.LatitudeDeg, d.place.LongitudeDeg)
		return false
	}
	if !d.place.PositionKnown {
		d.place.LatitudeDeg, d.place.LongitudeDeg, d.place.PositionKnown = lat, lon, true
	}
	return true
}

func abs(v float64) float64 { return max(v, -v) }

func (g *gridMET) position(line int, cells []cell) bool {
	latitude, _ := g.headings.at(cells, "latitude")
	longitude, _ := g.headings.at(cells, "longitude")
	return g.takePosition(line, latitude, longitude)
}

// store tells the units by size and puts the values.
func (g *gridMET) store() {
	const leastKelvin, mostMJ = 150, 45
	greatest := func(k int) float64 {
		return slices.MaxFunc(g.rows, func(a, b gridRow) int {
			switch {
			case a.values[k] < b.values[k]:
				return -1
			case a.values[k] > b.values[k]:
				return 1
			}
			return 0
		}).values[k]
	}
	zero, toWh := 0.0, 1/0.0036
	units := "°C and MJ/m2 of the day"
	if greatest(1) > leastKelvin {
		zero, units = 273.15, "kelvin and MJ/m2 of the day"
	}
	if greatest(2) > mostMJ {
		toWh, units = 24, strings.Replace(units, "MJ/m2 of the day", "W/m2", 1)
	}
	pressure := air.StandardPressure(filled(g.place, g.options.Place).ElevationM)
	for _, r := range g.rows {
		humid := air.DewPointOverWater(air.VapourPressure(ratio(r.values[3]), pressure))
		for k, v := range [6]float64{r.values[0] - zero, r.values[1] - zero, r.values[2] * toWh, humid, r.values[4], r.values[5]} {
			if r.known[k] {
				g.put(r.day, [6]quantity{low, high, sunSum, dew, wind, rain}[k], v, r.line, r.cells[k])
			}
		}
	}
	g.note(weather.Assumed, "units", len(g.days), "the file states none: air and sun taken as %s by their size", units)
}

// ratio is the humidity ratio of a specific humidity [kg/kg], within what air can hold.
func ratio(specific float64) float64 {
	q := min(max(specific, 1e-6), 0.05)
	return q / (1 - q)
}
