// What the tests of all pages share: the pages that the navigation has, a small plan whose studies take a second, and what is looked for on each page.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { AxeBuilder } from "@axe-core/playwright";
import { settled } from "./program.mjs";

export const small = "small.yaml";

/** Writes a plan beside the examples whose studies take seconds: Crow Loft, which has no soil, over ten days of January, with a few drums and the water of its roof. */
export function writeSmall(dir) {
  const text = readFileSync(join(dir, "crow-loft.yaml"), "utf8");
  const short = text.replace("run: {span: whole year", "run: {span: winter, from: 01-05, until: 01-15");
  if (short === text) throw new Error("the days of Crow Loft are not where they were");
  const drums = "store: {rows: [{name: drums, drums: 6, tiers: 1, bays: 2, at: 3.4 m, fill: 80 %}]}\n";
  const water = "water: {catchments: [{name: roof, of: roof}], inlet: {mouth: flap}, manifolds: [{row: drums}], use_a_day: [1 L, 1 L, 5 L, 9 L, 9 L, 9 L, 9 L, 9 L, 5 L, 1 L, 1 L, 1 L]}\n";
  writeFileSync(join(dir, small), short + drums + water);
}

/** The pages of the navigation, by the end of their address. */
export async function pagesOf(page) {
  await page.locator("nav[aria-label=Pages] a").first().waitFor();
  return page.locator("nav[aria-label=Pages] a").evaluateAll((all) => all.map((a) => a.getAttribute("href").split("/").at(-1)));
}

/** Goes to a page of a plan by its link. */
export async function goTo(page, at) {
  await page.locator(`nav[aria-label=Pages] a[href$="/${at}"]`).click();
  await page.locator(`nav[aria-label=Pages] a[href$="/${at}"][aria-current=page]`).waitFor();
}

/** Brings a page's results: waits for the winter, adds a choice where choices are made, presses every button that computes, one after the other. */
export async function fill(page, studies = true) {
  await page.waitForFunction(() => document.querySelector("main")?.children.length);
  if (await page.locator(".answer").count()) await settled(page);
  for (const number of await page.locator("main input[type=number]").all()) {
    if (Number(await number.inputValue()) > 6 && (await number.isVisible())) await number.fill("6");
  }
  const choice = page.getByLabel("Change, path=value");
  if (await choice.count()) {
    await choice.fill("shape.length=6 m");
    await page.getByRole("button", { name: "Add this choice" }).click();
    await page.locator("main button:enabled", { hasText: /^Compute / }).waitFor();
  }
  const buttons = page.locator("main").getByRole("button", { name: /^Compute / });
  for (let i = 0; studies && i < (await buttons.count()); i++) {
    await buttons.nth(i).click();
    await page.waitForFunction(() => !document.querySelector("main progress"), null, { timeout: 90000 });
  }
  await page.waitForFunction(() => !document.querySelector("main section[aria-busy=true]"), null, { timeout: 90000 });
  if (!studies) return;
  await page.waitForFunction(() => document.querySelector("main svg.sc-picture, main table, main pre, main textarea"), null, { timeout: 20000 });
}

/** Goes through a page by Tab alone, and tells what that does not reach and what does not show that it is reached. */
export async function keyFaults(page) {
  const count = await page.evaluate(() => {
    const all = document.querySelectorAll("a[href], button:enabled, input:enabled, select:enabled, textarea:enabled, summary, [tabindex='0']");
    const seen = [...all].filter((e) => e.checkVisibility() && !(e.matches("[type=radio]") && !e.checked));
    seen.forEach((e) => e.setAttribute("data-wanted", ""));
    document.activeElement?.blur();
    getSelection()?.removeAllRanges();
    return seen.length;
  });
  const faults = [];
  for (let i = 0; i < 2 * count + 10; i++) {
    await page.keyboard.press("Tab");
    const dull = await page.evaluate(() => {
      const e = document.activeElement;
      if (!e?.hasAttribute("data-wanted")) return "";
      e.removeAttribute("data-wanted");
      const { outlineStyle, outlineWidth } = getComputedStyle(e);
      return outlineStyle !== "none" && parseFloat(outlineWidth) >= 2 ? "" : e.outerHTML.slice(0, 120);
    });
    if (dull) faults.push(`does not show that it has the focus: ${dull}`);
    if (i % 20 === 19 && !(await page.locator("[data-wanted]").count())) break;
  }
  for (const e of await page.locator("[data-wanted]").all()) faults.push(`is not reached by Tab: ${(await e.evaluate((x) => x.outerHTML)).slice(0, 120)}`);
  return faults;
}

