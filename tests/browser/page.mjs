// The page in a real browser: at the tank and at the desk, with the server and without it.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { button, dialled, finish, gone, kept, launched, line, opened, picture, soundLooks, test, until, untilSeen, Yard } from "./lib/yard.mjs";

const yard = new Yard();
const browser = await launched();
const count = (words) => yard.count(words), entries = () => yard.entries();

await yard.start();
const phone = await opened(browser, yard, 390, "light");
const atTank = () => phone.goto(`${yard.site}/#tank`);

await test("opens on today's round", async () => {
  await phone.goto(yard.site);
  await until("the round", async () => /test pH|feed fish/.test(await phone.locator("#round").textContent()));
  await kept(phone);
  await soundLooks(phone);
  await picture(phone, "tank-390-light");
});

await test("a number is noted, said back in one line and undone", async () => {
  await atTank();
  await phone.getByRole("button", { name: /^Fed/ }).click();
  await picture(phone, "pad-390-light");
  await dialled(phone, "60");
  await until("said back", async () => /fed 60 g, tank\.nursery/.test(await line(phone)));
  assert.equal(await count("fed 60 g"), 1);
  await button(phone, "Undo").click();
  await until("undone", async () => (await count("fed 60 g")) === 0);
});

await test("without the server the page opens, keeps notes and helps in an emergency; what waited is sent once", async () => {
  await atTank();
  await kept(phone);
  await yard.stop();
  await phone.reload();
  await until("the kept round", async () => /test pH|feed fish/.test(await phone.locator("#round").textContent()));
  await phone.getByRole("button", { name: /^Dead fish/ }).click();
  await dialled(phone, "2");
  await until("waits", async () => /2 dead/.test(await line(phone)) && /1 note waits/.test(await phone.locator("#net").textContent()));
  const small = () => phone.evaluate(() => [...document.querySelectorAll("dialog[open] button, #emergency, .target, nav a")].filter((b) => b.offsetParent && (b.offsetHeight < 48 || b.offsetWidth < 48)).map((b) => `${b.textContent} ${b.offsetWidth} x ${b.offsetHeight}`));
  await button(phone, "Emergency").click();
  assert.deepEqual(await small(), [], "a wet hand needs 48 px");
  await picture(phone, "emergency-what-390-light");
  await button(phone, "Power off").click();
  assert.deepEqual(await small(), []);
  await button(phone, "30 min").click();
  await phone.locator("dialog .steps li").first().waitFor();
  const said = await phone.locator("dialog").textContent();
  assert.match(said, /tank\.nursery/);
  assert.match(said, /until it is dangerous, soonest: \d+ (h \d\d )?min/);
  assert.match(said, /give no feed/i);
  const time = await phone.locator("dialog .count").first().boundingBox();
  assert.ok(time.y > 0 && time.y < 700, `the time left stands at ${time.y} px, out of sight`);
  assert.match(said, /Electricity and water kill/);
  assert.match(said, /Worked out .* ago for this loop/);
  assert.deepEqual(await small(), []);
  await soundLooks(phone);
  await picture(phone, "emergency-390-light");
  await button(phone, "Power is back").click();
  await yard.start();
  await until("sent", async () => (await count("2 died")) + (await count("died 2")) + (await count("2 dead")) === 1 && (await count("power off")) === 1 && (await count("power on")) === 1);
  await until("told", async () => /All notes are sent/.test(await phone.locator("#net").textContent()));
  await phone.reload();
  await until("nothing waits", async () => /All notes are sent/.test(await phone.locator("#net").textContent()));
  assert.equal((await entries()).filter((w) => /dead|died|power off/.test(w)).length, 2);
});

await test("shows what is noted as words only, however it is written", async () => {
  const nasty = "<img src=x onerror=alert(1)><script>document.title='broken'</script>";
  await atTank();
  await phone.getByRole("button", { name: /^In words/ }).click();
  await phone.locator("dialog textarea").fill(nasty);
  await button(phone, "Keep").click();
  await until("said back", async () => (await line(phone)).includes("<img src=x"));
  await phone.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
  await until("in the list", async () => (await phone.locator("main").textContent()).includes("onerror=alert(1)"));
  assert.equal(await phone.locator("main img[src=x]").count(), 0);
  assert.doesNotMatch(await phone.title(), /broken/);
});

