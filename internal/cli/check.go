package cli

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/quantities"
	"suncellar/internal/report"
)

type checkOptions struct {
	sets []string
	year string
	out  string
}

func (a *app) check() *cobra.Command {
	var o checkOptions
	cmd := &cobra.Command{
		Use:   "check PLAN",
		Short: "Tell what is wrong with a plan, what it assumes, and its quantities",
		Long: `Read a plan and tell all that is wrong with it at once, each with file, line and
column, what is allowed and a hint. A plan that can be computed is reckoned up:
sizes, faces, heat lost by each part in steady cold, the store, what is not known of
the house with how far it may lie and what that stands on, and every value the plan
leaves out with what is assumed for it.`,
		Example: `  suncellar check plan.yaml
  suncellar check plan.yaml --set "shape.depth=1.5 m"
  suncellar check plan.yaml --out pictures`,
		Args: exactly(1, "a plan"),
		RunE: func(_ *cobra.Command, args []string) error { return a.runCheck(args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	setFlag(f, &o.sets, "")
	f.StringVar(&o.year, "year", "", "the weather file the plan is to be run with, read too")
	f.StringVar(&o.out, "out", "", "folder for a drawing of the section")
	return cmd
}

func (a *app) runCheck(path string, o checkOptions) error {
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets, year: true})
	if err != nil {
		if a.json && len(findings) > 0 {
			report.CheckJSON(a.Out, nil, nil, findings)
		}
		return err
	}
	if _, err := a.readYear(o.year, p); err != nil {
		return err
	}
	if p.Climate == nil && o.year == "" {
		findings = append(findings, p.Place(plan.Finding{Path: "climate", Severity: plan.Warning,
			Message: "is missing: the winter can be computed only with a weather file (--year)", Hint: "or write twelve monthly normals into the plan"}))
	}
	h, _ := house.Resolve(p)
	sheet, err := quantities.Of(h)
	if err != nil {
		return input(err)
	}
	var files []file
	t := a.teller(p)
	if o.out != "" {
		files = []file{{"section.svg", func(b *bytes.Buffer) error {
			l, err := drawing.DrawSection(t.Section(h, nil), t.Frame())
			if err != nil {
				return err
			}
			return draw.SVG(b, l, draw.SVGOptions{})
		}}}
		if err := writeFiles(o.out, files); err != nil {
			return err
		}
	}
	if a.json {
		return report.CheckJSON(a.Out, p, sheet, findings)
	}
	a.warn(findings)
	if _, err := fmt.Fprint(a.Out, t.Check(sheet, warnings(findings))); err != nil {
		return err
	}
	return a.tellFiles(o.out, files)
}

func warnings(findings []plan.Finding) []plan.Finding {
	var list []plan.Finding
	for _, f := range findings {
		if f.Severity == plan.Warning {
			list = append(list, f)
		}
	}
	return list
}
