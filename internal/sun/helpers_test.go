package sun

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"
)

// near fails when got is further than tolerance from want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.7g, want %.7g +- %.2g", what, got, want, tolerance)
	}
}

// place is a spot in degrees.
func place(lat, lon, elevation float64) Place {
	return Place{Latitude: Degrees(lat), Longitude: Degrees(lon), ElevationM: elevation}
}

// reference opens a published table, or skips the test.
func reference(t *testing.T, parts ...string) *os.File {
	t.Helper()
	dir := os.Getenv("SUNCELLAR_REFERENCE")
	if dir == "" {
		t.Skipf("SUNCELLAR_REFERENCE is not set: the published table %s is not compared", parts[len(parts)-1])
	}
	f, err := os.Open(filepath.Join(append([]string{dir}, parts...)...))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// records reads a published table of comma separated values without its heading.
func records(t *testing.T, parts ...string) [][]string {
	t.Helper()
	rows, err := csv.NewReader(reference(t, parts...)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func instant(t *testing.T, s string) time.Time {
	t.Helper()
	v, err := time.Parse(time.RFC3339, s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
