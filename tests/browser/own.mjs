// The grower's own units and kits: degrees Fahrenheit, a thermometer that nobody knows the last reset of, steps of a kit.
import assert from "node:assert/strict";
import { button, dialled, finish, launched, line, opened, picture, soundLooks, test, until, untilSeen, Yard } from "./lib/yard.mjs";

const browser = await launched();
const yard = new Yard();
await yard.start();
const kept = (page) => until("kept", async () => /: kept$/.test(await line(page)));
const entries = async () => (await (await fetch(`${yard.site}/api/record?all=true`)).json()).entries.filter((e) => e.kind === "reading");

await test("degrees Fahrenheit stay what they are, and stand over the model in its own unit", async () => {
  const page = await opened(browser, yard, 390, "light");
  await page.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
  await page.locator("#degrees").selectOption("F");
  await page.goto(`${yard.site}/#tank`);
  await button(page, "Min / max").click();
  await page.keyboard.type("48");
  await button(page, "Keep").click();
  await button(page, "Last reset: not known").click();
  await soundLooks(page);
  await picture(page, "pad-max-390-light");
  await page.keyboard.type("52");
  await button(page, "Keep").click();
  await until("said back", async () => /min 48 degF.*since when is not known.*max 52 degF.*since when is not known/.test(await line(page)));
  const [min, max] = await entries();
  assert.deepEqual([min.low, min.unit, min.since, max.low, max.unit, max.since], [48, "degF", undefined, 52, "degF", undefined]);
  await yard.note("temp 50 degF");
  await page.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
  const part = page.locator("section", { has: page.locator("#over-days") });
  await untilSeen("read over the model", page.locator("#over-days"), async () => /Read 3 times: 8\.9 to 11\.1 °C/.test(await part.textContent()));
  await page.context().close();
});

await test("the next min and max run from the last ones; the words for it are one key", async () => {
  await yard.note("min 8 max 12");
  const page = await opened(browser, yard, 390, "dark");
  await page.goto(`${yard.site}/#tank`);
  await button(page, "Min / max").click();
  await page.keyboard.type("9");
  await button(page, "Keep").click();
  await page.keyboard.type("11");
  await button(page, "Keep").click();
  await until("said back", async () => /min 9 degC.*\(since \d{4}-/.test(await line(page)));
  await page.context().close();
});

await test("a kit is read by the steps of its card: on one, between two, below the first, above the last, by drops", async () => {
  const page = await opened(browser, yard, 390, "light");
  await page.goto(`${yard.site}/#tank`);
  const open = async (name) => { await button(page, "Test kit").click(); await button(page, name).click(); };
  const touch = (name) => page.locator("dialog .ladder").getByRole("button", { name }).click();
  const last = async () => (await entries()).at(-1);
  await open("Ammonia");
  await touch(/^0\.25 mg/);
  await touch(/^0\.5 mg/);
  assert.equal(await page.locator("dialog .shown").textContent(), "between 0.25 and 0.5 mg/L");
  const small = await page.evaluate(() => [...document.querySelectorAll("dialog .ladder button")].filter((b) => b.offsetHeight < 48).length);
  assert.equal(small, 0, "a wet hand needs 48 px");
  await soundLooks(page);
  await picture(page, "kit-390-light");
  await button(page, "Keep").click();
  await kept(page);
  assert.deepEqual([(await last()).what, (await last()).low, (await last()).high], ["ammonia", 0.25, 0.5]);
  await open("pH");
  await touch(/^below 6/);
  await button(page, "Keep").click();
  await until("below", async () => /pH below 6/.test(await line(page)));
  await open("KH");
  await touch(/^3 drops/);
  await touch(/^4 drops/);
  assert.equal(await page.locator("dialog .shown").textContent(), "4 drops");
  await button(page, "Keep").click();
  await until("by drops", async () => /alkalinity 3 to 4 drops/.test(await line(page)));
  await page.context().close();
});

await test("a kit of one's own: its steps and its unit are asked once and kept on the device", async () => {
  const page = await opened(browser, yard, 390, "light");
  await page.goto(`${yard.site}/#tank`);
  const open = async () => { await button(page, "Test kit").click(); await button(page, "Nitrite").click(); };
  await open();
  await button(page, "My kit has other steps").click();
  await page.locator("dialog textarea").fill("0, 0.02 0.05 0.1 mg/L as N");
  await button(page, "Keep").click();
  await until("its steps", async () => (await page.locator("dialog .ladder button").allTextContents()).join("|") === "0 mg/L as Nstep 1 of 4|0.02 mg/L as Nstep 2 of 4|0.05 mg/L as Nstep 3 of 4|0.1 mg/L as Nstep 4 of 4|above 0.1");
  await page.locator("dialog .ladder").getByRole("button", { name: /^0\.05/ }).click();
  await button(page, "Keep").click();
  await until("in its unit", async () => /nitrite 0\.05 mg\/L as N/.test(await line(page)));
  await page.reload();
  await open();
  assert.equal(await page.locator("dialog .ladder button").count(), 5);
  await button(page, "My kit has other steps").click();
  await page.locator("dialog textarea").fill("");
  await button(page, "Keep").click();
  await until("the usual ones again", async () => (await page.locator("dialog .ladder button").count()) === 7);
  await button(page, "Cancel").click();
  await page.context().close();
});

for (const look of ["dark", "contrast"])
  await test(`pads and kits at 390 px, ${look}`, async () => {
    const page = await opened(browser, yard, 390, look === "dark" ? "dark" : "light");
    await page.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
    await page.locator("#look").selectOption(look);
    await page.goto(`${yard.site}/#tank`);
    await button(page, "Test kit").click();
    await button(page, "pH").click();
    await page.locator("dialog .ladder").getByRole("button", { name: /^7 / }).click();
    await soundLooks(page);
    await picture(page, `kit-390-${look}`);
    await button(page, "Cancel").click();
    await page.getByRole("button", { name: /^Oxygen/ }).click();
    await dialled(page, "8");
    await kept(page);
    await page.context().close();
  });

await browser.close();
await yard.end();
finish();
