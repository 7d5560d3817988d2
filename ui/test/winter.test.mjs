import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { AxeBuilder } from "@axe-core/playwright";
import { open, pictures, settled, world } from "./program.mjs";

const w = world();

/** The Winter page of Larch Hollow with all its pictures. */
async function winter(options = {}) {
  const o = await open(w.b, `${w.s.url}#larch-hollow.yaml/winter`, options);
  await settled(o.page);
  await o.page.waitForFunction(() => document.querySelectorAll("main svg.sc-picture").length === 4);
  return { ...o, slider: (name) => o.page.getByRole("slider", { name }) };
}
const values = (page, heading) => page.locator("section", { has: page.getByRole("heading", { name: heading }) }).locator(".told");

test("an hour's values by pointer and by keys, in the units that are asked for", async () => {
  const { page, complaints, close, slider } = await winter();
  const days = slider("Values of these days");
  await days.scrollIntoViewIfNeeded();
  const box = await days.boundingBox();
  await page.mouse.move(box.x + box.width * 0.4, box.y + box.height * 0.4);
  await page.mouse.move(box.x + box.width * 0.4, box.y + box.height * 0.41);
  const told = await values(page, "Ten days, hour by hour").innerText();
  assert.match(told, /^\d+ (November|December) \d\d:00/);
  assert.match(told, /outside −?\d+\.\d °C/);
  assert.match(told, /sun on level ground \d+ W\/m²/);
  const lowest = (await page.locator("tr.watched td").allInnerTexts()).slice(0, 2); // figure, when
  const sheet = slider("Values of the winter");
  await sheet.focus();
  await page.keyboard.press("Home");
  assert.match(await sheet.getAttribute("aria-valuetext"), /^1 October 01:00: front bed, leaf tips, back side \d+\.\d °C, outdoor air/);
  const day = (Date.parse("2001-12-01") - Date.parse("2001-10-01")) / 86400000; // of the lowest, at 07:00
  for (let i = 0; i < day; i++) await page.keyboard.press("ArrowDown");
  for (let i = 0; i < 6; i++) await page.keyboard.press("ArrowRight");
  assert.ok((await sheet.getAttribute("aria-valuetext")).startsWith(`${lowest[1]}: front bed, leaf tips, back side ${lowest[0]} °C`), `${await sheet.getAttribute("aria-valuetext")} is not ${lowest}`);
  await page.screenshot({ path: join(pictures, "winter-marked-1440.png"), fullPage: true });
  await page.getByLabel("Units").selectOption("US");
  await page.waitForFunction(() => document.querySelector("[role=slider][aria-label^='Values of the winter']")?.getAttribute("aria-valuetext")?.includes("°F"));
  await page.waitForFunction(() => document.querySelector("thead")?.textContent?.includes("°F") || [...document.querySelectorAll("thead")].some((h) => h.textContent?.includes("°F")));
  assert.match(await page.locator("tr.watched").innerText(), /27\.\d/); // −2.6 °C
  assert.deepEqual(complaints, []);
  await close();
});

test("any ten days, from a field or from the sheet; any place's sheet; nothing runs over when tapped at 360 px", async () => {
  const { page, complaints, close, slider } = await winter({ viewport: { width: 360, height: 800 }, hasTouch: true });
  const title = (of) => page.locator("section", { has: page.getByRole("heading", { name: of }) }).locator("svg.sc-picture > title");
  await page.getByLabel("From", { exact: true }).first().fill("2002-01-10");
  await page.waitForFunction(() => document.body.textContent?.includes("Ten days: 10 January to 19 January"));
  await page.getByRole("button", { name: "Ten days earlier" }).click();
  await page.waitForFunction(() => document.body.textContent?.includes("Ten days: 31 December to 9 January"));
  await page.getByRole("combobox", { name: /^Place/ }).selectOption("cold sink air");
  await page.waitForFunction(() => document.body.textContent?.includes("Winter sheet: cold sink air"));
  await slider("Values of the winter").tap();
  assert.match(await values(page, "Every hour of a place").innerText(), /cold sink air −?\d+\.\d °C/);
  const tapped = await values(page, "Every hour of a place").innerText();
  const marked = /^(\d+ \w+) /.exec(tapped)[1];
  await page.locator("section", { has: page.getByRole("heading", { name: "Every hour of a place" }) }).getByRole("button", { name: "Hour on" }).click();
  assert.notEqual(await values(page, "Every hour of a place").innerText(), tapped);
  await page.getByRole("button", { name: "Show ten days from the marked day" }).click();
  await page.waitForFunction((day) => document.body.textContent?.includes(`Ten days: ${day} to`), marked);
  await slider("Parts of the section").tap({ position: { x: 164, y: 190 } });
  assert.match(await page.locator("section[aria-label='Lowest temperature of each place'] .told").innerText(), /: lowest −?\d+\.\d °C, \d+ \w+ \d\d:00/);
  await page.getByRole("button", { name: "Show the worst ten days" }).click();
  await page.waitForFunction(() => document.body.textContent?.includes("Worst ten days:"));
  assert.match(await title("Ten days, hour by hour").textContent(), /Worst ten days/);
  await page.screenshot({ path: join(pictures, "winter-tapped-360.png"), fullPage: true });
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
  const all = await new AxeBuilder({ page }).analyze();
  assert.deepEqual(all.violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => `${v.id}: ${v.nodes[0]?.html}`), []);
  assert.deepEqual(complaints, []);
  await close();
});

