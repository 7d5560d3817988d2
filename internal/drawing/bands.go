package drawing

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"suncellar/internal/draw"
)

// Bands is the lowest temperature of one place with the two kinds of band,
// which are never mixed: over winters, and over what is not known of the house.
type Bands struct {
	Title    string
	Sentence string
	Place    string
	Winters  Band        // the house as planned, over winters
	House    Band        // one winter, over what is not known of the house
	Both     *Band       // over both at once; nil: not run
	SharesOf string      // what the per cent are of: a sentence; may be empty
	Matters  []BandShare // what the winter and what the house adds to the spread; may be empty
	Inputs   []BandShare // what each thing that is not known adds to the house's; may be empty
}

// Band is a lowest temperature with its ends.
type Band struct {
	LoC, MidC, HiC float64 // [°C]
	Note           string  // "8 winters in 10 of 100"; may be empty
}

// BandShare is what one cause adds to a spread.
type BandShare struct {
	Name  string
	Share float64 // 0 to 1
}

// Names of the bands: they are never told by one word alone.
const (
	overWinters = "over winters"
	overHouse   = "over what is not known of the house"
	overBoth    = "over both at once"
)

// DrawBands draws each band as a bar of its own on one axis of temperature,
// with lower end, middle and upper end in figures, what is below freezing
// hatched; below them the shares in per cent, the largest first.
//
// Errors: ends that are not finite or do not hold the middle; a share without
// a name or outside 0 to 1.
func DrawBands(in Bands, f Frame) (*draw.List, error) {
	p, err := newPage("bands", f)
	if err != nil {
		return nil, err
	}
	if err := in.check(); err != nil {
		return nil, fmt.Errorf("bands: %w", err)
	}
	p.heading(in.Title, in.Sentence)
	p.l.Desc = strings.TrimSpace(p.l.Desc + " " + in.words(p.u))
	newBandRows(p, in).draw()
	newShareRows(p, in).draw()
	return p.finish(), nil
}

// namedBand is a band with the name it is told by.
type namedBand struct {
	name string
	Band
}

func (in Bands) bands() []namedBand {
	out := []namedBand{{overWinters, in.Winters}, {overHouse, in.House}}
	if in.Both != nil {
		out = append(out, namedBand{overBoth, *in.Both})
	}
	return out
}

func (in Bands) check() error {
	for _, b := range in.bands() {
		if sum := b.LoC + b.MidC + b.HiC; math.IsNaN(sum) || math.IsInf(sum, 0) {
			return fmt.Errorf("%s: %g, %g, %g °C, must be finite", b.name, b.LoC, b.MidC, b.HiC)
		}
		if b.MidC < b.LoC || b.MidC > b.HiC {
			return fmt.Errorf("%s: middle %g °C lies outside %g to %g °C", b.name, b.MidC, b.LoC, b.HiC)
		}
	}
	for _, list := range [][]BandShare{in.Matters, in.Inputs} {
		for i, s := range list {
			if strings.TrimSpace(s.Name) == "" {
				return fmt.Errorf("share %d has no name", i+1)
			}
			if !(s.Share >= 0 && s.Share <= 1) {
				return fmt.Errorf("%s: share %g, must be 0 to 1", s.Name, s.Share)
			}
		}
	}
	return nil
}

// words tells bands and shares for those who cannot see the picture.
func (in Bands) words(u Units) string {
	var out []string
	for _, b := range in.bands() {
		out = append(out, b.tip(in.Place, u)+".")
	}
	for _, list := range [][]BandShare{in.Matters, in.Inputs} {
		var said []string
		for _, s := range largestFirst(list) {
			said = append(said, s.Name+" "+percent(s.Share))
		}
		if len(said) > 0 {
			out = append(out, strings.Join(said, ", ")+".")
		}
	}
	return strings.Join(out, " ")
}

func (b namedBand) tip(place string, u Units) string {
	return fmt.Sprintf("%s, %s: %s to %s, middle %s", place, b.name, u.temp(b.LoC), u.temp(b.HiC), u.temp(b.MidC))
}

func largestFirst(list []BandShare) []BandShare {
	out := append([]BandShare{}, list...)
	sort.SliceStable(out, func(a, b int) bool { return out[a].Share > out[b].Share })
	return out
}

// percent writes a share; a small one is not said to be none.
func percent(share float64) string {
	if share > 0 && share < 0.005 {
		return "under 1 %"
	}
	return figure(100*share, 0) + " %"
}
