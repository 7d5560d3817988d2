package report

import (
	"fmt"
	"math"

	"suncellar/internal/carry"
	"suncellar/internal/drawing"
	"suncellar/internal/unit"
)

// counted is the time of an answer that counts, and that with ice in the drums after it, which does not [h]; atLeast where the run ended before either.
func counted(a *carry.Answer) (hours, onIce float64, atLeast bool) {
	hours = a.Hours
	if a.Beyond {
		hours = carry.MaxDays * 24
	}
	if ice := a.IceAfterHours; ice >= 0 && ice < hours {
		return ice, hours - ice, false
	}
	return hours, 0, a.Beyond
}

// fullSentence is what all of the store and the cover would last at the same cold, "" where nothing was taken away.
func fullSentence(a *carry.Answer) string {
	if a.Full == nil {
		return ""
	}
	return fmt.Sprintf("With all of its store and its cover it is %s that count.", lastsWords(a.Full.Hours, a.Full.Beyond && a.Full.OnIce == 0))
}

// wholeTenths is a time in days, cut off after the first decimal: a picture that rounds says nothing longer than was found.
func wholeTenths(hours float64) float64 { return math.Floor(hours/2.4+1e-9) / 10 }

// reservePicture draws the days without sun that are left, a tile for each, and what ice would hold apart from them.
func (t Teller) reservePicture(a *carry.Answer) (Picture, error) {
	hours, onIce, atLeast := counted(a)
	in := drawing.Reserve{Title: "The reserve", Place: within(a.Place), LimitC: a.LimitC, Days: wholeTenths(hours), AtLeast: atLeast, IceDays: onIce / 24}
	if hours > 0 && in.Days == 0 {
		in.Days = hours / 24 // less than a tenth of a day is not nothing
	}
	if a.Full != nil {
		in.Full = wholeTenths(a.Full.Hours)
	}
	in.Conditions = fmt.Sprintf("At %s outside on the mean, day-night swing %s, %s %% of the sky under cloud, wind %s, from %s.", minus(t.temp(a.Spec.MeanC)), t.span(a.Spec.SwingK),
		number(100*a.Spec.Cloud, 0), unit.Format(unit.Speed, a.Spec.WindMS, t.System, 1), a.Begin.In(zoneOf(a.Plan)).Format("2 January"))
	if a.LostM3 > 0 {
		in.Conditions += fmt.Sprintf(" %s of water is gone.", t.water(a.LostM3))
	}
	if in.Full > in.Days {
		in.Conditions += fmt.Sprintf(" Outlined: all of the store and the cover, %s days.", number(in.Full, 1))
	}
	if b := carryBest(a); b != nil {
		in.Conditions += " " + t.reserveBand(&in, b)
	}
	l, err := drawing.DrawReserve(in, t.Frame())
	if err != nil {
		return Picture{}, fmt.Errorf("picture reserve.svg: %w", err)
	}
	return Picture{"reserve.svg", l}, nil
}

// reserveBand puts the band of the house beside the stack where both its ends are known, and says what it is.
func (t Teller) reserveBand(in *drawing.Reserve, b *carry.Band) string {
	if in.AtLeast || b.Asked.MoreLo || b.Asked.MoreHi {
		return fmt.Sprintf("In 8 of 10 houses built like this one: %s, %s.", t.askedWords(b), carryByWords(b))
	}
	in.Band = [2]float64{min(in.Days, wholeTenths(b.Asked.Lo)), max(in.Days, wholeTenths(b.Asked.Hi))}
	return fmt.Sprintf("In brackets: 8 of 10 houses built like this one, %s; count on the shorter.", carryByWords(b))
}
