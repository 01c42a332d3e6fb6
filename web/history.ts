// What was noted at one part of the loop: its readings as charts with their numbers, and every note.
import { ask } from "./ask";
import { exports, loadCharts, table } from "./desk";
import { dialog, h } from "./dom";
import { byCountry } from "./country";
import { W } from "./words";

export async function history(path: string): Promise<void> {
  const body = h("div", {}, h("p", {}, W.loading));
  const d = dialog(path, body, h("div", { class: "row" }, h("button", { onclick: () => d.close() }, W.close)));
  d.classList.add("wide");
  let entries: any[];
  try { entries = (await ask(`/api/record?all=true&where=${encodeURIComponent(path)}`)).entries; }
  catch (e) { body.replaceChildren(h("p", {}, (e as Error).message)); return; }
  const kinds = new Map<string, any[]>();
  for (const e of entries)
    if (e.kind === "reading" && typeof e.low === "number") kinds.set(`${e.what}, ${e.unit ?? ""}`, [...(kinds.get(`${e.what}, ${e.unit ?? ""}`) ?? []), e]);
  body.replaceChildren(...(entries.length ? [] : [h("p", {}, W.nothingThere)]));
  for (const [kind, all] of kinds) chart(body, path, kind, all);
  if (entries.length) body.append(h("h3", {}, W.notedThere), h("ul", { class: "plain" }, ...[...entries].reverse().slice(0, 100).map((e) => h("li", {}, byCountry(`${e.number}  ${e.line}`)))));
}
function chart(body: HTMLElement, path: string, kind: string, all: any[]): void {
  const name = `${path} ${kind.replaceAll("_", " ").replace(/, $/, "")}`;
  const sorted = [...all].sort((a, b) => Date.parse(a.from) - Date.parse(b.from));
  const times = sorted.map((e) => Date.parse(e.from) / 1000), values = sorted.map((e) => e.high === undefined ? e.low : (e.low + e.high) / 2);
  const box = h("div", { class: "chart", role: "img", "aria-label": name });
  const rows = sorted.map((e) => [e.from.slice(0, 16).replace("T", " "), e.words]);
  body.append(h("h3", {}, name), box, h("details", {}, h("summary", {}, W.table), table(name, [W.day, W.readingWord], rows),
    exports(name, box, [["time", kind], ...sorted.map((e, i) => [e.from, String(values[i])])])));
  if (times.length > 1) void loadCharts().then(() => (window as any).leatLines(box, { label: kind, times, lines: [{ name: kind, values }], dots: true }));
  else box.replaceWith(h("p", {}, sorted[0].line));
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
