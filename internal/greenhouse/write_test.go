package greenhouse

import (
	"bufio"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// With SUNCELLAR_NETWORK naming a file, the demo's network on its full mesh is written to it, and its coefficients hour by hour through a winter: the
// case that docs/performance.md gives to a general stiff solver (docs/stiff.py).
func TestWriteNetwork(t *testing.T) {
	path := os.Getenv("SUNCELLAR_NETWORK")
	if path == "" {
		t.Skip("SUNCELLAR_NETWORK names no file")
	}
	text, err := os.ReadFile(filepath.Join("..", "..", "examples", "larch-hollow.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	h := mustHouse(t, string(text))
	y := typicalYear(t, h)
	u, err := UndisturbedGround(h.Plan, y)
	if err != nil {
		t.Fatal(err)
	}
	begin := time.Date(y.Start.Year(), 9, 1, 0, 0, 0, 0, y.Start.Location())
	w := y.Between(begin, begin.AddDate(0, 4, 0))
	g, err := New(h, Setup{StartC: 14, Ground: u.Profile(9, 1), Snow: SnowFalls, Earth: FullMesh})
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	out := bufio.NewWriter(f)
	if err := g.Net.Write(out); err != nil {
		t.Fatal(err)
	}
	_, err = g.Run(t.Context(), &w, Options{Stop: func(*Result) bool {
		if err := g.Net.WriteHour(out); err != nil {
			t.Fatal(err)
		}
		return false
	}})
	if err != nil {
		t.Fatal(err)
	}
	if err := out.Flush(); err != nil {
		t.Fatal(err)
	}
}
