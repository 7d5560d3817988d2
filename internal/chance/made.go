package chance

import (
	"fmt"
	"strconv"
	"strings"

	"suncellar/internal/ensemble"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// madeWinters are years made from the plan's normals, each by its own number.
type madeWinters struct {
	years *weather.Years
	count int
}

// Made are winters made from the plan's normals, count of them, 0 for the usual hundred. Winter k is the same however many there are.
func Made(p *plan.Plan, count int) (ensemble.Winters, error) {
	if p.Climate == nil {
		return nil, fmt.Errorf("no winters: name a record with --record, or write climate: into the plan")
	}
	if count == 0 {
		count = usualWinters
	}
	years, err := winter.Years(p)
	return madeWinters{years, count}, err
}

func (m madeWinters) Len() int                              { return m.count }
func (m madeWinters) Name(k int) string                     { return fmt.Sprintf("made winter %d", k+1) }
func (m madeWinters) Weather(k int) (weather.Series, error) { return m.years.Year(k) }

// Find is the place of a winter by its name, or by the number at the end of it.
func Find(winters ensemble.Winters, name string) (int, error) {
	for k := range winters.Len() {
		if winters.Name(k) == name || strings.HasSuffix(winters.Name(k), " "+name) {
			return k, nil
		}
	}
	n := winters.Len()
	return 0, fmt.Errorf("no winter is called %s; there are %d, %s to %s", strconv.Quote(name), n, winters.Name(0), winters.Name(n-1))
}
