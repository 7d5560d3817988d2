import assert from "node:assert/strict";
import { test } from "node:test";
import { AxeBuilder } from "@axe-core/playwright";
import { open, settled, world } from "./program.mjs";

const w = world();

/** Serious findings of a page as it stands. */
async function findings(page) {
  const all = await new AxeBuilder({ page }).analyze();
  return all.violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => `${v.id}: ${v.help}: ${v.nodes[0]?.html}`);
}

for (const colorScheme of ["light", "dark"]) {
  test(`no serious finding with results and with errors, ${colorScheme}`, async () => {
    const { page, close } = await open(w.b, `${w.s.url}#larch-hollow.yaml/house`, { colorScheme });
    for (const of of ["house", "winter"]) {
      await page.goto(`${w.s.url}#larch-hollow.yaml/${of}`);
      await settled(page);
      assert.deepEqual(await findings(page), [], of);
    }
    await page.goto(`${w.s.url}#larch-hollow.yaml/house`);
    const depth = page.locator('[id="f-shape.depth"]');
    await depth.fill("11 m");
    await depth.press("Tab");
    await page.locator(".finding").first().waitFor();
    assert.deepEqual(await findings(page), [], "with an error");
    await depth.fill("1.1 m");
    await depth.press("Tab");
    await close();
  });
}

test("by keyboard alone: a value is changed and taken back", async () => {
  const { page, close } = await open(w.b, `${w.s.url}#crow-loft.yaml/house`);
  await settled(page);
  const reached = async (wanted) => {
    for (let i = 0; i < 200; i++) {
      if (await page.evaluate((id) => document.activeElement?.id === id || document.activeElement?.textContent?.trim() === id, wanted)) return;
      await page.keyboard.press("Tab");
    }
    assert.fail(`${wanted} is not reached by Tab`);
  };
  await page.evaluate(() => document.querySelectorAll("details").forEach((d) => (d.open = true)));
  await reached("f-name");
  await page.keyboard.press("ControlOrMeta+A");
  await page.keyboard.type("By keys");
  await page.keyboard.press("Tab");
  await page.waitForFunction(() => document.querySelector("textarea")?.value.includes("name: By keys"));
  await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
  await page.keyboard.press("ControlOrMeta+Z");
  await page.waitForFunction(() => document.querySelector("textarea")?.value.includes("name: Crow Loft"));
  await close();
});
