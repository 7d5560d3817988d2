import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fileURLToPath } from "node:url";
import ts from "typescript";

const source = readFileSync(fileURLToPath(new URL("../src/lib/cells.ts", import.meta.url)), "utf8");
const { hourAt, later, markOf, partAt } = await import("data:text/javascript," + encodeURIComponent(ts.transpileModule(source, { compilerOptions: { module: "ESNext", target: "ES2022" } }).outputText));

test("every hour is found in its cell, and beside the grid the nearest; far from it none", () => {
  const sheet = { x: 44, y: 70, width: 11, height: 3, columns: 24, lead: 1 };
  const hours = 24 * 20;
  for (let i = 0; i < hours; i++) {
    const k = i + sheet.lead;
    assert.equal(hourAt(sheet, hours, sheet.x + ((k % 24) + 0.5) * 11, sheet.y + (Math.floor(k / 24) + 0.5) * 3), i);
  }
  assert.equal(hourAt(sheet, hours, 44.5, 70.5), 0); // the free cell before the first hour
  assert.equal(hourAt(sheet, hours, 43, 71.5), 0);
  assert.equal(hourAt(sheet, hours, 44 + 24 * 11 + 5, 70 + 21 * 3), hours - 1);
  assert.equal(hourAt(sheet, hours, 150, 20), -1);
  const spell = { x: 40, y: 100, width: 2, height: 400, columns: 240, lead: 0 };
  assert.equal(hourAt(spell, 240, 41, 300), 0);
  assert.equal(hourAt(spell, 240, 40 + 479, 101), 239);
  assert.equal(markOf(spell, 3), "M47 100v400");
  assert.match(markOf(sheet, 0), /^M54 69h13/);
});

test("a part is found where it lies: lines before areas, what is drawn last before what it covers", () => {
  const room = [[0, 0], [100, 0], [100, 100], [0, 100]];
  const bed = [[20, 60], [60, 60], [60, 100], [20, 100]];
  const face = [[0, 0], [100, 0]];
  const all = [room, face, bed];
  assert.equal(partAt(all, 50, 5), 1);
  assert.equal(partAt(all, 50, 40), 0);
  assert.equal(partAt(all, 40, 80), 2);
  assert.equal(partAt(all, 200, 40), -1);
});

test("days go on over months and years, within the run", () => {
  assert.equal(later("2001-12-28", 10, "2001-10-01", "2002-04-30"), "2002-01-07");
  assert.equal(later("2001-10-05", -10, "2001-10-01", "2002-04-30"), "2001-10-01");
  assert.equal(later("2002-04-28", 10, "2001-10-01", "2002-04-30"), "2002-04-30");
});
