// Before buying: a plan in the words of the loop's file, beside the loop as it is.
import { sent } from "./ask";
import { findings, table } from "./desk";
import { h } from "./dom";
import { W } from "./words";

const number = (v: unknown): string => typeof v === "number" ? (Math.abs(v) >= 100 ? v.toFixed(0) : v.toFixed(2)) : v === null || v === undefined ? "–" : typeof v === "object" ? Object.values(v as object).map(number).join(" to ") : String(v);

function shown(a: any): (Node | string)[] {
  const out: (Node | string)[] = [h("h2", {}, W.verdict), h("p", { class: "verdict" }, a.verdict), h("ul", {}, ...a.reasons.map((r: string) => h("li", {}, r)))];
  const unit = (w: string) => a.units[w] ? ` ${a.units[w]}` : "";
  for (const [tank, both] of Object.entries<any>(a.tanks)) {
    const words = [...new Set([...Object.keys(both.now ?? {}), ...Object.keys(both.plan ?? {})])];
    out.push(table(tank, ["", W.now2, W.planned], words.map((w) => [w.replaceAll("_", " ") + unit(w === "duration_to_danger" ? "duration" : w), number(both.now?.[w]), number(both.plan?.[w])])));
  }
  out.push(h("h3", {}, W.planned), ...findings(a.proposed?.findings ?? []));
  return out;
}

export function planView(main: HTMLElement): void {
  const text = h("textarea", { id: "plan", rows: 12, spellcheck: "false" });
  text.value = localStorage.getItem("plan") ?? W.planStart;
  text.addEventListener("input", () => localStorage.setItem("plan", text.value));
  const out = h("div", { "aria-live": "polite" });
  const compare = async () => {
    out.replaceChildren(h("p", {}, W.loading));
    try {
      const r = await sent("/api/compare", { plan: text.value });
      const a = await r.json();
      out.replaceChildren(...(r.ok ? shown(a) : [h("pre", { class: "bad" }, a.problems)]));
    } catch { out.replaceChildren(h("p", { class: "bad" }, W.offline)); }
  };
  main.replaceChildren(h("h1", {}, W.plan), h("p", {}, W.planIntro), h("label", { for: "plan" }, W.planText), text,
    h("div", { class: "row" }, h("button", { class: "main", onclick: () => void compare() }, W.compare)), out);
}
