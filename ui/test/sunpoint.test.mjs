import assert from "node:assert/strict";
import { join } from "node:path";
import { test } from "node:test";
import AxeBuilder from "@axe-core/playwright";
import { open, pictures, settled, shorten, world } from "./program.mjs";

const w = world(shorten);

test("hours of sun at a point: by button and keys, by tapping, on any day; a point in the earth is told to be none", async () => {
  const { page, complaints, close } = await open(w.b, `${w.s.url}#larch-hollow.yaml/house`);
  await settled(page);
  const said = page.locator(".sunpoint [aria-live]");
  await page.getByRole("button", { name: "Tell the hours of sun at a point" }).click();
  await said.filter({ hasText: "direct sun on 21 December here: front bed, on the soil" }).waitFor();
  assert.equal(await page.evaluate(() => document.activeElement?.getAttribute("aria-label")), "point of which the sun is told");
  await page.getByLabel("Month").selectOption("June");
  await said.filter({ hasText: /\d\.\d hours of direct sun on 21 June here: front bed/ }).waitFor();
  const point = page.getByRole("button", { name: "point of which the sun is told" });
  await point.focus(); // as it was when it came
  for (let i = 0; i < 8; i++) await page.keyboard.press("ArrowUp");
  await said.filter({ hasText: "1.15 m above the floor" }).waitFor();
  // A tap on the air of the room, then on the ground beside the house.
  await page.locator(".sheet").scrollIntoViewIfNeeded();
  const box = await page.locator(".sheet").boundingBox();
  assert.ok(box);
  await page.mouse.click(box.x + box.width * 0.62, box.y + box.height * 0.45);
  await said.filter({ hasText: "above the floor" }).filter({ hasNotText: "1.15 m above" }).waitFor();
  await page.locator("main > figure").screenshot({ path: join(pictures, "sunpoint-1440.png") });
  await page.mouse.click(box.x + box.width * 0.05, box.y + box.height * 0.85);
  await said.filter({ hasText: "This point is not in the room of the house" }).waitFor();
  const found = await new AxeBuilder({ page }).include("main > figure").analyze();
  assert.deepEqual(found.violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => v.id + ": " + v.nodes[0]?.html), []);
  await page.getByRole("button", { name: "Close" }).click();
  assert.equal(await point.count(), 0);
  assert.deepEqual(complaints, []);
  await close();
});

test("a finger on a phone taps the point", async () => {
  const { page, complaints, close } = await open(w.b, `${w.s.url}#quail-ridge.yaml/house`, { viewport: { width: 360, height: 800 }, hasTouch: true, colorScheme: "dark" });
  await settled(page);
  const box = await page.locator(".sheet").boundingBox();
  assert.ok(box);
  await page.touchscreen.tap(box.x + box.width * 0.45, box.y + box.height * 0.45);
  await page.locator(".sunpoint [aria-live]").filter({ hasText: "21 December here" }).waitFor();
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
  await page.locator("main > figure").screenshot({ path: join(pictures, "sunpoint-360-dark.png") });
  assert.deepEqual(complaints, []);
  await close();
});
