package web

import (
	"flag"
	"net/http/httptest"
	"os"
	"testing"

	"suncellar/internal/folder"
)

var update = flag.Bool("update", false, "write ui/openapi.json anew")

const interfacePath = "../../ui/openapi.json"

// The page's types are made from the interface as the program has it.
func TestPageKnowsTheInterface(t *testing.T) {
	plans, err := folder.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer plans.Close()
	w := httptest.NewRecorder()
	r := httptest.NewRequest("GET", "http://localhost/api/openapi.json", nil)
	New(Options{Plans: plans, Hosts: []string{"localhost"}}).ServeHTTP(w, r)
	if *update {
		if err := os.WriteFile(interfacePath, w.Body.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if old, err := os.ReadFile(interfacePath); err != nil || string(old) != w.Body.String() {
		t.Errorf("ui/openapi.json is not what the program has; run go test ./internal/web -update, then make page (%v)", err)
	}
}
