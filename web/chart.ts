// A chart as it stands on the page: picture, a sentence, its numbers, keys that save it.
import type { Lines, Mark, Series } from "./charts";
import { table } from "./desk";
import { h } from "./dom";
import { W } from "./words";

type Word = "temperature" | "dissolved_oxygen" | "pH" | "ammonia";
let charts: Promise<void> | undefined;
function loaded(): Promise<any> {
  charts ??= new Promise((resolve, reject) => document.head.append(h("script", { src: "/charts.js", onload: () => resolve(), onerror: () => reject(new Error("charts.js")) })));
  return charts.then(() => window);
}
function save(name: string, what: Blob): void {
  const url = URL.createObjectURL(what);
  h("a", { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}
/// On the page's paper, so that it can be read wherever it is put: what it is of above, what its signs mean below.
function picture(box: HTMLElement, title: string, marks: Mark[], name: string): void {
  const from = box.querySelector("canvas");
  if (!from) return;
  const k = devicePixelRatio, legend = [...box.querySelectorAll(".u-series .u-label")].slice(1).map((l) => l.textContent), notes = [legend.join("   "), ...marks.map((m) => `${m.sign}  ${m.text}`)].slice(0, 24);
  const to = h("canvas", { width: from.width, height: from.height + (34 + 20 * notes.length) * k }), pen = to.getContext("2d")!;
  pen.fillStyle = getComputedStyle(document.body).backgroundColor;
  pen.fillRect(0, 0, to.width, to.height);
  pen.fillStyle = getComputedStyle(document.body).color;
  pen.font = `bold ${16 * k}px sans-serif`;
  pen.fillText(title, 8 * k, 22 * k);
  pen.drawImage(from, 0, 34 * k);
  pen.font = `${13 * k}px sans-serif`;
  notes.forEach((n, i) => pen.fillText(n, 8 * k, from.height + (48 + 20 * i) * k));
  to.toBlob((b) => b && save(name, b));
}
const file = (name: string) => name.replace(/[^\w.-]+/g, "-");
const cell = (c: string) => /[",\n]/.test(c) ? `"${c.replaceAll('"', '""')}"` : c;

interface Shown { name: string; sentence: string; head: string[]; rows: string[][]; csv?: string[][]; marks: Mark[] }
/// Puts the whole into a part of the page; `paint` draws it once the charts are there.
function put(part: HTMLElement, s: Shown, paint: (w: any, box: HTMLElement) => void): void {
  const box = h("div", { class: "chart", role: "img", "aria-label": s.name });
  const csv = s.csv ?? [s.head, ...s.rows];
  part.append(h("h3", {}, s.name), box, h("p", {}, s.sentence),
    ...(s.marks.length ? [h("details", {}, h("summary", {}, W.marks(s.marks.length)), h("ul", { class: "plain signs" }, ...s.marks.map((m) => h("li", { class: m.chapter ? "chapter" : "" }, `${m.sign}  ${m.text}`))))] : []),
    h("details", {}, h("summary", {}, W.table), table(s.name, s.head, s.rows),
      h("div", { class: "row" }, h("button", { onclick: () => save(`${file(s.name)}.csv`, new Blob([csv.map((r) => r.map(cell).join(",")).join("\n") + "\n"], { type: "text/csv" })) }, W.saveCsv),
        h("button", { onclick: () => picture(box, s.name, s.marks, `${file(s.name)}.png`) }, W.savePng))));
  void loaded().then((w) => paint(w, box));
}
function seriesOf(a: any, vessel: string, word: Word): Series {
  const rows = a.vessels[vessel];
  const end = (r: any, e: "low" | "high") => { const v = r[word]?.[e] ?? (typeof r[word] === "number" ? r[word] : undefined); return v === undefined ? null : v.value ?? v; };
  const days: any[] | undefined = a.bands?.tanks?.[vessel];
  const edges = { temperature: ["coldest", "warmest"], dissolved_oxygen: ["least_oxygen", "least_oxygen"], ammonia: ["ammonia", "ammonia"], pH: undefined }[word];
  const band = days && edges ? { name: W.band, low: days.map((d) => d[edges[0]!].low), high: days.map((d) => d[edges[1]!].high) } : undefined;
  return { ...(band ? { band } : {}), label: W[word], unit: a.units[word] === "degC" ? W.degC : a.units[word] ?? "",
    days: a.dates.map((d: string) => Date.parse(`${d}T12:00:00Z`) / 1000),
    low: rows.map((r: any) => end(r, "low")), high: rows.map((r: any) => end(r, "high")) };
}
/// What the record holds about the same days.
export interface Told { readings: { at: number; value: number; text: string; unit: string }[]; marks: Mark[] }

export function aheadChart(part: HTMLElement, a: any, vessel: string, word: Word, told?: Told): void {
  const s = seriesOf(a, vessel, word), read = told?.readings ?? [], marks = told?.marks ?? [];
  const f = (v: number | null | undefined) => v === null || v === undefined ? "–" : v.toFixed(word === "pH" || word === "ammonia" ? 2 : 1).replace(/^-(?=[0.]+$)/, "");
  const onDay = (list: { at: number; text: string }[], d: string) => list.filter((x) => new Date(x.at * 1000).toISOString().startsWith(d)).map((x) => x.text).join("; ");
  const rows = a.dates.map((d: string, i: number) => [d, f(s.low[i]), f(s.high[i]), ...(s.band ? [`${f(s.band.low[i])} – ${f(s.band.high[i])}`] : []), ...(told ? [onDay(read, d), onDay(marks, d)] : [])]);
  const at = (list: (number | null)[], least: boolean) => list.reduce<number>((best, v, i) => v !== null && (best < 0 || (least ? v < list[best]! : v > list[best]!)) ? i : best, -1);
  const lows = s.low.some((v) => v !== null) ? s.low : s.high, highs = s.high.some((v) => v !== null) ? s.high : s.low;
  const lo = at(lows, true), hi = at(highs, false), name = `${vessel} ${s.label}`, u = s.unit ? ` ${s.unit}` : "";
  const values = read.map((r) => r.value);
  const sentence = W.summary(name, f(lows[lo]), a.dates[lo], f(highs[hi]), a.dates[hi], s.unit) + (!told ? "" : values.length ? ` ${W.readSo(values.length, f(Math.min(...values)), f(Math.max(...values)), u)}` : ` ${W.notRead}`);
  put(part, { name, sentence, marks, rows, head: [W.day, `${W.low}${u}`, `${W.high}${u}`, ...(s.band ? [`${W.band}${u}`] : []), ...(told ? [W.readingWord, W.happened] : [])] },
    (w, box) => w.leatDraw(box, { ...s, marks, ...(read.length ? { readings: { name: W.readings, times: read.map((r) => r.at), values } } : {}) }));
}
/// What the loop carries, week by week, beside what is there.
export function carryChart(part: HTMLElement, a: any): void {
  const kg = (v: number) => (v / 1000).toFixed(1), weeks: any[] = a.weeks;
  const middle = weeks.map((w) => (w.carries?.middle ?? w.limits[0].biomass) as number), need = (w: any) => W.needs[w.limits[0].need] ?? w.limits[0].need;
  const lines = [{ name: W.carries, values: middle }, ...(a.bands ? [{ name: `${W.band} ↓`, values: weeks.map((w) => w.carries.low) }, { name: `${W.band} ↑`, values: weeks.map((w) => w.carries.high) }] : []), { name: W.thereNow, values: weeks.map(() => a.biomass_now) }];
  const least = middle.indexOf(Math.min(...middle)), most = middle.indexOf(Math.max(...middle));
  put(part, { name: W.carryName, sentence: W.carrySummary(kg(middle[least]!), weeks[least].week_of, need(weeks[least]), kg(middle[most]!), weeks[most].week_of), marks: [],
    head: W.carryHead.slice(0, a.bands ? 5 : 4), rows: weeks.map((w, i) => [w.week_of, w.temperature.toFixed(1), kg(middle[i]!), need(w), ...(a.bands ? [`${kg(w.carries.low)}${W.to}${kg(w.carries.high)}`] : [])]) },
  (w, box) => w.leatLines(box, { label: W.carryAxis, times: weeks.map((x) => Date.parse(`${x.week_of}T12:00:00Z`) / 1000), lines: lines.map((l) => ({ ...l, values: l.values.map((v: number) => v / 1000) })) } satisfies Lines));
}
/// Readings of one kind at one place, as they were noted.
export function readingsChart(part: HTMLElement, name: string, kind: string, read: { at: number; value: number; local: string; words: string }[], marks: Mark[]): void {
  const values = read.map((r) => r.value), least = Math.min(...values), most = Math.max(...values), shown = (v: number) => String(Math.round(v * 1000) / 1000);
  put(part, { name, sentence: W.readFrom(values.length, shown(least), shown(most)), marks, head: [W.day, W.readingWord], rows: read.map((r) => [r.local.replace("T", " "), r.words]), csv: [["time", kind], ...read.map((r) => [r.local, String(r.value)])] },
    (w, box) => w.leatLines(box, { label: kind, times: read.map((r) => r.at), lines: [{ name: kind, values }], dots: values.length < 400, marks } satisfies Lines));
}
