package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"suncellar/examples"
	"suncellar/internal/report"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// demoFolder is the folder of a demo that names none.
const demoFolder = "suncellar-demo"

// weatherCSV is the file of made weather.
const weatherCSV = "weather.csv"

func (a *app) demo() *cobra.Command {
	return &cobra.Command{
		Use:   "demo [DIR]",
		Short: "Compute the winter of an invented house, to see what there is",
		Long: `Write the plan of an invented sunken greenhouse and a made year of weather into a
folder, compute its winter, tell it, draw it, and say what to try next.

The folder is a new one: ` + demoFolder + `, or ` + demoFolder + `-2 and so on where that is taken.
A folder that is named must not be there yet, or be empty. Nothing is asked and
nothing is fetched.`,
		Example: `  suncellar demo
  suncellar demo larch`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usage("use: "+useLine(cmd), "demo takes one folder, got %s", arguments(len(args)))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return a.runDemo(cmd.Context(), args) },
	}
}

func (a *app) runDemo(ctx context.Context, args []string) error {
	p, findings, err := a.loadPlan(examples.LarchHollowName, examples.LarchHollow, planOptions{})
	if err != nil {
		return internal(err)
	}
	a.warn(findings)
	dir, err := demoDir(args)
	if err != nil {
		return err
	}
	year, err := winter.Make(p, uint64(p.Run.Seed))
	if err != nil {
		return internal(err)
	}
	// the plan comes first: an interrupted demo leaves something to go on with
	start := []file{
		{examples.LarchHollowName, func(b *bytes.Buffer) error { b.Write(examples.LarchHollow); return nil }},
		{weatherCSV, func(b *bytes.Buffer) error { return weather.WritePlain(b, year) }},
	}
	if err := writeFiles(dir, start); err != nil {
		return err
	}
	if !a.json {
		fmt.Fprintf(a.Out, "An invented house at an invented place. Its plan and weather are in\n%s.\n\n", dir)
	}
	answer, err := a.runWinter(ctx, winter.Request{Plan: p}, another{})
	if err != nil {
		return err
	}
	of, err := a.ofHouse(ctx, answer, bandOptions{})
	if err != nil {
		return err
	}
	t := a.teller(p)
	files, err := winterFiles(answer, of, t)
	if err != nil {
		return internal(err)
	}
	if err := writeFiles(dir, files); err != nil {
		return err
	}
	if a.json {
		return report.WinterJSON(a.Out, answer, of)
	}
	fmt.Fprint(a.Out, t.Winter(answer, of))
	if err := a.tellFiles(dir, append(start, files...)); err != nil {
		return err
	}
	plan, csv := shellPath(dir, examples.LarchHollowName), shellPath(dir, weatherCSV)
	_, err = fmt.Fprintf(a.Out, `
Open the pictures in a browser. Then try:
  suncellar check %s
  suncellar compare %s --vary "cover={r_value: R-4}" --vary "leakage.area=220 cm2"
  suncellar simulate %s --year %s --set "shape.depth=1.6 m" --out %s
  suncellar water %s
  suncellar drill %s leak
`, plan, plan, plan, csv, shellPath(dir, "deeper"), plan, plan)
	return err
}

// demoDir makes the folder of a demo.
func demoDir(args []string) (string, error) {
	if len(args) == 0 {
		return newFolder(demoFolder)
	}
	dir := args[0]
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return "", fmt.Errorf("the demo's folder: %w", plainPath(err))
	case len(entries) > 0:
		return "", usage("name a new folder, or none: then one is made", "folder %s is not empty, and a demo overwrites nothing", dir)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", fmt.Errorf("making the demo's folder: %w", plainPath(err))
	}
	return dir, nil
}
