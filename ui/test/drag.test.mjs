import assert from "node:assert/strict";
import { test } from "node:test";
import { join } from "node:path";
import { readFileSync } from "node:fs";
import { open, pictures, settled, world } from "./program.mjs";

const w = world();

test("the glazing's ridge is dragged: the winter follows, and what is let go is kept", async () => {
  const { page, complaints, close } = await open(w.b, `${w.s.url}#larch-hollow.yaml/house`);
  await settled(page);
  const before = await page.locator(".answer").innerText();
  const old = readFileSync(join(w.f.dir, "larch-hollow.yaml"), "utf8");
  const grip = page.locator("button.grip.corner").first();
  const box = await grip.boundingBox();
  assert.ok(box);
  await page.mouse.move(box.x + 12, box.y + 12);
  await page.mouse.down();
  for (let i = 1; i <= 8; i++) await page.mouse.move(box.x + 12, box.y + 12 - 4 * i);
  await page.waitForFunction(() => document.querySelector(".answer")?.getAttribute("aria-busy") === "true");
  assert.equal(readFileSync(join(w.f.dir, "larch-hollow.yaml"), "utf8"), old, "nothing is kept while it is dragged");
  await page.mouse.up();
  await page.getByText("Kept on the disk").waitFor();
  await settled(page);
  await page.waitForFunction((was) => document.querySelector(".answer")?.textContent !== was, before);
  const now = readFileSync(join(w.f.dir, "larch-hollow.yaml"), "utf8");
  assert.notEqual(now, old);
  const changed = now.split("\n").filter((line, i) => line !== old.split("\n")[i]);
  assert.ok(changed.length >= 1 && changed.length <= 3, `lines that changed: ${changed.join(" | ")}`);
  await page.screenshot({ path: join(pictures, "dragged.png") });
  await page.getByRole("button", { name: "Undo" }).click();
  for (let i = 0; i < 200 && readFileSync(join(w.f.dir, "larch-hollow.yaml"), "utf8") !== old; i++) await page.waitForTimeout(50);
  assert.equal(readFileSync(join(w.f.dir, "larch-hollow.yaml"), "utf8"), old);
  assert.deepEqual(complaints, []);
  await close();
});

test("a grip is moved by arrow keys", async () => {
  const { page, close } = await open(w.b, `${w.s.url}#larch-hollow.yaml/house`);
  await settled(page);
  const name = "front bed";
  const grip = page.locator("button.grip.bed").first();
  await grip.focus();
  const old = readFileSync(join(w.f.dir, "larch-hollow.yaml"), "utf8");
  for (const key of ["ArrowUp", "ArrowRight"]) await page.keyboard.press(key);
  for (let i = 0; i < 200 && readFileSync(join(w.f.dir, "larch-hollow.yaml"), "utf8") === old; i++) await page.waitForTimeout(50);
  assert.notEqual(readFileSync(join(w.f.dir, "larch-hollow.yaml"), "utf8"), old, `${name} is not moved`);
  await close();
});
