package cli

import (
	"encoding/json"
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// release is the version of the program.
const release = "0.1.0"

func (a *app) version() *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Tell the version of the program",
		Example: "  suncellar version",
		Args:    exactly(0, "no argument"),
		RunE: func(*cobra.Command, []string) error {
			commit := "unknown"
			if info, ok := debug.ReadBuildInfo(); ok {
				for _, s := range info.Settings {
					if s.Key == "vcs.revision" {
						commit = s.Value
					}
				}
			}
			if a.json {
				return json.NewEncoder(a.Out).Encode(map[string]any{
					"schema": map[string]any{"name": "suncellar.version", "version": 1}, "version": release, "commit": commit, "go": runtime.Version(),
				})
			}
			_, err := fmt.Fprintf(a.Out, "suncellar %s, commit %s, %s %s/%s\n", release, commit, runtime.Version(), runtime.GOOS, runtime.GOARCH)
			return err
		},
	}
}
