package weather

import "fmt"

// Spread is how a climate differs from year to year and from day to day, January first. All zero: not known, and taken from published relations.
type Spread struct {
	MonthK [12]float64 // standard deviation between years of the month's mean air [K]
	LowK   [12]float64 // of the days' lowest about the mean of their own month [K]
	HighK  [12]float64 // of the days' highest about the mean of their own month [K]
}

// Check tells what is wrong with the spread: month, value and what is allowed.
func (s Spread) Check() error {
	for _, f := range []struct {
		what        string
		values      [12]float64
		least, most float64
	}{
		{"deviation of the month's mean between years", s.MonthK, 0.1, 8},
		{"deviation of the days' lowest", s.LowK, 0.5, 15}, {"deviation of the days' highest", s.HighK, 0.5, 15},
	} {
		for m, v := range f.values {
			if !allZero(f.values) && !(v >= f.least && v <= f.most) {
				return fmt.Errorf("spread of month %d: %s is %g, must be %g to %g, or 0 in all months", m+1, f.what, v, f.least, f.most)
			}
		}
	}
	return nil
}
