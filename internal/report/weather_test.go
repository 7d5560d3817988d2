package report

import (
	"testing"
	"time"

	"suncellar/internal/weather"
)

// Months of a year become its row: sums are added, means weighed by hours, extremes kept.
func TestByYear(t *testing.T) {
	t.Parallel()
	got := byYear([]weather.MonthStatistics{
		{Year: 2001, Month: time.January, Hours: 100, MeanC: -4, LowestC: -9, HighestC: 2, RainMM: 10, GlobalKWhM2: 50, WindMS: 2},
		{Year: 2001, Month: time.February, Hours: 300, MeanC: 4, LowestC: -5, HighestC: 8, RainMM: 20, GlobalKWhM2: 70, WindMS: 4},
		{Year: 2002, Month: time.January, Hours: 100, MeanC: 1},
	})
	want := weather.MonthStatistics{Year: 2001, Month: time.January, Hours: 400, MeanC: 2, LowestC: -9, HighestC: 8, RainMM: 30, GlobalKWhM2: 120, WindMS: 3.5}
	if len(got) != 2 || got[0] != want || got[1].Year != 2002 {
		t.Errorf("%+v\nwant %+v first", got, want)
	}
}