await test("a crop that may be misspelt is kept as written, and asked about", async () => {
  await atTank();
  await phone.getByRole("button", { name: /^In words/ }).click();
  await phone.locator("dialog textarea").fill("planted 12 letuce in raft_bed.north");
  await button(phone, "Keep").click();
  await until("asked", async () => /kept as written; is "letuce" lettuce\? If so, Undo and put in “planted 12 lettuce in raft_bed\.north”/.test(await line(phone)));
  await button(phone, "Undo").click();
  await until("taken back", async () => !(await entries()).some((w) => /letuce/.test(w)));
});

await test("a part of the drawing shows what was noted there, to be saved; plants go by the country's name", async () => {
  for (const words of ["temp 9.5 degC", "temp 11 degC", "harvested 300 g chard"]) await yard.note(words);
  const page = await opened(browser, yard, 1280, "light");
  await page.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
  await until("the last known values", async () => /^11 °C$/.test((await page.locator(".drawing .last").allTextContents())[0] ?? ""));
  await page.locator("summary", { hasText: "The last that was read" }).click();
  assert.match(await page.locator("main").textContent(), /tank\.nurserytemperature11 °C\d+ min ago/);
  await page.locator(".drawing").getByRole("button", { name: /^tank\.nursery/ }).click();
  await until("a chart", async () => (await page.locator("dialog .chart canvas").count()) >= 1);
  assert.match(await page.locator("dialog").textContent(), /temperature 11 degC/);
  await soundLooks(page);
  await picture(page, "history-1280-light");
  await page.locator("dialog summary", { hasText: "The numbers" }).first().click();
  const [csv] = await Promise.all([page.waitForEvent("download"), button(page, "Save as CSV").first().click()]);
  assert.match(readFileSync(await csv.path(), "utf8"), /^time,"temperature, °C"\n\S+T\d\d:\d\d,9\.5\n\S+T\d\d:\d\d,11\n$/);
  const [png] = await Promise.all([page.waitForEvent("download"), button(page, "Save as picture").first().click()]);
  assert.equal(readFileSync(await png.path()).subarray(1, 4).toString(), "PNG");
  await button(page, "Close").click();
  await page.locator("#country").selectOption("au");
  await page.locator("#search").fill("Swiss chard");  // two words: each is looked for
  await page.locator("#search").fill("chard");
  await until("by its name there", async () => /silverbeet/.test(await page.locator("section", { has: page.locator("#search") }).textContent()));
  await page.locator("#look").selectOption("contrast");
  assert.equal(await page.evaluate(() => getComputedStyle(document.body).backgroundColor), "rgb(255, 255, 255)");
  await soundLooks(page);
  await picture(page, "desk-1280-contrast");
  await page.context().close();
});

await test("a slow answer tells how far it is, and is stopped by who asked it", async () => {
  await atTank();  // its desk asks no more
  const page = await opened(browser, yard, 390, "light");
  await page.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
  const part = page.locator("section", { has: page.getByRole("heading", { name: "The days ahead" }) });
  await yard.note("temp 10 degC");
  await page.reload({ waitUntil: "commit" });  // the record has more: nothing is answered from memory
  const slow = await yard.held("ahead");
  await until("how far", async () => /Working it out: \d+ s/.test(await part.textContent()));
  await button(part, "Stop").click();
  await until("stopped", async () => /No answer: .*stopped/.test(await part.textContent()));
  await until("its run is ended", () => gone(slow));
  await yard.note("temp 11 degC");
  await page.reload({ waitUntil: "commit" });
  const left = await yard.held("ahead");
  await page.goto(`${yard.site}/#week`);
  await until("what the desk asked is not waited for", () => gone(left));
  await page.context().close();
});

