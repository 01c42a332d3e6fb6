// Every view at both widths, light and dark, as pictures to look at; and how a year of hours moves under the hand.
import assert from "node:assert/strict";
import { finish, launched, opened, picture, soundLooks, test, until, Yard } from "./lib/yard.mjs";

const yard = new Yard();
await yard.start();
const browser = await launched();
for (const words of ["temp 9.5 degC", "nh3 0.5 mg/L as N", "min 8 max 12", "fed 60 g", "do 9.1 mg/L"])
  await yard.note(words);
const there = {
  tank: async (page) => (await page.locator("#round li").count()) > 0 && !/not known yet/.test(await page.locator("#round").textContent()),
  desk: async (page) => (await page.locator(".chart canvas").count()) >= 4 && (await page.locator("#search").count()) === 1,
  plan: async (page) => (await page.locator("#beside .verdict").count()) === 1,
};
for (const view of Object.keys(there))
  for (const [width, look] of [[390, "light"], [390, "dark"], [390, "contrast"], [1280, "light"], [1280, "dark"]])
    await test(`${view} at ${width} px, ${look}`, async () => {
      const page = await opened(browser, yard, width, look === "dark" ? "dark" : "light");
      if (look === "contrast") await page.addInitScript(() => localStorage.setItem("look", "contrast"));
      await page.goto(`${yard.site}/#${view}`, { waitUntil: "commit" });
      await until(view, () => there[view](page));
      await soundLooks(page);
      await picture(page, `${view}-${width}-${look}`);
      await page.context().close();
    });

await test("how soon something stands there", async () => {
  /// Milliseconds to the first paint and to the round, in a browser that was never here, then in one that was.
  const seen = async (page) => {
    await page.goto(`${yard.site}/#tank`);
    await until("the round", async () => /as of/.test(await page.locator("#round-at").textContent()));
    return page.evaluate(() => new Promise((done) => new PerformanceObserver((l) => done(l.getEntriesByName("first-contentful-paint")[0].startTime)).observe({ type: "paint", buffered: true })));
  };
  const first = [], again = [], slow = [];
  for (let i = 0; i < 5; i++) {
    const page = await opened(browser, yard, 390, "light");
    first.push(await seen(page));
    await page.evaluate(async () => { await navigator.serviceWorker.ready; });
    await page.goto("about:blank");
    again.push(await seen(page));
    const control = await page.context().newCDPSession(page);
    await control.send("Emulation.setCPUThrottlingRate", { rate: 6 });
    await page.goto("about:blank");
    slow.push(await seen(page));
    await page.context().close();
  }
  const middle = (list) => `${Math.round([...list].sort((a, b) => a - b)[2])} ms (slowest of 5: ${Math.round(Math.max(...list))})`;
  console.log(`# first paint at the tank: ${middle(first)} in a browser that was never here, ${middle(again)} in one that was, ${middle(slow)} in that one with a sixth of the speed`);
});

await test("a year of hours of six series moves under the hand", async () => {
  const page = await opened(browser, yard, 1280, "light");
  await page.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
  await until("charts", async () => (await page.locator(".chart canvas").count()) >= 4);
  await page.evaluate(() => {
    const host = document.createElement("div");
    host.id = "year";
    document.querySelector("main").prepend(host);
    const times = Array.from({ length: 8760 }, (_, i) => 1.767e9 + 3600 * i);
    const lines = Array.from({ length: 6 }, (_, k) => ({ name: `series ${k + 1}`, values: times.map((t, i) => 10 + k + 6 * Math.sin(i / 1390) + 2 * Math.sin((i + k) / 3.8) + Math.sin(i * 12.9898 + k) / 2) }));
    window.year = window.leatLines(host, { label: "a year of hours", times, lines });
    window.year.setScale("x", { min: times[2000], max: times[2000 + 2160] });
    host.scrollIntoView();
  });
  await until("drawn", () => page.evaluate(() => window.year.over.clientWidth > 100 && window.year.scales.x.min === window.year.data[0][2000]));
  const box = await page.locator("#year .u-over").boundingBox();
  await page.evaluate(() => {
    window.frames_ = [];
    let last = performance.now();
    const tick = (t) => { window.frames_.push(t - last); last = t; window.raf = requestAnimationFrame(tick); };
    requestAnimationFrame((t) => { last = t; window.raf = requestAnimationFrame(tick); });
    window.drawn = 0;
    window.year.hooks.draw = [...(window.year.hooks.draw ?? []), () => { window.drawn++; }];
  });
  const before = await page.evaluate(() => window.year.scales.x.min);
  const y = box.y + box.height / 2;
  await page.mouse.move(box.x + box.width * 0.9, y);
  await page.mouse.down();
  for (let i = 0; i < 240; i++) { await page.mouse.move(box.x + box.width * (0.9 - 0.8 * (i / 240)), y); await page.waitForTimeout(4); }
  await page.mouse.up();
  const { frames, drawn, after } = await page.evaluate(() => { cancelAnimationFrame(window.raf); return { frames: window.frames_.slice(1), drawn: window.drawn, after: window.year.scales.x.min }; });
  assert.ok(after > before + 86400, "it moved");
  assert.ok(drawn > 10, "it was drawn on the way");
  const sorted = [...frames].sort((a, b) => a - b), at = (q) => sorted[Math.floor(q * (sorted.length - 1))].toFixed(1);
  const mean = frames.reduce((a, b) => a + b, 0) / frames.length;
  console.log(`# panning 6 x 8,760 points: ${drawn} drawn in ${frames.length} frames, mean ${mean.toFixed(1)} ms (${(1000 / mean).toFixed(0)} a second), median ${at(0.5)}, 95 % ${at(0.95)}, slowest ${at(1)} ms`);
  const cost = await page.evaluate(async () => {
    const t = window.year.data[0], each = [];
    for (let i = 0; i < 120; i++) { const begun = performance.now(); window.year.setScale("x", { min: t[1000 + i * 5], max: t[1000 + i * 5 + 2160] }); await Promise.resolve(); each.push(performance.now() - begun); }
    return each.sort((a, b) => a - b);
  });
  console.log(`# one such frame takes the page ${cost[60].toFixed(1)} ms, 95 % ${cost[114].toFixed(1)} ms; there are 16.7`);
  await page.locator("#year .u-over").focus();
  await page.keyboard.press("ArrowLeft");
  await until("moved by a key", () => page.evaluate((x) => window.year.scales.x.min < x, after));
  await page.context().close();
});

await browser.close();
await yard.end();
finish();
