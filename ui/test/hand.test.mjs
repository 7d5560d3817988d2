import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import AxeBuilder from "@axe-core/playwright";
import { open, pictures, settled, shorten, world } from "./program.mjs";

const w = world(shorten);
const disk = (name) => readFileSync(join(w.f.dir, name), "utf8");
const at = (name) => `${w.s.url}#${name}/house`;

/** Waits until the file holds a text, for ten seconds at most. */
async function until(name, holds, what) {
  for (let i = 0; i < 200; i++) {
    if (holds(disk(name))) return;
    await new Promise((done) => setTimeout(done, 50));
  }
  assert.fail(`${what}: ${disk(name)}`);
}

/** The lines of a text that another does not have. */
const news = (now, old) => now.split("\n").filter((line) => !old.split("\n").includes(line));

test("drums are added and taken away at their row, and no other byte changes", async () => {
  const { page, complaints, close } = await open(w.b, at("larch-hollow.yaml"));
  await settled(page);
  const old = disk("larch-hollow.yaml");
  await page.locator("button.grip.row").first().focus();
  await page.getByRole("button", { name: "Add a drum to this row" }).click();
  await until("larch-hollow.yaml", (t) => t.includes("drums: 21"), "no drum was added");
  assert.equal(disk("larch-hollow.yaml"), old.replace("drums: 20", "drums: 21"));
  await page.keyboard.press("Enter"); // the button keeps the keyboard
  await until("larch-hollow.yaml", (t) => t.includes("drums: 22"), "no second drum was added");
  for (let i = 0; i < 2; i++) await page.getByRole("button", { name: "Take a drum away" }).click();
  await until("larch-hollow.yaml", (t) => t === old, "the drums are not taken away");
  assert.deepEqual(complaints, []);
  await close();
});

test("a board and a layer are made thicker by keys and by a button, an insulation of R too", async () => {
  const { page, complaints, close } = await open(w.b, at("larch-hollow.yaml"));
  await settled(page);
  const old = disk("larch-hollow.yaml");
  await page.getByRole("button", { name: "board in the ground: how thick" }).focus();
  await page.keyboard.press("ArrowDown");
  await until("larch-hollow.yaml", (t) => t.includes("thickness: 60 mm"), "the board is not thicker");
  assert.deepEqual(news(disk("larch-hollow.yaml"), old), ["    - {at: front, lay: lying, thickness: 60 mm, reach: 0.9 m, depth: 0.25 m}"]);
  await page.getByRole("button", { name: "back roof: how thick its mineral wool is" }).focus();
  await page.getByRole("button", { name: "1 cm thicker" }).click();
  await until("larch-hollow.yaml", (t) => t.includes("mineral_wool, thickness: 190 mm"), "the wool is not thicker");
  await page.screenshot({ path: join(pictures, "hand-layer.png") });
  // A wall that is a bare resistance is drawn, and can be taken hold of.
  const plan = disk("larch-hollow.yaml").replace(/ {2}roof:\n(.*\n)*? {4}inside/, "  roof:\n    r_value: R-19\n    inside");
  await page.locator("textarea").fill(plan);
  await page.getByRole("button", { name: "back roof: what its insulation resists" }).focus();
  await page.keyboard.press("ArrowUp");
  await until("larch-hollow.yaml", (t) => /r_value: R-2\d/.test(t), "the resistance is not more");
  assert.equal(news(disk("larch-hollow.yaml"), plan).length, 1);
  assert.deepEqual(complaints, []);
  await close();
});

test("a night cover is put on and taken off, and is seen in the drawing with its hours", async () => {
  const { page, complaints, close } = await open(w.b, at("crow-loft.yaml"));
  await settled(page);
  assert.equal(await page.locator(".sheet svg .cover").count(), 0);
  const old = disk("crow-loft.yaml");
  const from = await page.locator(".answer").innerText();
  await page.locator("button.grip.cover").focus();
  await page.getByRole("button", { name: "Put a night cover on the glazing" }).click();
  await until("crow-loft.yaml", (t) => /^cover: \{r_value: .*\}$/m.test(t), "there is no cover");
  assert.equal(news(disk("crow-loft.yaml"), old).length, 1);
  await page.locator(".sheet svg .cover").waitFor({ state: "attached" });
  assert.match(await page.locator(".sheet").innerHTML(), /drawn 16:30 to 08:30, 15 October to 15 April/);
  await page.waitForFunction((was) => document.querySelector(".answer")?.textContent !== was, from);
  await settled(page);
  await page.screenshot({ path: join(pictures, "hand-cover.png"), fullPage: true });
  await page.getByRole("button", { name: "Take the night cover off" }).click();
  await until("crow-loft.yaml", (t) => t === old, "the cover is not off");
  assert.deepEqual(complaints, []);
  await close();
});

test("sun at noon, snow and measures are shown or not", async () => {
  const { page, close } = await open(w.b, at("quail-ridge.yaml"));
  await settled(page);
  const sheet = page.locator(".sheet");
  await page.locator(".sheet svg .snow").waitFor({ state: "attached" });
  assert.match(await sheet.innerHTML(), /21 December.*21 June/s);
  assert.match(await sheet.innerHTML(), /snow on the ground, .* deepest in this winter/);
  for (const what of ["Summer sun at noon", "Snow as deep as it lay"]) await page.getByLabel(what).uncheck();
  await page.waitForFunction(() => !document.querySelector(".sheet")?.innerHTML.includes("21 June") && !document.querySelector(".sheet svg .snow"));
  assert.match(await sheet.innerHTML(), /21 December/);
  await close();
});

test("the section and its parts run over nowhere and have no serious finding", async () => {
  for (const [width, colorScheme] of [[360, "dark"], [768, "light"], [1440, "light"]]) {
    const { page, complaints, close } = await open(w.b, at("quail-ridge.yaml"), { viewport: { width, height: 900 }, colorScheme });
    await settled(page);
    await page.locator("button.grip.row").first().focus();
    await page.locator(".sheet svg .snow").waitFor({ state: "attached" });
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
    const found = await new AxeBuilder({ page }).include("main > figure").analyze();
    assert.deepEqual(found.violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => v.id + ": " + v.nodes[0]?.html), []);
    await page.locator("main > figure").screenshot({ path: join(pictures, `hand-${width}-${colorScheme}.png`) });
    assert.deepEqual(complaints, []);
    await close();
  }
});
