// At the desk: the check, the drawing, the days ahead, the record. Shows answers; computes nothing.
import { ask, askHere, post } from "./ask";
import { calcPart } from "./calc";
import { carryPart } from "./carry";
import { aheadChart } from "./chart";
import { dialog, h, whenSeen } from "./dom";
import { byCountry, searched } from "./country";
import { dosePart } from "./dose";
import { drawing as drawLoop } from "./history";
import { devicesPart } from "./home";
import { lookPart } from "./look";
import { overPart } from "./over";
import { askWords } from "./pads";
import { trials } from "./trial";
import { W } from "./words";

/// Fills a part of the page once its answer is there; says why when there is none.
export async function fill(part: HTMLElement, path: string, show: (a: any) => (Node | string)[]): Promise<void> {
  const job = `job${Math.random().toString(36).slice(2)}`;
  const stop = h("button", { onclick: () => void post("/api/stop", { job }).catch(() => {}) }, W.stop);
  const how = h("p", { role: "status" }, W.loading), bar = h("progress", { "aria-label": W.loading });
  const body = h("div", {}, how, bar, stop);
  part.append(body);
  const follow = (e: Event) => {
    const all: any[] = (e as CustomEvent).detail, mine = all.find((x) => x.job === job);
    if (!mine) return;
    how.textContent = mine.running ? W.working(mine.seconds, mine.usual_s) : W.inLine;
    if (mine.running && mine.usual_s > 0) { bar.max = mine.usual_s; bar.value = Math.min(mine.seconds, 0.97 * mine.usual_s); }
  };
  document.addEventListener("jobs", follow);
  try {
    const a = await askHere(path + (path.includes("?") ? "&" : "?") + `job=${job}`);
    body.replaceChildren(...show(a));
  } catch (e) { body.replaceChildren(h("p", { class: "bad" }, `${W.failed} ${(e as Error).message}`)); }
  finally { document.removeEventListener("jobs", follow); }
}
export function table(caption: string, head: string[], rows: string[][]): HTMLElement {
  return h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": caption }, h("table", {}, h("caption", {}, caption),
    h("thead", {}, h("tr", {}, ...head.map((c) => h("th", { scope: "col" }, c)))),
    h("tbody", {}, ...rows.map((r) => h("tr", {}, ...r.map((c, i) => i ? h("td", { class: /^[-–\d. to%]+$/.test(c) ? "n" : "" }, c) : h("th", { scope: "row" }, c)))))));
}
export function findings(all: any[]): Node[] {
  const shown = all.filter((f) => f.verdict !== "ok");
  if (!shown.length) return [h("p", {}, W.nothingWrong)];
  return [h("ul", { class: "plain" }, ...shown.map((f) => h("li", {}, h("strong", {}, `${f.verdict}  ${f.path}: `), f.reason, f.action ? h("p", { class: "hint" }, f.action) : "")))];
}

let searching = 0;
/// The server looks for the words; one plant is looked for under all its names.
async function showRecord(list: HTMLElement, filter: string): Promise<void> {
  const mine = ++searching, words = searched(filter);
  try {
    const a = await ask(words ? `/api/record?latest=200&search=${encodeURIComponent(words)}` : "/api/record?latest=60");
    if (mine !== searching) return;  // more was typed since
    const found: any[] = [...a.entries].reverse(), more = words ? a.count_found - found.length : 0;
    list.replaceChildren(...(found.length ? found.map((e) => h("li", {}, byCountry(`${e.number}  ${e.line} `),
      h("button", { "aria-label": `${W.correct} ${e.number}`, onclick: () => void correct(e, () => showRecord(list, filter)) }, W.correct))) : [h("li", {}, W.emptyRecord)]));
    if (more > 0) list.append(h("li", { class: "hint" }, W.moreFound(more)));
  } catch (e) { if (mine === searching) list.replaceChildren(h("li", {}, (e as Error).message)); }
}
async function correct(e: any, then: () => void): Promise<void> {
  const said = await askWords(`${W.correct} ${e.number}`, W.instead, e.said ?? e.words);
  if (!said) return;
  try { await post("/api/record", { correct: [String(e.number), said], why: W.typedWrong }); then(); }
  catch (bad) { const d = dialog(W.failed, h("p", {}, (bad as Error).message), h("button", { onclick: () => d.close() }, W.close)); }
}

