import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fileURLToPath } from "node:url";
import ts from "typescript";

// The module is TypeScript without imports at run time: its types are taken off and it is run.
const source = readFileSync(fileURLToPath(new URL("../src/lib/label.ts", import.meta.url)), "utf8");
const { labels } = await import("data:text/javascript," + encodeURIComponent(ts.transpileModule(source, { compilerOptions: { module: "ESNext", target: "ES2022" } }).outputText));

test("values are called by names, months and words", () => {
  const paths = ["name", "shape.glazing_slope", "store.rows[0].name", "store.rows[0].drums", "beds[0].name", "beds[0].level", "doors[1].width", "builds.roof.layers[0].thickness", "builds.wall.layers[0].material", "builds.wall.layers[0].thickness"];
  for (let i = 0; i < 12; i++) paths.push(`climate.mean_low[${i}]`);
  const of = labels(paths.map((path) => ({ path, text: path.endsWith(".name") ? "front" : path.endsWith(".material") ? "straw_bale" : "1 m" })));
  for (const [path, want] of [
    ["name", "name"],
    ["shape.glazing_slope", "glazing slope"],
    ["store.rows[0].drums", "front, drums"],
    ["beds[0].level", "front, level"],
    ["doors[1].width", "doors 2, width"],
    ["builds.roof.layers[0].thickness", "roof, layers 1, thickness"],
    ["builds.wall.layers[0].thickness", "wall, straw bale, thickness"],
    ["climate.mean_low[0]", "mean low, January"],
    ["climate.mean_low[11]", "mean low, December"],
  ])
    assert.equal(of.get(path), want, path);
});
