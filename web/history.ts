// What was noted at one part of the loop: its readings as charts with their numbers, and every note.
import { ask } from "./ask";
import { readingsChart } from "./chart";
import { table } from "./desk";
import { dialog, h } from "./dom";
import { byCountry } from "./country";
import { isNumber, marksOf, readingOf } from "./told";
import { W } from "./words";

const spans: [string, string][] = [["90 days ago", W.lastDays(90)], ["365 days ago", W.lastYear], ["", W.allYears]];
export async function history(path: string): Promise<void> {
  const body = h("div", {}), span = h("select", { id: "history-span" }, ...spans.map(([v, label]) => h("option", { value: v }, label)));
  const d = dialog(path, h("p", { class: "field" }, h("label", { for: "history-span" }, W.overDays), span), body, h("div", { class: "row" }, h("button", { onclick: () => d.close() }, W.close)));
  d.classList.add("wide");
  const load = () => filled(body, path, span.value);
  span.addEventListener("change", () => void load());
  await load();
}
async function filled(body: HTMLElement, path: string, since: string): Promise<void> {
  body.replaceChildren(h("p", {}, W.loading));
  let here: any[], all: any[];
  const from = since ? `&since=${encodeURIComponent(since)}` : "";
  try {
    [here, all] = await Promise.all([ask(`/api/record?all=true&where=${encodeURIComponent(path)}${from}`), ask(`/api/record?what=chapter${from}`)]).then((two) => two.map((x) => x.entries)) as [any[], any[]];
  } catch (e) { body.replaceChildren(h("p", {}, (e as Error).message)); return; }
  const kinds = new Map<string, any[]>();
  for (const e of here.filter(isNumber)) {
    const kind = [e.what.replaceAll("_", " "), e.extreme].filter(Boolean).join(" ") + (e.unit ? `, ${unitOf(e.unit)}` : "");
    kinds.set(kind, [...(kinds.get(kind) ?? []), e]);
  }
  const marks = marksOf([...here, ...all.filter((e) => !here.some((x) => x.number === e.number))]);
  body.replaceChildren(...(here.length ? [] : [h("p", {}, W.nothingThere)]));
  for (const [kind, of] of kinds) {
    const read = of.map((e) => ({ ...readingOf(e), local: e.local, words: e.words })).sort((x, y) => x.at - y.at);
    if (read.length > 1) readingsChart(body, `${path} ${kind}`, kind, read, marks);
    else body.append(h("h3", {}, `${path} ${kind}`), h("p", {}, of[0].line));
  }
  if (here.length) body.append(h("h3", {}, W.notedThere), h("ul", { class: "plain" }, ...[...here].reverse().slice(0, 100).map((e) => h("li", {}, byCountry(`${e.number}  ${e.line}`)))));
}
/// The drawing's own rules, in the colours that were chosen here instead of the device's.
function rulesOf(style: string): string {
  const look = localStorage.getItem("look") ?? "", dark = /@media \(prefers-color-scheme:dark\)\{([^]*?)\n\}/.exec(style);
  if (!dark || !look) return style;
  return style.replace(dark[0], look === "dark" ? dark[1]! : "");
}
/// The drawing, each part of which shows what was noted there.
export async function drawing(host: HTMLElement, under: HTMLElement): Promise<void> {
  const text = await (await fetch("/api/drawing")).text();
  // Its style goes into a sheet of its own: the page's rules forbid one that stands in the text.
  const style = /<style[^>]*>([^]*?)<\/style>/.exec(text);
  const svg = new DOMParser().parseFromString(text.replace(style?.[0] ?? "", ""), "image/svg+xml").documentElement as unknown as SVGSVGElement;
  const sheet = new CSSStyleSheet(), look = getComputedStyle(document.body);
  sheet.replaceSync(`${rulesOf(style?.[1] ?? "")} svg{max-width:100%;min-width:34rem;height:auto} .last{pointer-events:none;font:bold 13px sans-serif;text-anchor:middle;fill:${look.color};stroke:${look.backgroundColor};stroke-width:4px;paint-order:stroke;stroke-linejoin:round} [role=button]{cursor:pointer} [role=button]:hover,[role=button]:focus-visible{outline:3px solid #0072B2;outline-offset:2px}`);
  svg.setAttribute("aria-label", W.drawingAlt);
  svg.setAttribute("role", "group");
  for (const g of svg.querySelectorAll("g")) {
    const path = g.querySelector(":scope > title")?.textContent;
    if (!path?.includes(".")) continue;
    g.setAttribute("role", "button");
    g.setAttribute("tabindex", "0");
    g.setAttribute("aria-label", path);
    g.addEventListener("click", () => void history(path));
    g.addEventListener("keydown", (e) => { if (e.key === "Enter" || e.key === " ") { e.preventDefault(); void history(path); } });
  }
  const root = host.attachShadow({ mode: "open" });
  root.adoptedStyleSheets = [sheet];
  root.append(document.adoptNode(svg));
  const put = () => void ask("/api/last").then((a) => putLast(svg, under, a.readings), () => {});
  put();
  const again = (): void => { if (host.isConnected) put(); else document.removeEventListener("changed", again); };
  document.addEventListener("changed", again);
}
interface Last { what: string; where: string; unit: string; value: number; ago_s: number }
const unitOf = (u: string) => u === "degC" ? "°C" : u === "degF" ? "°F" : u;
const ago = (s: number) => s < 5400 ? W.minAgo(Math.max(1, Math.round(s / 60))) : s < 36 * 3600 ? W.hoursAgo(Math.round(s / 3600)) : W.daysAgo(Math.round(s / 86400));
const short = (v: number) => String(Math.round(v * 100) / 100);
/// Puts the last values that are known into each vessel, and all of them into a table below.
function putLast(svg: SVGSVGElement, under: HTMLElement, readings: Last[]): void {
  for (const old of svg.querySelectorAll(".last")) old.remove();
  for (const g of svg.querySelectorAll("g.vessel")) {
    const path = g.querySelector("title")?.textContent ?? "", water = g.querySelector("rect.water, rect");
    const of = readings.filter((r) => r.where === path);
    const newest = (what: string) => of.filter((r) => r.what === what || r.what.startsWith(`${what} `)).sort((a, b) => a.ago_s - b.ago_s);
    const warm = newest("temperature"), oxygen = newest("dissolved_oxygen")[0];
    const least = warm.find((r) => r.what.endsWith(" min")), most = warm.find((r) => r.what.endsWith(" max"));
    const both = least && most && warm[0]!.what !== "temperature";
    const lines = [warm[0] && `${both ? `${short(least.value)}–${short(most.value)}` : short(warm[0].value)} ${unitOf(warm[0].unit)}`, oxygen && `O₂ ${short(oxygen.value)}`].filter((x): x is string => Boolean(x));
    g.setAttribute("aria-label", [path, ...of.map((r) => `${r.what.replaceAll("_", " ")} ${short(r.value)} ${unitOf(r.unit)}, ${ago(r.ago_s)}`)].join("; "));
    if (!water || !lines.length) continue;
    const n = (a: string) => Number(water.getAttribute(a));
    lines.forEach((line, i) => {
      const text = document.createElementNS("http://www.w3.org/2000/svg", "text");
      text.setAttribute("class", "last");
      text.setAttribute("x", String(n("x") + n("width") / 2));
      text.setAttribute("y", String(n("y") + Math.min(n("height") / 2, 40) + 16 * i));
      text.textContent = line;
      svg.append(text);  // not within the key: its name says more
    });
  }
  const rows = [...readings].sort((a, b) => a.where.localeCompare(b.where) || a.ago_s - b.ago_s).map((r) => [r.where || "–", r.what.replaceAll("_", " "), `${short(r.value)} ${unitOf(r.unit)}`, ago(r.ago_s)]);
  under.replaceChildren(...(rows.length ? [h("details", {}, h("summary", {}, W.lastKnown(rows.length)), table(W.lastKnownAll, W.lastKnownHead, rows))] : [h("p", { class: "hint" }, W.nothingRead)]));
}
