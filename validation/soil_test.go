package validation

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// sitesFixed is the commit in which the sites were written, before the first run of any; sitesSum is the sum of that file.
const (
	sitesFixed = "90d4901b5167b8ff63c0404eaf8dcd2250c2334b"
	sitesSum   = "30dd397d0200b4863dd119d5600c2dc5c169c8105a6323956e50b4ff80f643d5"
)

// The sites are not changed after their first run.
func TestSitesAreAsFirstWritten(t *testing.T) {
	asFirstWritten(t, "soil_sites_test.go", sitesSum, sitesFixed)
}

func placeOfSite(s plan.Site) weather.Place {
	return weather.KnownPlace(s.Latitude/degree, s.Longitude/degree, s.Elevation)
}

// groundRun is a column of ground carried through a record.
type groundRun struct {
	depths    []float64
	c         [][]float64 // by depth, at the end of every hour [°C]
	face      []float64   // what the sky sees, at the end of every hour [°C]
	frost     float64     // deepest, of the column's own cells [m]
	snow      float64     // deepest lying [m]
	imbalance float64
}

// runGround carries the ground of a site through a series from the profile start on.
func runGround(t *testing.T, site soilSite, s weather.Series, start func(float64) float64, depths []float64) groundRun {
	t.Helper()
	o, err := greenhouse.NewOpenGround(&plan.Plan{Site: site.site}, start)
	if err != nil {
		t.Fatal(err)
	}
	r := groundRun{depths: depths, c: make([][]float64, len(depths))}
	for i := range s.Hours {
		setCover(o, site, s.HourStart(i), i == 0)
		if err := o.Hour(&s, i); err != nil {
			t.Fatal(err)
		}
		r.face = append(r.face, o.TopC())
		now := o.Profile()
		for k, d := range depths {
			r.c[k] = append(r.c[k], now(d))
		}
		r.frost = math.Max(r.frost, o.FrostDepth())
		if d := s.Hours[i].SnowDepthM; d > r.snow {
			r.snow = d
		}
	}
	r.imbalance = o.Imbalance()
	if !(r.imbalance < 1e-6) {
		t.Errorf("%s: the heat of the column is open by %g", site.name, r.imbalance)
	}
	return r
}

// setCover puts on the ground what a site has from a date on; at the start of a record what it then has.
func setCover(o *greenhouse.OpenGround, site soilSite, at time.Time, start bool) {
	if !start && at.Hour() != 0 {
		return
	}
	name := site.cover[0].cover
	for _, c := range site.cover {
		if int(at.Month())*100+at.Day() >= c.month*100+c.day {
			name = c.cover
		}
	}
	o.SetCover(name)
}

// completed is the series with what it lacks, the site's assumed wind, and snow from its cold rain.
func completed(t *testing.T, site soilSite, s weather.Series) weather.Series {
	t.Helper()
	if site.windMS > 0 {
		s = s.Clone()
		for i := range s.Hours {
			s.Hours[i].WindMS = site.windMS
		}
	}
	out, err := weather.Complete(s, placeOfSite(site.site))
	if err != nil {
		t.Fatal(err)
	}
	return out.WithSnowFromRain()
}

// completedSnow is the same for a record that has its own snowfall.
func completedSnow(t *testing.T, site soilSite, r record) weather.Series {
	t.Helper()
	out, err := weather.Complete(r.weather, placeOfSite(site.site))
	if err != nil {
		t.Fatal(err)
	}
	return out.WithPack(weather.GroundUnderSnow{})
}

// periodic is the yearly-periodic ground of the first year of a series, on a date.
func periodic(t *testing.T, site soilSite, s weather.Series, month, day int) func(float64) float64 {
	t.Helper()
	year := s
	if len(s.Hours) > 8784 {
		year = s.Between(s.Start, s.Start.AddDate(1, 0, 0))
	}
	p := plan.Plan{Site: site.site}
	p.Site.Cover = site.cover[0].cover
	u, err := greenhouse.UndisturbedGround(&p, &year)
	if err != nil {
		t.Fatal(err)
	}
	return u.Profile(month, day)
}

// joinDepth is how far down what was measured at the start still moves the periodic ground [m].
const joinDepth = 4.0

