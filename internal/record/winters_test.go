package record

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"suncellar/internal/weather"
)

var (
	firstOfNovember = weather.MonthDay{Month: time.November, Day: 1}
	endOfMarch      = weather.MonthDay{Month: time.March, Day: 31}
)

// invented is a record of whole calendar years from 2001 on: a year's wave with weather upon it that remembers itself by 0.7 a day.
func invented(years int) *Record {
	random := rand.New(rand.NewPCG(1, 2))
	start := time.Date(2001, 1, 1, 0, 0, 0, 0, weather.Zone(-7*time.Hour))
	r := &Record{Name: "invented", Place: somewhere, Start: start}
	x := 0.0
	for day := start; day.Year() < 2001+years; day = day.AddDate(0, 0, 1) {
		x = 0.7*x + 4*random.NormFloat64()
		mean := 8 - 12*math.Cos(2*math.Pi*float64(day.YearDay()-20)/365) + x
		r.Days = append(r.Days, weather.Day{LowC: mean - 6, HighC: mean + 6, SunWhM2: 2000, DewPointC: mean - 8, RainMM: 1, WindMS: 3})
	}
	return r
}

func winters(t *testing.T, r *Record) Winters {
	t.Helper()
	w, err := r.Winters(firstOfNovember, endOfMarch)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// Whole winters are named by their years; those at the ends and one with four days missing are left out and named; three days are bridged.
func TestWintersOfDays(t *testing.T) {
	t.Parallel()
	r := invented(6)
	lose := func(from string, n int) {
		at, err := time.ParseInLocation(time.DateOnly, from, r.Start.Location())
		if err != nil {
			t.Fatal(err)
		}
		for i := range n {
			r.Days[int(at.Sub(r.Start)/(24*time.Hour))+i].LowC = math.NaN()
		}
	}
	lose("2003-01-10", 4)
	lose("2003-10-30", 3) // across the first day
	lose("2005-03-31", 2) // across the last
	w := winters(t, r)
	var names []string
	for _, winter := range w.List {
		names = append(names, winter.Name)
	}
	if want := []string{"2001-02", "2003-04", "2004-05", "2005-06"}; !slices.Equal(names, want) {
		t.Errorf("winters %v, want %v", names, want)
	}
	want := []LeftOut{{"2000-01", "the record has 90 of its 151 days"}, {"2002-03", "4 days without air temperature from 2003-01-10"}, {"2006-07", "the record has 61 of its 151 days"}}
	if !slices.Equal(w.LeftOut, want) {
		t.Errorf("left out %v\nwant %v", w.LeftOut, want)
	}
	if !strings.Contains(w.Few, "4 whole winters") {
		t.Errorf("few: %q", w.Few)
	}
	if w := winters(t, invented(12)); w.Few != "" || len(w.List) != 11 {
		t.Errorf("%d winters, few: %q", len(w.List), w.Few)
	}
	for _, winter := range w.List {
		s, err := winter.Series()
		if err != nil {
			t.Fatal(err)
		}
		days := 151 + map[string]int{"2003-04": 1}[winter.Name]
		if s.Start.Format("01-02 15") != "11-01 00" || len(s.Hours) != 24*days || s.TypicalYear {
			t.Errorf("%s: %d h from %s", winter.Name, len(s.Hours), s.Start)
		}
	}
}

// The hours of a winter are those that the whole record would make: the first and the last night too.
func TestWinterIsPartOfItsRecord(t *testing.T) {
	t.Parallel()
	r := invented(3)
	all, err := weather.FromDays(r.Start, r.Place, r.Days)
	if err != nil {
		t.Fatal(err)
	}
	s, err := winters(t, r).List[0].Series()
	if err != nil {
		t.Fatal(err)
	}
	first, _ := all.Index(s.Start.Add(time.Hour))
	for i, h := range s.Hours {
		if want := all.Hours[first+i]; math.Abs(h.AirC-want.AirC) > 1e-9 || math.Abs(h.GlobalWM2-want.GlobalWM2) > 1e-9 || math.Abs(h.WindMS-want.WindMS) > 1e-9 || math.Abs(h.DewPointC-want.DewPointC) > 1e-9 {
			t.Fatalf("hour %d is %+v, of the whole record %+v", i, h, want)
		}
	}
}

// Winters of blocks are the same whatever else is asked for, differ by number and seed, and are made of days of their own season.
func TestBlocksAreTheSameWhateverIsAsked(t *testing.T) {
	t.Parallel()
	w := winters(t, invented(5))
	make := func(n int, seed uint64) []Winter {
		got, err := w.Blocks(n, 10, seed)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	few, many, other := make(3, 7), make(40, 7), make(3, 8)
	for i := range few {
		if !reflect.DeepEqual(few[i].Blocks, many[i].Blocks) {
			t.Errorf("winter %d depends on how many are asked for", i)
		}
		if reflect.DeepEqual(few[i].Blocks, other[i].Blocks) || (i > 0 && reflect.DeepEqual(few[i].Blocks, few[0].Blocks)) {
			t.Errorf("winter %d is another's", i)
		}
	}
	for _, winter := range many {
		at, days := winter.Start, 0
		for _, b := range winter.Blocks {
			off := (at.YearDay()-b.From.YearDay()+365+182)%365 - 182
			if b.Days > 10 || max(off, -off) > blockWindow+1 {
				t.Errorf("%s: block of %d days from %s for %s", winter.Name, b.Days, b.From.Format(time.DateOnly), at.Format(time.DateOnly))
			}
			at, days = at.AddDate(0, 0, b.Days), days+b.Days
		}
		if days != 151 {
			t.Errorf("%s has %d days", winter.Name, days)
		}
	}
	s, err := many[39].Series()
	if err != nil || len(s.Hours) != 151*24 || !s.TypicalYear {
		t.Errorf("%d hours, %v", len(s.Hours), err)
	}
}

// What blocks keep: means within the error of sampling, the spread of days, and the memory from day to day but for the seams: r (1 - 1/L).
func TestBlocksKeepSeasonSpreadAndMemory(t *testing.T) {
	t.Parallel()
	r := invented(30)
	w := winters(t, r)
	const length = 10
	made, err := w.Blocks(200, length, 3)
	if err != nil {
		t.Fatal(err)
	}
	observed, drawn := figures(r, w.List), figures(r, made)
	t.Logf("observed %v, drawn %v", observed, drawn)
	if math.Abs(observed[0]-drawn[0]) > 0.3 || math.Abs(observed[1]/drawn[1]-1) > 0.05 {
		t.Errorf("mean and spread %.2f, %.2f; observed %.2f, %.2f", drawn[0], drawn[1], observed[0], observed[1])
	}
	// the wave of the year is in the memory too and is not cut by seams; the rest is
	if want := observed[2] * (1 - 1.0/length); drawn[2] > observed[2]+0.01 || drawn[2] < want-0.02 {
		t.Errorf("memory of a day %.3f, observed %.3f, seams alone would leave %.3f", drawn[2], observed[2], want)
	}
}

// figures are mean and standard deviation of the days' lows [°C] and their correlation from day to day.
func figures(r *Record, list []Winter) [3]float64 {
	var n, sum, square, pairs, product float64
	for _, w := range list {
		for _, d := range w.days {
			n, sum, square = n+1, sum+r.Days[d].LowC, square+r.Days[d].LowC*r.Days[d].LowC
		}
	}
	mean := sum / n
	for _, w := range list {
		for k := 1; k < len(w.days); k++ {
			pairs++
			product += (r.Days[w.days[k]].LowC - mean) * (r.Days[w.days[k-1]].LowC - mean)
		}
	}
	variance := square/n - mean*mean
	return [3]float64{mean, math.Sqrt(variance), product / pairs / variance}
}

// What cannot be drawn is refused.
func TestBlocksRefused(t *testing.T) {
	t.Parallel()
	w := winters(t, invented(3))
	for _, row := range []struct {
		n, days int
		want    string
	}{{0, 10, "must be 1 to 100000"}, {5, 0, "must have 1 to 60"}, {5, 61, "must have 1 to 60"}} {
		if _, err := w.Blocks(row.n, row.days, 1); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%d of %d days: %v", row.n, row.days, err)
		}
	}
	r := invented(3)
	for i := range r.Days {
		if i%9 == 0 {
			r.Days[i].HighC = math.NaN()
		}
	}
	if _, err := winters(t, r).Blocks(5, 10, 1); err == nil || !strings.Contains(err.Error(), "whose air is known") {
		t.Errorf("blocks with holes: %v", err)
	}
}

// The winters of an hourly record are its hours; a typical year has one.
func TestWintersOfHours(t *testing.T) {
	t.Parallel()
	r := invented(3)
	all, err := weather.FromDays(r.Start, r.Place, r.Days)
	if err != nil {
		t.Fatal(err)
	}
	for _, cut := range []int{0, 5} {
		part := all.Between(all.HourStart(cut), all.End())
		hourly := ofSeries(part, Options{})
		w := winters(t, hourly)
		if len(w.List) != 2 || w.List[1].Name != "2002-03" {
			t.Fatalf("winters %v", w.List)
		}
		s, err := w.List[1].Series()
		if err != nil {
			t.Fatal(err)
		}
		want := all.Between(s.Start, s.End())
		for i := range want.Hours {
			if s.Hours[i].AirC != want.Hours[i].AirC {
				t.Fatalf("cut %d: hour %d from %s is %.3f, want %.3f °C", cut, i, s.Start, s.Hours[i].AirC, want.Hours[i].AirC)
			}
		}
		blocks, err := w.Blocks(2, 12, 1)
		if err != nil {
			t.Fatal(err)
		}
		made, err := blocks[1].Series()
		if err != nil || len(made.Hours) != 151*24 {
			t.Fatalf("%d hours, %v", len(made.Hours), err)
		}
		second := blocks[1].Blocks[1]
		i, _ := all.Index(second.From.Add(time.Hour))
		if made.Hours[24*blocks[1].Blocks[0].Days].AirC != all.Hours[i].AirC {
			t.Error("a block does not begin with its first hour")
		}
	}
	year := all.Between(all.Start, all.Start.AddDate(1, 0, 0))
	year.TypicalYear = true
	w := winters(t, ofSeries(year, Options{}))
	if len(w.List) != 1 || w.List[0].Name != "typical" || w.Few == "" {
		t.Errorf("a typical year gives %v", w.List)
	}
	if s, err := w.List[0].Series(); err != nil || len(s.Hours) != 151*24 {
		t.Errorf("%d hours, %v", len(s.Hours), err)
	}
	if _, err := w.Blocks(1, 10, 1); err == nil {
		t.Error("blocks of a typical year")
	}
}

// The longest whole run of a record is told with what is left out; years cut it; written as the plain CSV and read again it is the same.
func TestLongestRunAndYears(t *testing.T) {
	t.Parallel()
	r := invented(4)
	for i := 500; i < 510; i++ {
		r.Days[i].LowC = math.NaN()
	}
	s, err := r.Longest()
	if err != nil {
		t.Fatal(err)
	}
	if s.Start != r.Date(510) || len(s.Hours) != 24*(len(r.Days)-510) || !strings.Contains(s.Notes[len(s.Notes)-1].String(), "missing days, 12240 h") {
		t.Errorf("%d h from %s, last note %s", len(s.Hours), s.Start, s.Notes[len(s.Notes)-1])
	}
	year, err := r.Years(2003, 2003)
	if err != nil || len(year.Days) != 365 || year.Start.Format(time.DateOnly) != "2003-01-01" {
		t.Fatalf("%d days from %s, %v", len(year.Days), year.Start, err)
	}
	if _, err := r.Years(1990, 1995); err == nil || !strings.Contains(err.Error(), "has nothing of 1990 to 1995") {
		t.Errorf("years before it: %v", err)
	}
	hours, err := year.Longest()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := weather.WritePlain(&b, hours); err != nil {
		t.Fatal(err)
	}
	again, err := Read(strings.NewReader(b.String()), "f", Options{})
	if err != nil {
		t.Fatal(err)
	}
	if again.Hourly == nil || len(again.Hourly.Hours) != 8760 || !again.Start.Equal(year.Start) {
		t.Fatalf("read again: %d days from %s", again.count(), again.Start)
	}
	for i, h := range again.Hourly.Hours {
		if math.Abs(h.AirC-hours.Hours[i].AirC) > 1e-4 || math.Abs(h.GlobalWM2-hours.Hours[i].GlobalWM2) > 1e-2 {
			t.Fatalf("hour %d is %+v, was %+v", i, h, hours.Hours[i])
		}
	}
}
