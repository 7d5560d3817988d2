package cli

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"suncellar/internal/report"
	"suncellar/internal/worth"
)

type worthOptions struct {
	hoursOptions
	bandOptions
	out   string
	whole bool
}

func (a *app) worth() *cobra.Command {
	var o worthOptions
	cmd := &cobra.Command{
		Use:   "worth PLAN",
		Short: "Tell what one more unit of each thing is worth",
		Long: `Tell what one more unit of each thing in a plan is worth on the worst night (a
centimetre of each insulation, a drum, a hundred square centimetres of joints, ten
centimetres of depth ...), over the cold weeks beside it, and how far what is not
known of the house moves that night: leakage, soil, dirt, how well drums give heat.

Each thing is moved a little both ways and the house is run again. Without --whole
these runs go through the weeks round the worst night of the plan's winter alone:
a minute on two cores. A whole winter takes some five times as long.`,
		Example: `  suncellar worth plan.yaml
  suncellar worth plan.yaml --whole --out worth
  suncellar worth plan.yaml --units US --set "cover={r_value: R-4}"`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runWorth(cmd.Context(), args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.BoolVar(&o.whole, "whole", false, "run the whole winter each time, not the weeks round the worst night")
	o.hoursOptions.flags(f, "", "")
	o.bandOptions.sureFlags(f, "some minutes")
	f.StringVar(&o.out, "out", "", "folder for answer and pictures")
	return cmd
}

func (a *app) runWorth(ctx context.Context, path string, o worthOptions) error {
	if err := o.bandOptions.check(); err != nil {
		return err
	}
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets, year: o.year != ""})
	if err != nil {
		return err
	}
	a.warn(findings)
	w, err := a.winterRequest(p, o.hoursOptions)
	if err != nil {
		return err
	}
	show := a.progress("computing the winter and what moves it")
	answer, err := worth.PerUnit(ctx, worth.UnitRequest{Plan: p, Year: w.Year, From: w.From, Until: w.Until, Whole: o.whole}, show.at)
	show.close()
	if err != nil {
		return ranAway(err)
	}
	if err := checkBooks(answer.First); err != nil {
		return err
	}
	of := report.OfHouse{Why: worth.WhyNoBand(answer.First)}
	if err := a.drawHouses(ctx, answer.First, o.bandOptions, &of); err != nil {
		return err
	}
	t := a.teller(p)
	pictures, err := t.WorthPictures(answer)
	if err != nil {
		return internal(err)
	}
	return a.tellAnswer(o.out, t.Worth(answer, of), pictures, func(w io.Writer) error { return report.WorthJSON(w, answer, of) })
}
