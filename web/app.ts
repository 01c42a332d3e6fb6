// The page: at the tank, at the desk, before buying.
import { leaveView } from "./ask";
import { desk } from "./desk";
import { $, dialog, h } from "./dom";
import { ageWords, emergency } from "./emergency";
import { pairView } from "./home";
import { answer, keepReady, keepReadyAtLast, readySince } from "./kept";
import { degrees, putLook } from "./look";
import { askStep, kits } from "./kits";
import { askChoice, askNumber, askWords } from "./pads";
import { planView } from "./plan";
import { exampleLine, startView } from "./start";
import { dropNote, newKey, type Note, notes, putNote } from "./store";
import { onSync, reachable, setReachable, sync } from "./sync";
import { weekView } from "./week";
import { W } from "./words";

let last: number | undefined;  // the note that the line at the foot speaks of

async function note(words: string): Promise<void> {
  last = await putNote({ key: newKey(), kind: "note", words, made: Date.now(), state: "waits" });
  await paintStatus();
  void sync();
}
async function undo(id: number): Promise<void> {
  await sync();  // what is on its way arrives first
  const n = (await notes()).find((x) => x.id === id);
  if (!n) return;
  if (n.state === "sent") {
    await putNote({ key: newKey(), kind: "undo", words: n.words, made: Date.now(), of: n.numbers, state: "waits" });
    await putNote({ ...n, state: "undone" });
    void sync();
  } else if (n.state === "waits" || n.state === "refused") await dropNote(id);
  last = undefined;
  await paintStatus(`${n.words}: ${W.undone}`);
}

async function paintStatus(said?: string): Promise<void> {
  const all = await notes();
  const waiting = all.filter((n) => n.state === "waits").length;
  const n = all.find((x) => x.id === last);
  const line = said ?? (n ? (n.state === "sent" ? `${n.said ?? n.words}: ${W.kept}` : n.state === "refused" ? `${W.refused} ${n.said}` : `${n.words}: ${W.waits}`) : "");
  $("line").textContent = line;
  $("undo").hidden = !n;
  $("net").textContent = waiting ? W.waiting(waiting) + (reachable ? "" : `. ${W.offline}`) : reachable ? W.allSent : W.offline;
  document.body.dataset.waiting = String(waiting);
  await paintReady();
  const bad = all.find((x) => x.state === "refused" && x.id !== last);
  if (bad && !last) { last = bad.id; await paintStatus(); }
}

/// Who walks to the tank without a connection must know it beforehand.
async function paintReady(): Promise<void> {
  const since = await readySince();
  $("ready").textContent = since === undefined ? W.notReady : W.ready(ageWords(Date.now() - since));
}
/// What an emergency needs is asked for before all else.
const prepare = () => keepReady().then(paintReady);

function listOfRound(a: any, at: number): void {
  const told = (what: string) => a.urgent.some((u: { what: string; reason: string }) => u.what.includes(what) || u.reason.includes(what));
  const odd = a.oddities.filter((o: { what: string }) => !told(o.what));  // what cannot wait is not told twice
  const items: { urgent: boolean; what: string; reason?: string; action?: string }[] =
    [...a.urgent.map((u: object) => ({ ...u, urgent: true })), ...odd, ...a.due];
  const list = $("round");
  // What cannot wait stands with its reason; of the rest a touch shows it, so that the keys are not pushed out of sight.
  list.replaceChildren(...items.slice(0, 8).map((t) => {
    const action = t.action ? h("p", { class: "hint" }, t.action) : "";
    return t.urgent || !t.reason ? h("li", { class: t.urgent ? "urgent" : "" }, h("strong", {}, t.what), t.reason ? `: ${t.reason}` : "", action)
      : h("li", {}, h("details", {}, h("summary", {}, t.what), t.reason, action));
  }));
  if (!items.length) list.append(h("li", {}, W.nothingDue));
  $("round-at").textContent = W.asOf(new Date(at).toLocaleString([], { dateStyle: "medium", timeStyle: "short" }));
}

async function one(title: string, unit: string, start: string, step: number, phrase: (v: string) => string): Promise<void> {
  const v = await askNumber(title, unit, start, step);
  if (v !== undefined) await note(phrase(v));
}
async function minMax(): Promise<void> {
  const own = degrees(), low = await askNumber(W.min, own.shown, "", 0.5);
  if (low === undefined) return;
  const unknown = { label: W.resetUnknown, on: false };
  const high = await askNumber(W.max, own.shown, low, 0.5, unknown);
  if (high !== undefined) await note(`min ${low}${own.said} max ${high}${own.said}${unknown.on ? " since unknown" : ""}`);
}
async function kit(): Promise<void> {
  const all = kits(), i = await askChoice(W.whichTest, all.map((k) => k.name));
  const phrase = i === undefined ? undefined : await askStep(all[i]!);
  if (phrase) await note(phrase);
}
async function inWords(): Promise<void> {
  const said = await askWords(W.words, W.wordsAsk);
  if (said) await note(said);
}
async function showNotes(): Promise<void> {
  const all = (await notes()).filter((n) => n.kind === "note").reverse();
  const d = dialog(W.notes, h("ul", { class: "plain" }, ...all.map((n) => h("li", {},
    `${new Date(n.made).toLocaleString([], { dateStyle: "short", timeStyle: "short" })}  ${n.words} `,
    n.state !== "undone" && h("button", { onclick: () => { d.close(); void undo(n.id!); } }, W.undo)))),
    h("div", { class: "row" }, h("button", { onclick: () => d.close() }, W.close)));
}

