// What is round the pages: introduction, words that are explained, titles, the skip link; two windows on one plan.
import assert from "node:assert/strict";
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { axeFaults, goTo, layoutFaults, pagesOf } from "./pages.mjs";
import { folder, open, serve, settled, world } from "./program.mjs";

const w = world();
const at = (name, page = "house") => `${w.s.url}#${name}/${page}`;
const disk = (name) => readFileSync(join(w.f.dir, name), "utf8");
const kept = (page) => page.getByText("Kept on the disk").waitFor({ timeout: 20000 });
const named = (text, name) => text.replace(/^name: .*$/m, "name: " + name);
const type = async (page, name) => {
  const text = page.locator("textarea");
  await text.fill(named(await text.inputValue(), name));
};

test("an introduction stands on a first visit, covers nothing, stays closed, and comes back by its button; by keys", async () => {
  const { page, complaints, close } = await open(w.b, at("crow-loft.yaml"), { viewport: { width: 360, height: 800 }, first: true });
  await settled(page);
  const intro = page.getByRole("region", { name: "How this works" });
  await intro.waitFor();
  assert.equal(await page.locator(".step").count(), 4);
  assert.deepEqual(await page.evaluate(layoutFaults), []);
  await page.getByRole("button", { name: "Close the introduction" }).focus();
  await page.keyboard.press("Enter");
  await intro.waitFor({ state: "detached" });
  assert.equal(await page.locator(".step").count(), 0);
  assert.equal(await page.evaluate(() => document.activeElement?.id), "how");
  await page.reload();
  await settled(page);
  assert.equal(await intro.count(), 0);
  const button = page.getByRole("button", { name: "How this works" });
  assert.equal(await button.getAttribute("aria-expanded"), "false");
  await button.press("Enter");
  await intro.waitFor();
  assert.equal(await page.evaluate(() => document.activeElement?.id), "introduction-head");
  assert.deepEqual(complaints, []);
  await close();
});

test("a word tells what it means by tap and by key, within the window; all words of a page can be listed", async () => {
  const { page, complaints, close } = await open(w.b, at("crow-loft.yaml"), { viewport: { width: 360, height: 640 }, hasTouch: true });
  await settled(page);
  const word = page.locator(".answer button.term", { hasText: /^Lowest$/ });
  const note = page.locator("[popover]:popover-open");
  await word.tap();
  assert.match(await note.innerText(), /lowest temperature of a place/);
  const box = await note.boundingBox();
  assert.ok(box.x >= 0 && box.x + box.width <= 360 && box.y >= 0 && box.y + box.height <= 640, JSON.stringify(box));
  await page.evaluate(() => window.scrollBy(0, 30));
  await page.waitForFunction((y) => Math.abs(document.querySelector("[popover]:popover-open")?.getBoundingClientRect().y - y) < 2, box.y - 30); // it goes along
  assert.deepEqual(await axeFaults(page), [], "with a note open");
  await page.keyboard.press("Escape");
  assert.equal(await note.count(), 0);
  await word.press("Enter");
  assert.equal(await note.count(), 1);
  await page.keyboard.press("Escape");
  await page.getByText("What the words on this page mean").click();
  await page.locator("dt", { hasText: /^glazing$/ }).waitFor();
  assert.deepEqual(await page.evaluate(layoutFaults), []);
  assert.deepEqual(complaints, []);
  await close();
});

test("title and language are set on every page, the skip link leads to it, and nothing moves where less motion is asked for", async () => {
  const { page, close } = await open(w.b, at("crow-loft.yaml"), { reducedMotion: "reduce" });
  const titles = new Set();
  for (const of of await pagesOf(page)) {
    await goTo(page, of);
    await page.waitForFunction(() => document.title.includes("crow-loft.yaml"));
    titles.add(await page.title());
    const moving = await page.evaluate(() => {
      document.querySelector("main").firstElementChild.style.transition = "opacity 3s"; // as if the page had it
      return [...document.querySelectorAll("*")].filter((e) => getComputedStyle(e).animationName !== "none" || (getComputedStyle(e).transitionProperty !== "none" && !/^0s/.test(getComputedStyle(e).transitionDuration))).length;
    });
    assert.equal(moving, 0, of);
  }
  assert.equal(titles.size, (await pagesOf(page)).length, [...titles].join("; "));
  assert.equal(await page.evaluate(() => document.documentElement.lang), "en");
  await page.goto(at("quail-ridge.yaml"));
  await page.waitForFunction(() => document.title.includes("quail-ridge.yaml"));
  await page.reload();
  await page.locator("main h2").first().waitFor();
  await page.keyboard.press("Tab");
  const skip = page.getByRole("link", { name: "Skip to the page" });
  assert.ok((await skip.boundingBox()).y >= 0, "it is seen where it has the focus");
  const address = page.url();
  await page.keyboard.press("Enter");
  assert.equal(await page.evaluate(() => document.activeElement?.tagName), "MAIN");
  assert.equal(page.url(), address);
  await close();
});

