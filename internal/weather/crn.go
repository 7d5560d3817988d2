package weather

import (
	"io"
	"math"
	"strconv"
	"strings"
	"time"
)

// Fields of a line of the hourly product of the Climate Reference Network that are read, from 0, and how many a line has.
const (
	crnStation, crnDate, crnTime, crnLocalDate, crnLocalTime = 0, 1, 2, 3, 4
	crnLongitude, crnLatitude                                = 6, 7
	crnAir, crnRain, crnSun, crnSunFlag                      = 8, 12, 13, 14
	crnHumidity, crnHumidityFlag                             = 26, 27
	crnFields                                                = 38
)

func isCRN(head string) bool {
	line, _, _ := strings.Cut(head, "\n")
	f := strings.Fields(line)
	return len(f) == crnFields && len(f[crnStation]) == 5 && len(f[crnDate]) == 8 && len(f[crnTime]) == 4 && len(f[crnLocalDate]) == 8
}

// ReadCRN reads the hourly product of the US Climate Reference Network (CRNH0203), a station and any number of years. name stands for the file in errors.
//
// A stamp is the end of its hour, in UTC and in local standard time; the series has the latter. Air is the mean of the hour's last five minutes, sun and humidity those of the
// whole hour; the humidity stands as that at the end. -9999 and -99 are missing, and so is what has a flag of 3. The network measures no wind at this height and
// tells no elevation.
//
// Source: Diamond et al. 2013.
func ReadCRN(r io.Reader, name string, options ReadOptions) (Series, error) {
	content, err := text(r, name)
	if err != nil {
		return Series{}, err
	}
	return readCRN(content, name, options)
}

func readCRN(content, name string, options ReadOptions) (Series, error) {
	c := crnReader{draft: draft{findings: &findings{file: name}, keepGaps: options.KeepGaps}, lines: lines{rest: content}}
	for c.total < enough {
		line, ok := c.lines.next()
		if !ok {
			break
		}
		if strings.TrimSpace(line) != "" {
			c.row(strings.Fields(line))
		}
	}
	if c.total == 0 {
		c.trim()
	}
	return c.finish()
}

type crnReader struct {
	draft
	lines   lines
	station string
	zone    *time.Location
}

func (c *crnReader) row(f []string) {
	if len(f) != crnFields {
		c.add(c.lines.number, 0, "the row has %d fields, must have %d", len(f), crnFields)
		return
	}
	end, ok := c.end(f)
	if !ok || !c.same(f) {
		return
	}
	i, ok := c.hourEnding(end, c.lines.number, cell{text: f[crnDate] + " " + f[crnTime]})
	if !ok {
		return
	}
	if v, ok := c.number(f, crnAir); ok {
		c.put(i, airTemperature, v, c.lines.number, cell{text: f[crnAir]})
	}
	if v, ok := c.number(f, crnRain); ok {
		c.put(i, rain, v, c.lines.number, cell{text: f[crnRain]})
	}
	if v, ok := c.number(f, crnSun); ok && f[crnSunFlag] == "0" {
		c.put(i, global, v, c.lines.number, cell{text: f[crnSun]})
	}
	if v, ok := c.number(f, crnHumidity); ok && f[crnHumidityFlag] == "0" {
		c.putHumidity(i, v, c.lines.number, cell{text: f[crnHumidity]})
	}
}

// end is the end of the row's hour in the station's standard time, by which UTC and local stamp must differ in all rows.
func (c *crnReader) end(f []string) (time.Time, bool) {
	utc, err1 := time.Parse("20060102 1504", f[crnDate]+" "+f[crnTime])
	local, err2 := time.Parse("20060102 1504", f[crnLocalDate]+" "+f[crnLocalTime])
	offset := local.Sub(utc)
	if err1 != nil || err2 != nil || offset.Abs() > 14*time.Hour || offset%time.Minute != 0 || utc.Year() < 1800 || utc.Year() > 2200 {
		c.add(c.lines.number, 0, "dates are %s and %s, must be UTC and local standard time like 20240131 0700", quote(f[crnDate]+" "+f[crnTime]), quote(f[crnLocalDate]+" "+f[crnLocalTime]))
		return utc, false
	}
	if c.zone == nil {
		c.zone = Zone(offset)
	}
	if _, seconds := local.In(c.zone).Zone(); time.Duration(seconds)*time.Second != offset {
		c.add(c.lines.number, 0, "local time is %s from UTC, and %s above; standard time is the same all year", offset, c.zone)
		return utc, false
	}
	return utc.In(c.zone), true
}

// same takes station and place from the first row; the others must be of it. A station is surveyed anew now and then, by less than 0.02°.
func (c *crnReader) same(f []string) bool {
	longitude, err1 := strconv.ParseFloat(f[crnLongitude], 64)
	latitude, err2 := strconv.ParseFloat(f[crnLatitude], 64)
	if err1 != nil || err2 != nil || !(math.Abs(latitude) <= 90 && math.Abs(longitude) <= 180) {
		c.add(c.lines.number, 0, "longitude and latitude are %s and %s, must be -180 to 180 and -90 to 90", quote(f[crnLongitude]), quote(f[crnLatitude]))
		return false
	}
	place := &c.series.Place
	if c.station == "" {
		c.station, c.series.Name = f[crnStation], "CRN "+f[crnStation]
		place.LatitudeDeg, place.LongitudeDeg, place.PositionKnown = latitude, longitude, true
	}
	if f[crnStation] != c.station || math.Abs(latitude-place.LatitudeDeg) > 0.02 || math.Abs(longitude-place.LongitudeDeg) > 0.02 {
		c.add(c.lines.number, 0, "row of station %s at %g, %g after those of %s at %g, %g; a file is of one station", quote(f[crnStation]), latitude, longitude,
			c.station, place.LatitudeDeg, place.LongitudeDeg)
		return false
	}
	return true
}

// number is field k; false when it is missing, or, with a finding, no number.
func (c *crnReader) number(f []string, k int) (float64, bool) {
	v, err := strconv.ParseFloat(f[k], 64)
	if err != nil {
		c.add(c.lines.number, 0, "field %d is %s, must be a number", k+1, quote(f[k]))
		return 0, false
	}
	return v, v > -99
}