// measuredStart is the ground as measured at the start of a record, with straight lines between thermometers; below the deepest, its difference to the
// yearly-periodic ground goes to nothing in a straight line until 4 m.
func measuredStart(probes []probe, below func(float64) float64) func(float64) float64 {
	last := probes[len(probes)-1]
	off := last.c[0] - below(last.depth)
	return func(d float64) float64 {
		if d >= last.depth {
			return below(d) + off*math.Max(0, (joinDepth-d)/(joinDepth-last.depth))
		}
		for k := len(probes) - 2; k >= 0; k-- {
			if a, b := probes[k], probes[k+1]; d >= a.depth {
				return a.c[0] + (b.c[0]-a.c[0])*(d-a.depth)/(b.depth-a.depth)
			}
		}
		return probes[0].c[0]
	}
}

// fit is how far computed values are from measured ones.
type fit struct {
	n         int
	sum, sum2 float64
}

func (f *fit) add(computed, measured float64) {
	if math.IsNaN(measured) || math.IsNaN(computed) {
		return
	}
	d := computed - measured
	f.n++
	f.sum += d
	f.sum2 += d * d
}

func (f fit) bias() float64 { return f.sum / float64(f.n) }
func (f fit) rmse() float64 { return math.Sqrt(f.sum2 / float64(f.n)) }

func (f fit) String() string {
	if f.n == 0 {
		return "nothing measured"
	}
	return fmt.Sprintf("RMSE %.2f K, mean error %+.2f K", f.rmse(), f.bias())
}

// daily are the means of days of hourly values.
func daily(hours []float64) []float64 {
	out := make([]float64, len(hours)/24)
	for i := range out {
		for _, v := range hours[24*i : 24*i+24] {
			out[i] += v / 24
		}
	}
	return out
}

// compareSoil adds the rows of one depth: over the record, and of December to February.
func compareSoil(s *section, name string, r record, computed []float64, p probe, inSpan func(time.Time) bool, why string) {
	var all, cold fit
	byMonth := make([]fit, 12)
	step := time.Hour
	if r.daily {
		computed, step = daily(computed), 24*time.Hour
	}
	for i := range p.c {
		at := r.weather.Start.Add(time.Duration(i)*step + step/2)
		if !inSpan(at) {
			continue
		}
		all.add(computed[i], p.c[i])
		byMonth[at.Month()-1].add(computed[i], p.c[i])
		if m := at.Month(); m == time.December || m <= time.February {
			cold.add(computed[i], p.c[i])
		}
	}
	title := fmt.Sprintf("%s, %.0f cm", name, 100*p.depth)
	row := s.add(row{name: title + ": over the record", published: fmt.Sprintf("measured, %d %ss", all.n, r.step), computed: all.String(),
		allowed: fmt.Sprintf("RMSE at most %g K", soilRMSE), mark: measured, met: all.rmse() <= soilRMSE, note: "mean error by month: " + months(byMonth) + first(title+": over the record")})
	if !row.met {
		row.missed = why
	}
	if cold.n == 0 {
		return
	}
	row = s.add(row2(title+": December to February", fmt.Sprintf("measured, %d %ss", cold.n, r.step), cold))
	row.note = strings.TrimPrefix(first(row.name), "; ")
	if !row.met {
		row.missed = why
	}
}

// first tells the figures of the first run.
func first(name string) string {
	f, ok := firstRun[name]
	if !ok {
		return ""
	}
	return fmt.Sprintf("; first run %.2f, %+.2f", f[0], f[1])
}

func row2(name, published string, cold fit) row {
	return row{name: name, published: published, computed: cold.String(),
		allowed: fmt.Sprintf("mean error at most %g K, RMSE %g K", soilWinterBias, soilWinterRMSE), mark: measured, met: math.Abs(cold.bias()) <= soilWinterBias && cold.rmse() <= soilWinterRMSE}
}

func months(by []fit) string {
	out := ""
	for m, f := range by {
		if f.n > 0 {
			out += fmt.Sprintf(" %s %+.1f", time.Month(m + 1).String()[:3], f.bias())
		}
	}
	return out[min(1, len(out)):] + " K"
}

