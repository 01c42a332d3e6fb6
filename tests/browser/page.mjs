// The page in a real browser: at the tank and at the desk, with the server and without it.
// Called as: node page.mjs LEAT PACKAGES [PICTURES]; PACKAGES holds playwright-core and axe-core.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { copyFileSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const [leat, packages, pictures] = process.argv.slice(2).map((path) => resolve(path));
const need = createRequire(join(packages, "package.json"));
const { chromium } = need("playwright-core");
const axe = readFileSync(need.resolve("axe-core/axe.min.js"), "utf8");
const yard = mkdtempSync(join(tmpdir(), "leat-page-"));
copyFileSync(join(import.meta.dirname, "../../examples/first-loop/loop.toml"), join(yard, "loop.toml"));

let server, port = 0;
/// Starts the server, at the same port as before if there was one.
function start() {
  server = spawn(leat, ["serve", "loop.toml", "--port", String(port)], { cwd: yard, stdio: ["ignore", "pipe", "inherit"] });
  return new Promise((resolve, reject) => {
    server.stdout.on("data", (said) => {
      const found = /127\.0\.0\.1:(\d+)/.exec(said);
      if (found) { port = Number(found[1]); resolve(); }
    });
    server.on("exit", () => reject(new Error("leat serve ended")));
  });
}
const stop = () => new Promise((resolve) => { server.removeAllListeners("exit"); server.on("exit", resolve); server.kill("SIGTERM"); });
const site = () => `http://127.0.0.1:${port}`;
const entries = async () => ((await (await fetch(`${site()}/api/record?all=true`)).json()).entries ?? []).map((e) => e.words);
const count = async (words) => (await entries()).filter((w) => w.startsWith(words)).length;

async function until(what, holds, seconds = 120) {
  for (const end = Date.now() + seconds * 1000; Date.now() < end; await new Promise((r) => setTimeout(r, 100))) if (await holds()) return;
  assert.fail(`${what}: not within ${seconds} s`);
}

