package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"suncellar/internal/plan"
	"suncellar/internal/prices"
	"suncellar/internal/report"
	"suncellar/internal/worth"
)

type compareOptions struct {
	hoursOptions
	bandOptions
	out, place, prices string
	vary               []string
}

func (a *app) compare() *cobra.Command {
	var o compareOptions
	cmd := &cobra.Command{
		Use:   "compare PLAN --vary path=value ...",
		Short: "Tell what each change of a plan is worth on the worst night",
		Long: `Compute the winter of a plan as it is and with each change, side by side: how much the
lowest temperature of one place changes, and how much it changes on the plan's own
worst night; light, water and hours below the limit beside it.

Beside each difference stands between which ends it lies in 8 of 10 houses built like
this one: what is not known of the house (leakage, soil, dirt ...) is moved in the plan
and in the changed plan alike, to first order; with --sure by drawn houses too.

Each --vary is one row. Changes that belong together stand in one --vary, parted by ';'.
The value 'none' takes a part out.

With --prices stands beside each change what it costs by a list of prices of your own
(docs/prices.md), and how many degrees for the money. What has no price is told, and is
in no sum.`,
		Example: `  suncellar compare plan.yaml --vary "cover={r_value: R-4}" --vary "shape.depth=1.5 m"
  suncellar compare plan.yaml --vary "leakage.area=60 cm2; cover={r_value: R-4}"
  suncellar compare plan.yaml --vary store=none --place "bed 1, leaf tips, back side" --out compared
  suncellar compare plan.yaml --vary "store.rows[0].drums=30" --prices prices.yaml`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runCompare(cmd.Context(), args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringArrayVar(&o.vary, "vary", nil, "one change, path=value, or several parted by ';'; may be repeated")
	f.StringVar(&o.place, "place", "", "place at which temperatures are compared (the plan's run.place)")
	f.StringVar(&o.prices, "prices", "", "list of prices of your own, for what each change costs")
	o.hoursOptions.flags(f, "", "change one value of the plan for all rows: path=value; may be repeated")
	o.bandOptions.flags(f, "minutes for each row")
	f.StringVar(&o.out, "out", "", "folder for answer and picture")
	return cmd
}

func (a *app) runCompare(ctx context.Context, path string, o compareOptions) error {
	if err := o.bandOptions.check(); err != nil {
		return err
	}
	if len(o.vary) == 0 {
		return usage(`such as --vary "cover={r_value: R-4}"`, "compare needs at least one change, --vary path=value")
	}
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets, year: o.year != ""})
	if err != nil {
		return err
	}
	a.warn(findings)
	list, err := a.readPrices(o.prices, p)
	if err != nil {
		return err
	}
	w, err := a.winterRequest(p, o.hoursOptions)
	if err != nil {
		return err
	}
	req := worth.Request{Plan: p, Year: w.Year, From: w.From, Until: w.Until, Place: o.place}
	if req.Variants, err = variants(o.vary); err != nil {
		return err
	}
	if bad := req.Check(); len(bad) > 0 {
		var all []error
		for _, e := range bad {
			all = append(all, asVary(e.Err))
		}
		return input(errors.Join(all...))
	}
	show := a.progress(fmt.Sprintf("computing %d winters", 1+len(req.Variants)))
	answer, err := worth.Compare(ctx, req, show.at)
	show.close()
	if answer == nil {
		return ranAway(err)
	}
	if err := errors.Join(err, compareBooks(answer)); err != nil {
		return ranAway(err)
	}
	of, err := a.ofPairs(ctx, answer, o.bandOptions)
	if err != nil {
		return err
	}
	var costs *report.Costs
	if list != nil {
		costs = report.CostsOf(list, answer)
	}
	t := a.teller(p)
	pictures, err := t.ComparePictures(answer, of, costs)
	if err != nil {
		return internal(err)
	}
	return a.tellAnswer(o.out, t.Compare(answer, of, costs), pictures, func(w io.Writer) error { return report.CompareJSON(w, answer, of, costs) })
}

// asVary names the option that the faulty change was given by.
func asVary(err error) error {
	many, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return err
	}
	var all []error
	for _, e := range many.Unwrap() {
		if f, ok := e.(plan.Finding); ok {
			if change, found := strings.CutPrefix(f.File, "--set "); found {
				f.File = "--vary " + change
			}
			e = f
		}
		all = append(all, e)
	}
	return errors.Join(all...)
}

// variants reads each --vary as changes that are made together.
func variants(texts []string) ([]worth.Variant, error) {
	var list []worth.Variant
	var bad []error
	for _, text := range texts {
		var parts []string
		for part := range strings.SplitSeq(text, ";") {
			if part = strings.TrimSpace(part); part != "" {
				parts = append(parts, part)
			}
		}
		changes, err := parseChanges("--vary", parts)
		if err == nil && len(changes) == 0 {
			err = fmt.Errorf("--vary is empty; write path=value, such as shape.depth=1.2 m")
		}
		bad = append(bad, err)
		list = append(list, worth.Variant{Changes: changes})
	}
	return list, input(errors.Join(bad...))
}

func compareBooks(a *worth.Answer) error {
	errs := []error{checkBooks(a.First)}
	for i := range a.Rows {
		if w := a.Rows[i].Winter; a.Rows[i].Err == nil && w != nil {
			errs = append(errs, checkBooks(w))
		}
	}
	return errors.Join(errs...)
}

// readPrices reads a list of prices, nil where none is named. Names that price nothing are told.
func (a *app) readPrices(path string, p *plan.Plan) (*prices.List, error) {
	if path == "" {
		return nil, nil
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("reading the prices: %w", plainPath(err))
	}
	l, findings := prices.Read(path, text)
	if err := plan.AsError(findings); err != nil {
		return nil, input(err)
	}
	a.warn(l.Check(p))
	return l, nil
}
