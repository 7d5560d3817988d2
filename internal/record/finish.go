package record

import (
	"math"
	"time"

	"suncellar/internal/sun"
	"suncellar/internal/weather"
)

// finish holds the days against each other and makes the record, or tells all that was found wrong.
func (d *draft) finish() (*Record, error) {
	if d.total == 0 {
		d.whole()
	}
	place := filled(d.place, d.options.Place)
	if d.total == 0 && !(place.PositionKnown && place.ElevationKnown) {
		d.add(0, 0, "latitude, longitude and elevation must be known, and the file does not tell %s", lacking(d.place))
		d.hint("give the station's place: --latitude, --longitude and --elevation of a command")
	}
	if d.total == 0 {
		d.hold(place)
	}
	if d.total > 0 {
		return nil, d.err()
	}
	start := time.Date(d.first.Year(), d.first.Month(), d.first.Day(), 0, 0, 0, 0, d.options.zone(place))
	r := &Record{Name: d.name, Place: place, Start: start, Days: make([]weather.Day, len(d.days))}
	for i, e := range d.days {
		r.Days[i] = e.day()
	}
	r.Notes = append(d.notes, d.tell()...)
	return r, nil
}

func lacking(p weather.Place) string {
	switch {
	case p.PositionKnown:
		return "the elevation"
	case p.ElevationKnown:
		return "latitude and longitude"
	}
	return "any of them"
}

// day is the entry as the makers of hours take it.
func (e entry) day() weather.Day {
	v := e.values
	day := weather.Day{LowC: v[low], HighC: v[high], SunWhM2: v[sunSum], DewPointC: v[dew], RainMM: v[rain], WindMS: v[wind]}
	if known(v[freshSnow]) || known(v[lyingSnow]) {
		day.Snow = weather.DaySnow{Known: true, FallM: v[freshSnow], LyingM: v[lyingSnow]}
	}
	return day
}

func known(v float64) bool { return !math.IsNaN(v) }

// whole asks for what no record can do without.
func (d *draft) whole() {
	if len(d.days) == 0 {
		d.add(0, 0, "no days of weather found")
		return
	}
	for _, q := range []quantity{low, high} {
		if d.read[q] == 0 {
			d.add(0, 0, "no %s found, it must be given", facts[q].name)
		}
	}
}

// warmestMeanC is the highest mean of a whole record that is taken for °C. The warmest place, Dallol, had 34 °C over six years (from memory); a year that is 60
// in °F is 16 in °C. Own judgement.
const warmestMeanC = 45

// hold refuses what cannot be.
func (d *draft) hold(place weather.Place) {
	mean, n := 0.0, 0
	for _, e := range d.days {
		v := e.values
		if v[low] > v[high] {
			d.add(e.line, 0, "lowest air temperature %.1f °C is above the highest, %.1f °C", v[low], v[high])
		}
		if known(v[low]) && known(v[high]) {
			mean, n = mean+(v[low]+v[high])/2, n+1
		}
	}
	if n > 0 && mean/float64(n) > warmestMeanC {
		d.add(0, 0, "mean air temperature is %.1f °C, no place has more than %d °C", mean/float64(n), warmestMeanC)
		d.hint("these look like °F")
	}
	if d.read[sunSum] > 0 {
		d.holdSun(outsideAir(place))
	}
}

// mostTooSunny is the share of a record's days of sun that an instrument may have got wrong before the unit or the place is doubted; own judgement.
const mostTooSunny = 0.01

// holdSun leaves out days with more sun than arrives outside the air, each told, and refuses a record with many of them.
func (d *draft) holdSun(outside [366]float64) {
	var wrong []int
	most := func(i int) float64 { return outside[d.first.AddDate(0, 0, i).YearDay()-1] }
	for i := range d.days {
		if d.days[i].values[sunSum] > most(i) {
			wrong = append(wrong, i)
		}
	}
	few := float64(len(wrong)) <= mostTooSunny*float64(d.read[sunSum])
	for _, i := range wrong {
		e := &d.days[i]
		if few {
			d.note(weather.Flagged, facts[sunSum].name, 1, "%s:%d has %.0f Wh/m2, and %.0f arrive outside the air; taken as missing", d.file, e.line, e.values[sunSum], most(i))
			e.values[sunSum] = math.NaN()
			d.read[sunSum]--
			continue
		}
		d.add(e.line, 0, "sun of the day is %.0f Wh/m2, and %.0f arrive outside the air", e.values[sunSum], most(i))
		d.hint("are the units and the place right?")
	}
}

// outsideAir is what arrives on level ground outside the air [Wh/m2], by day of the year, with 2 % and 20 Wh/m2 for rounding and refraction.
func outsideAir(place weather.Place) [366]float64 {
	var out [366]float64
	where := sun.Place{Latitude: sun.Degrees(place.LatitudeDeg), Longitude: sun.Degrees(place.LongitudeDeg), ElevationM: place.ElevationM}
	for d := range out {
		begin := time.Date(2000, 1, 1+d, 0, 0, 0, 0, time.UTC)
		for h := 1; h <= 24; h++ {
			s := sun.OverHour(where, begin.Add(time.Duration(h)*time.Hour))
			out[d] += s.ExtraterrestrialWM2() * s.UpShare * max(0, s.Elevation.Sin())
		}
		out[d] = 1.02*out[d] + 20
	}
	return out
}

// tell makes the notes of what is missing, by quantity.
func (d *draft) tell() []weather.Note {
	var out []weather.Note
	say := func(kind weather.NoteKind, what string, days int, text string) {
		out = append(out, weather.Note{Kind: kind, What: what, Hours: 24 * days, Text: text})
	}
	for q := range facts {
		missing := len(d.days) - d.read[q]
		switch {
		case missing == 0:
		case d.read[q] == 0:
			say(weather.Missing, facts[q].name, missing, "the file has none")
		default:
			say(weather.Missing, facts[q].name, missing, "days without a value, left open")
		}
	}
	if d.trace > 0 {
		say(weather.Flagged, "precipitation and snow", d.trace, "traces, taken as 0")
	}
	if d.doubted > 0 {
		say(weather.Flagged, "values", d.doubted, "failed a check of the source's own, taken as missing")
	}
	return out
}
