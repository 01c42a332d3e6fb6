// What the browser tests share: a yard with its server, pages that tell their faults, and a few looks.
// A test is called as: node NAME.mjs LEAT PACKAGES [PICTURES]; PACKAGES holds playwright-core and axe-core.
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const [leat, packages, pictures] = process.argv.slice(2).map((path) => resolve(path));
export { leat };
const need = createRequire(join(packages, "package.json"));
export const { chromium } = need("playwright-core");
const axe = readFileSync(need.resolve("axe-core/axe.min.js"), "utf8");
if (pictures) mkdirSync(pictures, { recursive: true });
let failed = 0;
const faults = [], pages = new Set();

/// A port that is free with the next one, below those that the system hands out: nobody else gets them while a server is away.
async function freePort() {
  const below = Number(readFileSync("/proc/sys/net/ipv4/ip_local_port_range", "utf8").split(/\s+/)[0]);
  const free = (port) => new Promise((done) => { const s = createServer().on("error", () => done(false)).listen(port, () => s.close(() => done(true))); });
  for (;;) {
    const port = 10000 + Math.floor(Math.random() * (below - 10002));
    if (await free(port) && await free(port + 1)) return port;
  }
}

/// Slow machines take longer, and are not wrong: nothing here ends a wait before this.
const patience = Number(process.env.LEAT_PATIENCE ?? 600);
const yards = new Set();

export class Yard {
  port = 0;
  said = "";
  folder = mkdtempSync(join(tmpdir(), "leat-page-"));
  constructor({ withLoop = true, flags = [] } = {}) {
    this.flags = flags;
    if (withLoop) copyFileSync(join(import.meta.dirname, "../../../examples/first-loop/loop.toml"), join(this.folder, "loop.toml"));
  }
  /// Starts the server, at the same port as before if there was one; a server that runs goes on.
  async start() {
    if (this.server) return this.began;
    this.port ||= await freePort();
    const server = this.server = spawn(leat, ["serve", "loop.toml", "--port", String(this.port), ...this.flags], { cwd: this.folder, stdio: ["ignore", "pipe", "inherit"] });
    this.said = "";
    yards.add(this);
    server.ended = new Promise((done) => server.on("exit", () => { if (this.server === server) this.server = undefined; done(); }));
    this.began = new Promise((done, failedToStart) => {
      server.stdout.on("data", (said) => {
        this.said += said;
        if ((this.flags.includes("--home") ? /Who is known/ : /The page is at/).test(this.said)) done();
      });
      server.ended.then(() => failedToStart(new Error("leat serve ended")));
    });
    this.began.catch(() => {});
    return this.began;
  }
  /// Stops the server; done at once if none runs.
  async stop() {
    const server = this.server;
    if (!server) return;
    server.kill("SIGTERM");
    const late = setTimeout(() => { faults.push(`leat serve did not end within ${patience} s when it was asked to`); server.kill("SIGKILL"); }, patience * 1000);
    await server.ended;
    clearTimeout(late);
  }
  get site() { return `http://127.0.0.1:${this.port}`; }
  async entries() { return ((await (await fetch(`${this.site}/api/record?all=true`)).json()).entries ?? []).map((e) => e.words); }
  async count(words) { return (await this.entries()).filter((w) => w.startsWith(words)).length; }
  /// Notes something, as another program would.
  async note(words) {
    const r = await fetch(`${this.site}/api/note`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ words }) });
    assert.equal(r.status, 200, words);
  }
  /// Holds the run of a question where it is, however fast this machine is: from then on only the server can end it.
  async held(verb) {
    let found;
    await until(`a run of ${verb}`, () => {
      try { found = Number(execFileSync("pgrep", ["-P", String(this.server.pid), "-f", `^leat ${verb} `], { encoding: "utf8" }).split("\n")[0]); process.kill(found, "SIGSTOP"); return true; } catch { return false; }
    });
    return found;
  }
  async end() { yards.delete(this); await this.stop(); rmSync(this.folder, { recursive: true, force: true }); }
}

