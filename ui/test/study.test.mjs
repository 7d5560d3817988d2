import assert from "node:assert/strict";
import { join } from "node:path";
import { test } from "node:test";
import { AxeBuilder } from "@axe-core/playwright";
import { open, pictures, settled, world } from "./program.mjs";

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
  assert.match(await page.locator("main pre").innerText(), /Crow Loft/);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
  const all = await new AxeBuilder({ page }).analyze();
  assert.deepEqual(all.violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => `${v.id}: ${v.nodes[0]?.html}`), []);
  await page.screenshot({ path: join(pictures, "without-sun-360.png"), fullPage: true });
  assert.deepEqual(complaints, []);
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
