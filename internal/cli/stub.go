package cli
import ("github.com/spf13/cobra"
"suncellar/internal/report"
"suncellar/internal/winter")
func (a *app) demo() *cobra.Command { return &cobra.Command{Use:"demo"} }
func (a *app) newPlan() *cobra.Command { return &cobra.Command{Use:"new"} }
func (a *app) check() *cobra.Command { return &cobra.Command{Use:"check"} }
func (a *app) weather() *cobra.Command { return &cobra.Command{Use:"weather"} }
func (a *app) later() []*cobra.Command { return nil }
func writeWinter(dir string, a *winter.Answer, t report.Teller) ([]string, error) { return nil, nil }
func (a *app) tellFiles(dir string, files []string) {}
