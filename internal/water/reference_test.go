package water

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"suncellar/internal/catchment"
	"suncellar/internal/record"
	"suncellar/internal/weather"
)

// A hundred years of a record: all that fell on the roof is caught, or lies on it as snow at the end, and the books close.
func TestRecordedRain(t *testing.T) {
	folder := os.Getenv("SUNCELLAR_REFERENCE")
	if folder == "" {
		t.Skip("SUNCELLAR_REFERENCE is not set")
	}
	r, err := record.Open(filepath.Join(folder, "daily", "boulderdaily.complete.txt.gz"), record.Options{Place: weather.KnownPlace(40, -105.3, 1670), UTCOffset: -7 * time.Hour, ZoneGiven: true})
	if err != nil {
		t.Fatal(err)
	}
	a, err := Run(context.Background(), Request{Plan: read(t, wet), Record: r}, nil)
	if err != nil {
		t.Fatal(err)
	}
	days, unknown := daysOfRecord(r)
	fell, late := 0.0, 0.0
	for i, d := range days {
		fell += catchment.Yield(12, d.RainMM+d.SnowMM, 0.9)
		if len(days)-i <= 200 {
			late += catchment.Yield(12, d.SnowMM, 0.9)
		}
	}
	b := a.Rain
	near(t, "open", b.Open, 0, 1e-6*b.Caught)
	near(t, "caught of what fell", b.Caught, fell, late+catchment.Yield(12, 100, 0.9)) // snow of the last winter may lie; some of the first year's lay when it began
	if b.Unknown != unknown || b.SnowShare < 0.1 || b.SnowShare > 0.6 || b.Years < 100 {
		t.Errorf("%d of %d days are not known, %g of it is snow, %g years", b.Unknown, unknown, b.SnowShare, b.Years)
	}
	t.Logf("%.0f years, %.0f L a year, %.0f %% of it snow, reliability %.3f", b.Years, 1000*b.Caught/b.Years, 100*b.SnowShare, b.Reliability())
}
