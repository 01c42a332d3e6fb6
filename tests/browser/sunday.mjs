// On Sunday at the desk, three months on: the week in one's own words, which bed does better, a record to search.
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { button, finish, launched, leat, opened, picture, soundLooks, test, until, untilSeen, Yard } from "./lib/yard.mjs";
import { putMonths } from "./lib/months.mjs";

const yard = new Yard();
putMonths(leat, yard.folder, 90);
await yard.start();
const browser = await launched();
const page = await opened(browser, yard, 390, "light");
const wordings = () => readdirSync(yard.folder).filter((n) => /^week-.*\.md$/.test(n));

await test("the week stands there, and each number leads to the readings that it was made of", async () => {
  await page.goto(`${yard.site}/#week`);
  await page.locator("#wording h2").waitFor();
  assert.match(await page.locator("#wording").textContent(), /Fed: \d+ g in all/);
  await page.locator("#wording a", { hasText: /^\d+ g$/ }).first().click();
  const said = await page.locator("dialog").textContent();
  assert.match(said, /fed in all: \d+ g/);
  const sum = [...said.matchAll(/fed (\d+) g, tank/g)].reduce((s, m) => s + Number(m[1]), 0);
  assert.equal(sum, Number(/in all: (\d+) g/.exec(said)[1]));
  await button(page, "Close").click();
  await soundLooks(page);
  await picture(page, "week-390-light");
  assert.deepEqual(wordings(), [], "looking writes nothing");
});

await test("the wording is the grower's own: it is kept beside the loop, what it misquotes is told, and it prints", async () => {
  await page.goto(`${yard.site}/#week`);
  await button(page, "Change the wording").click();
  const before = await page.locator("#wording-text").inputValue();
  await soundLooks(page);
  await page.locator("#wording-text").fill(before.replace(/\[(\d+) g\]\(#fed\)/, "[1 g](#fed)").replace("Fed:", "A **good** week. <b>Fed</b>:"));
  await button(page, "Keep").click();
  await until("its own words", async () => /A good week\. <b>Fed<\/b>/.test(await page.locator("#wording").textContent()));
  assert.equal(await page.locator("#wording strong").first().textContent(), "good");
  assert.match(await page.locator("main").textContent(), /"1 g" \(fed in all\) is now \d+ g\./);
  const [file] = wordings();
  assert.match(readFileSync(join(yard.folder, file), "utf8"), /A \*\*good\*\* week/);
  await page.reload();
  await until("still its own", async () => /A good week/.test(await page.locator("#wording").textContent()));
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.getByRole("button", { name: "Print" }).count(), 0);
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  assert.ok(await page.locator("details li").first().isVisible(), "on paper the entries are shown");
  assert.ok((await page.pdf({ format: "A4" })).length > 5000);
  await page.emulateMedia({ media: "screen" });
  await button(page, "Write it anew").click();
  await until("anew", async () => !/A good week/.test(await page.locator("#wording").textContent()));
  assert.equal(wordings().length, 2, "the one that was is kept");
});

await test("last week is one touch away", async () => {
  await page.goto(`${yard.site}/#week`);
  await page.locator("#wording h2").waitFor();
  const day = await page.locator("#week-until").inputValue();
  await button(page, "The week before").click();
  await until("a week before", async () => Date.parse(await page.locator("#week-until").inputValue()) === Date.parse(day) - 7 * 86400e3 && (await page.locator("#wording h2").count()) === 1);
});

for (const [width, scheme] of [[390, "dark"], [1280, "light"], [1280, "dark"]])
  await test(`the week at ${width} px, ${scheme}`, async () => {
    const other = await opened(browser, yard, width, scheme);
    await other.goto(`${yard.site}/#week`);
    await other.locator("#wording h2").waitFor();
    await soundLooks(other);
    await picture(other, `week-${width}-${scheme}`);
    await other.context().close();
  });

await test("which bed does better, with what was left out; words are looked for by the server", async () => {
  const other = await opened(browser, yard, 1280, "light");
  await other.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
  await untilSeen("the sentence", other.getByRole("heading", { name: "Which bed does better?" }), async () => /with one bed each the trial cannot tell raft bed from where its bed stands/.test(await other.locator("main").textContent()));
  const part = other.locator("section", { has: other.getByRole("heading", { name: "Which bed does better?" }) });
  assert.match(await part.textContent(), /1 died, raft_bed\.north: not among the survivors/);
  assert.match(await part.textContent(), /11 of 12/);
  await other.locator("#country").selectOption("nz");
  await until("by its name there", async () => /silverbeet/.test(await part.textContent()));
  const asked = [];
  other.on("request", (r) => { if (/search=/.test(r.url())) asked.push(decodeURIComponent(r.url())); });
  await other.locator("#search").fill("silverbeet died");
  const list = other.locator("section", { has: other.locator("#search") });
  await until("one found", async () => (await list.locator("li").count()) === 1 && /died 1 silverbeet|silverbeet.*died/.test(await list.textContent()));
  assert.match(asked.at(-1), /search=died\+?( |%20)?chard\|silverbeet\|swiss_chard/);
  await other.locator("#search").fill("fed");
  await until("all meals", async () => (await list.locator("li").count()) === 180);
  await other.locator("#search").fill("tank.nursery");
  await until("two hundred at most", async () => (await list.locator("li").count()) === 201 && /and \d+ more/.test(await list.textContent()));
  await other.context().close();
});

await test("the weeks that were: what was read over the model, events and chapters marked, in numbers and to be saved", async () => {
  const other = await opened(browser, yard, 390, "dark");
  await other.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
  const part = other.locator("section", { has: other.locator("#over-days") });
  await untilSeen("four charts", other.locator("#over-days"), async () => (await part.locator(".chart canvas").count()) === 4);
  await other.locator("#over-days").selectOption("90");
  await untilSeen("ninety days", other.locator("#over-days"), async () => /Read 180 times/.test(await part.textContent()) && (await part.locator(".chart canvas").count()) === 4);
  const text = await part.textContent();
  assert.match(text, /a new chapter: a stronger pump/);
  assert.match(text, /died 1/);
  await part.locator("summary", { hasText: "What happened" }).first().click();
  assert.equal(await part.locator(".signs .chapter:visible").count(), 2, "the record's beginning and the re-plumbing");
  await part.locator("summary", { hasText: "The numbers" }).first().click();
  const [csv] = await Promise.all([other.waitForEvent("download"), part.getByRole("button", { name: "Save as CSV" }).first().click()]);
  const saved = readFileSync(await csv.path(), "utf8").split("\n");
  assert.equal(saved[0], "day,lowest °C,highest °C,5 to 95 % °C,reading,what happened");
  assert.equal(saved.length, 92);
  assert.ok(saved.filter((l) => /temperature min/.test(l)).length >= 88);
  const [png] = await Promise.all([other.waitForEvent("download"), part.getByRole("button", { name: "Save as picture" }).first().click()]);
  assert.equal(readFileSync(await png.path()).subarray(1, 4).toString(), "PNG");
  await soundLooks(other);
  await picture(other, "desk-three-months-390-dark");
  await other.locator(".drawing").getByRole("button", { name: /^tank\.nursery/ }).click();
  await until("its readings", async () => (await other.locator("dialog .chart canvas").count()) >= 5);
  await soundLooks(other);
  await other.context().close();
});

await browser.close();
await yard.end();
finish();
