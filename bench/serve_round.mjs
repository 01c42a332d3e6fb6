// Requests a second and how long they take: /api/round under 32 clients, beside a static file of the same server.
// Called as: node serve_round.mjs LEAT [SECONDS]. The client is one thread of node and shares the cores with the server.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { Agent, request } from "node:http";
import { loadavg, tmpdir } from "node:os";
import { join, resolve } from "node:path";

const leat = resolve(process.argv[2]), seconds = Number(process.argv[3] ?? 15), clients = 32;
const yard = mkdtempSync(join(tmpdir(), "leat-bench-"));
copyFileSync(join(import.meta.dirname, "../examples/first-loop/loop.toml"), join(yard, "loop.toml"));
const server = spawn(leat, ["serve", "loop.toml", "--port", "0"], { cwd: yard, stdio: ["ignore", "pipe", "inherit"] });
const port = await new Promise((done) => server.stdout.on("data", (d) => { const f = /127\.0\.0\.1:(\d+)/.exec(d); if (f) done(Number(f[1])); }));
const agent = new Agent({ keepAlive: true, maxSockets: clients + 2 });
function ask(path, body) {
  return new Promise((done, failed) => {
    const begun = performance.now();
    const r = request({ port, host: "127.0.0.1", path, agent, method: body ? "POST" : "GET", headers: body ? { "Content-Type": "application/json" } : {} }, (a) => {
      let size = 0, text = "";
      a.on("data", (d) => { size += d.length; if (text.length < 200) text += d; });
      a.on("end", () => done({ ms: performance.now() - begun, status: a.statusCode, size, text }));
    });
    r.on("error", failed);
    r.end(body && JSON.stringify(body));
  });
}
const quantile = (sorted, q) => sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))];
async function measure(path, check) {
  const times = [];
  await ask(path);
  const begun = performance.now(), end = begun + seconds * 1000;
  await Promise.all(Array.from({ length: clients }, async () => {
    while (performance.now() < end) { const r = await ask(path); assert.equal(r.status, 200, r.text); check(r); times.push(r.ms); }
  }));
  const all = (performance.now() - begun) / 1000;
  times.sort((a, b) => a - b);
  console.log(`${path.padEnd(12)} ${(times.length / all).toFixed(0).padStart(7)} a second; ms: median ${quantile(times, 0.5).toFixed(1)}, 95 % ${quantile(times, 0.95).toFixed(1)}, 99 % ${quantile(times, 0.99).toFixed(1)}, slowest ${times[times.length - 1].toFixed(1)}; ${times.length} in all`);
  return times.length / all;
}
await ask("/api/note", { words: "fed 60 g" });
console.log(`load ${loadavg()[0].toFixed(1)}, ${clients} clients, ${seconds} s each`);
const alone = [];
for (let i = 0; i < 5; i++) alone.push((await ask("/api/round")).ms);
console.log(`/api/round alone: median ${quantile(alone.sort((a, b) => a - b), 0.5).toFixed(1)} ms`);
const file = await measure("/page.css", (r) => assert.ok(r.size > 1000));
const notes = [];
let going = true;
const noting = (async () => { while (going) { await new Promise((r) => setTimeout(r, 500)); notes.push((await ask("/api/note", { words: `fed ${notes.length + 1} g` })).ms); } })();
const round = await measure("/api/round", (r) => assert.ok(/"verb": "round"/.test(r.text), r.text));
going = false;
await noting;
notes.sort((a, b) => a - b);
console.log(`a note meanwhile: median ${quantile(notes, 0.5).toFixed(0)} ms, slowest ${notes[notes.length - 1].toFixed(0)} ms; the file is ${(file / round).toFixed(0)} times as often answered as the round`);
server.kill("SIGTERM");
agent.destroy();
rmSync(yard, { recursive: true });
