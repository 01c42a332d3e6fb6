// At home: https with an authority of our own, devices let in by a code, and nothing for anyone else.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { appendFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { get, request } from "node:http";
import { request as secureRequest } from "node:https";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { button, chromium, dialled, finish, followed, kept, leat, line, picture, soundLooks, test, until, Yard } from "./lib/yard.mjs";

const yard = new Yard({ flags: ["--home"] });
await yard.start();
const own = (...flags) => execFileSync(leat, ["serve", "loop.toml", ...flags], { cwd: yard.folder, encoding: "utf8" });
const codeOf = (said) => /: (\d{4} \d{4})\n/.exec(said)[1];
const trustPort = () => Number(/http:\/\/(?:\[[^\]]+\]|[^:]+):(\d+)\//.exec(yard.said)[1]);
const shownSite = /https:\/\/\S+(?=\/ for the home network)/.exec(yard.said)[0], shownHost = new URL(shownSite).hostname.replace(/[[\]]/g, "");
const site = `https://127.0.0.1:${yard.port}`;
Object.defineProperty(yard, "site", { value: site, configurable: true });
const plain = (path) => new Promise((done) => get({ port: trustPort(), path, host: "127.0.0.1" }, (r) => { const all = []; r.on("data", (d) => all.push(d)); r.on("end", () => done({ status: r.statusCode, body: Buffer.concat(all) })); }));
const authority = (await plain("/leat-home.crt")).body;
const pem = `-----BEGIN CERTIFICATE-----\n${authority.toString("base64").replace(/.{64}/g, "$&\n")}\n-----END CERTIFICATE-----\n`;
function asked(path, { method = "GET", body, headers = {}, ca = pem, servername, at = site } = {}) {
  return new Promise((done, failed) => {
    const r = secureRequest(`${at}${path}`, { method, ca, servername, headers: { ...(body ? { "Content-Type": "application/json" } : {}), ...headers }, agent: false, ...(headers.Host ? { servername: "", checkServerIdentity: () => undefined } : {}) }, (a) => {
      let text = "";
      a.on("data", (d) => { text += d; });
      a.on("end", () => done({ status: a.statusCode, text, headers: a.headers }));
    });
    r.on("error", failed);
    r.end(body && JSON.stringify(body));
  });
}
const wait = () => new Promise((r) => setTimeout(r, 1100));  // one try a second

await test("the plain page tells how to trust and how to forget, and holds nothing else", async () => {
  const page = (await plain("/")).body.toString();
  const shown = /[0-9A-F]{2}(:[0-9A-F]{2}){31}/.exec(page)[0];
  assert.ok(yard.said.replace(/\s+/g, "").includes(shown.slice(0, 47)) && yard.said.includes(shown.slice(48)));
  assert.match(page, /To take it out again/);
  for (const path of ["/api/record", "/loop.toml", "/../loop.toml", "/api/about"]) assert.equal((await plain(path)).status, 404);
});

await test("openssl agrees: signed for this home, and the constraints stand", () => {
  const folder = mkdtempSync(join(tmpdir(), "leat-openssl-"));
  const file = join(yard.folder, "loop.home-authority.pem");
  const text = execFileSync("openssl", ["x509", "-noout", "-text", "-in", file], { encoding: "utf8" });
  assert.match(text, /Name Constraints: critical[^]*Permitted:[^]*DNS:local/);
  assert.match(text, /CA:TRUE, pathlen:0/);
  execFileSync("openssl", ["verify", "-x509_strict", "-CAfile", file, "-verify_ip", "127.0.0.1", join(yard.folder, "loop.home.pem")]);
  for (const name of readdirSync(yard.folder).filter((n) => /\.home|devices/.test(n))) assert.equal(statSync(join(yard.folder, name)).mode & 0o777, 0o600, name);
  rmSync(folder, { recursive: true });
});

