import assert from "node:assert/strict";
import { join } from "node:path";
import { test } from "node:test";
import { open, pictures, settled, shorten, world } from "./program.mjs";

const w = world(shorten);
const at = (name) => `${w.s.url}#${name}/house`;
const row = (page, path) => page.locator(".field", { has: page.locator(`[id="f-${path}"]`) });

test("a value that is gone to tells what one more unit of it is worth; of another plan it is marked as old until it is computed anew", async () => {
  const { page, complaints, close } = await open(w.b, at("larch-hollow.yaml"));
  await settled(page);
  const told = row(page, "shape.depth").locator(".worth");
  assert.equal(await page.locator(".worth").count(), 0, "nothing is computed before it is asked for");
  await page.locator('[id="f-shape.depth"]').focus();
  await page.waitForFunction(() => /10 cm more: .* °C/.test(document.querySelector(".worth:not(.old)")?.textContent ?? ""), null, { timeout: 60000 });
  const first = await told.innerText();
  assert.match(first, /^10 cm more: [+−]\d\.\d\d °C.* on the worst night\.$/);
  assert.match(await page.locator("section[aria-labelledby=values]").innerText(), /in this one winter/);
  await page.locator('[id="f-shape.length"]').focus();
  await row(page, "shape.length").locator(".worth").filter({ hasText: "1 m more" }).waitFor({ timeout: 60000 });
  await page.locator("section[aria-labelledby=values]").screenshot({ path: join(pictures, "fieldworth.png") });
  await page.locator('[id="f-shape.length"]').fill("8 m");
  await page.keyboard.press("Enter");
  await row(page, "shape.depth").locator(".worth.old").filter({ hasText: "Of the plan as it was before" }).waitFor();
  // The value in hand is computed anew by itself, the other one stays marked.
  await row(page, "shape.length").locator(".worth:not(.old)").filter({ hasText: "1 m more" }).waitFor({ timeout: 60000 });
  assert.equal(await row(page, "shape.depth").locator(".worth.old").count(), 1);
  await page.getByRole("button", { name: "Undo" }).click();
  await row(page, "shape.depth").locator(".worth:not(.old)").waitFor({ timeout: 60000 });
  assert.equal(await told.innerText(), first, "what was known is known again");
  assert.deepEqual(complaints, []);
  await close();
});

test("what a value may be and where that comes from is read by eye and by ear, on a phone too", async () => {
  const { page, complaints, close } = await open(w.b, at("quail-ridge.yaml"), { viewport: { width: 360, height: 800 } });
  await settled(page);
  await page.evaluate(() => document.querySelectorAll("details").forEach((d) => (d.open = true)));
  const fields = await page.evaluate(() =>
    [...document.querySelectorAll(".field input, .field select")].map((e) => ({
      id: e.id,
      ids: (e.getAttribute("aria-describedby") ?? "").split(" "),
      said: (e.getAttribute("aria-describedby") ?? "").split(" ").map((id) => document.getElementById(id)?.innerText ?? null),
      wide: (e.closest(".field")?.getBoundingClientRect().right ?? 0) <= innerWidth,
    })),
  );
  assert.ok(fields.length > 150);
  for (const f of fields) assert.ok(f.said.every((s) => s !== null) && f.wide, `${f.id} is described by ${f.ids}`);
  const said = (id) => fields.find((f) => f.id === id)?.said.join(" ") ?? "";
  assert.match(said("f-store.rows[0].fill"), /share filled with water; 0 to 1.*\. Left out: 95 % \(head space against freezing/);
  assert.match(said("f-shape.depth"), /floor below grade; 0 m to 4 m \(0 ft to 13\.12 ft\)/);
  assert.match(said("f-frame.dirt"), /Assumed: /);
  assert.match(said("f-builds.block%20wall.layers[1].thickness"), /thickness; 0\.0005 m to 3 m/);
  await page.keyboard.press("Tab");
  assert.deepEqual(complaints, []);
  await close();
});

test("who goes on to another value stops the one before", async () => {
  const { page, complaints, close } = await open(w.b, at("quail-ridge.yaml"));
  await settled(page);
  const asked = [];
  page.on("requestfailed", (r) => r.url().includes("/api/worth") && asked.push(JSON.parse(r.postData() ?? "{}").path));
  await page.locator('[id="f-shape.depth"]').focus();
  await page.waitForRequest((r) => r.url().endsWith("/api/worth") && (r.postData() ?? "").includes("shape.depth"));
  await page.locator('[id="f-shape.length"]').focus();
  await row(page, "shape.length").locator(".worth").filter({ hasText: "1 ft more" }).waitFor({ timeout: 60000 });
  assert.deepEqual(asked.filter(Boolean), ["shape.depth"]); // beside it the question what is known already may have been stopped
  assert.equal(await row(page, "shape.depth").locator(".worth").count(), 0);
  assert.deepEqual(complaints, []);
  await close();
});
