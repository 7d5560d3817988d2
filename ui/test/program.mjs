// Starts the built program on a folder of its own and opens its page in Chromium.
import { spawn } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { after, before } from "node:test";
import { chromium } from "playwright-core";

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, "..", "..");
export const program = join(root, "bin", "suncellar");
export const pictures = join(here, "pictures");
mkdirSync(pictures, { recursive: true });

/** A folder with the examples in it. */
export function folder() {
  const dir = mkdtempSync(join(tmpdir(), "suncellar-page-"));
  for (const name of ["larch-hollow.yaml", "quail-ridge.yaml", "crow-loft.yaml"]) copyFileSync(join(root, "examples", name), join(dir, name));
  return { dir, remove: () => rmSync(dir, { recursive: true, force: true }) };
}

/** Puts a plan into a folder whose winter has ten days: what is asked of it takes a second. */
export function short(dir) {
  const text = readFileSync(join(root, "examples", "crow-loft.yaml"), "utf8");
  writeFileSync(join(dir, "short.yaml"), text.replace("span: whole year", "from: 01-05, until: 01-15"));
}

/** Serves a folder, or a plan; port 0 takes a free one. Its link is the first that it prints, with token and plan. */
export async function serve(dir, port = 0, host = "127.0.0.1") {
  const child = spawn(program, ["serve", dir, "--addr", `${host}:${port}`], { stdio: ["ignore", "pipe", "inherit"] });
  process.once("exit", () => child.kill("SIGKILL")); // a test that fails half way leaves nothing behind, and waits for nothing
  child.unref();
  const link = await new Promise((resolve, reject) => {
    let said = "";
    child.stdout.on("data", (d) => {
      said += d;
      const found = /http:\/\/\S+(?=\n)/.exec(said);
      if (found) resolve(found[0]);
    });
    child.on("exit", (code) => reject(new Error(`serve ended with ${code}: ${said}`)));
  });
  child.stdout.unref();
  const end = (signal) => new Promise((done) => (child.exitCode !== null || child.signalCode ? done() : (child.on("exit", done), child.kill(signal))));
  const url = new URL("/", link).href;
  return { url, link, port: Number(new URL(url).port), end, pid: child.pid };
}

export async function browser() {
  return chromium.launch({ executablePath: process.env.SUNCELLAR_BROWSER || "/usr/bin/chromium", args: ["--no-sandbox", "--disable-dev-shm-usage"] });
}

/** Cuts the winters of the examples in a folder to two weeks of January, for tests that ask nothing of the whole of one. */
export function shorten(dir) {
  for (const [name, was] of [["larch-hollow.yaml", ""], ["quail-ridge.yaml", "from: 10-15, until: 04-15"], ["crow-loft.yaml", "span: whole year"]]) {
    const path = join(dir, name);
    const text = readFileSync(path, "utf8");
    const span = "span: winter, from: 01-01, until: 01-14";
    writeFileSync(path, was ? text.replace("span: winter, " + was, span).replace(was, span) : `${text}run: {${span}, warm_up_days: 5}\n`);
  }
}

/** A browser, a folder with the examples and a program that serves it, for all tests of a file. */
export function world(prepare = (_dir) => {}) {
  const w = {};
  before(async () => {
    w.b = await browser();
    w.f = folder();
    prepare(w.f.dir);
    w.s = await serve(w.f.dir);
  });
  after(async () => {
    await w.b?.close();
    await w.s?.end("SIGTERM");
    w.f?.remove();
  });
  return w;
}

/** Opens a page and keeps anything that the browser complains of. The introduction is closed, as for who was here before, unless it is a first visit. */
export async function open(b, url, { first = false, ...options } = {}) {
  const context = await b.newContext({ viewport: { width: 1440, height: 900 }, ...options });
  if (!first) await context.addInitScript(() => localStorage.setItem("suncellar introduction", "closed"));
  const page = await context.newPage();
  const complaints = [];
  page.on("console", (m) => m.type() === "error" && complaints.push(m.text()));
  page.on("pageerror", (e) => complaints.push(e.message));
  await page.goto(url);
  return { page, complaints, close: () => context.close() };
}

/** Waits for the winter of the plan as it stands and gives its sentence. */
export async function settled(page) {
  await page.waitForSelector(".answer[aria-busy=false] .sentence:not(.old)", { timeout: 60000 });
  await page.waitForFunction(() => !document.querySelector(".answer")?.textContent?.includes("Computing"), null, { timeout: 60000 });
  return page.locator(".sentence").innerText();
}
