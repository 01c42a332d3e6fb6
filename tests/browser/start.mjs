// The first ten minutes: from no file at all to the first answers, and a look around with the example.
import assert from "node:assert/strict";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { button, dialled, finish, launched, line, opened, picture, soundLooks, test, until, Yard } from "./lib/yard.mjs";

const yard = new Yard({ withLoop: false });
const browser = await launched();
await yard.start();
const page = await opened(browser, yard, 390, "light");
const own = join(yard.folder, "loop.toml");

await test("without a loop's file the page asks, and forces nothing", async () => {
  await page.goto(yard.site);
  await page.getByRole("heading", { name: "Your loop, in ten minutes" }).waitFor();
  await page.locator("#ask-tank").waitFor();
  assert.match(await page.locator("#ask-tank").getAttribute("placeholder"), /don't know \(1000 L\)/);
  await soundLooks(page);
  await picture(page, "start-390-light");
});

await test("the example is marked on every view and keeps its own record", async () => {
  await button(page, "Look around first, with an example").click();
  await until("the round", async () => (await page.locator("#round li").count()) > 0);
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
});

await test("a value that cannot be read is told with an example, and nothing is written", async () => {
  await page.locator("#ask-mass").fill("60 pounds and a bit");
  await button(page, "Show the first answers").click();
  await until("told", async () => /fish\.first\.mass/.test(await page.locator("[role=alert]").textContent()));
  assert.ok(!existsSync(own));
  await page.locator("#ask-mass").fill("75");
});

await test("a few answers give the first answers, and guesses stay marked", async () => {
  await page.locator("#ask-town").selectOption({ label: "Melbourne" });
  await page.locator("#ask-fish").selectOption("rainbow trout");
  await page.locator("#ask-count").fill("25");
  await page.locator("#ask-tank").fill("240 USgal");
  await page.locator("#have-gravel").check();
  await page.locator("#ask-seconds").fill("25");
  await page.locator("#ask-low").fill("11.5");
  await page.locator("#ask-high").fill("14");
  const begun = Date.now();
  await button(page, "Show the first answers").click();
  await until("one answer", async () => (await page.locator("section.first .verdict").count()) >= 1, 60);
  const first = Date.now() - begun;
  await until("all answers", async () => (await page.locator("section.first .verdict").count()) >= 4 && !/Working it out|Waits for/.test(await page.locator("main").textContent()), 60);
  console.log(`# first answers: the first ${(first / 1000).toFixed(1)} s after the last touch, all four after ${((Date.now() - begun) / 1000).toFixed(1)} s; eight fields and one key, and the key alone would do`);
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
  await until("the round", async () => (await page.locator("#round li").count()) > 0);
  assert.ok(await page.locator("#example").isHidden());
  await page.reload();
  await until("the round again", async () => (await page.locator("#round li").count()) > 0);
  const wide = await opened(browser, yard, 1280, "dark");
  await wide.goto(yard.site);
  await until("the round", async () => (await wide.locator("#round li").count()) > 0);
});

await test("nothing said at all gives first answers too, each guess marked", async () => {
  const other = new Yard({ withLoop: false });
  await other.start();
  const quick = await opened(browser, other, 390, "light");
  await quick.goto(other.site);
  await quick.locator("#ask-tank").waitFor();
  const begun = Date.now();
  await button(quick, "Show the first answers").click();
  await until("all answers", async () => (await quick.locator("section.first .verdict").count()) >= 4 && !/Working it out|Waits for/.test(await quick.locator("main").textContent()), 60);
  console.log(`# one touch and nothing said: all four answers after ${((Date.now() - begun) / 1000).toFixed(1)} s`);
  const guesses = [...readFileSync(join(other.folder, "loop.toml"), "utf8").matchAll(/# guessed/g)].length;
  assert.ok(guesses >= 10, `${guesses} marked in the file`);
  const told = await quick.locator("main").textContent(), rough = Number(/rough: (\d+) things are guessed/.exec(told)[1]);
  assert.equal(rough, Number(/What was guessed \((\d+)\)/.exec(told)[1]));
  assert.ok(rough >= guesses, `${rough} told, ${guesses} stand in the file`);  // the rest is a reading that nobody took: warmth, and the bucket test
  await quick.context().close();
  await other.end();
});

for (const scheme of ["light", "dark"])
  await test(`the questions at 1280 px, ${scheme}`, async () => {
    const other = new Yard({ withLoop: false });
    await other.start();
    const wide = await opened(browser, other, 1280, scheme);
    await wide.goto(other.site);
    await wide.locator("#ask-tank").waitFor();
    await soundLooks(wide);
    await picture(wide, `start-1280-${scheme}`);
    await wide.context().close();
    await other.end();
  });

await browser.close();
await yard.end();
finish();