/** Serious findings of a page as it stands, by axe. */
export async function axeFaults(page) {
  const all = await new AxeBuilder({ page }).analyze();
  return all.violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => `${v.id}: ${v.help}: ${v.nodes[0]?.html}`);
}

/** What is wrong in how a page lies: run in the page. What scrolls by itself (a wide table, a text) may be wider than it shows. */
export function layoutFaults() {
  const faults = [];
  const name = (e) => `${e.tagName.toLowerCase()}${e.id ? "#" + e.id : ""}.${e.getAttribute("class") ?? ""} "${(e.getAttribute("aria-label") ?? e.textContent ?? "").trim().slice(0, 40)}"`;
  const seen = (e) => e.checkVisibility({ opacityProperty: true, visibilityProperty: true, contentVisibilityAuto: true }) && e.getBoundingClientRect().width > 1;
  const hidden = (e) => e.closest(".visually-hidden, [aria-hidden=true]") !== null;
  const root = document.documentElement;
  if (root.scrollWidth > root.clientWidth) {
    const wide = [...document.querySelectorAll("body *")].filter((e) => seen(e) && e.getBoundingClientRect().right > root.clientWidth + 1).map(name);
    faults.push(`the page scrolls sideways by ${root.scrollWidth - root.clientWidth} px: ${wide.slice(0, 3).join("; ")}`);
  }
  for (const e of document.querySelectorAll("body *")) {
    if (!seen(e) || hidden(e) || e.closest("svg") || e.matches("input, textarea, select")) continue;
    const { overflowX, overflowY } = getComputedStyle(e);
    const clips = (o) => o === "hidden" || o === "clip";
    if ((clips(overflowX) && e.scrollWidth > e.clientWidth + 1) || (clips(overflowY) && e.scrollHeight > e.clientHeight + 1)) faults.push(`text is clipped: ${name(e)}`);
  }
  for (const t of document.querySelectorAll("main svg text")) {
    if (!seen(t)) continue;
    const [a, b] = [t.getBoundingClientRect(), t.ownerSVGElement.getBoundingClientRect()];
    if (a.left < b.left - 2 || a.right > b.right + 2 || a.top < b.top - 2 || a.bottom > b.bottom + 2) faults.push(`words of a picture are cut off: "${t.textContent}" in "${t.ownerSVGElement.querySelector("title")?.textContent}"`);
  }
  const live = [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=slider]")].filter((e) => seen(e) && !hidden(e));
  const boxes = live.map((e) => ({ e, r: e.getBoundingClientRect() }));
  for (const { e, r } of boxes) {
    if (e.matches("button, select, summary, input:not([type=checkbox], [type=radio])") && (r.width < 23.5 || r.height < 23.5)) faults.push(`too small for a finger, ${r.width.toFixed(0)} by ${r.height.toFixed(0)} px: ${name(e)}`);
  }
  boxes.forEach((a, i) => {
    for (const b of boxes.slice(i + 1)) {
      if (a.e.contains(b.e) || b.e.contains(a.e)) continue;
      if (a.e.matches(".grip") && b.e.matches(".grip")) continue; // layers are thinner than a finger: they are told apart by key and field
      const across = Math.min(a.r.right, b.r.right) - Math.max(a.r.left, b.r.left);
      const down = Math.min(a.r.bottom, b.r.bottom) - Math.max(a.r.top, b.r.top);
      if (across > 2 && down > 2) faults.push(`over one another by ${across.toFixed(0)} by ${down.toFixed(0)} px: ${name(a.e)} and ${name(b.e)}`);
    }
  });
  return faults;
}
