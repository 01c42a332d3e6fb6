// The first ten minutes: from no file at all to the first answers, and a look around with the example.
import assert from "node:assert/strict";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { button, dialled, finish, launched, line, opened, picture, soundLooks, test, until, Yard } from "./lib/yard.mjs";

const browser = await launched();
/// A yard without a loop's file, and the page as it opens there.
async function begun(width = 390, scheme = "light") {
  const yard = new Yard({ withLoop: false });
  await yard.start();
  const page = await opened(browser, yard, width, scheme);
  await page.goto(yard.site);
  await page.getByRole("heading", { name: "Your loop, in ten minutes" }).waitFor();
  await page.locator("#ask-tank").waitFor();
  return { yard, page, own: join(yard.folder, "loop.toml"), end: async () => { await page.context().close(); await yard.end(); } };
}
const theRound = (page) => until("the round", async () => /as of/.test(await page.locator("#round-at").textContent()));

await test("without a loop's file the page asks, and forces nothing", async () => {
  const { page, end } = await begun();
  assert.match(await page.locator("#ask-tank").getAttribute("placeholder"), /don't know \(1000 L\)/);
  await soundLooks(page);
  await picture(page, "start-390-light");
  await end();
});

await test("the example is marked on every view and keeps its own record", async () => {
  const { yard, page, own, end } = await begun();
  await button(page, "Look around first, with an example").click();
  await theRound(page);
  assert.match(await page.locator("#example").textContent(), /This is an example/);
  await page.getByRole("button", { name: /^Dead fish/ }).click();
  await dialled(page, "1");
  await until("said back", async () => /: kept$/.test(await line(page)));
  assert.ok(existsSync(join(yard.folder, "example.record.db")));
  assert.ok(!existsSync(own) && !existsSync(join(yard.folder, "loop.record.db")));
  await soundLooks(page);
  await picture(page, "example-390-light");
  await button(page, "To my own loop").click();
  await page.locator("#ask-tank").waitFor();
  await end();
});

await test("a value that cannot be read is told with an example, and nothing is written", async () => {
  const { page, own, end } = await begun();
  await page.locator("#ask-mass").fill("60 pounds and a bit");
  await button(page, "Show the first answers").click();
  await until("told", async () => /fish\.first\.mass/.test(await page.locator("[role=alert]").textContent()));
  assert.ok(!existsSync(own));
  await end();
});

await test("a few answers give the first answers, guesses stay marked; from then on the page opens at the tank", async () => {
  const { yard, page, own, end } = await begun();
  await page.locator("#ask-mass").fill("75");
  await page.locator("#ask-town").selectOption({ label: "Melbourne" });
  await page.locator("#ask-fish").selectOption("rainbow trout");
  await page.locator("#ask-count").fill("25");
  await page.locator("#ask-tank").fill("240 USgal");
  await page.locator("#have-gravel").check();
  await page.locator("#ask-seconds").fill("25");
  await page.locator("#ask-low").fill("11.5");
  await page.locator("#ask-high").fill("14");
  const touched = Date.now();
  await button(page, "Show the first answers").click();
  await until("one answer", async () => (await page.locator("section.first .verdict").count()) >= 1);
  const first = Date.now() - touched;
  await until("all answers", async () => (await page.locator("section.first .verdict").count()) >= 4 && !/Working it out|Waits for/.test(await page.locator("main").textContent()));
  console.log(`# first answers: the first ${(first / 1000).toFixed(1)} s after the last touch, all four after ${((Date.now() - touched) / 1000).toFixed(1)} s; eight fields and one key, and the key alone would do`);
  const said = await page.locator("main").textContent();
  assert.match(said, /tank\.main: .*\d h/);
  assert.match(said, /\d+ g/);
  assert.match(said, /swings by up to \d/);
  assert.match(said, /rough: \d+ things are guessed/);
  assert.match(said, /One thing first: /);
  await soundLooks(page);
  await picture(page, "first-answers-390-light");
  const text = readFileSync(own, "utf8");
  assert.match(text, /latitude = -37\.8/);
  assert.match(text, /volume = "240 USgal"\n/);
  assert.match(text, /volume = "\d+ L" +# guessed/);
  assert.match(text, /\[gravel_bed\.main\]/);
  await until("the night is noted", async () => (await yard.entries()).filter((w) => /min 11\.5/.test(w)).length === 1);
  await page.getByRole("link", { name: "Go on to the tank" }).click();
  await theRound(page);
  assert.ok(await page.locator("#example").isHidden());
  await page.reload();
  await theRound(page);
  const wide = await opened(browser, yard, 1280, "dark");
  await wide.goto(yard.site);
  await theRound(wide);
  await wide.context().close();
  await end();
});

await test("nothing said at all gives first answers too, each guess marked", async () => {
  const { page, own, end } = await begun();
  const touched = Date.now();
  await button(page, "Show the first answers").click();
  await until("all answers", async () => (await page.locator("section.first .verdict").count()) >= 4 && !/Working it out|Waits for/.test(await page.locator("main").textContent()));
  console.log(`# one touch and nothing said: all four answers after ${((Date.now() - touched) / 1000).toFixed(1)} s`);
  const guesses = [...readFileSync(own, "utf8").matchAll(/# guessed/g)].length;
  assert.ok(guesses >= 10, `${guesses} marked in the file`);
  const told = await page.locator("main").textContent(), rough = Number(/rough: (\d+) things are guessed/.exec(told)[1]);
  assert.equal(rough, Number(/What was guessed \((\d+)\)/.exec(told)[1]));
  assert.ok(rough >= guesses, `${rough} told, ${guesses} stand in the file`);  // the rest is a reading that nobody took: warmth, and the bucket test
  await end();
});

for (const scheme of ["light", "dark"])
  await test(`the questions at 1280 px, ${scheme}`, async () => {
    const { page, end } = await begun(1280, scheme);
    await soundLooks(page);
    await picture(page, `start-1280-${scheme}`);
    await end();
  });

await browser.close();
finish();