function tankView(main: HTMLElement): void {
  const feedHint = h("span", { class: "hint" });
  const target = (label: string, act: () => unknown, hint?: HTMLElement) => h("button", { class: "target", onclick: () => void act() }, label, hint);
  let grams = "";
  main.replaceChildren(h("h1", {}, W.today), h("p", { class: "hint", id: "round-at" }), h("ul", { id: "round" }, h("li", {}, W.noRound)),
    h("h2", {}, W.noteWhat), h("div", { class: "targets" },
      target(W.fed, () => one(W.fed, W.fedUnit, grams, 5, (v) => `fed ${v} g`), feedHint),
      target(W.minmax, minMax), target(W.kit, kit),
      target(W.oxygen, () => one(W.oxygen, W.mgL, "", 0.5, (v) => `do ${v} mg/L`)),
      target(W.dead, () => one(W.dead, W.fish, "1", 1, (v) => `${v} dead`)),
      target(W.level, () => one(W.level, W.cm, "", 0.5, (v) => `sump level ${v} cm`)),
      target(W.words, inWords)));
  void prepare();
  void answer("round", "/api/round", listOfRound);
  void answer("feed", "/api/feed", (a) => {
    const all = a.groups.reduce((sum: number, g: { feed_given: number; stop: boolean }) => sum + (g.stop ? 0 : g.feed_given), 0);
    grams = all ? String(Math.round(all / Math.max(1, a.groups[0]?.meals.length ?? 1))) : "";
    feedHint.textContent = `${Math.round(all)} g`;
  });
}

let begun = false, asking = false;
/// Once, before the first view: is there a loop at all, and whose?
async function beginAt(): Promise<void> {
  if (asking) return;  // what was typed stays
  asking = true;
  let has = true;
  try { has = await exampleLine($("example")); } catch { if (unknown) return; setReachable(false); }
  begun = has;
  if (has) { asking = false; show(); }
  else { document.title = `leat: ${W.start}`; await startView($("main"), note); }
}
function show(): void {
  if (unknown) return;
  const where = location.hash.slice(1) || "tank";
  if (!begun && reachable) { void beginAt(); return; }
  for (const a of document.querySelectorAll<HTMLAnchorElement>("nav a"))
    if (a.hash === `#${where}`) a.setAttribute("aria-current", "page");
    else a.removeAttribute("aria-current");
  const main = $("main");
  document.title = `leat: ${where === "desk" ? W.desk : where === "week" ? W.week : where === "plan" ? W.plan : W.tank}`;
  if (where === "desk") desk(main);
  else if (where === "week") weekView(main);
  else if (where === "plan") void planView(main);
  else { tankView(main); return; }
  void keepReadyAtLast().then(paintReady);
}

function listen(): void {
  let source: EventSource | undefined;
  const follow = () => {
    if (document.hidden) { source?.close(); source = undefined; return; }
    if (source) return;
    source = new EventSource("/api/events");
    let first = true;
    source.addEventListener("changed", () => {
      if (!first) document.dispatchEvent(new Event("changed"));
      if (!first && !document.querySelector("dialog") && (location.hash || "#tank") === "#tank") show();
      first = false;
    });
    source.addEventListener("jobs", (e) => document.dispatchEvent(new CustomEvent("jobs", { detail: JSON.parse(e.data).jobs })));
    source.addEventListener("open", () => { setReachable(true); void sync(); });
    source.addEventListener("error", () => { if (unknown) { source?.close(); return; } setReachable(false); void paintStatus(); });
  };
  document.addEventListener("visibilitychange", follow);
  follow();
}

function frame(): void {
  document.body.append(
    h("a", { href: "#main", class: "skip", onclick: (e: Event) => { e.preventDefault(); $("main").focus(); } }, W.skip),
    h("header", {}, h("nav", { "aria-label": "leat" }, h("a", { href: "#tank" }, W.tank), h("a", { href: "#desk" }, W.desk), h("a", { href: "#week" }, W.week), h("a", { href: "#plan" }, W.plan)),
      h("p", { id: "example", class: "example", hidden: true })),
    h("main", { id: "main", tabindex: "-1" }),
    h("footer", {}, h("div", { class: "said" }, h("span", { id: "line", role: "status", tabindex: "0" }), h("button", { id: "undo", hidden: true, onclick: () => last !== undefined && void undo(last) }, W.undo)),
      h("div", {}, h("button", { id: "net", class: "quiet", onclick: () => void showNotes() }), h("p", { id: "ready", class: "hint" })),
      h("button", { id: "emergency", onclick: () => void emergency(note) }, W.emergency)));
}

let unknown = false;
document.addEventListener("unknown", () => { if (!unknown) { unknown = true; pairView($("main")); } });
document.addEventListener("changed", () => { if (location.hash && location.hash !== "#tank") void prepare(); });
document.addEventListener("begun", () => { begun = true; asking = false; void exampleLine($("example")); });
putLook();
frame();
show();
addEventListener("hashchange", () => { leaveView(); for (const i of document.querySelectorAll("main img")) i.removeAttribute("src"); show(); });
addEventListener("online", () => void sync());
document.addEventListener("visibilitychange", () => { if (!document.hidden) void sync(); });
setInterval(() => { void sync(); if (begun) void keepReadyAtLast().then(paintReady); }, 20000);
onSync(() => void paintStatus());
void paintStatus();
void sync();
listen();
if ("serviceWorker" in navigator) void navigator.serviceWorker.register("/worker.js").then(() => navigator.serviceWorker.ready).then(paintReady).catch(() => {});
void navigator.storage?.persist?.();
