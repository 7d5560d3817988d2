package cli

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"suncellar/internal/chance"
	"suncellar/internal/ensemble"
	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/winter"
)

type simulateOptions struct {
	hoursOptions
	bandOptions
	old                 bool
	record, winter, out string
}

func (a *app) simulate() *cobra.Command {
	var o simulateOptions
	cmd := &cobra.Command{
		Use:   "simulate PLAN",
		Short: "Compute the winter of a plan",
		Long: `Compute the winter of a plan hour by hour and tell, place by place, the lowest
temperature and when it comes, hours and degree-hours below freezing and below the
plan's limit, the store, the bed soil, the light, and where the heat goes.

Without --year a typical year is made from the plan's climate:. Where neither the
plan nor the weather knows snowfall, the house is run with the glazing bare and with
snow lying on it in the coldest days, and the colder of the two is told first.

Beside the lowests stands between which ends they lie in 8 of 10 houses built like
this one, for what is not known of a house (leakage, soil, dirt ...): to first order,
and with --sure by drawn houses too. What other winters bring is not in that band;
'suncellar chance' tells it.`,
		Example: `  suncellar simulate plan.yaml
  suncellar simulate plan.yaml --year weather.csv --out winter
  suncellar simulate plan.yaml --set "store.rows.back drums.drums=36"
  suncellar simulate plan.yaml --from 11-01 --to 03-31 --json
  suncellar simulate plan.yaml --sure
  suncellar simulate plan.yaml --from 05-01 --to 09-30`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runSimulate(cmd.Context(), args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	o.hoursOptions.flags(f, "", "")
	f.StringVar(&o.record, "record", "", "the record that --winter is of; without one it is a made winter")
	f.StringVar(&o.winter, "winter", "", "one of the winters that 'suncellar chance' tells, by its name or number")
	f.BoolVar(&o.old, "old", false, "show beside it the same winter when the house has stood two years longer and warmed its ground; several times the work")
	o.bandOptions.flags(f, "some minutes")
	f.StringVar(&o.out, "out", "", "folder for answer, hours and pictures")
	return cmd
}

func (a *app) runSimulate(ctx context.Context, path string, o simulateOptions) error {
	if err := o.bandOptions.check(); err != nil {
		return err
	}
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets, year: o.year+o.record != ""})
	if err != nil {
		return err
	}
	a.warn(findings)
	req, err := a.winterRequest(p, o.hoursOptions)
	if err != nil {
		return err
	}
	req.Old = o.old
	answer, err := a.runWinter(ctx, req, another{o.record, o.winter})
	if err != nil {
		return err
	}
	of, err := a.ofHouse(ctx, answer, o.bandOptions)
	if err != nil {
		return err
	}
	t := a.teller(p)
	var files []file
	if o.out != "" {
		if files, err = winterFiles(answer, of, t); err != nil {
			return internal(err)
		}
		if err := writeFiles(o.out, files); err != nil {
			return err
		}
	}
	if a.json {
		return report.WinterJSON(a.Out, answer, of)
	}
	if _, err := io.WriteString(a.Out, t.Winter(answer, of)); err != nil {
		return err
	}
	return a.tellFiles(o.out, files)
}

// winterRequest is what a winter is asked with.
func (a *app) winterRequest(p *plan.Plan, o hoursOptions) (winter.Request, error) {
	req := winter.Request{Plan: p}
	var err error
	if req.Year, err = a.readYear(o.year, p); err != nil {
		return req, err
	}
	if req.From, err = parseDay("--from", o.from); err != nil {
		return req, err
	}
	req.Until, err = parseDay("--to", o.until)
	return req, err
}

// runWinter prepares and runs, in another winter where one is named, shows how far it is, and refuses an answer whose books do not close.
func (a *app) runWinter(ctx context.Context, req winter.Request, of another) (*winter.Answer, error) {
	winters, err := a.wintersOf(&req, of)
	if err != nil {
		return nil, input(err)
	}
	prepared, err := winter.Prepare(req)
	if err == nil && winters != nil {
		prepared, err = inWinter(prepared, winters, of.name)
	}
	if err != nil {
		return nil, input(err)
	}
	show := a.progress("computing the winter")
	defer show.close()
	answer, err := prepared.Answer(ctx, show.at)
	if err != nil {
		return nil, ranAway(err)
	}
	return answer, checkBooks(answer)
}

// another names a winter other than the year's own: of a record, or of those made from the plan's climate.
type another struct{ record, name string }

// wintersOf are the winters that another one is of, nil where none is named; the year that the ground comes from is set where neither --year nor the plan has one.
func (a *app) wintersOf(req *winter.Request, of another) (ensemble.Winters, error) {
	switch {
	case of.name == "" && of.record != "":
		return nil, usage("name one of its winters, such as 1983-84", "--record %s is given without --winter", of.record)
	case of.name == "":
		return nil, nil
	case of.record == "":
		return chance.Made(req.Plan, mostWinters)
	}
	winters, year, err := a.observed(of.record, req.Plan, *req)
	req.Year = year
	return winters, err
}

// inWinter is the prepared plan in the winter that is called so.
func inWinter(p *winter.Prepared, winters ensemble.Winters, name string) (*winter.Prepared, error) {
	k, err := chance.Find(winters, name)
	if err != nil {
		return nil, fmt.Errorf("--winter: %w", err)
	}
	return ensemble.In(p, winters, k)
}

func checkBooks(answer *winter.Answer) error { return internal(answer.Result.CheckBooks()) }
