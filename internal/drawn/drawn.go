// Package drawn lets the tests that draw random cases draw the same ones each time, so that a run that was green stays
// green until something is changed. SUNCELLAR_LONG=1 draws others each time. Tests import it, programs never.
package drawn

import (
	"flag"
	"os"
	"testing"
)

// seed of all random cases; any number would do.
const seed = "20240229"

// Main runs a package's tests with one seed for their random cases, unless -rapid.seed names another. It is for TestMain.
func Main(m *testing.M) {
	flag.Parse()
	if f := flag.Lookup("rapid.seed"); f != nil && f.Value.String() == "0" && os.Getenv("SUNCELLAR_LONG") == "" {
		if err := f.Value.Set(seed); err != nil {
			panic("drawn: " + err.Error())
		}
	}
	os.Exit(m.Run())
}