// frostOf is the greatest depth of 0 °C of a record by straight lines between its thermometers, from the ground's face at the uppermost's own value [m].
func frostOf(depths []float64, at func(k, i int) float64, n int) float64 {
	deepest := 0.0
	for i := range n {
		for k := len(depths) - 1; k >= 0; k-- {
			if c := at(k, i); !(c < 0) {
				continue
			}
			d := depths[k]
			if k+1 < len(depths) && at(k+1, i) > 0 {
				a, b := at(k, i), at(k+1, i)
				d += (depths[k+1] - d) * -a / (b - a)
			}
			deepest = math.Max(deepest, d)
			break
		}
	}
	return deepest
}

func always(time.Time) bool { return true }

func depthsOf(p []probe) []float64 {
	var out []float64
	for _, x := range p {
		out = append(out, x.depth)
	}
	return out
}

func TestSoil(t *testing.T) {
	t.Parallel()
	s := begin(t, "Soil", "NOAA flux site Bondville; US Climate Reference Network (Diamond et al. 2013, Bell et al. 2013); North Dakota Agricultural Weather Network", soilInputs())
	bondvilleRows(t, s)
	manhattanRows(t, s)
	boulderRows(t, s)
	fargoRows(t, s)
	soilHeads(s)
	s.done(t)
}

var soilSource = map[string]string{"Bondville 1998": "NOAA flux site", "Manhattan 2014": "US Climate Reference Network", "Manhattan 2015": "US Climate Reference Network", "Boulder 2024": "US Climate Reference Network"}

// soilHeads sums up each place: its RMSEs over the record and mean errors of winter, from the least to the greatest.
func soilHeads(s *section) {
	for _, place := range []string{"Bondville 1998", "Manhattan 2014", "Manhattan 2015", "Boulder 2024"} {
		var rmse, bias []float64
		var depths []string
		for _, r := range s.rows {
			var a, b float64
			if !r.counts() || !strings.HasPrefix(r.name, place) {
				continue
			}
			if n, _ := fmt.Sscanf(r.computed, "RMSE %f K, mean error %f K", &a, &b); n != 2 {
				continue
			}
			if strings.Contains(r.name, "over the record") {
				rmse = append(rmse, a)
				depth, _, _ := strings.Cut(strings.TrimPrefix(r.name, place+", "), ":")
				depths = append(depths, strings.TrimSuffix(depth, " cm"))
			} else {
				bias = append(bias, b)
			}
		}
		s.head(place, place+", "+strings.Join(depths, ", ")+" cm", "thermometers in the ground", fmt.Sprintf("RMSE %.2f to %.2f K; December to February mean error %+.2f to %+.2f K", slices.Min(rmse), slices.Max(rmse), slices.Min(bias), slices.Max(bias)),
			fmt.Sprintf("RMSE %g K; winter mean error %g K, RMSE %g K", soilRMSE, soilWinterBias, soilWinterRMSE)).source = soilSource[place]
	}
	var early []float64
	for _, r := range s.rows {
		var is, was float64
		if strings.HasPrefix(r.name, "North Dakota") && r.counts() {
			fmt.Sscan(r.computed, &is)
			fmt.Sscan(r.published, &was)
			early = append(early, is-was)
		}
	}
	s.head("North Dakota", "North Dakota, warmest day at 5 to 200 cm, weather of other years", "day 204 to 270", fmt.Sprintf("%+.0f to %+.0f days", slices.Max(early), slices.Min(early)), "7 days").source = "North Dakota Agricultural Weather Network"
}

func bondvilleRows(t *testing.T, s *section) {
	r := bondvilleRecord(t)
	w := completed(t, bondville, r.weather)
	run := runGround(t, bondville, w, measuredStart(r.probes, periodic(t, bondville, w, 1, 1)), depthsOf(r.probes))
	for k := range r.probes {
		if d := r.probes[k].depth; d == 0.16 || d == 0.32 || d == 0.64 {
			why := bondvilleWhy
			if d == 0.64 {
				why = bondville64Why
			}
			compareSoil(s, bondville.name, r, run.c[k], r.probes[k], always, why)
		}
	}
	tellFace(s, bondville.name, r, run)
	tellFrost(s, bondville.name, r, run)
	bare := bondville
	bare.cover = []coverFrom{{1, 1, "bare"}, {6, 1, "short grass"}, {10, 1, "bare"}}
	elsewise(t, s, bare, r, w, measuredStart(r.probes, periodic(t, bare, w, 1, 1)), always, "were the ground bare but for the crop")
}

