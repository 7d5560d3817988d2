package report

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"suncellar/examples"
	"suncellar/internal/draw"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// To look at the pictures of whole examples: SUNCELLAR_PICTURES=/tmp/pictures go test ./internal/report -run TestWriteHousePictures
func TestWriteHousePictures(t *testing.T) {
	dir := os.Getenv("SUNCELLAR_PICTURES")
	if dir == "" {
		t.Skip("SUNCELLAR_PICTURES is not set: no files are written to look at")
	}
	for _, e := range examples.All() {
		p, findings := plan.Load(e.Name, e.Plan, house.Known())
		if err := plan.AsError(findings); err != nil {
			t.Fatal(err)
		}
		a, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
		if err != nil {
			t.Fatal(err)
		}
		list, err := teller(p.Units).HousePictures(a)
		if err != nil {
			t.Fatal(err)
		}
		for _, picture := range list {
			var b bytes.Buffer
			if err := draw.SVG(&b, picture.List, draw.SVGOptions{}); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, e.Name+"-"+picture.Name), b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func teller(units string) Teller {
	t, _ := NewTeller(units)
	return t
}
