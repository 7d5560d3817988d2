// Package lanes holds the innermost loops of the network solver, which go
// over rows of small matrices four numbers at a time: rows times numbers, and
// the factors of a dense matrix.
//
// On amd64 they are written for AVX2 and used where the processor has it;
// everywhere else, and as the measure of those, they are written in Go. Both
// do the same operations in the same order, products rounded before they are
// added, so that they agree to the last bit.
package lanes
