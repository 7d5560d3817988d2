import assert from "node:assert/strict";
import { test } from "node:test";
import { open, settled, short, world } from "./program.mjs";

const w = world();

test("the band is told to first order at once, then by drawn houses while nothing is changed; an edit stops them", async () => {
  short(w.f.dir);
  const { page, complaints, close } = await open(w.b, `${w.s.url}#short.yaml/house`);
  await settled(page);
  const sure = page.locator(".sure");
  await sure.filter({ hasText: "(to first order)" }).waitFor({ timeout: 30000 });
  const asked = page.waitForRequest((r) => r.url().endsWith("/api/band/drawn"));
  const request = await asked;
  const gone = page.waitForEvent("requestfailed", (r) => r === request);
  const field = page.locator('[id="f-leakage.air_changes"]');
  await page.evaluate(() => document.querySelectorAll("details").forEach((d) => (d.open = true)));
  await field.fill("0.3 ach");
  await field.press("Tab");
  await gone;
  await sure.filter({ hasText: "(to first order)" }).waitFor({ timeout: 30000 });
  await sure.filter({ hasText: "by 20 drawn houses" }).waitFor({ timeout: 60000 });
  assert.match(await sure.innerText(), /With 20 houses an end may lie off/);
  assert.deepEqual(complaints, []);
  await close();
});
