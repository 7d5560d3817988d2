package greenhouse

import (
	"flag"
	"os"
	"testing"
)

// Random plans are drawn from one seed, so that every run tries the same ones; SUNCELLAR_LONG=1 draws others each time.
func TestMain(m *testing.M) {
	flag.Parse()
	if seed := flag.Lookup("rapid.seed"); seed != nil && seed.Value.String() == "0" && os.Getenv("SUNCELLAR_LONG") == "" {
		if err := seed.Value.Set("20240229"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
