package prices

import (
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/quantities"
)

// Blank is a list to begin with: everything that a house has, in comments, to be given prices.
func Blank(h *house.House) string {
	var b strings.Builder
	b.WriteString("# Your prices. Take the # away and write a number; what has no price is told, and is in no sum.\nsuncellar_prices: " + format + "\ncurrency: money\nprices:\n")
	for _, i := range quantities.Bill(h) {
		unit := "piece"
		switch {
		case i.M2 > 0 && i.Name != quantities.BedSoil && i.Count == 0:
			unit = "m2"
		case i.M3 > 0:
			unit = "m3"
		case i.M > 0:
			unit = "m"
		}
		b.WriteString("  # " + i.String() + ": ... per " + unit + "\n")
	}
	b.WriteString("  # leakage: ... per change\n")
	return b.String()
}
