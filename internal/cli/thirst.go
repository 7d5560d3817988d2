package cli

import (
	"bytes"
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"suncellar/internal/report"
	"suncellar/internal/thirst"
)

type thirstOptions struct {
	hoursOptions
	csv string
}

func (a *app) thirst() *cobra.Command {
	var o thirstOptions
	cmd := &cobra.Command{
		Use:   "thirst PLAN",
		Short: "Tell what the beds need to drink, and when to water",
		Long: `Compute the winter of a plan and tell, bed by bed, what crop and soil need to drink,
on which mornings to water, and how much: reckoned by FAO paper 56 with the air, the
light and the longwave that the winter finds inside. Water that the plan draws for a
bed (store.events) counts.

Beside the need stands what the winter itself took from leaves and soil as vapour, by
laws of its own. A bed's crop, day of sowing and depth of roots are keys of the plan
(beds.crop, beds.sown, beds.roots); its soil is site.soil.`,
		Example: `  suncellar thirst plan.yaml
  suncellar thirst plan.yaml --from 11-01 --to 03-31 --csv days.csv
  suncellar thirst plan.yaml --set "beds[0].crop=spinach" --set "beds[0].sown=10-20"`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runThirst(cmd.Context(), args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	o.hoursOptions.flags(f, "", "")
	f.StringVar(&o.csv, "csv", "", "file for every day of every bed, SI")
	return cmd
}

func (a *app) runThirst(ctx context.Context, path string, o thirstOptions) error {
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets, year: o.year != ""})
	if err != nil {
		return err
	}
	a.warn(findings)
	if err := thirst.Check(p); err != nil {
		return input(err)
	}
	req, err := a.winterRequest(p, o.hoursOptions)
	if err != nil {
		return err
	}
	w, err := a.runWinter(ctx, req, another{})
	if err != nil {
		return err
	}
	answer, err := thirst.Run(ctx, thirst.Request{Winter: w}, nil)
	if err != nil {
		return input(err)
	}
	if o.csv != "" {
		var b bytes.Buffer
		if err := report.ThirstCSV(&b, answer); err != nil {
			return internal(err)
		}
		if err := writeWhole(o.csv, b.Bytes()); err != nil {
			return err
		}
	}
	if a.json {
		return report.ThirstJSON(a.Out, answer)
	}
	if _, err := io.WriteString(a.Out, a.teller(p).Thirst(answer)); err != nil || o.csv == "" {
		return err
	}
	_, err = fmt.Fprintf(a.Out, "\nEvery day of every bed is in %s.\n", o.csv)
	return err
}