await test("the QR code that the terminal shows leads to the plain page, with the fingerprint", async () => {
  const rows = yard.said.split("\n").filter((l) => l.startsWith("\x1b[30;107m")).map((l) => [...l.replaceAll(/\x1b\[[0-9;]*m/g, "")]);
  const size = 6, lines = [];
  for (const row of rows)  // a character is two modules, one above the other
    for (const dark of ["█▀", "█▄"]) for (let i = 0; i < size; i++) lines.push(row.map((c) => (dark.includes(c) ? "0 " : "255 ").repeat(size)).join(""));
  const file = join(yard.folder, "qr.pgm");
  writeFileSync(file, `P2\n${rows[0].length * size} ${lines.length}\n255\n${lines.join("\n")}\n`);
  let read;
  try { read = execFileSync("zbarimg", ["--quiet", "--raw", file], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] }).trim(); }
  catch (e) { if (e.code !== "ENOENT") throw e; console.log("skip  zbarimg is absent: the QR code was not read"); return; }
  const trust = /http:\/\/\S+(?= \. There)/.exec(yard.said)[0];
  assert.equal(read, `${trust}#${/[0-9A-F]{2}(:[0-9A-F]{2}){31}/.exec((await plain("/")).body.toString())[0]}`);
});

await test("the address that is shown answers too, over its own certificate, and to its own name only", async () => {
  if (/^127\.|^::1$/.test(shownHost)) { console.log("skip  this machine has no private address but its own loop"); return; }
  const about = await asked("/api/about", { at: shownSite });
  assert.deepEqual(JSON.parse(about.text), { program: "leat", home: true, paired: false });
  assert.equal((await asked("/api/record", { at: shownSite })).status, 401);
  assert.equal((await asked("/api/about", { at: shownSite, headers: { Host: `evil.example:${yard.port}` } })).status, 403);
  await assert.rejects(asked("/", { at: shownSite, ca: null }), /self-signed|unable to/);
  console.log(`# asked at ${shownSite}`);
});

await test("who was not let in reads and writes nothing", async () => {
  const about = await asked("/api/about");
  assert.deepEqual(JSON.parse(about.text), { program: "leat", home: true, paired: false });
  for (const path of ["record", "check", "round", "loop", "events", "jobs", "devices", "openapi.json", "drawing", "words"])
    assert.equal((await asked(`/api/${path}`)).status, 401, path);
  assert.equal((await asked("/metrics")).status, 401);
  for (const path of ["note", "record", "compare", "new", "example", "own", "stop", "code", "forget"]) {
    const r = await asked(`/api/${path}`, { method: "POST", body: { words: "fed 1 g", device: "x", job: "x" } });
    assert.equal(r.status, 401, path);
  }
  for (const cookie of ["__Host-leat=", `__Host-leat=${"0".repeat(64)}`, "other=1; __Host-leat=x"]) assert.equal((await asked("/api/record", { headers: { Cookie: cookie } })).status, 401);
  assert.ok(!readdirSync(yard.folder).includes("loop.record.db"));
});

await test("a wrong code, an old one and one that was used let nobody in", async () => {
  const pair = async (code, headers) => { await wait(); return asked("/api/pair", { method: "POST", body: { code, name: "x" }, headers }); };
  const first = codeOf(yard.said);
  assert.equal((await pair(first.startsWith("0") ? "1111 1111" : "0000 0000")).status, 403);
  assert.equal((await pair(first, { Origin: "https://evil.example" })).status, 403);
  assert.equal((await pair(first, { "Sec-Fetch-Site": "cross-site" })).status, 403);
  const hash = (code) => execFileSync("sha256sum", { input: code, encoding: "utf8" }).slice(0, 64);
  appendFileSync(join(yard.folder, "loop.devices"), `code\t${hash("12345678")}\t${Math.floor(Date.now() / 1000) - 1}\n`);
  assert.equal((await pair("1234 5678")).status, 403, "expired");
  const code = codeOf(own("--code"));
  const good = await pair(code);
  assert.equal(good.status, 200, good.text);
  const cookie = good.headers["set-cookie"][0];
  assert.match(cookie, /^__Host-leat=[0-9a-f]{64}; Path=\/; Secure; HttpOnly; SameSite=Strict; Max-Age=\d+$/);
  assert.equal((await pair(code)).status, 403, "used");
  const mine = { Cookie: cookie.split(";")[0] };
  assert.equal((await asked("/api/check", { headers: mine })).status, 200);
  assert.ok(!readFileSync(join(yard.folder, "loop.devices"), "utf8").includes(cookie.slice(12, 76)), "the token is not kept");
  const id = /^(\w{6})  since/.exec(own("--devices"))[1];
  own("--forget", id);
  assert.equal((await asked("/api/check", { headers: mine })).status, 401);
  const begun = Date.now();
  const fast = await Promise.all([...Array(20)].map(() => asked("/api/pair", { method: "POST", body: { code: "1" } })));
  const tried = fast.filter((r) => r.status !== 429).length;  // one a second, however long it took
  assert.ok(tried <= 2 + (Date.now() - begun) / 1000, `${tried} in ${Date.now() - begun} ms`);
});