test("heat of a month, a day, typed days: sums close in sight; wrong days are told", async () => {
  const { page, close } = await winter();
  const part = page.locator("section", { has: page.getByRole("heading", { name: "Where the heat came from and went" }) });
  const closes = async () => {
    const number = (s) => Math.round(10 * Number((s || "0").replace("−", "-")));
    const rows = await part.locator("tbody").first().locator("tr").evaluateAll((list) => list.map((r) => [...r.querySelectorAll("td")].map((d) => d.textContent)));
    const sum = await part.locator(".sum").first().locator("td").allInnerTexts();
    const left = await part.locator(".sum").last().locator("td").allInnerTexts();
    const add = (k) => rows.reduce((n, r) => n + number(r[k]), 0);
    const stored = sum.slice(2).reduce((n, s) => n + number(s), 0);
    assert.deepEqual([add(0), add(1), number(sum[0]) - number(sum[1]) - stored], [number(sum[0]), number(sum[1]), number(left[1])]);
  };
  await closes();
  await part.getByLabel("Days").selectOption("January");
  await page.waitForFunction(() => document.querySelector("caption")?.textContent === "Heat of the house, 1 January to 31 January");
  await closes();
  await part.getByLabel("Days").selectOption("one day");
  await part.getByLabel("Day", { exact: true }).fill("2001-12-24");
  await page.waitForFunction(() => document.querySelector("caption")?.textContent === "Heat of the house, 24 December");
  await closes();
  await part.getByLabel("Drawn as").selectOption("columns");
  await part.locator("svg.sc-picture g.columns").waitFor();
  await part.getByLabel("Days").selectOption("days");
  await part.getByRole("textbox", { name: "to" }).fill("2001-12-20");
  await part.getByRole("alert").filter({ hasText: "must not lie before from" }).waitFor();
  await part.getByRole("textbox", { name: "From" }).fill("2001-12-18");
  await page.waitForFunction(() => document.querySelector("caption")?.textContent === "Heat of the house, 18 December to 20 December");
  assert.equal(await part.getByRole("alert").count(), 0);
  await closes();
  await close();
});

test("what is on the screen can be saved, under the plan's name", async () => {
  const { page, complaints, close } = await winter();
  const saved = async (of) => {
    const [file] = await Promise.all([page.waitForEvent("download"), of.click()]);
    return [file.suggestedFilename(), readFileSync(await file.path(), "utf8")];
  };
  for (const [button, name, head, rows] of [
    ["Save these hours (CSV)", "larch-hollow-hours-from-2001-11-24.csv", /^end of hour,outdoor air \[degC\]/, 241],
    ["Save every hour of the run (CSV)", "larch-hollow-hours.csv", /^end of hour,outdoor air \[degC\]/, 5089],
  ]) {
    const [file, text] = await saved(page.getByRole("button", { name: button }));
    assert.equal(file, name);
    assert.match(text, head);
    assert.equal(text.trim().split("\n").length, rows);
    assert.match(text, /-07:00,/);
  }
  await page.locator(".sure:not(.old)").waitFor({ timeout: 60000 });
  const tables = [];
  for (const b of await page.getByRole("button", { name: "Save this table (CSV)" }).all()) tables.push(await saved(b));
  assert.deepEqual(tables.map(([name]) => name), ["larch-hollow-heat-2001-10-01-to-2002-04-30.csv", "larch-hollow-places.csv", "larch-hollow-light.csv", "larch-hollow-not-known.csv"]);
  for (const [, text] of tables) assert.match(text, /\[(J|K|degC|mol\/m2d)\]/);
  const svgs = [];
  for (const a of await page.getByRole("link", { name: "Save this picture (SVG)" }).all()) svgs.push(await saved(a));
  assert.deepEqual(svgs.map(([name]) => name), ["larch-hollow-section-lowest.svg", "larch-hollow-ten-days.svg", "larch-hollow-winter-sheet.svg", "larch-hollow-heat-streams.svg"]);
  for (const [, text] of svgs) assert.match(text, /^<svg /);
  assert.deepEqual(complaints, []);
  await close();
});

test("printed, it is black on white without what is pressed, and nothing is cut off", async () => {
  const { page, close } = await winter({ colorScheme: "dark" });
  await page.setViewportSize({ width: 680, height: 960 }); // paper between its margins
  await page.emulateMedia({ media: "print" });
  const seen = await page.evaluate(() => ({
    ground: getComputedStyle(document.body).backgroundColor,
    ink: getComputedStyle(document.body).color,
    pressed: [...document.querySelectorAll("button:not(.term), select, input, nav, [role=slider]")].filter((e) => e.getClientRects().length > 0).length,
    over: [...document.querySelectorAll("svg, table")].filter((e) => e.getBoundingClientRect().right > innerWidth + 1).length,
  }));
  assert.deepEqual(seen, { ground: "rgb(255, 255, 255)", ink: "rgb(0, 0, 0)", pressed: 0, over: 0 });
  await page.pdf({ path: join(pictures, "winter.pdf"), format: "A4" });
  await close();
});
