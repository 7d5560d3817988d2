import assert from "node:assert/strict";
import { join } from "node:path";
import { test } from "node:test";
import { axeFaults, fill, goTo, keyFaults, layoutFaults, pagesOf, small, writeSmall } from "./pages.mjs";
import { open, pictures, world } from "./program.mjs";

const w = world();

for (const width of [360, 768, 1440]) {
  test(`every page with its results, ${width} px: nothing runs over, is cut off, too small or over another; all by keys; no serious finding`, async () => {
    writeSmall(w.f.dir);
    const { page, complaints, close } = await open(w.b, `${w.s.url}#${small}/house`, { viewport: { width, height: 900 } });
    const faults = [];
    for (const at of await pagesOf(page)) {
      await goTo(page, at);
      await fill(page, width !== 768); // the same studies at a third width would tell little more
      const look = async (how, found) => found.forEach((f) => faults.push(`${at}, ${how}: ${f}`));
      for (const colorScheme of ["light", "dark"]) {
        await page.emulateMedia({ colorScheme });
        await look(colorScheme, await page.evaluate(layoutFaults));
        if (width === 360) await look(`axe, ${colorScheme}`, await axeFaults(page));
        await page.screenshot({ path: join(pictures, `all-${at}-${width}-${colorScheme}.png`), fullPage: true });
      }
      if (width === 1440) await look("keys", await keyFaults(page));
    }
    assert.deepEqual(faults, []);
    assert.deepEqual(complaints, []);
    await close();
  });
}
