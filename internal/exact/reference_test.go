package exact

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// off is true where a value misses the wanted one by more than tol, or is no number.
func off(got, want, tol float64) bool { return !(math.Abs(got-want) <= tol) }

// table reads the rows of numbers of a published table; the heading is returned split at commas.
func table(t *testing.T, name string) (heading []string, rows [][]float64) {
	t.Helper()
	folder := os.Getenv("SUNCELLAR_REFERENCE")
	if folder == "" {
		t.Skipf("SUNCELLAR_REFERENCE is not set: the published table %s is not compared", name)
	}
	file, err := os.Open(filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for lines := bufio.NewScanner(file); lines.Scan(); {
		cells := strings.Split(lines.Text(), ",")
		if heading == nil {
			heading = cells
			continue
		}
		row := make([]float64, len(cells))
		for i, c := range cells {
			if row[i], err = strconv.ParseFloat(c, 64); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		t.Fatalf("%s holds no rows", name)
	}
	return heading, rows
}

// ISO 10211:2017 case 1, all 28 points. The printed values have one digit; the
// table has two, so 0.005 K is the tolerance (the standard allows 0.1 K).
func TestHalfColumn_wholeTable(t *testing.T) {
	_, rows := table(t, "c05_iso10211_case1.csv")
	for _, row := range rows {
		for i, want := range row[1:] {
			got := HalfColumn(20, float64(i+1)/4, row[0]/4)
			if off(got, want, 0.00501) {
				t.Errorf("row %g column %d: %.4f °C, want %.2f", row[0], i+1, got, want)
			}
		}
	}
}

// Kusuda and Achenbach 1965 for Tm 10, As 15, t0 35, a 0.0576 m2/d; three digits.
func TestGround_wholeTable(t *testing.T) {
	heading, rows := table(t, "c05_kusuda_table.csv")
	g := Ground{Mean: 10, Amplitude: 15, ColdestDay: 35, Diffusivity: 0.0576}
	compared := 0
	for _, row := range rows {
		for i, want := range row[1:] {
			// The last column's heading carries a remark after the day.
			day := strings.TrimPrefix(strings.Fields(heading[i+1])[0], "day")
			on, err := strconv.ParseFloat(day, 64)
			if err != nil {
				t.Fatal(err)
			}
			if got := g.Temperature(row[0], on); off(got, want, 0.000501) {
				t.Errorf("%g m day %g: %.4f °C, want %.3f", row[0], on, got, want)
			}
			compared++
		}
	}
	if compared != 72 {
		t.Errorf("%d values compared, want 72", compared)
	}
}
