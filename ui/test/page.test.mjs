import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { folder, open, pictures, serve, settled, world } from "./program.mjs";

const w = world();

const at = (name, page = "house") => `${w.s.url}#${name}/${page}`;
const disk = (name) => readFileSync(join(w.f.dir, name), "utf8");
const field = (page, path) => page.locator(`[id="f-${path}"]`);
const kept = (page) => page.getByText("Kept on the disk").waitFor({ timeout: 20000 });

/** Waits until something holds, for twenty seconds at most. */
async function until(holds, what) {
  for (let i = 0; i < 400; i++) {
    if (await holds()) return;
    await new Promise((done) => setTimeout(done, 50));
  }
  assert.fail(what);
}

/** Types a value into a field, and waits until it stands in the plan's text. */
async function put(page, path, value) {
  await page.evaluate(() => document.querySelectorAll("details").forEach((d) => (d.open = true)));
  await field(page, path).fill(value);
  await field(page, path).press("Enter");
  await until(async () => (await page.locator("textarea").inputValue()).includes(value), `${value} is not in the text`);
}

test("a value is changed: its bytes alone, another winter; undo and reload", async () => {
  const { page, complaints, close } = await open(w.b, at("larch-hollow.yaml"));
  const first = await settled(page);
  assert.match(first, /front bed/);
  const lowest = () => page.locator(".answer").innerText();
  const before = await lowest();
  const old = disk("larch-hollow.yaml");
  await put(page, "shape.depth", "1.5 m");
  await until(() => disk("larch-hollow.yaml").includes("depth: 1.5 m"), "the change is not on the disk");
  await settled(page);
  assert.equal(disk("larch-hollow.yaml"), old.replace("depth: 1.1 m", "depth: 1.5 m"));
  assert.notEqual(await lowest(), before);
  await page.reload();
  await settled(page);
  assert.equal(await field(page, "shape.depth").inputValue(), "1.5 m");
  for (const [button, depth] of [["Undo", "1.1"], ["Redo", "1.5"], ["Undo", "1.1"]]) {
    await page.getByRole("button", { name: button }).click();
    await until(() => disk("larch-hollow.yaml") === old.replace("depth: 1.1 m", `depth: ${depth} m`), `${button} is not on the disk`);
  }
  await settled(page);
  assert.deepEqual(complaints, []);
  await close();
});

test("a bad value is told at its field, with what is allowed; nothing is lost", async () => {
  const { page, complaints, close } = await open(w.b, at("larch-hollow.yaml"));
  await settled(page);
  await put(page, "shape.depth", "11 m");
  const finding = page.locator(".field", { has: field(page, "shape.depth") }).locator(".finding");
  await finding.waitFor();
  assert.match(await finding.innerText(), /allowed/);
  assert.match(await page.locator(".sentence").innerText(), /keeps the winter from being computed/);
  await put(page, "shape.depth", "1.1 m");
  await settled(page);
  await kept(page);
  assert.deepEqual(complaints, []);
  await close();
});

test("a plan edited on the disk meanwhile is told, not written over; both texts can be had", async () => {
  const { page, close } = await open(w.b, at("quail-ridge.yaml"));
  await settled(page);
  const hand = "# by hand\n" + disk("quail-ridge.yaml");
  writeFileSync(join(w.f.dir, "quail-ridge.yaml"), hand);
  await put(page, "run.limit", "2 degC");
  await page.getByRole("heading", { name: "The file was changed elsewhere" }).waitFor();
  assert.equal(disk("quail-ridge.yaml"), hand);
  await page.getByRole("button", { name: "Take the text on the disk" }).click();
  await settled(page);
  assert.equal(await page.locator("textarea").inputValue(), hand);
  await page.getByRole("button", { name: "Undo" }).click();
  await until(() => disk("quail-ridge.yaml").includes("limit: 2 degC"), "this window's text is not on the disk again");
  await close();
});

test("the text is typed, and the field follows", async () => {
  const { page, complaints, close } = await open(w.b, at("crow-loft.yaml"));
  await settled(page);
  const text = await page.locator("textarea").inputValue();
  await page.locator("textarea").fill(text.replace(/^name: .*$/m, "name: Another loft"));
  await until(() => disk("crow-loft.yaml").includes("name: Another loft"), "what was typed is not on the disk");
  await until(async () => (await field(page, "name").inputValue()) === "Another loft", "the field does not follow the text");
  assert.deepEqual(complaints, []);
  await close();
});

test("killed and started again: what was acknowledged is on the disk, what was not is kept as soon as it can be", async () => {
  const g = folder();
  let other = await serve(g.dir);
  const { page, close } = await open(w.b, `${other.url}#crow-loft.yaml/house`);
  await settled(page);
  const path = join(g.dir, "crow-loft.yaml");
  const said = []; // what was acknowledged, outside the program
  for (let i = 0; i < 4; i++) {
    await put(page, "name", `loft ${i}`);
    await kept(page);
    said.push(`name: loft ${i}`);
  }
  await other.end("SIGKILL");
  assert.match(readFileSync(path, "utf8"), new RegExp(said.at(-1)));
  await page.locator("textarea").fill(readFileSync(path, "utf8").replace("name: loft 3", "name: loft while away"));
  await page.getByText("Not kept yet").waitFor({ timeout: 20000 });
  assert.match(readFileSync(path, "utf8"), /name: loft 3/);
  other = await serve(g.dir, other.port);
  await kept(page);
  assert.match(readFileSync(path, "utf8"), /name: loft while away/);
  await close();
  await other.end("SIGTERM");
  g.remove();
});

for (const width of [360, 768, 1440]) {
  for (const colorScheme of ["light", "dark"]) {
    test(`nothing runs over at ${width} px, ${colorScheme}`, async () => {
      const { page, complaints, close } = await open(w.b, at("larch-hollow.yaml"), { viewport: { width, height: 900 }, colorScheme });
      for (const of of ["house", "winter"]) {
        await page.goto(at("larch-hollow.yaml", of));
        await settled(page);
        const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
        assert.equal(over, 0, of);
        await page.screenshot({ path: join(pictures, `${of}-${width}-${colorScheme}.png`), fullPage: true });
      }
      assert.deepEqual(complaints, []);
      await close();
    });
  }
}
