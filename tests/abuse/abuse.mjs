// Everything that a rude program may do to the page's server, one after the other: it must go on answering, and its memory
// must stay within bounds. Called as: node abuse.mjs LEAT [SERVER]; SERVER is another build of it, with a sanitizer.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const [leat, other] = process.argv.slice(2).map((p) => resolve(p));
const yard = mkdtempSync(join(tmpdir(), "leat-abuse-"));
copyFileSync(join(import.meta.dirname, "../../examples/first-loop/loop.toml"), join(yard, "loop.toml"));
const server = spawn(other ?? leat, ["serve", "loop.toml", "--port", "0"], { cwd: yard, stdio: ["ignore", "pipe", "pipe"] });
let wrong = "", ended;
server.stderr.on("data", (d) => { wrong += d; });
server.on("exit", (code, signal) => { ended = signal ?? code; });
const port = await new Promise((done) => { let said = ""; server.stdout.on("data", (d) => { said += d; const f = /127\.0\.0\.1:(\d+)/.exec(said); if (f) done(Number(f[1])); }); });
const host = `Host: 127.0.0.1:${port}\r\n`;
const rss = () => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${server.pid}/status`, "utf8"))[1]) / 1024;
const pause = (ms) => new Promise((r) => setTimeout(r, ms));

/// Sends bytes, or chunks of them for as long as the server takes them, and gives what came back.
function raw(bytes, { seconds = 10, chunks = 0, chunk } = {}) {
  return new Promise((done) => {
    const s = connect(port, "127.0.0.1");
    let back = "", sent = 0, over = false;
    const end = () => { if (!over) { over = true; clearTimeout(timer); s.destroy(); done({ back, sent, status: Number(/^HTTP\/1\.1 (\d+)/.exec(back)?.[1] ?? 0) }); } };
    const timer = setTimeout(end, seconds * 1000);
    s.on("data", (d) => { if (back.length < 65536) back += d; });
    s.on("error", end).on("close", end).on("end", end);
    s.on("connect", () => {
      s.write(bytes);
      let left = chunks;
      const more = () => { while (left > 0 && !over) { left--; sent += chunk.length; if (!s.write(chunk)) { s.once("drain", more); return; } } };
      more();
    });
  });
}
const patience = 240;  // s; a slow machine takes longer, and is not wrong
const get = (path, headers = host) => raw(`GET ${path} HTTP/1.1\r\n${headers}Connection: close\r\n\r\n`, { seconds: patience });
const post = (path, body, headers = "Content-Type: application/json\r\n") => raw(`POST ${path} HTTP/1.1\r\n${host}Connection: close\r\n${headers}Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`, { seconds: patience });
let failed = 0, most = 0;
async function abuse(name, act) {
  const begun = Date.now();
  try {
    await act();
    assert.equal((await get("/api/about")).status, 200, "it answers no more");
    assert.equal(ended, undefined, `it ended: ${ended} ${wrong.slice(0, 2000)}`);
    most = Math.max(most, rss());
    console.log(`ok    ${name} (${((Date.now() - begun) / 1000).toFixed(1)} s, ${rss().toFixed(0)} MB)`);
  } catch (e) { failed++; console.log(`FAIL  ${name}\n${e.stack}`); }
}

await get("/api/check");
const before = rss();
await abuse("a request line without an end", async () => { const r = await raw("GET /", { chunks: 3000, chunk: Buffer.alloc(65536, 97) }); assert.ok(r.sent < 100e6 || r.status >= 400, `took ${r.sent}`); });
await abuse("a header without an end", async () => { const r = await raw(`GET / HTTP/1.1\r\n${host}X: `, { chunks: 3000, chunk: Buffer.alloc(65536, 98) }); assert.ok(r.sent < 100e6 || r.status >= 400, `took ${r.sent}`); });
await abuse("headers without number", async () => { await raw(`GET / HTTP/1.1\r\n${host}`, { chunks: 3000, chunk: Buffer.from("X-Y: z\r\n".repeat(4000)) }); });
await abuse("a body of 200 MB", async () => { const r = await raw(`POST /api/note HTTP/1.1\r\n${host}Connection: close\r\nContent-Type: application/json\r\nContent-Length: 209715200\r\n\r\n`, { chunks: 3200, chunk: Buffer.alloc(65536, 99), seconds: 20 }); assert.ok([413, 0].includes(r.status), r.back.slice(0, 200)); });
await abuse("chunks of wrong size", async () => { for (const size of ["ffffffffffffffff", "-1", "zz", "1;".repeat(5000)]) await raw(`POST /api/note HTTP/1.1\r\n${host}Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n${size}\r\nabc`, { seconds: 1 }); });
await abuse("bad JSON", async () => {
  for (const body of ["", "{", "[".repeat(100000), '{"a":'.repeat(20000), '{"words":1e999}', '{"words":"\\ud800"}', "\xff\xfe", '{"words":null}', '"x"', `{${'"a":1,'.repeat(5000)}"b":2}`, '{"words":["a",["b"]]}'])
    assert.ok([400, 422].includes((await post("/api/note", body)).status), body.slice(0, 30));
});
await abuse("a wrong name", async () => { for (const h of ["evil.example", `evil.example:${port}`, "127.0.0.1", "", `127.0.0.1:${port}@evil.example`, "[::ffff:127.0.0.1]"]) assert.ok([400, 403].includes((await get("/api/record", `Host: ${h}\r\n`)).status), h); assert.ok([400, 403].includes((await get("/api/record", "")).status)); });
await abuse("writes from another site", async () => {
  for (const h of ["Origin: http://evil.example\r\n", "Origin: null\r\n", "Sec-Fetch-Site: cross-site\r\n", "Sec-Fetch-Site: same-site\r\n"]) assert.equal((await post("/api/note", '{"words":"fed 1 g"}', `Content-Type: application/json\r\n${h}`)).status, 403, h);
  for (const type of ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data"]) assert.equal((await post("/api/note", '{"words":"fed 1 g"}', `Content-Type: ${type}\r\n`)).status, 415, type);
});
await abuse("paths that lead elsewhere", async () => {
  for (const path of ["/../loop.toml", "/%2e%2e/loop.toml", "/..%2f..%2fetc/passwd", "//etc/passwd", "/api/../../etc/passwd", "/app.js/../../x", "/api/record?where=%00", "/loop.record.db", `/${"a/".repeat(5000)}`, "http://evil.example/", "/api/drawing?x=/etc/passwd"]) {
    const r = await get(path);
    assert.ok(r.status >= 400 || r.status === 0, `${path} ${r.status}`);
    assert.ok(!/root:|\[pump/.test(r.back), path);
  }
});
await abuse("methods and versions that are none", async () => { for (const line of ["BREW / HTTP/1.1", "GET / HTTP/9.9", "GET", "\0\0\0\0", "GET / HTTP/1.1\r\nContent-Length: 5\r\nTransfer-Encoding: chunked", "TRACE / HTTP/1.1", "\x16\x03\x01\x02\x00\x01"]) await raw(`${line}\r\n${host}\r\n`, { seconds: 1 }); });
await abuse("questions that nobody waits for", async () => {
  const all = [];
  for (let i = 0; i < 100; i++) all.push(new Promise((done) => { const s = connect(port, "127.0.0.1", () => { s.write(`GET /api/ahead?seed=${i} HTTP/1.1\r\n${host}\r\n`); setTimeout(() => { s.destroy(); done(); }, 50); }); s.on("error", done); }));
  await Promise.all(all);
});
await abuse("a thousand connections that say nothing, and clients that say a byte a second", async () => {
  const open = await Promise.all(Array.from({ length: 1000 }, () => new Promise((done) => { const s = connect(port, "127.0.0.1", () => done(s)); s.on("error", () => done(s)); })));
  const slow = await Promise.all(Array.from({ length: 100 }, () => new Promise((done) => { const s = connect(port, "127.0.0.1", () => done(s)); s.on("error", () => done(s)); })));
  let said = 0;
  const speaking = setInterval(() => { for (const s of slow) if (s.writable) s.write("GET /aaaaaaaaaa"[said] ?? "a"); said++; }, 1000);
  while (said < 4) await pause(100);
  const begun = Date.now();
  assert.equal((await get("/api/about")).status, 200);
  assert.equal((await post("/api/note", '{"words":"fed 2 g"}')).status, 200, "a note was not taken meanwhile");
  console.log(`# beside a thousand who say nothing a question and a note took ${Date.now() - begun} ms`);
  assert.ok(slow.some((s) => s.writable), "what was asked waited for those who speak slowly");  // they never end by themselves
  clearInterval(speaking);
  for (const s of [...open, ...slow]) s.destroy();
});
await abuse("pages that listen and do not read", async () => {
  const all = await Promise.all(Array.from({ length: 80 }, () => new Promise((done) => { const s = connect(port, "127.0.0.1", () => { s.write(`GET /api/events HTTP/1.1\r\n${host}\r\n`); s.pause(); done(s); }); s.on("error", () => done(s)); })));
  for (let i = 0; i < 5; i++) assert.equal((await post("/api/note", `{"words":"fed ${10 + i} g"}`)).status, 200);
  for (const s of all) s.destroy();
});
await pause(1000);
const after = rss();
console.log(`# memory: ${before.toFixed(0)} MB before, at most ${most.toFixed(0)}, ${after.toFixed(0)} after`);
await abuse("its memory stayed within bounds", () => assert.ok(most < (other ? 1500 : 160), `${most} MB`));
const kept = JSON.parse(/\{[^]*\}/.exec((await get("/api/record?all=true")).back)?.[0] ?? "{}");
await abuse("the record holds what was taken, and nothing else", () => {
  const words = (kept.entries ?? []).map((e) => e.words).filter((w) => /^fed/.test(w));
  assert.deepEqual(words.map((w) => /fed \d+ g/.exec(w)[0]), ["fed 2 g", "fed 10 g", "fed 11 g", "fed 12 g", "fed 13 g", "fed 14 g"]);
  assert.ok(!existsSync(join(yard, "broken")));
});
server.kill("SIGTERM");
for (let i = 0; i < 10 * patience && ended === undefined; i++) await pause(100);
console.log(ended === 0 ? "ok    it ends when asked to" : `FAIL  it ended with ${ended}\n${wrong.slice(0, 6000)}`);
if (wrong) console.log(`# it said: ${wrong.slice(0, 4000)}`);
rmSync(yard, { recursive: true });
process.exit(failed || ended !== 0 ? 1 : 0);