await test("what to dose, how many fish and one relation: at the desk, each caution on its own answer", async () => {
  for (const words of ["ph 6.4", "kh 1 drop"]) await yard.note(words);
  const page = await opened(browser, yard, 390, "light");
  await page.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
  const part = (name) => page.locator("section", { has: page.getByRole("heading", { name, exact: true }) });
  const dose = part("What to dose");
  await until("today's base from the record", async () => /\d+ g of KHCO3 on the first day/.test(await dose.textContent()));
  assert.match(await dose.locator(".verdict + .caution").textContent(), /goggles/i);  // right below the grams
  assert.match(await dose.textContent(), /read (just now|\d+ min ago)/);
  assert.match(await dose.textContent(), /Assumed: water without other salts/);
  await soundLooks(page);
  await page.locator("#dose-what").selectOption("nitrite");
  await page.locator("#dose-reading").fill("0.5");
  await button(dose, "Work it out").click();
  await until("salt", async () => /\d+ g of plain salt/.test(await dose.locator(".verdict").textContent()));
  assert.match(await dose.locator(".verdict + .caution").textContent(), /without iodine/);
  await page.locator("#dose-what").selectOption("acid");
  await page.locator("#dose-ph").fill("seven");
  await button(dose, "Work it out").click();
  await until("told by the field's name", async () => /"pH now": "seven" is no number/.test(await dose.locator(".bad").textContent()));
  const carry = part("How many fish it carries");
  await untilSeen("how many", carry.getByRole("heading").first(), async () => /All year \d+ rainbow trout of 75 g/.test(await carry.textContent()));
  assert.match(await carry.locator(".caution").textContent(), /less time when the power fails/);
  await until("week by week", async () => (await carry.locator(".chart canvas").count()) === 1);
  await carry.locator("summary", { hasText: "The numbers" }).click();
  assert.equal(await carry.locator("details tbody tr").count(), 52);
  const calc = part("One relation of the trade");
  await calc.locator("summary").click();
  await until("all relations", async () => (await page.locator("#calc-all option").count()) > 400);
  await page.locator("#calc-which").fill("unionised_ammonia_fraction");
  await page.locator("#calc-temperature").fill("57.2 degF");
  await page.locator("#calc-acidity").fill("8");
  await button(calc, "Work it out").click();
  await until("worked out", async () => /fraction = 0\.0246611/.test(await calc.locator(".verdict").textContent()));
  assert.match(await calc.textContent(), /Source: /);
  await soundLooks(page);
  await picture(page, "desk-dose-390-light");
  await page.context().close();
});

for (const [width, scheme] of [[390, "dark"], [1280, "light"], [1280, "dark"]])
  await test(`the desk at ${width} px, ${scheme}: drawing, charts with their numbers, a record to search`, async () => {
    const page = await opened(browser, yard, width, scheme);
    await page.goto(`${yard.site}/#desk`, { waitUntil: "commit" });
    await until("charts", async () => (await page.locator(".chart canvas").count()) >= 2);
    await until("the drawing", async () => (await page.locator(".drawing").getByRole("button", { name: /^tank\.nursery/ }).count()) === 1);
    await page.locator("details summary", { hasText: "The numbers" }).first().click();
    assert.ok((await page.locator("details table tbody tr").count()) >= 14);
    const list = async () => await page.locator("section", { has: page.locator("#search") }).textContent();
    await page.locator("#search").fill("fed");
    await until("found nothing of it", async () => !/power off/.test(await list()));
    await page.locator("#search").fill("OFF power");
    await until("found, in any order", async () => /power off/.test(await list()));
    await soundLooks(page);
    await picture(page, `desk-${width}-${scheme}`);
    await page.goto(`${yard.site}/#tank`);
    await until("the round", async () => (await page.locator("#round li").count()) >= 1);
    await soundLooks(page);
    await picture(page, `tank-${width}-${scheme}`);
    await page.context().close();
  });

await browser.close();
await yard.end();
finish();
