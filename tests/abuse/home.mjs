// An enemy on the home network: who is not let in must read and write nothing, and keep nobody else from it.
// Called as: node home.mjs LEAT [SERVER]; SERVER is another build of it, with a sanitizer.
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { request as plainRequest } from "node:http";
import { Agent, request } from "node:https";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { connect as secure } from "node:tls";

const [leat, other] = process.argv.slice(2).map((p) => resolve(p));
const yard = mkdtempSync(join(tmpdir(), "leat-enemy-"));
copyFileSync(join(import.meta.dirname, "../../examples/first-loop/loop.toml"), join(yard, "loop.toml"));
const server = spawn(other ?? leat, ["serve", "loop.toml", "--home", "--port", "0"], { cwd: yard, stdio: ["ignore", "pipe", "pipe"] });
let wrong = "", ended, said = "";
server.stderr.on("data", (d) => { wrong += d; });
server.on("exit", (code, signal) => { ended = signal ?? code; });
await new Promise((done) => server.stdout.on("data", (d) => { said += d; if (/Who is known/.test(said)) done(); }));
const port = Number(/https:\/\/(?:\[[^\]]+\]|[^:]+):(\d+)/.exec(said)[1]), trustPort = Number(/ http:\/\/(?:\[[^\]]+\]|[^:]+):(\d+)/.exec(said)[1]);
const ca = readFileSync(join(yard, "loop.home-authority.pem"), "utf8");
const own = (...flags) => execFileSync(leat, ["serve", "loop.toml", ...flags], { cwd: yard, encoding: "utf8" });
const rss = () => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${server.pid}/status`, "utf8"))[1]) / 1024;
const pause = (ms) => new Promise((r) => setTimeout(r, ms));
const patience = 240;  // s; a slow machine takes longer, and is not wrong
const agent = new Agent({ keepAlive: false });
function ask(path, { method = "GET", body, headers = {} } = {}) {
  return new Promise((done) => {
    const r = request({ host: "127.0.0.1", port, path, method, ca, agent, headers: { Host: `127.0.0.1:${port}`, ...(body === undefined ? {} : { "Content-Type": "application/json" }), ...headers }, timeout: 1000 * patience, ...(headers.Host ? { servername: "", checkServerIdentity: () => undefined } : {}) }, (a) => {
      let text = "";
      a.on("data", (d) => { if (text.length < 1e6) text += d; });
      a.on("end", () => done({ status: a.statusCode, text, headers: a.headers }));
    });
    r.on("error", (e) => done({ status: 0, text: e.message, headers: {} })).on("timeout", () => r.destroy());
    r.end(body);
  });
}
/// Bytes as they are, over TLS.
function raw(bytes, { seconds = 3, chunks = 0, chunk } = {}) {
  return new Promise((done) => {
    const s = secure({ host: "127.0.0.1", port, ca, checkServerIdentity: () => undefined });
    let back = "", over = false, sent = 0;
    const end = () => { if (!over) { over = true; clearTimeout(timer); s.destroy(); done({ back, sent, status: Number(/^HTTP\/1\.1 (\d+)/.exec(back)?.[1] ?? 0) }); } };
    const timer = setTimeout(end, seconds * 1000);
    s.on("data", (d) => { if (back.length < 65536) back += d; }).on("error", end).on("close", end);
    s.on("secureConnect", () => {
      s.write(bytes);
      let left = chunks;
      const more = () => { while (left > 0 && !over) { left--; sent += chunk.length; if (!s.write(chunk)) { s.once("drain", more); return; } } };
      more();
    });
  });
}
const pairing = (code, headers) => ask("/api/pair", { method: "POST", body: JSON.stringify({ code, name: "x" }), headers });
const codeOf = (text) => /: (\d{4} \d{4})\n/.exec(text)[1];
const letIn = async () => { await pause(1100); const a = await pairing(codeOf(own("--code"))); assert.equal(a.status, 200, a.text); return { Cookie: a.headers["set-cookie"][0].split(";")[0] }; };
let failed = 0, most = 0;
async function enemy(name, act) {
  const begun = Date.now();
  try {
    await act();
    assert.equal((await ask("/api/about")).status, 200, "it answers no more");
    assert.equal(ended, undefined, `it ended: ${ended} ${wrong.slice(0, 2000)}`);
    most = Math.max(most, rss());
    console.log(`ok    ${name} (${((Date.now() - begun) / 1000).toFixed(1)} s, ${rss().toFixed(0)} MB)`);
  } catch (e) { failed++; console.log(`FAIL  ${name}\n${e.stack}`); }
}

const friend = await letIn();
const secret = "the neighbour fed 60 g";
assert.equal((await ask("/api/note", { method: "POST", body: JSON.stringify({ words: secret }), headers: friend })).status, 200);
const tells = (text) => /Alder yard|neighbour|\[tank|"entries"|"findings"|openapi|leat_requests/.test(text);
const questions = Object.entries(JSON.parse(own("--openapi")).paths).flatMap(([path, methods]) => Object.keys(methods).map((m) => [m.toUpperCase(), path]));
const more = ["/api/events", "/api/last", "/api/jobs", "/api/loop", "/api/devices", "/api/openapi.json", "/metrics"].map((p) => ["GET", p]).concat(["/api/stop", "/api/code", "/api/forget", "/api/own"].map((p) => ["POST", p]));

await enemy("whatever is asked without a code is refused, and nothing is written", async () => {
  assert.ok(questions.length > 15);
  for (const [method, path] of [...questions, ...more])
    for (const headers of [{}, { Cookie: "__Host-leat=" }, { Cookie: `__Host-leat=${"f".repeat(64)}` }, { Authorization: "Bearer x", "X-Forwarded-For": "127.0.0.1", "X-Forwarded-Host": `127.0.0.1:${port}` }]) {
      const a = await ask(path, { method, headers, ...(method === "POST" ? { body: JSON.stringify({ words: "fed 1 g", plan: "[plan]\n", wording: "x", device: "x", job: "x" }) } : {}) });
      assert.equal(a.status, 401, `${method} ${path} ${a.status} ${a.text.slice(0, 200)}`);
      assert.ok(!tells(a.text), `${path} tells ${a.text.slice(0, 200)}`);
    }
});
await enemy("ways about the path and the method", async () => {
  for (const path of ["/api//record", "/api/record/", "/API/record", "/api/%72ecord", "/%61pi/record", "/api/record;x=1", "//api/record", "/app.js/../api/record", "/app.js%00/api/record", "/./api/record", "/api/pair/../record", "/api/pair%2f..%2frecord", `https://127.0.0.1:${port}/api/record`, "/app.js?/api/record", "/api/about?/api/record", "/loop.toml", "/loop.record.db", "/loop.devices", "/loop.home-authority.pem", "/../loop.devices", "/%2e%2e/loop.devices", "*"]) {
    const a = await raw(`GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\n\r\n`);
    assert.ok((/^\/app\.js/.test(path) || !tells(a.back)) && !/PRIVATE KEY|CERTIFICATE|^device/m.test(a.back), `${path}: ${a.back.slice(0, 300)}`);
    assert.ok(a.status >= 400 || a.status === 0 || /app\.js|about/.test(path), `${path} ${a.status}`);
  }
  for (const method of ["HEAD", "PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "CONNECT", "get", "GET\t"]) {
    const a = await raw(`${method} /api/record HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\n\r\n`);
    assert.ok(a.status >= 400 || a.status === 0, `${method} ${a.status}`);
    assert.ok(!tells(a.back), method);
  }
  const up = await raw(`GET /api/events HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\nSec-WebSocket-Version: 13\r\n\r\n`);
  assert.ok(up.status >= 400, `${up.status}`);
});
await enemy("another name for this address, and pages of other sites, even with the cookie of one who is in", async () => {
  for (const Host of ["evil.example", `evil.example:${port}`, `127.0.0.1.nip.example:${port}`, `yard.local.evil.example:${port}`, `127.0.0.1:${port + 1}`]) {
    assert.equal((await ask("/api/record", { headers: { ...friend, Host } })).status, 403, Host);
    assert.equal((await ask("/", { headers: { Host } })).status, 403, Host);
  }
  const write = (headers) => ask("/api/note", { method: "POST", body: '{"words":"fed 1 g"}', headers: { ...friend, ...headers } });
  for (const headers of [{ Origin: "https://evil.example" }, { Origin: "null" }, { Origin: `http://127.0.0.1:${port}` }, { Origin: `https://127.0.0.1:${port}.evil.example` }, { "Sec-Fetch-Site": "cross-site" }, { "Sec-Fetch-Site": "same-site" }])
    assert.equal((await write(headers)).status, 403, JSON.stringify(headers));
  for (const type of ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "text/plain; application/json", ""])
    assert.ok([403, 415].includes((await write({ "Content-Type": type })).status), type);
  assert.equal((await ask("/api/record", { headers: { ...friend, "Sec-Fetch-Site": "cross-site" } })).status, 403);
});
await enemy("cookies that are nearly right", async () => {
  const [name, token] = friend.Cookie.split("=");
  for (const cookie of [`${name}=${token.slice(0, -1)}`, `${name}=${token}0`, `${name}=${token.toUpperCase()}`, `leat=${token}`, `x${name}=${token}`, `${name}="${token}"`, `${name}=${token.slice(1)}0`, `${name} =${token}`, `a=${name}=${token}`, `${name}=x, ${name}=${token}`, "=".repeat(8000)])
    assert.notEqual((await ask("/api/check", { headers: { Cookie: cookie } })).status, 200, cookie.slice(0, 40));
  assert.equal((await ask("/api/loop", { headers: friend })).status, 200);
});
await enemy("codes guessed as fast as can be: five tries, then even the right one is void", async () => {
  await pause(1100);
  const code = codeOf(own("--code"));
  const begun = Date.now();
  const all = await Promise.all(Array.from({ length: 60 }, (_, i) => pairing(String(10000000 + i * 7).padStart(8, "0"))));
  const tried = all.filter((a) => a.status !== 429).length;  // one a second, however long it took
  assert.ok(tried <= 2 + (Date.now() - begun) / 1000, `${tried} in ${Date.now() - begun} ms: ${all.map((a) => a.status)}`);
  for (let i = 0; i < 5; i++) { await pause(1100); assert.ok([403, 429].includes((await pairing("00000001")).status)); }
  await pause(1100);
  assert.equal((await pairing(code)).status, 403, "the right code after five wrong ones");
  for (const odd of ["", "1", "12345678901234567890", "0x1234567", "1234567e", "١٢٣٤٥٦٧٨", `${"9".repeat(100000)}`]) { await pause(1100); assert.ok((await pairing(odd)).status >= 400, odd.slice(0, 20)); }
});
await enemy("a device that is put out hears nothing more, though its stream was open", async () => {
  const out = await letIn(), heard = [];
  const stream = await new Promise((done) => { const r = request({ host: "127.0.0.1", port, path: "/api/events", ca, agent, headers: { Host: `127.0.0.1:${port}`, ...out } }, (a) => { a.on("data", (d) => heard.push(String(d))); const s = { ended: false }; for (const e of ["end", "close", "error"]) a.on(e, () => { s.ended = true; }); done(s); }); r.on("error", () => {}); r.end(); });
  for (let i = 0; i < 10 * patience && !heard.length; i++) await pause(100);
  assert.match(heard.join(""), /event: changed/);
  const id = own("--devices").trim().split("\n").map((l) => /^(\w{6}) /.exec(l)?.[1]).filter(Boolean).at(-1);
  own("--forget", id);
  assert.equal((await ask("/api/loop", { headers: out })).status, 401, "at once");
  const begun = Date.now();
  for (let i = 0; i < 10 * patience && !stream.ended; i++) await pause(100);
  assert.ok(stream.ended, "its stream goes on");  // by itself it never ends
  console.log(`# a stream was closed ${Date.now() - begun} ms after its device was put out`);
  assert.equal((await ask("/api/events", { headers: out })).status, 401);
  assert.equal((await ask("/api/loop", { headers: friend })).status, 200, "others stay");
});
await enemy("more connections of one enemy than there is room for leave room for those who are let in", async () => {
  const open = await Promise.all(Array.from({ length: 1700 }, (_, i) => new Promise((done) => { const s = connect({ port, host: "127.0.0.2", localAddress: "127.0.0.9" }, () => { if (i % 2) s.write(Buffer.from("160301020001000", "hex")); done(s); }); s.on("error", () => done(s)); })));
  const begun = Date.now();
  assert.equal((await ask("/api/note", { method: "POST", body: '{"words":"fed 2 g"}', headers: friend })).status, 200);
  console.log(`# a friend's note beside 1,700 connections of an enemy took ${Date.now() - begun} ms`);
  for (const s of open) s.destroy();
});
await enemy("one enemy with twenty addresses leaves room at once for those who are let in", async () => {
  const open = await Promise.all(Array.from({ length: 2000 }, (_, i) => new Promise((done) => { const s = connect({ port, host: "127.0.0.2", localAddress: `127.0.9.${1 + (i % 20)}` }, () => done(s)); s.on("error", () => done(s)).on("close", () => { s.is_closed = true; }); s.resume(); })));
  for (let before = -1, now = 0; before !== now; before = now, now = open.filter((s) => s.is_closed).length) await pause(500);
  const held = open.filter((s) => !s.is_closed);
  assert.ok(held.length > 300, `${held.length} were taken`);
  const begun = Date.now();
  assert.equal((await ask("/api/note", { method: "POST", body: '{"words":"fed 3 g"}', headers: friend })).status, 200);
  assert.ok(held.every((s) => !s.is_closed), "the friend waited until the enemy's connections ran out");
  console.log(`# a friend's note beside 2,000 connections from twenty addresses took ${Date.now() - begun} ms`);
  for (const s of open) s.destroy();
});
await enemy("floods over TLS", async () => {
  const endless = await raw(`GET / HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nX: `, { chunks: 2000, chunk: Buffer.alloc(65536, 98), seconds: 10 });
  assert.ok(endless.sent < 60e6 || endless.status >= 400, `took ${endless.sent}`);
  await raw(`GET / HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n`, { chunks: 1000, chunk: Buffer.from("X-Y: z\r\n".repeat(4000)), seconds: 10 });
  const body = await raw(`POST /api/pair HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: 104857600\r\n\r\n`, { chunks: 1600, chunk: Buffer.alloc(65536, 99), seconds: 15 });
  assert.ok([413, 0].includes(body.status), body.back.slice(0, 100));
  await Promise.all(Array.from({ length: 40 }, () => new Promise((done) => { const s = connect(port, "127.0.0.1", () => s.end("GET / HTTP/1.1\r\nHost: x\r\n\r\n")); s.on("error", done).on("close", done); })));
});
await enemy("the plain page takes nothing and tells nothing more", async () => {
  const at = (path, method = "GET") => new Promise((done) => { const r = plainRequest({ host: "127.0.0.1", port: trustPort, path, method }, (a) => { let t = ""; a.on("data", (d) => { t += d; }); a.on("end", () => done({ status: a.statusCode, text: t })); }); r.on("error", () => done({ status: 0, text: "" })); r.end(method === "POST" ? "x".repeat(100000) : undefined); });
  for (const path of ["/api/record", "/api/about", "/loop.toml", "/../loop.toml", "/%2e%2e/loop.devices", "/leat-home.crt/../loop.toml", "/loop.home-authority.pem"]) { const a = await at(path); assert.ok(a.status === 404 || a.status === 0, path); assert.ok(!tells(a.text)); }
  assert.ok([405, 0].includes((await at("/", "POST")).status));
  const page = await at("/");
  assert.ok(!/\d{4} \d{4}/.test(page.text), "no code stands there");
});
await pause(500);
console.log(`# memory: at most ${most.toFixed(0)} MB`);
await enemy("its memory stayed within bounds", () => assert.ok(most < (other ? 1500 : 200), `${most} MB`));
await enemy("the record holds what friends put in, and nothing else", async () => {
  const words = JSON.parse((await ask("/api/record?all=true", { headers: friend })).text).entries.map((e) => e.said ?? "");
  assert.deepEqual(words.filter(Boolean).map((w) => w.slice(0, 40)), [secret, "fed 2 g", "fed 3 g"]);
  assert.ok(!existsSync(join(yard, "broken")));
});
server.kill("SIGTERM");
for (let i = 0; i < 10 * patience && ended === undefined; i++) await pause(100);
if (ended !== 0) failed++;
console.log(ended === 0 ? "ok    it ends when asked to" : `FAIL  it ended with ${ended}\n${wrong.slice(0, 6000)}`);
if (wrong) console.log(`# it said: ${wrong.slice(0, 4000)}`);
rmSync(yard, { recursive: true });
process.exit(failed ? 1 : 0);