await test("another authority, another name or plain http is not taken", async () => {
  await assert.rejects(asked("/", { ca: null }), /self-signed|unable to/);
  const asEvil = await asked("/api/about", { headers: { Host: `evil.example:${yard.port}` } });
  assert.equal(asEvil.status, 403);
  await assert.rejects(new Promise((done, failed) => request({ host: "127.0.0.1", port: yard.port, path: "/" }, done).on("error", failed).end()));
});

await test("a fresh browser that trusts the authority is let in by the code, and works without the server", async () => {
  const home = mkdtempSync(join(tmpdir(), "leat-home-"));
  const db = join(home, ".pki/nssdb");
  mkdirSync(db, { recursive: true });
  const file = join(home, "ca.pem");
  writeFileSync(file, pem);
  execFileSync("certutil", ["-d", `sql:${db}`, "-N", "--empty-password"]);
  execFileSync("certutil", ["-d", `sql:${db}`, "-A", "-t", "C,,", "-n", "leat", "-i", file]);
  const context = await chromium.launchPersistentContext(join(home, "profile"), { executablePath: process.env.LEAT_CHROMIUM, args: ["--no-sandbox"], env: { ...process.env, HOME: home }, viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  Object.defineProperty(yard, "site", { value: shownSite });  // by the network's address, where there is one
  const unsafe = await chromium.launch({ executablePath: process.env.LEAT_CHROMIUM, args: ["--no-sandbox"], env: { ...process.env, HOME: mkdtempSync(join(home, "other-")) } });
  await assert.rejects((await unsafe.newPage()).goto(shownSite), /ERR_CERT_AUTHORITY_INVALID/);  // who does not trust it gets nothing
  await unsafe.close();
  await page.goto(shownSite);
  await page.locator("#code").waitFor();
  await soundLooks(page);
  await picture(page, "pair-390-light");
  await wait();
  const code = codeOf(own("--code"));
  await page.locator("#code").fill(code.startsWith("0") ? "11111111" : "00000000");
  await button(page, "Let it in").click();
  await until("told", async () => /not the code/.test(await page.locator("[role=alert]").textContent()));
  await wait();
  followed(page, yard);
  await page.locator("#code").fill(code);
  await page.locator("#device-name").fill("Ann's phone");
  await button(page, "Let it in").click();
  await until("the round", async () => (await page.locator("#round li").count()) > 0);
  await kept(page);
  await page.getByRole("button", { name: /^Dead fish/ }).click();
  await dialled(page, "1");
  await until("kept", async () => /: kept$/.test(await line(page)));
  await yard.stop();
  await page.reload();
  await until("the kept round", async () => /as of/.test(await page.locator("#round-at").textContent()));
  await page.getByRole("button", { name: /^Dead fish/ }).click();
  await dialled(page, "3");
  await until("waits", async () => /1 note waits/.test(await page.locator("#net").textContent()));
  const other = createServer();
  await new Promise((done, failed) => other.on("error", failed).listen(yard.port + 1, done));
  await yard.start();
  assert.match(yard.said, new RegExp(`Port ${yard.port + 1} is used by another program`));
  assert.equal((await plain("/")).status, 200, "where phones learn to trust the page, elsewhere");
  await new Promise((done) => other.close(done));
  await until("sent", async () => /All notes are sent/.test(await page.locator("#net").textContent()));
  await page.goto(`${shownSite}/#desk`);
  await until("the list of devices", async () => /Ann's phone.*this one/.test(await page.locator("main").textContent()));
  await page.getByRole("button", { name: "Forget Ann's phone" }).click();
  await page.locator("#code").waitFor();
  await context.close();
  rmSync(home, { recursive: true });
});

await yard.end();
finish();