export async function until(what, holds, seconds = patience) {
  for (const end = Date.now() + seconds * 1000; Date.now() < end; await new Promise((r) => setTimeout(r, 100))) if (await holds()) return;
  assert.fail(`${what}: not within ${seconds} s`);
}
/// The same of what is worked out only once it comes to be seen, though parts above it may grow and push it away meanwhile.
export const untilSeen = (what, part, holds) => until(what, async () => { await part.scrollIntoViewIfNeeded(); return holds(); });
/// Whether a process is no more.
export const gone = (pid) => { try { process.kill(pid, 0); return false; } catch { return true; } };
export const launched = () => chromium.launch({ executablePath: process.env.LEAT_CHROMIUM, args: ["--no-sandbox"] });
/// Follows a page: what its script says wrong, and whom else it asks, fails the test.
export function followed(page, yard) {
  page.setDefaultTimeout(patience * 1000);
  pages.add(page);
  page.on("close", () => pages.delete(page));
  page.on("pageerror", (e) => faults.push(`script: ${e.message}`));
  // What is to be stopped may have ended by itself the moment before.
  const ended = (m) => /status of 404/.test(m.text()) && m.location().url.endsWith("/api/stop");
  page.on("console", (m) => { if (m.type() === "error" && !ended(m) && !/ERR_CONNECTION_(REFUSED|RESET|CLOSED|ABORTED)|ERR_SOCKET_NOT_CONNECTED|ERR_EMPTY_RESPONSE|ERR_INCOMPLETE_CHUNKED_ENCODING|ERR_INTERNET_DISCONNECTED|status of (401|403|503|422)/.test(m.text())) faults.push(`console: ${m.text()}`); });
  page.on("request", (r) => { if (!/^(data|blob):/.test(r.url()) && !r.url().startsWith(yard.site)) faults.push(`asks elsewhere: ${r.url()}`); });
  return page;
}
export async function opened(browser, yard, width, colorScheme) {
  const context = await browser.newContext({ viewport: { width, height: width < 500 ? 844 : 900 }, colorScheme });
  return followed(await context.newPage(), yard);
}
/// One test. Each begins with its servers running; one that failed leaves no page of its own behind, and no open window in
/// those that were there before.
export async function test(name, act) {
  const before = new Set(pages);
  try {
    for (const yard of yards) await yard.start();
    await act();
    assert.deepEqual(faults.splice(0), []);
    console.log(`ok    ${name}`);
  } catch (e) {
    failed += 1;
    console.log(`FAIL  ${name}\n${e.stack.slice(0, 2000)}`);
    for (const page of pages) console.log(`# then it showed at ${page.url()}: ${await page.locator("body").innerText({ timeout: 5000 }).catch((x) => x.message)}`.slice(0, 3000).replaceAll("\n", " | "));
    for (const page of [...pages]) await (before.has(page) ? page.goto("about:blank") : page.context().close()).catch(() => {});
    faults.length = 0;
  }
}
/// The whole page as a picture, its foot where a paper's would stand.
export const picture = async (page, name) => {
  if (!pictures) return;
  const foot = (position) => page.evaluate((p) => { document.querySelector("footer").style.position = p; }, position);
  await foot("static");
  await page.screenshot({ path: join(pictures, `${name}.png`), fullPage: true });
  await foot("");
};
/// Nothing stands out at the side, and axe-core finds nothing.
export async function soundLooks(page) {
  const wide = await page.evaluate(() => {
    const { scrollWidth, clientWidth } = document.documentElement;
    return scrollWidth <= clientWidth ? [] : [`${scrollWidth - clientWidth} px`, ...[...document.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > clientWidth && !e.closest(".scroll")).map((e) => `${e.tagName} ${e.id} ${e.className} ${e.textContent.slice(0, 60)}`).slice(-8)];
  });
  assert.deepEqual(wide, [], "stands out at the side");
  await page.evaluate(axe);
  const found = await page.evaluate(async () => (await globalThis.axe.run()).violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target).join(" ")}`));
  assert.deepEqual(found, []);
}
export const button = (page, name) => page.getByRole("button", { name, exact: true });
export const line = (page) => page.locator("#line").textContent();
export async function dialled(page, digits) {
  for (const d of digits) await page.locator("dialog .pad").getByRole("button", { name: d, exact: true }).click();
  await button(page, "Keep").click();
}
/// Until all that an emergency and a round need is kept on this device, as the page says.
export async function kept(page) {
  await until("the emergency table is kept", async () => /Emergency table kept here/.test(await page.locator("#ready").textContent()));
  await until("the round is kept", async () => (await page.locator("#round li").count()) > 0 && !/not known yet/.test(await page.locator("#round").textContent()));
}
export function finish() {
  if (faults.length) { failed += 1; console.log(`FAIL  after the last test\n${faults.join("\n")}`); }
  process.exit(failed ? 1 : 0);
}
