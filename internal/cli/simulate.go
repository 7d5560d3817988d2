package cli

import (
	"bytes"
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"suncellar/internal/chance"
	"suncellar/internal/ensemble"
	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/winter"
	"suncellar/internal/worth"
)

type simulateOptions struct {
	year, from, until, out string
	sets                   []string
	old                    bool
	band, sure             bool
	record, winter         string
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
snow lying on it in the coldest days, and the colder of the two is told first.`,
		Example: `  suncellar simulate plan.yaml
  suncellar simulate plan.yaml --year weather.csv --out winter
  suncellar simulate plan.yaml --set "store.rows.back drums.drums=36"
  suncellar simulate plan.yaml --from 11-01 --to 03-31 --json
  suncellar simulate plan.yaml --from 05-01 --to 09-30`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runSimulate(cmd.Context(), args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.year, "year", "", "a year of hourly weather of a kind that docs/weather.md lists")
	f.StringVar(&o.from, "from", "", "first day that counts, month and day (the plan's run.from)")
	f.StringVar(&o.until, "to", "", "last day (the plan's run.until)")
	f.StringArrayVar(&o.sets, "set", nil, "change one value of the plan: path=value; may be repeated")
	f.StringVar(&o.record, "record", "", "the record that --winter is of; without one it is a made winter")
	f.StringVar(&o.winter, "winter", "", "one of the winters that 'suncellar chance' tells, by its name or number")
	f.BoolVar(&o.old, "old", false, "show beside it the same winter when the house has stood two years longer and warmed its ground; several times the work")
	f.BoolVar(&o.band, "band", false, "tell how far the lowests may lie for what is not known of the house")
	f.BoolVar(&o.sure, "sure", false, "the same by sixty drawn houses, each run through the whole winter; some minutes")
	f.StringVar(&o.out, "out", "", "folder for answer, hours and pictures")
	return cmd
}

func (a *app) runSimulate(ctx context.Context, path string, o simulateOptions) error {
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets, year: o.year+o.record != ""})
	if err != nil {
		return err
	}
	a.warn(findings)
	req, err := a.winterRequest(p, o.year, o.from, o.until)
	if err != nil {
		return err
	}
	req.Old = o.old
	answer, err := a.runWinter(ctx, req, another{o.record, o.winter})
	if err != nil {
		return err
	}
	t := a.teller(p)
	told, err := a.tellWinter(ctx, answer, t, o)
	if err != nil {
		return err
	}
	var files []file
	if o.out != "" {
		if files, err = winterFiles(answer, t); err != nil {
			return internal(err)
		}
		files[0].write, files[1].write = told.text, told.json
		if err := writeFiles(o.out, files); err != nil {
			return err
		}
	}
	var b bytes.Buffer
	if a.json {
		if err := told.json(&b); err != nil {
			return err
		}
		_, err = a.Out.Write(b.Bytes())
		return err
	}
	if err := told.text(&b); err != nil {
		return err
	}
	if _, err := a.Out.Write(b.Bytes()); err != nil {
		return err
	}
	return a.tellFiles(o.out, files)
}

// toldWinter is a winter in both ways of telling it.
type toldWinter struct{ text, json func(*bytes.Buffer) error }

// tellWinter tells a winter, with the band over what is not known of the house where it is asked for.
func (a *app) tellWinter(ctx context.Context, answer *winter.Answer, t report.Teller, o simulateOptions) (toldWinter, error) {
	if o.sure {
		return a.tellHouses(ctx, answer, t)
	}
	if !o.band {
		return toldWinter{
			func(b *bytes.Buffer) error { b.WriteString(t.Winter(answer)); return nil },
			func(b *bytes.Buffer) error { return report.WinterJSON(b, answer) },
		}, nil
	}
	show := a.progress("computing what is not known of the house")
	u, err := worth.PerUnit(ctx, worth.UnitRequest{Plan: answer.Plan, First: answer, Kinds: []worth.Kind{worth.Unknown}, NoHalves: true}, show.at)
	show.close()
	if err != nil {
		return toldWinter{}, ranAway(err)
	}
	return toldWinter{
		func(b *bytes.Buffer) error { b.WriteString(t.Winter(answer) + t.HouseBand(u)); return nil },
		func(b *bytes.Buffer) error { return report.WinterBandJSON(b, answer, u) },
	}, nil
}

// tellHouses tells a winter with its band over drawn houses.
func (a *app) tellHouses(ctx context.Context, answer *winter.Answer, t report.Teller) (toldWinter, error) {
	show := a.progress("drawing houses")
	h, err := chance.Sure(ctx, answer, 0, 0, show.at)
	show.close()
	if err != nil {
		return toldWinter{}, ranAway(err)
	}
	return toldWinter{
		func(b *bytes.Buffer) error { b.WriteString(t.Winter(answer) + t.Houses(answer, h)); return nil },
		func(b *bytes.Buffer) error { return report.WinterHousesJSON(b, answer, h) },
	}, nil
}

// winterRequest is what a winter is asked with.
func (a *app) winterRequest(p *plan.Plan, year, from, until string) (winter.Request, error) {
	req := winter.Request{Plan: p}
	var err error
	if req.Year, err = a.readYear(year, p); err != nil {
		return req, err
	}
	if req.From, err = parseDay("--from", from); err != nil {
		return req, err
	}
	req.Until, err = parseDay("--to", until)
	return req, err
}

// openBooks is the imbalance of the heat ledger above which no answer is given.
const openBooks = 1e-6

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

func checkBooks(answer *winter.Answer) error {
	h := answer.Result.Heat
	if h.ImbalanceRel <= openBooks { // false for NaN too
		return nil
	}
	return internal(fmt.Errorf("the heat ledger does not close: %.3g of the heat that came in is missing, allowed %g; the worst on one day is %s with %.3g J",
		h.ImbalanceRel, openBooks, h.WorstPart, h.WorstJ))
}
