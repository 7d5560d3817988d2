package winter

import (
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat"

	"suncellar/examples"
	"suncellar/internal/plan"
)

// januaries is the mean air of January in forty years made with a spread between years, and days that differ by 3 K [°C].
func januaries(t *testing.T, spread string) []float64 {
	t.Helper()
	all := func(path, value string) plan.Change {
		return plan.Change{Path: "climate." + path, Value: "[" + strings.Repeat(value+", ", 11) + value + "]", Origin: plan.Changed}
	}
	p, findings := plan.Apply(examples.LarchHollowName, examples.LarchHollow, plan.Change{Path: "climate.year_lowest", Value: "none", Origin: plan.Changed},
		all("month_spread", spread), all("low_spread", "3 K"), all("high_spread", "3 K"))
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	y, err := Years(p)
	if err != nil {
		t.Fatal(err)
	}
	var means []float64
	for k := range 40 {
		s, err := y.Year(k)
		if err != nil {
			t.Fatal(err)
		}
		sum, n := 0.0, 0
		for i := range s.Hours {
			if s.HourStart(i).Month() == time.January {
				sum, n = sum+s.Hours[i].AirC, n+1
			}
		}
		means = append(means, sum/float64(n))
	}
	return means
}

// Made years differ by what the plan's climate says. Sampling: the deviation of forty is within a quarter of its own in 97 of 100 cases.
func TestYearsTakeThePlansSpread(t *testing.T) {
	for _, c := range []struct {
		text   string
		lo, hi float64
	}{{"2 K", 1.5, 2.5}, {"4 K", 3, 5}} {
		if got := stat.StdDev(januaries(t, c.text), nil); got < c.lo || got > c.hi {
			t.Errorf("January differs by %.2f K between years, want %.1f to %.1f as the plan says %s", got, c.lo, c.hi, c.text)
		}
	}
}
