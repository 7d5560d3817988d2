package ensemble

import (
	"math"
	"time"

	"suncellar/internal/greenhouse"
)

// Summary is what is kept of a run.
type Summary struct {
	Run
	Snow   greenhouse.SnowCase
	Places []Place // in the order of the house's places
	WaterC float64 // lowest temperature of the store; NaN where there is none
	Err    error   // why there is nothing else
}

// Place is one place's winter.
type Place struct {
	Name     string
	Kind     greenhouse.PlaceKind
	LowestC  float64
	LowestAt time.Time   // end of the hour
	Below    [2]int      // hours below 0 °C and below the plan's limit
	MonthC   [12]float32 // lowest of each month, January first; NaN where no hour of it counts [°C]
}

// take sums up a result.
func (s *Summary) take(r *greenhouse.Result, limitC float64) {
	s.WaterC = math.NaN()
	s.Places = make([]Place, 0, len(r.Traces))
	month := monthOf(r)
	for i := range r.Traces {
		t := &r.Traces[i]
		p := Place{Name: t.Name, Kind: t.Kind}
		low, at := t.Lowest()
		p.LowestC, p.LowestAt = low, r.Time(at)
		for m := range p.MonthC {
			p.MonthC[m] = float32(math.NaN())
		}
		for k, c := range t.C {
			if c < 0 {
				p.Below[0]++
			}
			if c < limitC {
				p.Below[1]++
			}
			if m := &p.MonthC[month[k]]; !(float32(c) >= *m) {
				*m = float32(c)
			}
		}
		if t.Kind == greenhouse.WaterPlace && !(low >= s.WaterC) {
			s.WaterC = low
		}
		s.Places = append(s.Places, p)
	}
}

// monthOf is the month, 0 to 11, in which each recorded hour lies.
func monthOf(r *greenhouse.Result) []int8 {
	list := make([]int8, r.Hours())
	for i := range list {
		list[i] = int8(r.Start.Add(time.Duration(i)*time.Hour).Month()) - 1
	}
	return list
}

// coldestC is the lowest of all leaves, or of all air where there are no beds; +Inf before the first run.
func (s *Summary) coldestC() float64 {
	low := math.Inf(1)
	for _, kind := range []greenhouse.PlaceKind{greenhouse.LeafPlace, greenhouse.AirPlace} {
		for i := range s.Places {
			if p := &s.Places[i]; p.Kind == kind {
				low = math.Min(low, p.LowestC)
			}
		}
		if !math.IsInf(low, 1) {
			return low
		}
	}
	return low
}

// Place finds a place by name, nil when there is none.
func (s *Summary) Place(name string) *Place {
	for i := range s.Places {
		if s.Places[i].Name == name {
			return &s.Places[i]
		}
	}
	return nil
}
