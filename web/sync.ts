// Sends what waits, in order, one at a time. The server keeps each key once, so sending again does no harm.
import { sent } from "./ask";
import { W } from "./words";
import { dropNote, type Note, notes, putNote } from "./store";

export let reachable = true;
let running: Promise<void> | undefined;
const hooks: (() => void)[] = [];
export const onSync = (f: () => void) => { hooks.push(f); };
const tell = () => { for (const f of hooks) f(); };

/// True when the note is done with, one way or the other; false when it must be tried later.
async function sendOne(n: Note): Promise<boolean> {
  if (n.kind === "note") {
    const r = await sent("/api/note", { words: n.words, key: n.key, ago_s: Math.max(0, Math.round((Date.now() - n.made) / 1000)) });
    if (r.status === 422 || r.status === 400 || r.status === 413) {
      n.state = "refused"; n.said = (await r.json()).problems; await putNote(n); return true;
    }
    if (!r.ok) return false;
    const a = await r.json();
    n.state = "sent"; n.numbers = a.entries.map((e: { number: number }) => e.number);
    n.said = a.entries.map((e: { line: string; doubt?: string; ask?: string; offer?: string }) =>
      e.line + (e.doubt ? ` (${W.asWords} ${e.doubt})` : e.ask ? ` (${W.asked(e.ask, e.offer)})` : "")).join("; ");
    await putNote(n); return true;
  }
  for (const number of n.of ?? []) {
    const r = await sent("/api/record", { correct: [String(number), "nothing"], why: "undone" });
    if (!r.ok && r.status !== 422) return false;  // 422: it was corrected already
  }
  await dropNote(n.id!); return true;
}
/// Done when all that waits was tried; one that is under way already is waited for, so that an undo never overtakes it.
export function sync(): Promise<void> {
  running ??= sendAll().finally(() => { running = undefined; });
  return running;
}
async function sendAll(): Promise<void> {
  try {
    for (let n = await first(); n; n = await first()) {
      if (!(await sendOne(n))) break;
      reachable = true; tell();
    }
    await tidy();
  } catch { reachable = false; } finally { tell(); }
}
async function first(): Promise<Note | undefined> {
  return (await notes()).find((n) => n.state === "waits");
}
/// The last fifty that were sent stay, to be undone.
async function tidy(): Promise<void> {
  const done = (await notes()).filter((n) => n.state === "sent" || n.state === "undone");
  for (const n of done.slice(0, Math.max(0, done.length - 50))) await dropNote(n.id!);
}
export const setReachable = (r: boolean) => { reachable = r; };
