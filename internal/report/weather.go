package report

import (
	"fmt"
	"io"
	"math"

	"suncellar/internal/unit"
	"suncellar/internal/weather"
)

// dull is the clearness below which a day is called dull.
const dull = 0.25

// Weather tells a weather series to people: place, months, the coldest days, the longest dull run, and what was done to it.
func (t Teller) Weather(s weather.Series) string {
	p := &page{}
	p.say(fmt.Sprintf("%s: %s from %s to %s%s.", s.Name, count(len(s.Hours), "hour"), s.Start.Format("2 January 2006"), s.End().Add(-1).Format("2 January 2006"), typical(s)))
	if s.Place.PositionKnown {
		where := fmt.Sprintf("Latitude %s°, longitude %s°", number(s.Place.LatitudeDeg, 3), number(s.Place.LongitudeDeg, 3))
		if s.Place.ElevationKnown {
			where += ", " + t.elevation(s.Place.ElevationM) + " above the sea"
		}
		p.say(where + ", " + s.Start.Location().String() + ".")
	}
	t.weatherMonths(p, s)
	p.head("What a house will feel")
	for _, hours := range []int{72, 240} {
		if from, mean, ok := s.Coldest(hours); ok {
			p.item(fmt.Sprintf("coldest %d days: %s on the mean, from %s", hours/24, t.temp(mean), when(from)))
		}
	}
	if run := s.LongestDullRun(dull); run.Days > 0 {
		p.item(fmt.Sprintf("longest dull run: %s from %s, with %s %% of the sun above the air, at %s on the mean",
			count(run.Days, "day"), run.From.Format("2 January"), number(100*run.Clearness, 0), t.temp(run.MeanC)))
	}
	p.item(fmt.Sprintf("degree-hours below %s: %s %s h", t.temp(0), t.degreeHours(s.DegreeHoursBelow(0)), t.degree()))
	p.head("What was done to it")
	weatherNotes(p, s.Notes)
	return p.String()
}

func typical(s weather.Series) string {
	if s.TypicalYear {
		return ", a typical or made year whose dates are nominal"
	}
	return ""
}

func (t Teller) weatherMonths(p *page, s weather.Series) {
	months, label := s.Months(), func(m weather.MonthStatistics) string { return m.Month.String()[:3] }
	head := "Month by month"
	if len(months) > mostMonths {
		months, label, head = byYear(months), func(m weather.MonthStatistics) string { return fmt.Sprint(m.Year) }, "Year by year"
	}
	p.head(head)
	d, us := t.degree(), t.System == unit.US
	wind, rain, snow := "m/s", "mm", "cm"
	if us {
		wind, rain, snow = "mph", "in", "in"
	}
	tab := newTable([]string{"", "mean", "mean low", "mean high", "lowest", "highest", "sun", "wind", "rain", "snow"},
		[]string{"", d, d, d, d, d, "kWh/m²d", wind, rain, snow})
	for _, m := range months {
		speed, fall, fresh := number(unit.InMain(unit.Speed, m.WindMS, t.System), 1), number(m.RainMM, 0), number(100*m.SnowfallM, 0)
		if us {
			fall, fresh = number(m.RainMM/25.4, 1), number(m.SnowfallM/0.0254, 0)
		}
		tab.row(label(m), t.figure(m.MeanC), t.figure(m.MeanLowC), t.figure(m.MeanHighC), t.figure(m.LowestC), t.figure(m.HighestC),
			number(m.GlobalKWhM2/float64(m.Hours)*24, 2), speed, fall, fresh)
	}
	p.table(tab)
}

// mostMonths is how many months are told one by one.
const mostMonths = 24

