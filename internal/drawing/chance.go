package drawing

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/draw"
)

// Chance is in how many of many winters there is frost, by month and place.
type Chance struct {
	Title    string        // "Chance of frost"
	Sentence string        // the house, the winters, what counts as frost
	Months   []string      // in the order of the winter
	Winters  int           // all that were run, 1 or more
	Places   []ChancePlace // in the order they are shown
}

// ChancePlace is one place.
type ChancePlace struct {
	Name  string
	Kind  Kind
	Any   FrostShare   // winters with frost in any month
	Month []FrostShare // by Chance.Months
}

// FrostShare is a count of winters with frost and the band of their share.
type FrostShare struct {
	Of     int     // winters with frost, 0 to Chance.Winters
	Lo, Hi float64 // band of the share, 0 to 1; both NaN: no band known
}

// DrawChance draws a row of months for each place: the hatched part of a cell
// is the share of winters with frost, with its count in figures beneath and
// its band as the tip. Where the figures would not fit (a phone) the months of
// a place stand below each other instead.
//
// Errors: no month, place or winter; a month or place without a name; another
// number of shares than months; a count outside 0 to Winters; fewer winters
// with frost in any month than in one of them; a band that does not hold its
// share.
func DrawChance(in Chance, f Frame) (*draw.List, error) {
	p, err := newPage("chance", f)
	if err != nil {
		return nil, err
	}
	if err := in.check(); err != nil {
		return nil, fmt.Errorf("chance: %w", err)
	}
	p.heading(in.Title, in.Sentence)
	p.l.Desc = strings.TrimSpace(p.l.Desc + " " + in.words())
	c := newChanceCells(p, in)
	extent := "Height"
	if c.fits() {
		c.columns()
	} else {
		extent = "Length"
		c.rows()
	}
	c.note(extent + " of the hatched part: share of the winters with frost. " + in.zeroNote())
	return p.finish(), nil
}

func (in Chance) check() error {
	if len(in.Months) == 0 || len(in.Places) == 0 || in.Winters < 1 {
		return fmt.Errorf("%d months, %d places, %d winters, must be 1 or more each", len(in.Months), len(in.Places), in.Winters)
	}
	for i, m := range in.Months {
		if strings.TrimSpace(m) == "" {
			return fmt.Errorf("month %d has no name", i+1)
		}
	}
	for i, pl := range in.Places {
		if strings.TrimSpace(pl.Name) == "" {
			return fmt.Errorf("place %d has no name", i+1)
		}
		if len(pl.Month) != len(in.Months) {
			return fmt.Errorf("%s: %d shares, must be one for each of %d months", pl.Name, len(pl.Month), len(in.Months))
		}
		if err := in.checkShare(pl.Any); err != nil {
			return fmt.Errorf("%s: %s: %w", pl.Name, anyMonth, err)
		}
		for k, s := range pl.Month {
			if err := in.checkShare(s); err != nil {
				return fmt.Errorf("%s: %s: %w", pl.Name, in.Months[k], err)
			}
			if s.Of > pl.Any.Of {
				return fmt.Errorf("%s: frost in %d winters in any month, must be no fewer than the %d of %s", pl.Name, pl.Any.Of, s.Of, in.Months[k])
			}
		}
	}
	return nil
}

func (in Chance) checkShare(s FrostShare) error {
	if s.Of < 0 || s.Of > in.Winters {
		return fmt.Errorf("%d winters, must be 0 to %d", s.Of, in.Winters)
	}
	const tiny = 1e-9 // of rounding where a band is computed
	share := in.share(s)
	if s.banded() && !(s.Lo >= -tiny && s.Lo <= share+tiny && share <= s.Hi+tiny && s.Hi <= 1+tiny) {
		return fmt.Errorf("band %g to %g, must hold the share %g and lie in 0 to 1", s.Lo, s.Hi, share)
	}
	return nil
}

func (s FrostShare) banded() bool { return !math.IsNaN(s.Lo) || !math.IsNaN(s.Hi) }

func (in Chance) share(s FrostShare) float64 { return float64(s.Of) / float64(in.Winters) }

// figures is a count as it stands in the picture: "12 of 100", or 0.
func (in Chance) figures(s FrostShare) string {
	if s.Of == 0 {
		return "0"
	}
	return fmt.Sprintf("%d of %d", s.Of, in.Winters)
}

// tip is a count with its band, rounded outward.
func (in Chance) tip(place, month string, s FrostShare) string {
	out := fmt.Sprintf("%s, %s: frost in %d of %d winters", place, month, s.Of, in.Winters)
	if !s.banded() {
		return out
	}
	return out + fmt.Sprintf(" (%s to %s %%)", figure(math.Floor(100*s.Lo+1e-6), 0), figure(math.Ceil(100*s.Hi-1e-6), 0))
}

// words tells every count for those who cannot see the picture.
func (in Chance) words() string {
	var out []string
	for _, pl := range in.Places {
		said := []string{fmt.Sprintf("%s %s of %d", anyMonth, figure(float64(pl.Any.Of), 0), in.Winters)}
		for i, s := range pl.Month {
			said = append(said, fmt.Sprintf("%s %d", in.Months[i], s.Of))
		}
		out = append(out, pl.Name+": winters with frost in "+strings.Join(said, ", ")+".")
	}
	return strings.Join(out, " ")
}

// zeroNote says what none of the winters is not.
func (in Chance) zeroNote() string {
	for _, pl := range in.Places {
		for _, s := range append([]FrostShare{pl.Any}, pl.Month...) {
			if s.Of == 0 {
				return fmt.Sprintf("0: in none of the %d winters that were run, which is not never.", in.Winters)
			}
		}
	}
	return ""
}
