package greenhouse

import "fmt"

// openBooks is the imbalance of the heat ledger above which a run counts for nothing, as a share of the heat that came in.
const openBooks = 1e-6

// CheckBooks is the error of a run whose heat ledger does not close: nothing is to be told from it.
func (r *Result) CheckBooks() error {
	h := r.Heat
	if h.ImbalanceRel <= openBooks { // false for NaN too
		return nil
	}
	return fmt.Errorf("the heat ledger does not close: %.3g of the heat that came in is missing, allowed %g; the worst on one day is %s with %.3g J", h.ImbalanceRel, openBooks, h.WorstPart, h.WorstJ)
}
