// Package report tells answers: sentences and tables for people, JSON and CSV for programs, and the pictures that belong to them.
//
// What it promises:
//
//   - It is the only place that rounds and words. What comes in is SI (temperatures in °C) and is never changed.
//   - People read SI or US units (Teller); programs read SI always, each key and column ending in its unit.
//   - Text is at most Width columns wide and holds no colour or other control.
//   - The first thing told is one sentence, then figure, unit, place, time and reason. It says what was computed and leaves to the
//     reader what it means: no sentence here says that plants are safe.
//   - The same answer gives the same bytes.
package report
