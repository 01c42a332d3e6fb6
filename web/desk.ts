// At the desk: the check, the drawing, the days ahead, the record. Shows answers; computes nothing.
import { ask, post } from "./ask";
import { dialog, h } from "./dom";
import { alike, byCountry } from "./country";
import { drawing as drawLoop } from "./history";
import { devicesPart } from "./home";
import { lookPart } from "./look";
import { askWords } from "./pads";
import type { Series } from "./charts";
import { W } from "./words";

/// Fills a part of the page once its answer is there; says why when there is none.
export async function fill(part: HTMLElement, path: string, show: (a: any) => (Node | string)[]): Promise<void> {
  const job = `job${Math.random().toString(36).slice(2)}`;
  const stop = h("button", { onclick: () => void post("/api/stop", { job }).catch(() => {}) }, W.stop);
  const body = h("div", {}, h("p", {}, W.loading), stop);
  part.append(body);
  try {
    const a = await ask(path + (path.includes("?") ? "&" : "?") + `job=${job}`);
    body.replaceChildren(...show(a));
  } catch (e) { body.replaceChildren(h("p", { class: "bad" }, `${W.failed} ${(e as Error).message}`)); }
}
export function table(caption: string, head: string[], rows: string[][]): HTMLElement {
  return h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": caption }, h("table", {}, h("caption", {}, caption),
    h("thead", {}, h("tr", {}, ...head.map((c) => h("th", { scope: "col" }, c)))),
    h("tbody", {}, ...rows.map((r) => h("tr", {}, ...r.map((c, i) => i ? h("td", {}, c) : h("th", { scope: "row" }, c)))))));
}
function save(name: string, what: Blob): void {
  const url = URL.createObjectURL(what);
  h("a", { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}
export function findings(all: any[]): Node[] {
  const shown = all.filter((f) => f.verdict !== "ok");
  if (!shown.length) return [h("p", {}, W.nothingWrong)];
  return [h("ul", { class: "plain" }, ...shown.map((f) => h("li", {}, h("strong", {}, `${f.verdict}  ${f.path}: `), f.reason, f.action ? h("p", { class: "hint" }, f.action) : "")))];
}

/// Keys that save a chart as numbers and as a picture.
export function exports(name: string, box: HTMLElement, rows: string[][]): HTMLElement {
  const file = name.replace(/[^\w.-]+/g, "-");
  const cell = (c: string) => /[",\n]/.test(c) ? `"${c.replaceAll('"', '""')}"` : c;
  return h("div", { class: "row" }, h("button", { onclick: () => save(`${file}.csv`, new Blob([rows.map((r) => r.map(cell).join(",")).join("\n") + "\n"], { type: "text/csv" })) }, W.saveCsv),
    h("button", { onclick: () => picture(box, `${file}.png`) }, W.savePng));
}
/// On the page's paper, so that it can be read wherever it is put.
function picture(box: HTMLElement, name: string): void {
  const from = box.querySelector("canvas");
  if (!from) return;
  const to = h("canvas", { width: from.width, height: from.height }), pen = to.getContext("2d")!;
  pen.fillStyle = getComputedStyle(document.body).backgroundColor;
  pen.fillRect(0, 0, to.width, to.height);
  pen.drawImage(from, 0, 0);
  to.toBlob((b) => b && save(name, b));
}

let charts: Promise<void> | undefined;
export function loadCharts(): Promise<void> {
  charts ??= new Promise((resolve, reject) => document.head.append(h("script", { src: "/charts.js", onload: () => resolve(), onerror: () => reject(new Error("charts.js")) })));
  return charts;
}
function seriesOf(a: any, vessel: string, word: "temperature" | "dissolved_oxygen" | "pH" | "ammonia"): Series {
  const rows = a.vessels[vessel];
  const end = (r: any, e: "low" | "high") => { const v = r[word]?.[e] ?? (typeof r[word] === "number" ? r[word] : undefined); return v === undefined ? null : v.value ?? v; };
  const days: any[] | undefined = a.bands?.tanks?.[vessel];
  const edges = { temperature: ["coldest", "warmest"], dissolved_oxygen: ["least_oxygen", "least_oxygen"], ammonia: ["ammonia", "ammonia"], pH: undefined }[word];
  const band = days && edges ? { name: W.band, low: days.map((d) => d[edges[0]!].low), high: days.map((d) => d[edges[1]!].high) } : undefined;
  return { ...(band ? { band } : {}), label: W[word], unit: a.units[word] === "degC" ? W.degC : a.units[word] ?? "",
    days: a.dates.map((d: string) => Date.parse(`${d}T00:00:00Z`) / 1000),
    low: rows.map((r: any) => end(r, "low")), high: rows.map((r: any) => end(r, "high")) };
}
function chart(part: HTMLElement, a: any, vessel: string, word: "temperature" | "dissolved_oxygen" | "pH" | "ammonia"): void {
  const s = seriesOf(a, vessel, word);
  const f = (v: number | null) => v === null || v === undefined ? "–" : v.toFixed(word === "pH" || word === "ammonia" ? 2 : 1).replace(/^-(?=[0.]+$)/, "");
  const rows = a.dates.map((d: string, i: number) => [d, f(s.low[i]), f(s.high[i]), ...(s.band ? [`${f(s.band.low[i])} – ${f(s.band.high[i])}`] : [])]);
  const at = (list: (number | null)[], least: boolean) => list.reduce<number>((best, v, i) => v !== null && (best < 0 || (least ? v < list[best]! : v > list[best]!)) ? i : best, -1);
  const lows = s.low.some((v) => v !== null) ? s.low : s.high, highs = s.high.some((v) => v !== null) ? s.high : s.low;
  const lo = at(lows, true), hi = at(highs, false);
  const name = `${vessel} ${s.label}`;
  const canvas = h("div", { class: "chart", role: "img", "aria-label": W.chartOf(name) });
  part.append(h("h3", {}, name), canvas,
    h("p", {}, W.summary(name, f(lows[lo]), a.dates[lo], f(highs[hi]), a.dates[hi], s.unit)),
    h("details", {}, h("summary", {}, W.table), table(W.chartOf(name), [W.day, `${W.low} ${s.unit}`, `${W.high} ${s.unit}`, ...(s.band ? [`${W.band} ${s.unit}`] : [])], rows),
      exports(`${vessel}-${word}`, canvas, [["date", `low ${s.unit}`, `high ${s.unit}`, ...(s.band ? [W.band] : [])], ...rows])));
  void loadCharts().then(() => (window as any).leatDraw(canvas, s));
}

/// Every word must stand in an entry, or what the same plant is called elsewhere.
function fits(e: any, words: string[]): boolean {
  const text = `${e.line} ${e.said ?? ""} ${e.why ?? ""} ${e.where ?? ""} ${e.what}`.toLowerCase();
  return words.every((w) => alike(w).some((a) => text.includes(a)));
}
let searching = 0;
async function showRecord(list: HTMLElement, filter: string): Promise<void> {
  const mine = ++searching, words = filter.trim().toLowerCase().split(/\s+/).filter(Boolean);
  try {
    const a = await ask(words.length ? "/api/record?all=true" : "/api/record?latest=60");
    if (mine !== searching) return;  // more was typed since
    const found = [...a.entries].reverse().filter((e: any) => fits(e, words));
    list.replaceChildren(...(found.length ? found.slice(0, 200).map((e: any) => h("li", {}, byCountry(`${e.number}  ${e.line} `),
      h("button", { "aria-label": `${W.correct} ${e.number}`, onclick: () => void correct(e, () => showRecord(list, filter)) }, W.correct))) : [h("li", {}, W.emptyRecord)]));
    if (found.length > 200) list.append(h("li", { class: "hint" }, W.moreFound(found.length - 200)));
  } catch (e) { list.replaceChildren(h("li", {}, (e as Error).message)); }
}
async function correct(e: any, then: () => void): Promise<void> {
  const said = await askWords(`${W.correct} ${e.number}`, W.instead, e.said ?? e.words);
  if (!said) return;
  try { await post("/api/record", { correct: [String(e.number), said], why: W.typedWrong }); then(); }
  catch (bad) { const d = dialog(W.failed, h("p", {}, (bad as Error).message), h("button", { onclick: () => d.close() }, W.close)); }
}

export function desk(main: HTMLElement): void {
  const part = (title: string) => { const s = h("section", {}, h("h2", {}, title)); main.append(s); return s; };
  main.replaceChildren(h("h1", {}, W.desk));
  const look = part(W.check);
  void fill(look, "/api/check", (a) => findings(a.findings));
  const drawing = part(W.drawing);
  const host = h("div", { class: "drawing" });
  drawing.append(h("p", { class: "hint" }, W.drawingHint), h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": W.drawing }, host));
  void drawLoop(host).catch((e) => drawing.append(h("p", { class: "bad" }, (e as Error).message)));
  const ahead = part(W.ahead);
  void fill(ahead, "/api/ahead?days=14", (a) => {
    const box = h("div", {});
    const tank = Object.keys(a.vessels).find((v) => v.startsWith("tank.")) ?? Object.keys(a.vessels)[0];
    box.append(...findings(a.findings));
    if (a.bands) box.append(h("p", {}, W.sure(a.bands.members)), h("ul", { class: "plain" }, ...a.bands.crossings.map((c: any) =>
      h("li", {}, W.crossing(c.path, c.statement.replaceAll("_", " "), c.members, a.bands.members)))));
    setTimeout(() => { for (const word of ["temperature", "dissolved_oxygen", "pH", "ammonia"] as const) chart(box, a, tank, word); });
    return [box];
  });
  const where = part(W.where);
  where.append(h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": W.where }, h("img", { class: "drawing", loading: "lazy", src: "/api/picture?days=14", alt: W.pictureAlt })));
  const record = part(W.record);
  const list = h("ul", { class: "plain" });
  const box = h("input", { id: "search", type: "search", placeholder: W.searchHint, maxlength: 60 });
  let wait: number | undefined;
  box.addEventListener("input", () => { clearTimeout(wait); wait = window.setTimeout(() => void showRecord(list, box.value), 300); });
  record.append(h("label", { for: "search" }, W.search), box, list);
  void showRecord(list, "");
  main.append(lookPart(() => desk(main)));
  void ask("/api/about").then((a) => { if (a.home) void devicesPart(main.appendChild(h("section", {}))); }, () => {});
}
