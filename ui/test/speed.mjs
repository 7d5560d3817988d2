// Measures, on a quiet machine: how long from a moved grip to the redrawn answer, 95 of 100; and what the program holds after many drags.
import { readFileSync } from "node:fs";
import { browser, folder, open, serve, settled } from "./program.mjs";

const b = await browser();
const f = folder();
const s = await serve(f.dir);
const { page } = await open(b, `${s.url}#larch-hollow.yaml/house`);
await settled(page);
const box = await page.locator("button.grip[aria-label='top of the back wall']").boundingBox();
await page.mouse.move(box.x + 12, box.y + 12);
await page.mouse.down();
const n = Number(process.argv[2] ?? 100);
const times = [];
for (let i = 0; i < n; i++) {
  const before = await page.evaluate(() => window.performance.now());
  const asked = page.waitForResponse((r) => r.url().endsWith("/api/winter"), { timeout: 60000 });
  await page.mouse.move(box.x + 12, box.y + 12 - 3 - (i % 12));
  await asked;
  await page.waitForFunction(() => document.querySelector(".answer")?.getAttribute("aria-busy") === "false");
  times.push((await page.evaluate(() => window.performance.now())) - before);
}
await page.mouse.up();
times.sort((x, y) => x - y);
const memory = /VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${s.pid}/status`, "utf8"))?.[1];
console.log(`moved to redrawn, ${n} moves: middle ${Math.round(times[n >> 1])} ms, 95 of 100 ${Math.round(times[Math.floor(0.95 * n)])} ms; the program held ${Math.round(memory / 1024)} MB at most`);
await b.close();
await s.end("SIGTERM");
f.remove();
