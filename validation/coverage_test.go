package validation

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"suncellar/internal/winter"
)

// TestCoverage holds bands against what comes true, from the stored rows. SUNCELLAR_COVERAGE=all computes all houses anew, an hour of two cores, and goes on where it was stopped;
// SUNCELLAR_COVERAGE=ten computes ten of them and holds them against the stored rows.
func TestCoverage(t *testing.T) {
	t.Parallel()
	s := begin(t, "Bands", "made houses of our own in winters of records", coverageWords())
	switch how := os.Getenv("SUNCELLAR_COVERAGE"); how {
	case "all":
		computeCoverage(t)
	case "ten":
		coverageAgain(t)
	case "":
	default:
		t.Fatalf("SUNCELLAR_COVERAGE is %q, must be all or ten, or not set", how)
	}
	rows := readCoverage(t, coverageStored)
	if len(rows) != coverageHouses {
		t.Fatalf("%s has %d houses, want %d: run make coverage", coverageStored, len(rows), coverageHouses)
	}
	for f := range coverageFigures {
		holdCoverage(s, f, rows)
	}
	told := ""
	for _, deviation := range []float64{0, 0.2, 0.4, 0.5} {
		told += fmt.Sprintf("%.0f %%: %.0f %%; ", 100*deviation, 100*betterAt(deviation))
	}
	s.tell(fmt.Sprintf("in a model: how much better bands of %d draws are than one of fixed width, by how much the true spreads of houses deviate", coverageDraws), "", strings.TrimSuffix(told, "; "),
		"normal lowests of houses that differ in nothing else; the widths above deviate by what their draws do by chance, 16 % of their mean, and by what houses truly differ")
	s.done(t)
}

// computeCoverage computes all houses that the unfinished file does not hold yet.
func computeCoverage(t *testing.T) {
	const unfinished = coverageStored + ".part"
	world := coverageOf(t)
	rows := readCoverage(t, unfinished)
	var todo []int
	for k := range coverageHouses {
		if !slices.ContainsFunc(rows, func(r coverageRow) bool { return r.house == k }) {
			todo = append(todo, k)
		}
	}
	var writing sync.Mutex
	err := winter.AtOnce(context.Background(), len(todo), 0, func(i int) {
		row, err := world.run(context.Background(), todo[i])
		writing.Lock()
		defer writing.Unlock()
		if err != nil {
			t.Errorf("made house %d: %v", todo[i], err)
			return
		}
		rows = append(rows, row)
		if err := writeCoverage(unfinished, rows); err != nil {
			t.Error(err)
		}
		fmt.Fprintf(os.Stderr, "house %d: %d of %d\n", row.house, len(rows), coverageHouses)
	})
	if err != nil || t.Failed() {
		t.Fatal("not all houses could be computed: ", err)
	}
	if err := os.Rename(unfinished, coverageStored); err != nil {
		t.Fatal(err)
	}
}

// coverageApartK is how far a house computed anew may lie from its stored row: what machines and a bettered solver move [K].
const coverageApartK = 0.25

// coverageAgain computes every fortieth house and holds it against its stored row.
func coverageAgain(t *testing.T) {
	world := coverageOf(t)
	rows := readCoverage(t, coverageStored)
	const each = coverageHouses / 10
	err := winter.AtOnce(context.Background(), 10, 0, func(i int) {
		got, err := world.run(context.Background(), i*each)
		if err != nil {
			t.Errorf("made house %d: %v", i*each, err)
			return
		}
		want := rows[i*each]
		for f, figure := range coverageFigures {
			apart := 0.0
			for _, pair := range [][2]float64{{got.truth[f], want.truth[f]}, {got.band[f].Lo, want.band[f].Lo}, {got.band[f].Middle, want.band[f].Middle}, {got.band[f].Hi, want.band[f].Hi}, {got.one[f], want.one[f]}} {
				apart = math.Max(apart, math.Abs(pair[0]-pair[1]))
			}
			if !(apart <= coverageApartK) {
				t.Errorf("made house %d, %s: %.2f K off its stored row\n got %.2f in %.2f\nwant %.2f in %.2f", i*each, figure.name, apart, got.truth[f], got.band[f], want.truth[f], want.band[f])
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
}
