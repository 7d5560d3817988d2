import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { axeFaults, keyFaults, layoutFaults } from "./pages.mjs";
import { open, pictures, shorten, world } from "./program.mjs";

/** Two plans beside the examples: Larch Hollow as it is but for its winter, and without water. */
function plans(dir) {
  shorten(dir);
  const text = readFileSync(join(dir, "larch-hollow.yaml"), "utf8");
  const dry = text.replace(/^water:.*\n(?:[ #].*\n)*/m, "");
  assert.notEqual(dry, text, "the water of Larch Hollow is not where it was");
  writeFileSync(join(dir, "dry.yaml"), dry);
  writeFileSync(join(dir, "water.yaml"), text);
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
  const listed = page.locator("section[aria-labelledby=valves]").getByRole("button", { name: /^valve/ });
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
  assert.match(await months.locator("tbody tr").first().innerText(), /^January\s.* L\s.*3000 L$/s);
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

/** Presses a button that computes and waits for its answer. */
async function compute(page, section, button) {
  await page.getByRole("button", { name: button }).click();
  await page.waitForFunction((id) => !document.querySelector(`section[aria-labelledby=${id}][aria-busy]`), section, { timeout: 120000 });
  return page.locator(`section[aria-labelledby=${section}]`);
}
const saved = async (page, button) => {
  const [download] = await Promise.all([page.waitForEvent("download"), button.click()]);
  return { name: download.suggestedFilename(), text: readFileSync(await download.path(), "utf8") };
};

test("a joint is chosen on the scheme by keys and its leak is tried: what is lost, places, what to do, ridden out or mended, cautions", async () => {
  const { page, complaints, close } = await open(w.b, at("water.yaml"));
  await quiet(page);
  const joint = page.getByRole("button", { name: "joint at back drums, drum 6: try a leak here" });
  await joint.focus();
  await page.keyboard.press("Enter");
  assert.equal(await joint.getAttribute("aria-pressed"), "true");
  await page.getByText("A leak at joint at back drums, drum 6 is chosen for the drill below.").waitFor();
  await page.screenshot({ path: join(pictures, "water-joint-1440.png") });
  await page.getByRole("button", { name: "Go to the drill" }).press("Enter");
  assert.equal(await page.evaluate(() => document.activeElement?.id), "drill-at");
  assert.equal(await page.getByLabel("Joint or bay").inputValue(), "joint at back drums, drum 6");
  await page.getByLabel("Room in other vessels").fill("400 L");
  const drills = await compute(page, "drills", "Compute what this fault costs");
  await drills.getByRole("heading", { name: "A leak at joint at back drums, drum 6" }).waitFor();
  assert.match(await drills.innerText(), /of water run out/);
  assert.ok((await drills.getByRole("list", { name: "What to do, in this order" }).locator("li").count()) > 4);
  await drills.getByRole("list", { name: "Before you rely on it" }).locator("li", { hasText: "switch electricity off outside the house" }).waitFor();
  await drills.getByRole("group", { name: "Ridden out, or seen and mended" }).waitFor();
  const file = await saved(page, drills.getByRole("button", { name: "Save this table (CSV): From" }));
  assert.equal(file.name, "water-drill-places.csv");
  assert.match(file.text, /^place,limit \[degC\],"lowest \[degC\], planned"/);
  await page.getByLabel("Fault").selectOption("door");
  await drills.getByText("What stands below is of the fault or the plan as it was before.").waitFor();
  assert.equal(await joint.getAttribute("aria-pressed"), "false");
  assert.equal(await page.getByLabel("Room in other vessels").count(), 0);
  assert.deepEqual(complaints, []);
  await close();
});

test("only faults that the plan can have; what cannot be tried stands at its field, and is gone when it is put right", async () => {
  const { page, close } = await open(w.b, at("water.yaml"));
  await quiet(page);
  const faults = await page.getByLabel("Fault").locator("option").evaluateAll((all) => all.map((o) => o.value));
  assert.ok(faults.includes("leak") && faults.includes("drum") && !faults.includes("flap"), faults.join());
  await page.getByLabel("Fault").selectOption("pane");
  const drills = page.locator("section[aria-labelledby=drills]");
  await drills.getByLabel("How much of it is gone").fill("99 m2");
  await compute(page, "drills", "Compute what this fault costs");
  assert.match(await page.locator("#drill-pane-wrong").innerText(), /is larger than/);
  assert.equal(await page.locator("#drill-pane").getAttribute("aria-describedby"), "drill-pane-wrong");
  await drills.getByLabel("How much of it is gone").fill("0.5 m2");
  await drills.getByLabel("Day").fill("07-01");
  await compute(page, "drills", "Compute what this fault costs");
  assert.match(await page.locator("#drill-on-wrong").innerText(), /no day of the winter/);
  assert.equal(await page.locator("#drill-pane-wrong").count(), 0);
  assert.deepEqual(await axeFaults(page), []);
  await drills.getByLabel("Day").fill("01-05");
  await drills.getByLabel("Until it is mended").fill("5 h");
  await compute(page, "drills", "Compute what this fault costs");
  assert.match(await drills.innerText(), /A pane of .* is gone from 5 January 17:00 to 5 January 22:00/);
  assert.equal(await page.locator("main [role=alert]").count(), 0);
  await close();
});

test("the table of joints follows a valve, and has the heat when the winter is there; every table has its file", async () => {
  const { page, complaints, close } = await open(w.b, at("water.yaml"));
  await quiet(page);
  const joints = page.locator("section[aria-labelledby=joints]");
  const cells = () => joints.getByRole("group", { name: "What each joint loses" }).locator("tbody tr").first().locator("td").allInnerTexts();
  await page.waitForFunction(() => !document.querySelector("section[aria-labelledby=joints]")?.textContent.includes("…"));
  const open_ = await cells();
  await page.getByRole("group", { name: "Valves on the scheme" }).getByRole("button").press("Enter");
  await page.waitForFunction((was) => document.querySelector("section[aria-labelledby=joints] tbody td:nth-of-type(2)")?.textContent !== was, open_[1]);
  const shut = await cells();
  assert.equal(shut[1], shut[4], "with its only valve shut a joint loses what it loses with every valve shut");
  assert.match(await joints.getByRole("group", { name: /^Where one, two, three/ }).innerText(), /One more: between joint at/);
  await quiet(page);
  const tables = await page.locator("main table").count();
  assert.equal(await page.getByRole("button", { name: /^Save this table \(CSV\)/ }).count(), tables);
  assert.match((await saved(page, page.getByRole("button", { name: "Save this table (CSV): Valves" }))).text, /^valve,path,stands\n"valve before back drums, bay 2",.*,shut\n$/s);
  assert.equal(await page.getByRole("link", { name: "Save this picture (SVG)" }).first().getAttribute("download"), "water-water-scheme.svg");
  await page.getByRole("button", { name: "Undo" }).click();
  await page.waitForFunction(() => document.querySelector(".kept")?.textContent === "Kept on the disk");
  assert.deepEqual(complaints, []);
  await close();
});

test("water taken once: what it costs, when the rain gives it back, and a volume that is none; what rain and use cost stands with the years", async () => {
  const { page, complaints, close } = await open(w.b, at("water.yaml"));
  await quiet(page);
  assert.match(await page.getByRole("list", { name: "What rain and use cost this winter" }).innerText(), /with neither rain nor use/);
  const draw = page.locator("section[aria-labelledby=water-draw]");
  await draw.getByLabel("How much").fill("300 L");
  await draw.getByLabel("Day").fill("01-06");
  await draw.getByLabel("Onto").selectOption("front bed");
  await compute(page, "water-draw", "Compute what this draw costs");
  assert.match(await draw.innerText(), /300 L of water taken on 6 January .*onto front bed.*Without sun from that evening on/s);
  await draw.getByRole("group", { name: /^Lowest from the draw/ }).locator("th", { hasText: "front bed, leaf tips, middle" }).waitFor();
  await page.screenshot({ path: join(pictures, "water-draw-1440.png"), fullPage: true });
  assert.deepEqual(complaints, []);
  await draw.getByLabel("How much").fill("lots");
  await compute(page, "water-draw", "Compute what this draw costs");
  assert.match(await page.locator("#draw-volume-wrong").innerText(), /lots/);
  await close();
});

for (const width of [360, 768, 1440]) {
  test(`the page at ${width} px, light and dark: nothing runs over, all by keys, no serious finding`, async () => {
    const { page, complaints, close } = await open(w.b, at("water.yaml"), { viewport: { width, height: 900 } });
    await quiet(page);
    await compute(page, "drills", "Compute what this fault costs");
    await compute(page, "water-draw", "Compute what this draw costs");
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