test("two windows on one plan: the later edit is told, nothing is written over, both texts can be had", async () => {
  const [a, b] = [await open(w.b, at("crow-loft.yaml")), await open(w.b, at("crow-loft.yaml"))];
  for (const { page } of [a, b]) await settled(page);
  await type(a.page, "first window");
  await kept(a.page);
  await type(b.page, "second window");
  const told = b.page.getByRole("alert").filter({ hasText: "The file was changed elsewhere" });
  await told.waitFor();
  assert.match(disk("crow-loft.yaml"), /name: first window/);
  assert.match(await b.page.locator("textarea").inputValue(), /name: second window/, "what was typed stays in its window");
  assert.deepEqual(await axeFaults(b.page), [], "with a conflict");
  await type(b.page, "second window, more"); // the window can be worked in meanwhile
  await b.page.getByRole("button", { name: "Write this window's text over it" }).click();
  await kept(b.page);
  assert.match(disk("crow-loft.yaml"), /name: second window, more/);
  await type(a.page, "first window again");
  await a.page.getByRole("button", { name: "Take the text on the disk" }).click();
  await kept(a.page);
  assert.match(await a.page.locator("textarea").inputValue(), /name: second window, more/);
  await a.page.getByRole("button", { name: "Undo" }).click();
  await a.page.waitForFunction(() => document.querySelector("textarea")?.value.includes("first window again"));
  for (const { close } of [a, b]) await close();
});

test("the link for a phone opens the plan that was named, once with its token; without it there is a sentence", async () => {
  const g = folder();
  const s = await serve(join(g.dir, "quail-ridge.yaml"), 0, "0.0.0.0");
  assert.match(s.link, /\?token=\w{20,}#quail-ridge\.yaml$/);
  const { page, complaints, close } = await open(w.b, s.link);
  await settled(page);
  assert.equal(await page.locator("header select").first().inputValue(), "quail-ridge.yaml");
  assert.doesNotMatch(page.url(), /token/);
  await page.reload();
  await settled(page);
  // a browser says that it passes over this head where there is no TLS
  assert.deepEqual(complaints.filter((c) => !c.startsWith("The Cross-Origin-Opener-Policy header has been ignored")), []);
  const stranger = await open(w.b, s.url);
  assert.match(await stranger.page.locator("body").innerText(), /terminal shows/);
  await stranger.close();
  await close();
  await s.end("SIGTERM");
  g.remove();
});

test("a text that could not be kept before the window was loaded again is had back with Undo", async () => {
  const { page, close } = await open(w.b, at("crow-loft.yaml"));
  page.on("dialog", (d) => d.accept().catch(() => undefined));
  await settled(page);
  const old = disk("crow-loft.yaml");
  await page.route("**/api/plans/*", (r) => (r.request().method() === "PUT" ? r.abort() : r.continue())); // the network is gone for what is sent
  await type(page, "typed while away");
  await page.getByText("Not kept yet").waitFor();
  await page.getByRole("alert").filter({ hasText: "does not answer" }).waitFor();
  await page.reload();
  await settled(page);
  assert.equal(disk("crow-loft.yaml"), old);
  assert.equal(await page.locator("textarea").inputValue(), old);
  await page.unroute("**/api/plans/*");
  await page.getByRole("button", { name: "Undo" }).click();
  await page.waitForFunction(() => document.querySelector("textarea")?.value.includes("typed while away"));
  await kept(page);
  assert.match(disk("crow-loft.yaml"), /name: typed while away/);
  await close();
});

test("a plan taken away from the folder is told, and written again when that is wanted", async () => {
  const { page, close } = await open(w.b, at("quail-ridge.yaml"));
  await settled(page);
  rmSync(join(w.f.dir, "quail-ridge.yaml"));
  await type(page, "still here");
  await page.getByRole("button", { name: "Write it again from this window" }).click();
  await kept(page);
  assert.match(disk("quail-ridge.yaml"), /name: still here/);
  await close();
});

test("no serious finding on any page while a plan has bad values, and nothing runs over", async () => {
  writeFileSync(join(w.f.dir, "bad.yaml"), disk("larch-hollow.yaml").replace("depth: 1.1 m", "depth: 11 m").replace("level: 0.35 m", "level: 0.35 apples"));
  const { page, close } = await open(w.b, at("bad.yaml"), { viewport: { width: 360, height: 800 } });
  for (const of of await pagesOf(page)) {
    await goTo(page, of);
    await page.waitForFunction(() => document.querySelector("main")?.textContent.trim());
    if (of === "house") await page.locator("main li", { hasText: "allowed" }).first().waitFor();
    assert.deepEqual(await axeFaults(page), [], of);
    assert.deepEqual(await page.evaluate(layoutFaults), [], of);
  }
  await close();
});
