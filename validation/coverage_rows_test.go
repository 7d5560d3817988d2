package validation

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"suncellar/internal/chance"
)

// coverageStored holds what came of all made houses when they were last computed.
const coverageStored = "coverage.csv"

// coverageHead names the columns of the stored rows: of each figure what came true, the band's low end, middle and high end, and what one run tells [°C].
func coverageHead() []string {
	head := []string{"house", "place", "failed"}
	for _, f := range coverageFigures {
		head = append(head, f.name+" true", "low", "middle", "high", "one run")
	}
	return head
}

// readCoverage reads stored rows, in the order of the houses; none where there is no file.
func readCoverage(t *testing.T, path string) []coverageRow {
	t.Helper()
	f, err := os.Open(path)
	if os.IsNotExist(err) {
		return nil
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(lines) == 0 || !slices.Equal(lines[0], coverageHead()) {
		t.Fatalf("%s: its head is not %v", path, coverageHead())
	}
	var rows []coverageRow
	for i, line := range lines[1:] {
		number := func(column int) float64 {
			v, err := strconv.ParseFloat(line[column], 64)
			if err != nil || math.IsNaN(v) {
				t.Fatalf("%s:%d: column %d is %q, must be a number", path, i+2, column+1, line[column])
			}
			return v
		}
		row := coverageRow{house: int(number(0)), place: line[1], failed: int(number(2))}
		for f := range coverageFigures {
			at := 3 + 5*f
			row.truth[f], row.band[f] = number(at), chance.Band{Lo: number(at + 1), Middle: number(at + 2), Hi: number(at + 3)}
			row.one[f] = number(at + 4)
		}
		rows = append(rows, row)
	}
	return rows
}

// writeCoverage writes rows in the order of the houses, whole or not at all.
func writeCoverage(path string, rows []coverageRow) error {
	slices.SortFunc(rows, func(a, b coverageRow) int { return a.house - b.house })
	f, err := os.CreateTemp(".", "coverage-*.tmp")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	w := csv.NewWriter(f)
	w.Write(coverageHead())
	for _, r := range rows {
		line := []string{strconv.Itoa(r.house), r.place, strconv.Itoa(r.failed)}
		for f := range coverageFigures {
			for _, c := range []float64{r.truth[f], r.band[f].Lo, r.band[f].Middle, r.band[f].Hi, r.one[f]} {
				line = append(line, fmt.Sprintf("%.3f", c))
			}
		}
		w.Write(line)
	}
	if w.Flush(); w.Error() != nil {
		return w.Error()
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
