package examples_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"suncellar/examples"
)

// Every plan in the folder is in the program, and every one says that it is invented; the list of prices too.
func TestAllAreListed(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, e := range examples.All() {
		listed[e.Name] = true
		file, err := os.ReadFile(e.Name)
		if err != nil || !bytes.Equal(file, e.Plan) {
			t.Errorf("%s is not the file of that name: %v", e.Name, err)
		}
		first, _, _ := strings.Cut(string(e.Plan), "\n")
		if !strings.Contains(first, "invented house at an invented place") || !strings.Contains(string(e.Plan), "Invented example.") {
			t.Errorf("%s does not say in its first line and in its notes that it is invented", e.Name)
		}
	}
	for _, f := range files {
		if f == "prices.yaml" {
			if file, err := os.ReadFile(f); err != nil || !bytes.Equal(file, examples.Prices) || !strings.HasPrefix(string(file), "# Invented prices") {
				t.Errorf("%s does not begin with saying that its prices are invented: %v", f, err)
			}
			continue
		}
		if !listed[f] {
			t.Errorf("%s is in no list", f)
		}
	}
}
