import assert from "node:assert/strict";
import { join } from "node:path";
import { test } from "node:test";
import { AxeBuilder } from "@axe-core/playwright";
import { open, pictures, short, world } from "./program.mjs";

const w = world();

test("how long it lasts is computed, stopped, and told when it is asked wrongly; nothing runs over, no serious finding", async () => {
  const { page, complaints, close } = await open(w.b, `${w.s.url}#crow-loft.yaml/without-sun`, { viewport: { width: 360, height: 800 } });
  await page.getByRole("button", { name: "Compute how long it lasts" }).waitFor();
  await page.waitForFunction(() => !document.querySelector("main button")?.hasAttribute("disabled"));
  await page.getByLabel("Outdoor air").fill("5 apples");
  await page.getByRole("button", { name: "Compute how long it lasts" }).click();
  await page.getByRole("alert").filter({ hasText: "outside" }).waitFor();
  await page.getByLabel("Outdoor air").fill("-5 degC");
  await page.getByRole("button", { name: "Compute how long it lasts" }).click();
  await page.locator("main svg.sc-picture").first().waitFor({ timeout: 60000 });
  assert.match(await page.locator("main svg.sc-picture").first().getAttribute("aria-label") ?? await page.locator("main svg.sc-picture title").first().textContent(), /The reserve/);
  assert.match(await page.locator("p.first").innerText(), /without sun|begins/);
  await page.locator("main summary").click();
  assert.match(await page.locator("main pre").innerText(), /Crow Loft/);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
  const all = await new AxeBuilder({ page }).analyze();
  assert.deepEqual(all.violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => `${v.id}: ${v.nodes[0]?.html}`), []);
  await page.screenshot({ path: join(pictures, "without-sun-360.png"), fullPage: true });
  assert.deepEqual(complaints, []);
  await close();
});

test("without sun: what is lost is chosen by name and share, and held against all of the store", async () => {
  const { page, close } = await open(w.b, `${w.s.url}#larch-hollow.yaml/without-sun`);
  await page.waitForFunction(() => !document.querySelector("main button")?.hasAttribute("disabled"));
  await page.getByLabel("Bay or row that stands empty").waitFor();
  const bays = await page.getByLabel("Bay or row that stands empty").locator("option").allInnerTexts();
  assert.deepEqual(bays, ["none", "back drums", "back drums, bay 1", "back drums, bay 2"]);
  await page.getByLabel("Bay or row that stands empty").selectOption("back drums, bay 2");
  await page.getByLabel("With a curve over other colds").uncheck();
  await page.getByRole("button", { name: "Compute how long it lasts" }).click();
  await page.getByText(/^With all of its store and its cover it is/).waitFor({ timeout: 60000 });
  assert.equal(await page.locator("main svg.sc-picture").count(), 2);
  await close();
});

test("many winters list their coldest nights", async () => {
  short(w.f.dir);
  const { page, close } = await open(w.b, `${w.s.url}#short.yaml/many-winters`, { viewport: { width: 360, height: 800 } });
  await page.waitForFunction(() => !document.querySelector("main button")?.hasAttribute("disabled"));
  await page.getByLabel("Winters", { exact: true }).fill("6");
  await page.getByLabel(/Houses drawn/).fill("-1");
  await page.getByRole("button", { name: "Compute many winters" }).click();
  await page.locator("tbody tr").first().waitFor({ timeout: 90000 });
  const nights = await page.locator("tbody tr").allInnerTexts();
  assert.equal(nights.length, 6);
  assert.match(nights[0], /^\d+ \w+ \d\d:\d\d\s+-?\d+\.\d °C/);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
  await page.screenshot({ path: join(pictures, "many-winters-360.png"), fullPage: true });
  await close();
});

test("many winters tell how far they are and can be stopped", async () => {
  const { page, close } = await open(w.b, `${w.s.url}#larch-hollow.yaml/many-winters`);
  const button = page.getByRole("button", { name: "Compute many winters" });
  await page.waitForFunction(() => !document.querySelector("main button")?.hasAttribute("disabled"));
  await button.click();
  await page.waitForFunction(() => Number(document.querySelector("progress")?.value) > 0, null, { timeout: 60000 });
  await page.getByRole("button", { name: "Stop" }).click();
  await page.locator("progress").waitFor({ state: "detached" });
  assert.equal(await page.getByRole("alert").count(), 0);
  await close();
});