// tellFace shows the face that the sky sees against an infrared thermometer.
func tellFace(s *section, name string, r record, run groundRun) {
	is, step := run.face, time.Hour
	if r.daily {
		is, step = daily(is), 24*time.Hour
	}
	var all fit
	by := make([]fit, 12)
	for i, was := range r.face {
		all.add(is[i], was)
		by[r.weather.Start.Add(time.Duration(i)*step+step/2).Month()-1].add(is[i], was)
	}
	s.tell(name+": the ground's face", fmt.Sprintf("infrared thermometer, %d %ss", all.n, r.step), all.String(), "no limit is asked; mean error by month: "+months(by))
}

// tellFrost shows the depth of frost; where snow lying was not measured it is not judged.
func tellFrost(s *section, name string, r record, run groundRun) {
	n := len(r.probes[0].c)
	c := run.c
	if r.daily {
		c = nil
		for _, h := range run.c {
			c = append(c, daily(h))
		}
	}
	is := frostOf(run.depths, func(k, i int) float64 { return c[k][i] }, n)
	was := frostOf(run.depths, func(k, i int) float64 { return r.probes[k].c[i] }, n)
	s.tell(name+": deepest 0 °C between the thermometers", fmt.Sprintf("%.2f m", was), fmt.Sprintf("%.2f m", is),
		fmt.Sprintf("not judged: snow lying was not measured; ours lies up to %.2f m deep, %s; deepest frozen cell %.2f m; ledger open by %.0e", run.snow, r.lost(), run.frost, run.imbalance))
}

func manhattanRows(t *testing.T, s *section) {
	r := manhattanRecord(t)
	w := completed(t, manhattan, r.weather)
	run := runGround(t, manhattan, w, measuredStart(r.probes, periodic(t, manhattan, w, 1, 1)), depthsOf(r.probes))
	for _, year := range []int{2014, 2015} {
		for k := range r.probes {
			if d := r.probes[k].depth; d == 0.50 || d == 1 {
				compareSoil(s, fmt.Sprintf("Manhattan %d", year), r, run.c[k], r.probes[k], func(at time.Time) bool { return at.Year() == year }, manhattanWhy)
			}
		}
	}
	tellFace(s, manhattan.name, r, run)
	tellFrost(s, manhattan.name, r, run)
}

// fromJune leaves out the hours of the year before, which the record begins with.
func fromJune(at time.Time) bool { return at.Year() == 2024 && at.Month() >= time.June }

// elsewise shows what another statement would have given, without a verdict.
func elsewise(t *testing.T, s *section, site soilSite, r record, w weather.Series, start func(float64) float64, inSpan func(time.Time) bool, words string) {
	t.Helper()
	run := runGround(t, site, w, start, depthsOf(r.probes))
	for k, p := range r.probes {
		if p.depth == 0.02 || p.depth == 0.04 || p.depth == 0.08 {
			continue
		}
		var all, cold fit
		for i := range p.c {
			at := r.weather.HourStart(i)
			if !inSpan(at) {
				continue
			}
			all.add(run.c[k][i], p.c[i])
			if m := at.Month(); m == time.December || m <= time.February {
				cold.add(run.c[k][i], p.c[i])
			}
		}
		s.tell(fmt.Sprintf("%s, %.0f cm, %s", site.name, 100*p.depth, words), "measured", all.String()+"; December to February "+cold.String(), "not judged: stated after the first run")
	}
}

func boulderRows(t *testing.T, s *section) {
	r := boulderRecord(t)
	w := completed(t, boulder, r.weather)
	run := runGround(t, boulder, w, periodic(t, boulder, w, 1, 1), depthsOf(r.probes))
	for k := range r.probes {
		compareSoil(s, boulder.name, r, run.c[k], r.probes[k], fromJune, boulderWhy)
	}
	tellFace(s, boulder.name, r, run)
	tellFrost(s, boulder.name, r, run)
	open := boulder
	open.site.Exposure = "open"
	elsewise(t, s, open, r, w, periodic(t, open, w, 1, 1), fromJune, "were the wind that of open country")
}