// byYear makes one row of the months of a year; its month says nothing.
func byYear(months []weather.MonthStatistics) []weather.MonthStatistics {
	var out []weather.MonthStatistics
	for _, m := range months {
		if n := len(out); n == 0 || out[n-1].Year != m.Year {
			out = append(out, m)
			continue
		}
		y := &out[len(out)-1]
		share := float64(m.Hours) / float64(y.Hours+m.Hours)
		mean := func(a *float64, b float64) { *a += (b - *a) * share }
		mean(&y.MeanC, m.MeanC)
		mean(&y.MeanLowC, m.MeanLowC)
		mean(&y.MeanHighC, m.MeanHighC)
		mean(&y.WindMS, m.WindMS)
		y.Hours += m.Hours
		y.LowestC, y.HighestC = min(y.LowestC, m.LowestC), max(y.HighestC, m.HighestC)
		y.GlobalKWhM2 += m.GlobalKWhM2
		y.BeamKWhM2 += m.BeamKWhM2
		y.RainMM += m.RainMM
		y.SnowfallM += m.SnowfallM
	}
	return out
}

// The JSON form of weather.
type weatherShowJSON struct {
	Schema     Schema             `json:"schema"`
	Name       string             `json:"name"`
	From       string             `json:"from"`
	Until      string             `json:"until"`
	Hours      int                `json:"hours"`
	Typical    bool               `json:"typical_year"`
	Latitude   *float64           `json:"latitude_deg,omitempty"`
	Longitude  *float64           `json:"longitude_deg,omitempty"`
	ElevationM *float64           `json:"elevation_m,omitempty"`
	Months     []weatherMonthJSON `json:"months"`
	Coldest72h *coldestJSON       `json:"coldest_72h,omitempty"`
	DullRun    *dullJSON          `json:"longest_dull_run,omitempty"`
	BelowKh    float64            `json:"degree_hours_below_freezing_kh"`
	Notes      []string           `json:"notes"`
}

type weatherMonthJSON struct {
	Month       string   `json:"month"`
	Hours       int      `json:"hours"`
	MeanC       *float64 `json:"mean_c"`
	MeanLowC    *float64 `json:"mean_low_c"`
	MeanHighC   *float64 `json:"mean_high_c"`
	LowestC     *float64 `json:"lowest_c"`
	HighestC    *float64 `json:"highest_c"`
	GlobalKWhM2 *float64 `json:"global_kwh_m2"`
	WindMS      *float64 `json:"wind_m_s"`
	RainMM      *float64 `json:"rain_mm"`
	SnowfallM   *float64 `json:"snowfall_m"`
}

type coldestJSON struct {
	From  string  `json:"from"`
	MeanC float64 `json:"mean_c"`
}

type dullJSON struct {
	From      string  `json:"from"`
	Days      int     `json:"days"`
	Clearness float64 `json:"clearness_share"`
	MeanC     float64 `json:"mean_c"`
}

// WeatherJSON writes what Weather tells as one JSON object; a figure that is not known is null.
func WeatherJSON(w io.Writer, s weather.Series) error {
	out := weatherShowJSON{Schema: Schema{"suncellar.weather", 1}, Name: s.Name, From: stamp(s.Start), Until: stamp(s.End()), Hours: len(s.Hours),
		Typical: s.TypicalYear, BelowKh: s.DegreeHoursBelow(0), Notes: []string{}}
	if s.Place.PositionKnown {
		out.Latitude, out.Longitude = &s.Place.LatitudeDeg, &s.Place.LongitudeDeg
	}
	if s.Place.ElevationKnown {
		out.ElevationM = &s.Place.ElevationM
	}
	for _, m := range s.Months() {
		out.Months = append(out.Months, weatherMonthJSON{fmt.Sprintf("%04d-%02d", m.Year, m.Month), m.Hours, finite(m.MeanC), finite(m.MeanLowC), finite(m.MeanHighC),
			finite(m.LowestC), finite(m.HighestC), finite(m.GlobalKWhM2), finite(m.WindMS), finite(m.RainMM), finite(m.SnowfallM)})
	}
	if from, mean, ok := s.Coldest(72); ok {
		out.Coldest72h = &coldestJSON{stamp(from), mean}
	}
	if r := s.LongestDullRun(dull); r.Days > 0 {
		out.DullRun = &dullJSON{stamp(r.From), r.Days, r.Clearness, r.MeanC}
	}
	for _, n := range s.Notes {
		out.Notes = append(out.Notes, n.String())
	}
	return WriteJSON(w, out)
}

// finite is a pointer to a value, nil where it is not known.
func finite(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}
