// Package layout holds the shape of the repository and nothing else; it has only tests.
//
// What they promise:
//
//   - Every package stands in one table (table_test.go) with the floor it is on and what it may import: our own packages, modules
//     of others, and what its tests may use besides. Imports go down, never up or across.
//   - Closed-form answers (internal/exact) reach no program.
//   - Every module of others is in THIRD_PARTY.md with its version, use and the full text of its licence, and the licence is
//     one of the allowed ones.
//   - Every work that the code cites is in docs/sources.md, and every package of physics has its page in docs/physics.
//
// Tables of the documents that follow from the code are written anew by
//
//	go test ./internal/layout -update
package layout
