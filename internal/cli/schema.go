package cli

import (
	"github.com/spf13/cobra"

	"suncellar/internal/plan"
)

func (a *app) schema() *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON Schema of the plan file, for editors",
		Long: `Print the JSON Schema (draft 2020-12) of the plan file. An editor that reads it
completes keys and words, tells what each key means, its units, range and default,
and marks what cannot be read. Save it beside your plans and name it in the first
line of a plan, as editors with a YAML language server read it:

  # yaml-language-server: $schema=suncellar.schema.json

The schema knows each value by itself. What is wrong between values, or with a unit,
is told by 'suncellar check'.`,
		Example: "  suncellar schema > suncellar.schema.json",
		Args:    exactly(0, "no argument"),
		RunE: func(*cobra.Command, []string) error {
			text, err := plan.Schema()
			if err != nil {
				return err
			}
			_, err = a.Out.Write(text)
			return err
		},
	}
}
