// What was noted at one part of the loop: its readings as charts with their numbers, and every note.
import { ask } from "./ask";
import { readingsChart } from "./chart";
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
    const kind = [e.what.replaceAll("_", " "), e.extreme].filter(Boolean).join(" ") + (e.unit ? `, ${e.unit}` : "");
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
export async function drawing(host: HTMLElement): Promise<void> {
  const text = await (await fetch("/api/drawing")).text();
  // Its style goes into a sheet of its own: the page's rules forbid one that stands in the text.
  const style = /<style[^>]*>([^]*?)<\/style>/.exec(text);
  const svg = new DOMParser().parseFromString(text.replace(style?.[0] ?? "", ""), "image/svg+xml").documentElement as unknown as SVGSVGElement;
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`${rulesOf(style?.[1] ?? "")} svg{max-width:100%;min-width:34rem;height:auto} [role=button]{cursor:pointer} [role=button]:hover,[role=button]:focus-visible{outline:3px solid #0072B2;outline-offset:2px}`);
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
}
