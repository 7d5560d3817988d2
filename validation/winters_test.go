package validation

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	records "suncellar/internal/record"
	"suncellar/internal/weather"
)

// winterFigure is one figure of many winters, and how near the made one is to come.
type winterFigure struct {
	name string
	of   statistic
	aim  aim
	unit string
}

var airFigures = []winterFigure{
	{"air of October, mean", overWinters(monthMean(9)), aimMean, "°C"}, {"air of November, mean", overWinters(monthMean(10)), aimMean, "°C"},
	{"air of December, mean", overWinters(monthMean(11)), aimMean, "°C"}, {"air of January, mean", overWinters(monthMean(0)), aimMean, "°C"},
	{"air of February, mean", overWinters(monthMean(1)), aimMean, "°C"}, {"air of March, mean", overWinters(monthMean(2)), aimMean, "°C"},
	{"air of April, mean", overWinters(monthMean(3)), aimMean, "°C"},
	{"air of December, deviation between years", deviationOf(monthMean(11)), aimSpread, "K"},
	{"air of January, deviation between years", deviationOf(monthMean(0)), aimSpread, "K"},
	{"air of February, deviation between years", deviationOf(monthMean(1)), aimSpread, "K"},
	{"lowest of a day with the next", together(dayLow, dayLow, 1), aimLag, ""}, {"highest of a day with the next", together(dayHigh, dayHigh, 1), aimLag, ""},
	{"days with low below 0 °C, mean run", meanRun(lowFrost), aimRun, "d"},
	{"days with low below 0 °C, longest of a winter, mean", overWinters(func(c coldDays) float64 { return longestOf(lowFrost(c)) }), aimLongest, "d"},
	{"days with low below 0 °C, longest, one winter in ten", quantileOf(0.9, func(c coldDays) float64 { return longestOf(lowFrost(c)) }), aimLongest, "d"},
	{"days with high below 0 °C, mean run", meanRun(highFrost), aimRun, "d"},
	{"days with high below 0 °C, longest of a winter, mean", overWinters(func(c coldDays) float64 { return longestOf(highFrost(c)) }), aimLongest, "d"},
	{"days with high below 0 °C, longest, one winter in ten", quantileOf(0.9, func(c coldDays) float64 { return longestOf(highFrost(c)) }), aimLongest, "d"},
	{"coldest 3 days, mean", overWinters(coldest(3)), aimColdest, "°C"}, {"coldest 3 days, one winter in ten", quantileOf(0.1, coldest(3)), aimColdestRare, "°C"},
	{"coldest 5 days, mean", overWinters(coldest(5)), aimColdest, "°C"}, {"coldest 5 days, one winter in ten", quantileOf(0.1, coldest(5)), aimColdestRare, "°C"},
	{"coldest 10 days, mean", overWinters(coldest(10)), aimColdest, "°C"}, {"coldest 10 days, one winter in ten", quantileOf(0.1, coldest(10)), aimColdestRare, "°C"},
}

// darkFigures are those of the sun.
func darkFigures() []winterFigure {
	longest := func(c coldDays) float64 { return longestOf(dullRuns(c)) }
	out := []winterFigure{
		{"clearness with lowest of the day", together(dayClear, dayLow, 0), aimTogether, ""},
		{"clearness with highest of the day", together(dayClear, dayHigh, 0), aimTogether, ""},
		{"dull days, longest run of a winter, mean", overWinters(longest), aimDull, "d"},
		{"dull days, longest run, one winter in ten", quantileOf(0.9, longest), aimDullRare, "d"},
	}
	for _, j := range jointEvents {
		out = append(out, winterFigure{fmt.Sprintf("%d dull days in a row below %g °C", j.days, j.belowC), overWinters(joint(j.days, j.belowC)), aimJoint, "in 100 winters"})
	}
	return out
}

// sampling is the standard error of a record's figure by drawing its winters anew.
func sampling(list []coldDays, of statistic) float64 {
	random := rand.New(rand.NewPCG(resampleSeed, uint64(len(list))))
	sum, squares := 0.0, 0.0
	drawn := make([]coldDays, len(list))
	for range resamplings {
		for i := range drawn {
			drawn[i] = list[random.IntN(len(list))]
		}
		v := of(drawn)
		sum, squares = sum+v, squares+v*v
	}
	mean := sum / resamplings
	return math.Sqrt(math.Max(0, squares/resamplings-mean*mean))
}

// climates are what is made of a record: its normals, without and with its spread.
var climates = []struct {
	name string
	of   func(weather.Climate) weather.Spread
}{
	{"from normals", func(weather.Climate) weather.Spread { return weather.Spread{} }},
	{"from normals and spread", func(c weather.Climate) weather.Spread { return c.Spread }},
}

