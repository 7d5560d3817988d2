// Package numeric holds the few general algorithms the physics needs: one root
// in a bracket, a straight or monotone curve through a table, a tridiagonal
// elimination, a Gauss rule, and the quantile of a sample.
//
// It promises no state, no greenhouse, and no silent NaN: a wrong table or
// bracket is an error that says which value is wrong.
package numeric
