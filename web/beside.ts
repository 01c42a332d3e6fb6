// The loop as it is beside the plan: sound or not, a power cut, the days ahead, what it takes. Shows one answer of compare.
import { table } from "./desk";
import { h } from "./dom";
import { W } from "./words";

const places: Record<string, number> = { flow: 0, power: 0, energy: 0, water: 0, water_window: 0, water_lost: 0, duration_to_danger: 0 };
const shown = (word: string, v: unknown): string => v === null || v === undefined ? "–"
  : typeof v === "number" ? (v.toFixed(places[word] ?? 1).replace(/^-(?=[0.]+$)/, ""))
    : typeof v === "object" ? Object.values(v as object).map((x) => shown(word, x)).join(W.to) : String(v);

const stored = (): Record<string, string> => JSON.parse(localStorage.getItem("prices") ?? "{}");
/// A field for a price of the grower's own; kept on this device under what it is of.
function price(of: string, label: string, then: () => void): HTMLElement {
  const box = h("input", { type: "text", inputmode: "decimal", maxlength: 12, autocomplete: "off", placeholder: W.priceNone, "aria-label": `${label}: ${of}` });
  box.value = stored()[of] ?? "";
  box.addEventListener("input", () => { localStorage.setItem("prices", JSON.stringify({ ...stored(), [of]: box.value.trim() })); then(); });
  return box;
}
const priced = (of: string): number | undefined => { const text = (stored()[of] ?? "").replace(",", "."), v = Number(text); return text && Number.isFinite(v) && v >= 0 ? v : undefined; };
/// What it costs, as far as the grower knows the prices.
function costs(a: any): Node[] {
  const list = h("ul", { class: "plain prices" }), sum = h("p", { class: "sum", role: "status" }), run = h("p", { role: "status" });
  const add = () => {
    const known = a.bill.to_get.filter((b: any) => priced(b.what) !== undefined);
    sum.textContent = a.bill.to_get.length ? W.together(known.reduce((s: number, b: any) => s + b.amount * priced(b.what)!, 0).toFixed(2), known.length, a.bill.to_get.length) : "";
    const kwh = priced("kWh"), of = (x: any) => kwh === undefined || typeof x?.energy !== "number" ? "–" : (x.energy * kwh).toFixed(0);
    run.textContent = kwh === undefined ? "" : `${W.runs}: ${W.now2} ${of(a.now)}, ${W.planned} ${of(a.proposed)}`;
  };
  for (const b of a.bill.to_get) list.append(h("li", {}, h("span", {}, `${Number(b.amount.toFixed(2))} ${b.unit === "pieces" ? "×" : b.unit} ${b.what}`), price(b.what, W.priceOf(b.unit === "pieces" ? "" : b.unit), add)));
  if (!a.bill.to_get.length) list.append(h("li", {}, W.nothingToGet));
  add();
  return [h("p", { class: "prices" }, h("span", {}, W.perKwh), price("kWh", W.perKwh, add)), run, h("h3", {}, W.toGet), list, sum, h("p", { class: "hint" }, W.ownPrices)];
}

/// `withDays`: the whole; without them what is said of the plumbing and of a power cut alone.
export function besides(a: any, withDays: boolean): (Node | string)[] {
  const unit = (w: string) => a.units[w === "duration_to_danger" ? "duration" : w.startsWith("water") ? "water" : w] ?? "";
  const row = (word: string, now: unknown, plan: unknown) => [`${W.beside_[word] ?? word.replaceAll("_", " ")}${unit(word) ? `, ${unit(word)}` : ""}`, shown(word, now), shown(word, plan)];
  const whole = (word: string) => row(word, a.now?.[word], a.proposed?.[word]);
  const tanks = (words: string[]) => Object.entries<any>(a.tanks).flatMap(([tank, both]) => words.filter((w) => both.now?.[w] !== undefined || both.plan?.[w] !== undefined)
    .map((w) => { const r = row(w, both.now?.[w], both.plan?.[w]); r[0] = `${tank} ${r[0]}`; return r; }));
  const verdicts = (f: any[] | undefined) => ["NO", "CARE", "ok"].map((v) => `${(f ?? []).filter((x) => x.verdict === v).length} ${v}`).join(", ");
  const head = [W.whatOf, W.now2, W.planned];
  return [h("p", { class: "verdict" }, W.verdicts[a.verdict] ?? a.verdict), withDays ? "" : h("p", { class: "hint" }, W.soFar), h("ul", {}, ...a.reasons.map((r: string) => h("li", {}, r))),
    table(W.check, head, [[W.statements, verdicts(a.now?.findings), verdicts(a.proposed?.findings)], whole("water_window"), ...tanks(["flow", "turnover"])]),
    table(W.inACut, head, [whole("water_lost"), ...tanks(["duration_to_danger"])]),
    withDays ? table(W.ahead, head, tanks(["temperature", "swing", "dissolved_oxygen"])) : h("p", { class: "hint", role: "status" }, `${W.ahead}: ${W.loading}`),
    table(W.cost, head, [whole("power"), whole("energy")]),
    ...costs(a),
    ...a.cautions.map((c: string) => h("p", { class: "caution" }, c))];
}
