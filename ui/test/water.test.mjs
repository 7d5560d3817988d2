import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { axeFaults, keyFaults, layoutFaults } from "./pages.mjs";
import { open, pictures, shorten, world } from "./program.mjs";

const scheme = `
water:
  catchments: [{name: back roof, of: back roof}]
  first_flush: {}
  inlet: {mouth: flap}
  manifolds: [{row: back drums}]
  drip_lines: [{name: front line, bed: front bed}]
  use_a_day: [2 L, 4 L, 12 L, 25 L, 35 L, 45 L, 55 L, 50 L, 30 L, 15 L, 5 L, 2 L]
  keep: [{volume: 1000 L, from: 11-01, until: 03-15}]
`;
const rows = "    - {name: back drums, drums: 20, tiers: 2, bays: 2, at: 4.25 m, colour: black, fill: 92 %}";

/** Two plans beside the examples: Larch Hollow with a scheme of water and a row in two bays, and without any. */
function plans(dir) {
  shorten(dir);
  const text = readFileSync(join(dir, "larch-hollow.yaml"), "utf8").replace(/^water:.*\n(?:[ #].*\n)*/m, "").replace(/^ {4}- \{name: back drums.*\}$/m, rows);
  assert.ok(text.includes(rows), "the row of drums is not where it was");
  writeFileSync(join(dir, "dry.yaml"), text);
  writeFileSync(join(dir, "water.yaml"), text + scheme);
}
const w = world(plans);
const disk = (name) => readFileSync(join(w.f.dir, name), "utf8");
const at = (name) => `${w.s.url}#${name}/water`;
const quiet = (page) => page.waitForFunction(() => document.querySelector("main section[aria-busy=false]") && !document.querySelector("main figure.old"), null, { timeout: 60000 });
const number = (page, name) => page.locator("table.numbers tr", { hasText: name }).locator("td").innerText();

test("a valve is shut on the scheme and opened from the list, by keys; what follows stands at once, and Undo takes it back", async () => {
  const { page, complaints, close } = await open(w.b, at("water.yaml"));
  await quiet(page);
  const before = disk("water.yaml");
  const full = await number(page, "In the drums when full");
  const valve = page.getByRole("group", { name: "Valves on the scheme" }).getByRole("button");
  assert.equal(await valve.count(), 1);
  await valve.focus();
  await page.keyboard.press("Enter");
  await page.getByRole("button", { name: "valve before back drums, bay 2 is shut: open it" }).first().waitFor();
  assert.equal(await page.evaluate(() => document.activeElement?.getAttribute("aria-label")), "valve before back drums, bay 2 is shut: open it", "the focus stays on the valve");
  assert.notEqual(await number(page, "In the drums when full"), full);
  await page.locator("ol li", { hasText: "every way there is shut by a valve" }).waitFor();
  await page.getByText("Kept on the disk").waitFor();
  assert.match(disk("water.yaml"), /valves:[^]*on: 'back drums, bay 2', state: shut/);
  await quiet(page);
  assert.deepEqual(await page.evaluate(layoutFaults), []);
  assert.deepEqual(await axeFaults(page), []);
  const listed = page.locator("section[aria-labelledby=valves]").getByRole("button");
  await listed.focus();
  await page.keyboard.press("Space");
  await page.getByRole("button", { name: "valve before back drums, bay 2 is open: shut it" }).first().waitFor();
  assert.equal(await number(page, "In the drums when full"), full);
  for (let i = 0; i < 2; i++) await page.getByRole("button", { name: "Undo" }).click();
  await page.waitForFunction(() => document.querySelector(".kept")?.textContent === "Kept on the disk");
  assert.equal(disk("water.yaml"), before);
  assert.deepEqual(complaints, []);
  await close();
});

test("the rain that filling is told for, years with months, kept water and drums; in US units too; a rain that is none is told", async () => {
  const { page, complaints, close } = await open(w.b, at("water.yaml"));
  await quiet(page);
  const usual = await number(page, "Empty to full");
  await page.getByLabel("Rain that filling is told for").fill("5 mm/h");
  await page.keyboard.press("Enter");
  await page.locator("table.numbers tr", { hasText: "Empty to full in a rain of 5 mm/h" }).waitFor();
  assert.notEqual(await number(page, "Empty to full"), usual);
  await quiet(page);
  const months = page.getByRole("group", { name: "Months, in the mean of the years" });
  assert.equal(await months.locator("tbody tr").count(), 12);
  assert.match(await months.locator("tbody tr").first().innerText(), /^January\s.* L\s.*1000 L$/s);
  await page.getByRole("group", { name: "How many drums" }).locator("th", { hasText: "20 (the plan)" }).waitFor();
  assert.match(await page.locator("section[aria-labelledby=rain-years]").innerText(), /was there on (every day|\d+(\.\d)? % of the days)/);
  await page.getByLabel("Units").selectOption("US");
  await page.locator("table.numbers td", { hasText: /gal/ }).first().waitFor();
  await quiet(page);
  assert.match(await page.locator("svg.sc-picture").first().textContent(), /ft from grade/);
  assert.deepEqual(complaints, []);
  await page.getByLabel("Rain that filling is told for").fill("heavy");
  await page.keyboard.press("Enter");
  await page.getByRole("alert").filter({ hasText: 'write it as "25 mm/h"' }).first().waitFor();
  await close();
});

test("a plan without water is asked to begin, and begins by its button", async () => {
  const { page, complaints, close } = await open(w.b, at("dry.yaml"), { viewport: { width: 360, height: 800 } });
  const begin = page.getByRole("button", { name: "Add the usual scheme to the plan" });
  await begin.waitFor();
  assert.deepEqual(await page.evaluate(layoutFaults), []);
  assert.deepEqual(await axeFaults(page), []);
  await page.screenshot({ path: join(pictures, "water-begin-360.png"), fullPage: true });
  await begin.press("Enter");
  await quiet(page);
  await page.getByText("Kept on the disk").waitFor();
  assert.match(disk("dry.yaml"), /water:[^]*of: 'back roof'[^]*row: 'back drums'/);
  await page.getByRole("button", { name: "Undo" }).click();
  await begin.waitFor();
  assert.deepEqual(complaints, []);
  await close();
});

for (const width of [360, 768, 1440]) {
  test(`the page at ${width} px, light and dark: nothing runs over, all by keys, no serious finding`, async () => {
    const { page, complaints, close } = await open(w.b, at("water.yaml"), { viewport: { width, height: 900 } });
    await quiet(page);
    for (const colorScheme of ["light", "dark"]) {
      await page.emulateMedia({ colorScheme });
      assert.deepEqual(await page.evaluate(layoutFaults), []);
      assert.deepEqual(await axeFaults(page), []);
      await page.screenshot({ path: join(pictures, `water-${width}-${colorScheme}.png`), fullPage: true });
    }
    assert.deepEqual(await keyFaults(page), []);
    assert.deepEqual(complaints, []);
    await close();
  });
}
