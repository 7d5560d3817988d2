package cli

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"suncellar/internal/chance"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

type chanceOptions struct {
	hoursOptions
	record, out    string
	winters, draws int
}

func (a *app) chance() *cobra.Command {
	var o chanceOptions
	cmd := &cobra.Command{
		Use:   "chance PLAN",
		Short: "Tell how likely frost is over many winters",
		Long: `Tell how likely frost is, place by place and month by month, over many winters; how
cold the one in two, five, ten and twenty winters are; and how far the lowest lies
off for what is not known of the house. The two bands, over winters and over what is
not known, are told apart, and which of them matters more.

Without --record the winters are made from the plan's climate:. A hundred of them and
sixty drawn houses take a minute or two on two cores.`,
		Example: `  suncellar chance plan.yaml
  suncellar chance plan.yaml --winters 300 --out chance
  suncellar chance plan.yaml --record many-years.csv
  suncellar chance plan.yaml --set run.seed=2
  suncellar chance plan.yaml --set "cover={r_value: R-4}"`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runChance(cmd.Context(), args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.record, "record", "", "the winters of a long record, daily or hourly, of any kind that docs/weather.md lists")
	f.IntVar(&o.winters, "winters", 0, "how many winters are made (100)")
	f.IntVar(&o.draws, "houses", 0, "how many houses are drawn from what is not known (60); -1 for none")
	o.hoursOptions.flags(f, "the year that the ground comes from, of a kind that docs/weather.md lists", "")
	f.StringVar(&o.out, "out", "", "folder for answer and pictures")
	return cmd
}

func (a *app) runChance(ctx context.Context, path string, o chanceOptions) error {
	if o.winters < 0 || o.winters > mostWinters {
		return usage("a hundred are usual", "--winters is %d, must be 5 to %d", o.winters, mostWinters)
	}
	if o.draws < -1 || o.draws > mostWinters {
		return usage("sixty are usual, -1 draws none", "--houses is %d, must be -1 to %d", o.draws, mostWinters)
	}
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets, year: o.year+o.record != ""})
	if err != nil {
		return err
	}
	a.warn(findings)
	w, err := a.winterRequest(p, o.hoursOptions)
	if err != nil {
		return err
	}
	req := chance.Request{Plan: p, Year: w.Year, Count: o.winters, Draws: o.draws, From: w.From, Until: w.Until}
	if o.record != "" {
		if req.Winters, req.Year, err = a.observed(o.record, p, w); err != nil {
			return err
		}
	}
	show := a.progress("computing winters")
	answer, err := chance.Run(ctx, req, show.at)
	show.close()
	if err != nil {
		return ranAway(err)
	}
	t := a.teller(p)
	pictures, err := t.ChancePictures(answer)
	if err != nil {
		return internal(err)
	}
	return a.tellAnswer(o.out, t.Chance(answer), pictures, func(w io.Writer) error { return t.ChanceJSON(w, answer) })
}

// observed are the winters of a record, and the year that the ground comes from where neither --year nor the plan has one.
func (a *app) observed(path string, p *plan.Plan, w winter.Request) (*chance.Observed, *weather.Series, error) {
	r, err := a.openRecord(path, p)
	if err != nil {
		return nil, nil, input(err)
	}
	winters, err := chance.Recorded(r, p, w.Until)
	if err != nil {
		return nil, nil, input(err)
	}
	if w.Year == nil && p.Climate == nil {
		w.Year, err = chance.YearOf(r, p, winter.PlaceOf(p))
	}
	return winters, w.Year, input(err)
}

// mostWinters is the most that is run at once: a night of a small machine.
const mostWinters = 100000
