// A week at the tank without a connection, a browser that is killed, two devices at once, no mouse.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, dialled, finish, followed, kept, launched, opened, test, until, Yard } from "./lib/yard.mjs";

const yard = new Yard();
await yard.start();
const day = 86400e3;

/// The browsers that this process has started, by their numbers.
const children = () => { try { return execFileSync("pgrep", ["-P", String(process.pid), "chrom"], { encoding: "utf8" }).trim().split("\n").map(Number); } catch { return []; } };

await test("sixty notes in a week without a server, the browser killed: each is kept once, at its own time", async () => {
  const profile = mkdtempSync(join(tmpdir(), "leat-week-"));
  const open = () => chromium.launchPersistentContext(profile, { executablePath: process.env.LEAT_CHROMIUM, args: ["--no-sandbox"], viewport: { width: 390, height: 844 } });
  let context = await open();
  let page = await context.newPage();
  await page.goto(yard.site);
  await kept(page);
  await yard.stop();
  const made = [], start = Date.now() - 7 * day;
  await page.clock.install({ time: start });
  await page.reload();
  for (let i = 0; i < 60; i++) {
    const at = start + Math.round(((i + 0.5) / 60) * 7 * day);
    await page.clock.setSystemTime(at);
    await page.getByRole("button", { name: /^Fed/ }).click();
    await dialled(page, String(101 + i));
    made.push(at);
    await until("put down", async () => (await page.evaluate(() => document.body.dataset.waiting)) === String(i + 1));
  }
  const mine = children();
  assert.ok(mine.length > 0);
  for (const pid of mine) process.kill(pid, "SIGKILL");
  await context.close().catch(() => {});
  context = await open();
  page = followed(await context.newPage(), yard);
  await page.goto(`${yard.site}/`);  // the page comes from the browser: there is no server
  await until("all wait still", async () => /60 notes wait/.test(await page.locator("#net").textContent()));
  await page.getByRole("button", { name: "Emergency", exact: true }).click();  // after a restart, without a server: no typing, no network
  await page.getByRole("button", { name: "Fish gasping", exact: true }).click();
  await page.getByRole("button", { name: "Don't know", exact: true }).click();
  await page.locator("dialog .steps li").first().waitFor();
  assert.match(await page.locator("dialog").textContent(), /Counted as two hours ago[^]*Worked out|Worked out[^]*Counted as two hours ago/);
  assert.match(await page.locator("dialog .count").first().textContent(), /\d+ (h \d\d )?min|may be past|not from this cause/);
  await page.getByRole("button", { name: "Close", exact: true }).click();
  await yard.start();
  await until("all are sent", async () => /All notes are sent/.test(await page.locator("#net").textContent()));
  await page.reload();
  await until("nothing waits", async () => /All notes are sent/.test(await page.locator("#net").textContent()));
  const fed = (await (await fetch(`${yard.site}/api/record?all=true`)).json()).entries.filter((e) => /^fed/.test(e.words));
  assert.deepEqual(fed.map((e) => Number(/\d+/.exec(e.words)[0])), made.map((_, i) => 101 + i));
  fed.forEach((e, i) => assert.ok(Math.abs(Date.parse(e.from) - made[i]) <= 90e3, `${e.words}: ${e.from}, made ${new Date(made[i]).toISOString()}`));
  await context.close();
  rmSync(profile, { recursive: true, force: true });
});

await test("two devices that write at the same time lose nothing", async () => {
  const browser = await launched();
  const pages = [await opened(browser, yard, 390, "light"), await opened(browser, yard, 390, "dark")];
  await Promise.all(pages.map((p) => p.goto(yard.site)));
  await Promise.all(pages.map(async (page, d) => {
    for (let i = 0; i < 15; i++) {
      await page.getByRole("button", { name: /^Sump level/ }).click();
      await dialled(page, String(100 * (d + 1) + i));
    }
  }));
  await until("all are there", async () => (await yard.entries()).filter((w) => /level/.test(w)).length >= 30);
  await Promise.all(pages.map((p) => until("all are sent", async () => /All notes are sent/.test(await p.locator("#net").textContent()))));
  const levels = (await yard.entries()).filter((w) => /level/.test(w)).map((w) => Number(/\d+/.exec(w)[0])).sort((a, b) => a - b);
  assert.deepEqual(levels, [...Array(15).keys()].map((i) => 100 + i).concat([...Array(15).keys()].map((i) => 200 + i)));
  await browser.close();
});

await test("everything is done with the keyboard alone", async () => {
  const browser = await launched();
  const page = await opened(browser, yard, 1280, "light");
  await page.goto(yard.site);
  await until("the round", async () => (await page.locator("#round li").count()) > 0);
  const key = (k) => page.keyboard.press(k);
  /// Goes on by Tab until what has the focus is called so; it must be seen to have it.
  const tabTo = async (name) => {
    for (let i = 0; i < 60; i++) {
      await key("Tab");
      const at = await page.evaluate(() => { const e = document.activeElement; return { name: (e.getAttribute("aria-label") ?? e.textContent).trim(), ring: getComputedStyle(e).outlineStyle }; });
      if (at.name.startsWith(name)) { assert.equal(at.ring, "solid", `${name}: no ring`); return; }
    }
    assert.fail(`${name} is not reached by Tab`);
  };
  await tabTo("To the content");
  await key("Enter");
  assert.equal(await page.evaluate(() => document.activeElement.id), "main");
  await tabTo("Oxygen");
  await key("Enter");
  await page.keyboard.type("8.5");
  await tabTo("Keep");
  await key("Enter");
  await until("noted", async () => (await yard.count("dissolved oxygen 8.5")) === 1);
  await until("said back", async () => /: kept$/.test(await page.locator("#line").textContent()));
  await tabTo("Undo");
  await key("Enter");
  await until("undone", async () => (await yard.count("dissolved oxygen 8.5")) === 0);
  await tabTo("Emergency");
  await key("Enter");
  await tabTo("Power off");
  await key("Enter");
  await tabTo("30 min");
  await key("Enter");
  await page.locator("dialog .steps li").first().waitFor();
  await key("Escape");
  await until("it is closed", async () => (await page.locator("dialog").count()) === 0);
  await tabTo("At the desk");
  await key("Enter");
  await until("the drawing", async () => (await page.locator(".drawing").getByRole("button", { name: /^sump\.main/ }).count()) === 1);
  await page.locator(".drawing").getByRole("button", { name: /^sump\.main/ }).focus();
  await key("Enter");
  await until("its history", async () => /level 100|level 20/.test(await page.locator("dialog").textContent()));
  await key("Escape");
  await browser.close();
});

await yard.end();
finish();