const browser = await chromium.launch({ executablePath: process.env.LEAT_CHROMIUM, args: ["--no-sandbox"] });
let failed = 0;
const faults = [];
async function opened(width, colorScheme) {
  const context = await browser.newContext({ viewport: { width, height: width < 500 ? 844 : 900 }, colorScheme });
  const page = await context.newPage();
  page.on("pageerror", (e) => faults.push(`script: ${e.message}`));
  page.on("console", (m) => { if (m.type() === "error" && !/ERR_CONNECTION_REFUSED|ERR_CONNECTION_RESET|ERR_EMPTY_RESPONSE|ERR_INCOMPLETE_CHUNKED_ENCODING|status of 503/.test(m.text())) faults.push(`console: ${m.text()}`); });
  page.on("request", (r) => { if (!/^(data|blob):/.test(r.url()) && !r.url().startsWith(site())) faults.push(`asks elsewhere: ${r.url()}`); });
  return page;
}
async function test(name, act) {
  try {
    await act();
    assert.deepEqual(faults.splice(0), []);
    console.log(`ok    ${name}`);
  } catch (e) {
    failed += 1;
    faults.length = 0;
    console.log(`FAIL  ${name}\n${e.stack}`);
  }
}
const picture = async (page, name) => { if (pictures) await page.screenshot({ path: join(pictures, `${name}.png`), fullPage: true }); };
async function soundLooks(page) {
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  assert.ok(wide <= 0, `${wide} px stand out at the side`);
  await page.evaluate(axe);
  const found = await page.evaluate(async () => (await globalThis.axe.run()).violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target).join(" ")}`));
  assert.deepEqual(found, []);
}
const button = (page, name) => page.getByRole("button", { name, exact: true });
const line = (page) => page.locator("#line").textContent();
async function dialled(page, digits) {
  for (const d of digits) await page.locator("dialog .pad").getByRole("button", { name: d, exact: true }).click();
  await button(page, "Keep").click();
}

await start();
const phone = await opened(390, "light");
await phone.goto(site());

await test("opens on today's round", async () => {
  await until("the round", async () => /test pH|feed fish/.test(await phone.locator("#round").textContent()));
  await soundLooks(phone);
  await picture(phone, "tank-390-light");
});

await test("a number is noted, said back in one line and undone", async () => {
  await phone.getByRole("button", { name: /^Fed/ }).click();
  await picture(phone, "pad-390-light");
  await dialled(phone, "60");
  await until("said back", async () => /fed 60 g, tank\.nursery/.test(await line(phone)));
  assert.equal(await count("fed 60 g"), 1);
  await button(phone, "Undo").click();
  await until("undone", async () => (await count("fed 60 g")) === 0);
});

await test("without the server the page opens, keeps notes and helps in an emergency", async () => {
  await phone.evaluate(async () => { await navigator.serviceWorker.ready; });
  await until("the tables are kept", () => phone.evaluate(() => new Promise((resolve) => {
    const ask = indexedDB.open("leat", 1);
    ask.onsuccess = () => {
      const keys = ask.result.transaction("answers").objectStore("answers").getAllKeys();
      keys.onsuccess = () => { ask.result.close(); resolve(["round", "emergency", "outage"].every((k) => keys.result.includes(k))); };
    };
  })));
  await stop();
  await phone.reload();
  await until("the kept round", async () => /test pH|feed fish/.test(await phone.locator("#round").textContent()));
  await phone.getByRole("button", { name: /^Dead fish/ }).click();
  await dialled(phone, "2");
  await until("waits", async () => /2 dead/.test(await line(phone)) && /1 note waits/.test(await phone.locator("#net").textContent()));
  await button(phone, "Emergency").click();
  await button(phone, "Power off").click();
  await button(phone, "30 min").click();
  await phone.locator("dialog .steps li").first().waitFor({ timeout: 5000 });
  const said = await phone.locator("dialog").textContent();
  assert.match(said, /tank\.nursery/);
  assert.match(said, /\d h \d\d min \d\d s/);
  assert.match(said, /give no feed/i);
  const time = await phone.locator("dialog .count").first().boundingBox();
  assert.ok(time.y > 0 && time.y < 700, `the time left stands at ${time.y} px, out of sight`);
  await soundLooks(phone);
  await picture(phone, "emergency-390-light");
  await button(phone, "Power is back").click();
});

await test("what waited is sent once when the server is back", async () => {
  await start();
  await until("sent", async () => (await count("2 died")) + (await count("died 2")) + (await count("2 dead")) === 1 && (await count("power off")) === 1 && (await count("power on")) === 1);
  await until("told", async () => /All notes are sent/.test(await phone.locator("#net").textContent()));
  await phone.reload();
  await new Promise((r) => setTimeout(r, 1500));
  assert.equal((await entries()).filter((w) => /dead|died|power off/.test(w)).length, 2);
});

await test("shows what is noted as words only, however it is written", async () => {
  const nasty = "<img src=x onerror=alert(1)><script>document.title='broken'</script>";
  await phone.getByRole("button", { name: /^In words/ }).click();
  await phone.locator("dialog textarea").fill(nasty);
  await button(phone, "Keep").click();
  await until("said back", async () => (await line(phone)).includes("<img src=x"));
  await phone.goto(`${site()}/#desk`, { waitUntil: "commit" });
  await until("in the list", async () => (await phone.locator("main").textContent()).includes("onerror=alert(1)"));
  assert.equal(await phone.locator("main img[src=x]").count(), 0);
  assert.doesNotMatch(await phone.title(), /broken/);
});

for (const [width, scheme] of [[390, "dark"], [1280, "light"], [1280, "dark"]])
  await test(`the desk at ${width} px, ${scheme}: drawing, charts with their numbers, a record to search`, async () => {
    const page = await opened(width, scheme);
    await page.goto(`${site()}/#desk`, { waitUntil: "commit" });
    await until("charts", async () => (await page.locator(".chart canvas").count()) >= 2);
    await until("the drawing", () => page.locator("img.drawing").first().evaluate((i) => i.complete && i.naturalWidth > 0));
    await page.locator("details summary").first().click();
    assert.ok((await page.locator("details table tbody tr").count()) >= 14);
    await page.locator("#search").fill("fed");
    await until("found nothing of it", async () => !/power off/.test(await page.locator("section").last().textContent()));
    await page.locator("#search").fill("power");
    await until("found", async () => /power off/.test(await page.locator("section").last().textContent()));
    await soundLooks(page);
    await picture(page, `desk-${width}-${scheme}`);
    await page.goto(`${site()}/#tank`);
    await until("the round", async () => (await page.locator("#round li").count()) >= 1);
    await soundLooks(page);
    await picture(page, `tank-${width}-${scheme}`);
    await page.context().close();
  });

await browser.close();
await stop();
rmSync(yard, { recursive: true });
process.exit(failed ? 1 : 0);
