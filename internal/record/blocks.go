package record

import (
	"fmt"
	"math/rand/v2"
	"time"
)

// blockWindow is how far from its own place in the year a block may come from [days]: the sun of a day ten days off differs by some 8 % at most at 45°, as
// often more as less. Own judgement.
const blockWindow = 10

// Limits of what Blocks makes.
const (
	mostBlockDays = 60
	mostWinters   = 100000
)

// blocksYear is the nominal year in which winters of blocks begin.
const blocksYear = 2001

// Blocks makes n winters of blocks of so many days of the record, so that a few years give many winters: a moving-block bootstrap that keeps the season. Each block is
// drawn from all runs of days of any year that begin within ten days of its own place in the year and whose air is known throughout, each as likely as the others; the first
// block is shortened at random, so that the seams lie elsewhere in each winter. Winter i depends on the seed and i alone.
//
// Days within a block belong together (cold with dull, wind with thaw); across a seam they do not, so spells longer than a block come more seldom than they do, and
// nothing comes that is colder than the coldest day observed: such winters widen no record.
//
// Source: Künsch 1989; Politis and Romano 1994 for blocks of random length, of which only the first is one here (both from memory).
func (w Winters) Blocks(n, days int, seed uint64) ([]Winter, error) {
	switch r := w.record; {
	case n < 1 || n > mostWinters:
		return nil, fmt.Errorf("winters of blocks: %d are asked for, must be 1 to %d", n, mostWinters)
	case days < 1 || days > mostBlockDays:
		return nil, fmt.Errorf("winters of blocks: a block has %d days, must have 1 to %d", days, mostBlockDays)
	case r.Hourly != nil && r.Hourly.TypicalYear:
		return nil, fmt.Errorf("winters of blocks: %s is a typical year, its months are of different years already; observed years are needed", r.Name)
	}
	deck := newDeck(w)
	out := make([]Winter, n)
	for i := range out {
		var err error
		if out[i], err = deck.winter(i, days, rand.New(rand.NewPCG(seed, uint64(i)))); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// deck is what blocks are drawn from.
type deck struct {
	Winters
	unknown []int // how many days before day i have no air
	first   []int // day of the record on which the winter of each year would begin
	length  int   // of a winter [days]
	start   time.Time
}

func newDeck(w Winters) *deck {
	r := w.record
	d := &deck{Winters: w, unknown: make([]int, r.count()+1)}
	for i := range r.count() {
		d.unknown[i+1] = d.unknown[i]
		if !r.airKnown(i) {
			d.unknown[i+1]++
		}
	}
	for year := r.Start.Year() - 1; year <= r.Date(r.count()-1).Year(); year++ {
		first, _, _ := w.span(year)
		d.first = append(d.first, first)
	}
	first, after, _ := w.span(blocksYear)
	d.length = after - first
	d.start = time.Date(blocksYear, w.from.Month, w.from.Day, 0, 0, 0, 0, r.Start.Location())
	return d
}

// winter draws winter number i.
func (d *deck) winter(i, days int, random *rand.Rand) (Winter, error) {
	r := d.record
	w := Winter{Name: fmt.Sprintf("blocks %d", i+1), Start: d.start, record: r}
	for length := 1 + random.IntN(days); len(w.days) < d.length; length = days {
		length = min(length, d.length-len(w.days))
		begins := d.begins(len(w.days), length)
		if len(begins) == 0 {
			return Winter{}, fmt.Errorf("winters of blocks: %s has no %d days about %s whose air is known throughout", r.Name, length,
				d.start.AddDate(0, 0, len(w.days)).Format("2 January"))
		}
		first := begins[random.IntN(len(begins))]
		w.Blocks = append(w.Blocks, Block{r.Date(first), length})
		for k := range length {
			w.days = append(w.days, first+k)
		}
	}
	return w, nil
}

// begins are the days on which a block for day p of the winter may begin.
func (d *deck) begins(p, length int) []int {
	var out []int
	for _, first := range d.first {
		for i := first + p - blockWindow; i <= first+p+blockWindow; i++ {
			if i >= 0 && i+length <= d.record.count() && d.unknown[i+length] == d.unknown[i] {
				out = append(out, i)
			}
		}
	}
	return out
}