const words = ["temperature", "dissolved_oxygen", "pH", "ammonia"] as const;
/// What weather the days are run with, and where it comes from.
function airOf(a: any): string {
  const from = [...new Set<string>(a.weather)].map((w) => `${W.weathers[w] ?? w} (${W.days(a.weather.filter((x: string) => x === w).length)})`).join(", ");
  const all = (a.air ?? []).map((d: any) => d.temperature);
  return all.length ? W.air(from, Math.min(...all.map((t: any) => t.low)).toFixed(0), Math.max(...all.map((t: any) => t.high)).toFixed(0)) : from;
}

export function desk(main: HTMLElement): void {
  const part = (title: string) => { const s = h("section", {}, h("h2", {}, title)); main.append(s); return s; };
  main.replaceChildren(h("h1", {}, W.desk));
  const look = part(W.check);
  void fill(look, "/api/check", (a) => findings(a.findings));
  const drawing = part(W.drawing);
  const host = h("div", { class: "drawing" });
  const last = h("div", {});
  drawing.append(h("p", { class: "hint" }, W.drawingHint), h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": W.drawing }, host), last);
  void drawLoop(host, last).catch((e) => drawing.append(h("p", { class: "bad" }, (e as Error).message)));
  const ahead = part(W.ahead);
  void fill(ahead, "/api/ahead?days=14", (a) => {
    const box = h("div", {});
    const tank = Object.keys(a.vessels).find((v) => v.startsWith("tank.")) ?? Object.keys(a.vessels)[0];
    box.append(...findings(a.findings));
    box.append(h("p", {}, airOf(a)));
    if (a.bands) box.append(h("p", {}, W.sure(a.bands.members)), h("ul", { class: "plain" }, ...a.bands.crossings.map((c: any) =>
      h("li", {}, W.crossing(c.path, c.statement.replaceAll("_", " "), c.members, a.bands.members)))));
    setTimeout(() => { for (const word of words) aheadChart(box, a, tank, word); });
    return [box];
  });
  dosePart(part(W.dose));
  overPart(part(W.weeksBack));
  const where = part(W.where);
  const wait = h("p", { class: "hint", role: "status" }, W.loading);
  where.append(wait, h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": W.where }, h("img", { class: "drawing", loading: "lazy", src: "/api/picture?days=14", alt: W.pictureAlt, onload: () => wait.remove(), onerror: () => { wait.textContent = W.noPicture; } })));
  const trial = part(W.trial);
  whenSeen(trial, () => void fill(trial, "/api/trial", trials));
  carryPart(part(W.carry));
  calcPart(part(W.calc));
  const record = part(W.record);
  const list = h("ul", { class: "plain" });
  const box = h("input", { id: "search", type: "search", placeholder: W.searchHint, maxlength: 60 });
  let rest: number | undefined;
  box.addEventListener("input", () => { clearTimeout(rest); rest = window.setTimeout(() => void showRecord(list, box.value), 300); });
  record.append(h("label", { for: "search" }, W.search), box, list);
  void showRecord(list, "");
  // What comes in meanwhile stands there too; not under the hand of who is about to correct something.
  const again = () => {
    if (!record.isConnected) document.removeEventListener("changed", again);
    else if (!list.contains(document.activeElement)) void showRecord(list, box.value);
  };
  document.addEventListener("changed", again);
  main.append(lookPart(() => desk(main)));
  void ask("/api/about").then((a) => { if (a.home) void devicesPart(main.appendChild(h("section", {}))); }, () => {});
}