func TestMadeWinters(t *testing.T) {
	t.Parallel()
	s := begin(t, "Made winters", "records of three places; what is published is the record's figure with its sampling error", winterWords())
	var need weather.Lean
	seen := map[string][]coldDays{}
	for _, r := range winterRecords {
		read, err := records.Open(reference(t, filepath.FromSlash(r.file)), records.Options{Place: r.place})
		if err != nil {
			t.Fatal(err)
		}
		climate, err := read.Climate()
		if err != nil {
			t.Fatal(err)
		}
		winters := recordWinters(read)
		seen[r.name] = winters
		for _, c := range climates {
			made := wintersMade(t, climate, c.of(climate))
			prefix := r.name + ", " + c.name + ": "
			if r.air {
				holdWinters(s, prefix, winters, made, airFigures, &need)
			}
			if r.sun {
				holdWinters(s, prefix, lit(winters), made, darkFigures(), &need)
			}
			s.head(prefix, strings.TrimSuffix(prefix, ": "), fmt.Sprintf("%d winters", len(winters)), fmt.Sprintf("%d winters", madeWinters), "twice the sampling error and the aim")
		}
	}
	oneClimate(s, lit(seen["Manhattan"]), lit(seen["Johnson"]))
	s.done(t)
	holdLean(t, s, need)
}

// oneClimate tells what the gridded record has in the winters of the station.
func oneClimate(s *section, station, gridded []coldDays) {
	var same []coldDays
	for _, g := range gridded {
		if slices.ContainsFunc(station, func(c coldDays) bool { return c.year == g.year }) {
			same = append(same, g)
		}
	}
	for _, f := range darkFigures() {
		s.tell(fmt.Sprintf("Johnson, gridded, in the %d winters that Manhattan, a station, has too: %s", len(same), f.name), figure(f.of(station), f.digits())+f.ending()+" at Manhattan",
			figure(f.of(same), f.digits())+f.ending(), "")
	}
}

// holdLean holds what the program tells to add to what these rows ask for: no less, and not half as much again.
func holdLean(t *testing.T, s *section, need weather.Lean) {
	t.Helper()
	s.tell("what an answer from made winters adds, colder", fmt.Sprintf("%.1f K by these rows", need.ColderK), fmt.Sprintf("%.1f K", weather.MadeWinters.ColderK), "weather.MadeWinters")
	s.tell("the same, dull runs longer", fmt.Sprintf("%.2f times by these rows", need.DullFactor), fmt.Sprintf("%.1f times", weather.MadeWinters.DullFactor), "")
	s.tell("the same, cold dull runs more often", fmt.Sprintf("%.2f times by these rows", need.OftenFactor), fmt.Sprintf("%.1f times", weather.MadeWinters.OftenFactor), "")
	for _, row := range [][2]float64{{need.ColderK, weather.MadeWinters.ColderK}, {need.DullFactor, weather.MadeWinters.DullFactor}, {need.OftenFactor, weather.MadeWinters.OftenFactor}} {
		if row[1] < row[0] || row[1] > 1.5*row[0] {
			t.Errorf("made winters lean by %g where their rows ask for %.2f", row[1], row[0])
		}
	}
}

// lit are the winters whose sun is known.
func lit(list []coldDays) []coldDays {
	var out []coldDays
	for _, c := range list {
		if c.dark {
			out = append(out, c)
		}
	}
	return out
}

func wintersMade(t *testing.T, c weather.Climate, spread weather.Spread) []coldDays {
	t.Helper()
	years, err := weather.NewYears(c.Normals, spread, c.Place, winterSeed)
	if err != nil {
		t.Fatal(err)
	}
	extra := clearTable(c.Place)
	out := make([]coldDays, madeWinters)
	for k := range out {
		y, err := years.Year(k)
		if err != nil {
			t.Fatal(err)
		}
		out[k] = madeWinter(y, extra)
	}
	return out
}

// holdWinters adds the rows of the figures, and to need what they ask for beyond what was made.
func holdWinters(s *section, prefix string, winters, made []coldDays, figures []winterFigure, need *weather.Lean) {
	for _, f := range figures {
		want, got, apart := f.of(winters), f.of(made), sampling(winters, f.of)
		allowed := 2*apart + math.Max(f.aim.size, f.aim.share*math.Abs(want))
		switch {
		case strings.HasPrefix(f.name, "coldest"):
			need.ColderK = math.Max(need.ColderK, got-want+apart)
		case strings.HasPrefix(f.name, "dull days"):
			need.DullFactor = math.Max(need.DullFactor, (want+apart)/got)
		case f.aim == aimJoint && want > 0:
			need.OftenFactor = math.Max(need.OftenFactor, (want+apart)/got)
		}
		s.add(row{name: prefix + f.name, mark: counted, met: math.Abs(got-want) <= allowed,
			published: fmt.Sprintf("%s ± %s%s", figure(want, f.digits()), figure(apart, f.digits()), f.ending()), computed: figure(got, f.digits()) + f.ending(),
			allowed: "±" + figure(allowed, f.digits()) + f.ending(), missed: whyWinters(prefix, f.name)})
	}
}

// digits is to what a figure is printed, ending its unit.
func (f winterFigure) digits() float64 {
	if f.unit == "" {
		return 0.01
	}
	return 0.1
}

func (f winterFigure) ending() string {
	if f.unit == "" {
		return ""
	}
	return " " + f.unit
}
