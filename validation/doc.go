// Package validation holds the program against published cases, one test file for each group of them, and against what the trade
// says. Its tests collect every figure in docs/validation.md: case, source, published, computed, allowed, verdict.
//
// With -update the document is written anew; without, it is compared: words and verdicts exactly, figures by tolerance. The published
// tables are found by the variable SUNCELLAR_REFERENCE; where it is not set, the tests that read them are skipped and the document is
// not compared. Nothing outside this folder knows the name of a case.
package validation
