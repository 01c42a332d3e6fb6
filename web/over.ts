// The weeks that were: what was read over what the model says of the same days.
import { ask } from "./ask";
import { aheadChart } from "./chart";
import { fill } from "./desk";
import { h, whenSeen } from "./dom";
import { isNumber, marksOf, readingAsShown } from "./told";
import { W } from "./words";

const words = ["temperature", "dissolved_oxygen", "pH", "ammonia"] as const;
const lengths = [14, 30, 90];
const daysAgo = (n: number) => new Date(Date.now() - n * 86400e3 - new Date().getTimezoneOffset() * 60e3).toISOString().slice(0, 10);

function show(a: any, entries: any[]): Node[] {
  const tank = Object.keys(a.vessels).find((v) => v.startsWith("tank.")) ?? Object.keys(a.vessels)[0]!;
  const box = h("div", {}), marks = marksOf(entries);
  setTimeout(() => {
    for (const word of words)  // what no unit can be told of is not put on the axis
      aheadChart(box, a, tank, word, { marks, readings: entries.filter((e) => isNumber(e) && e.what === word && e.where === tank && e.as_shown?.unit === a.units[word]).map(readingAsShown) });
  });
  return [h("p", {}, W.overHow), box];
}
export function overPart(part: HTMLElement): void {
  const body = h("div", {});
  const length = h("select", { id: "over-days" }, ...lengths.map((n) => h("option", { value: String(n) }, W.lastDays(n))));
  const load = async (): Promise<void> => {
    const days = Number(length.value), start = daysAgo(days);
    body.replaceChildren();
    let entries: any[] = [];
    try { entries = (await ask(`/api/record?since=${start}`)).entries; } catch { /* the model alone is shown */ }
    if (!part.isConnected) return;  // the view was left meanwhile
    await fill(body, `/api/ahead?start=${start}&days=${days}`, (a) => show(a, entries));
  };
  length.addEventListener("change", () => void load());
  part.append(h("p", { class: "field" }, h("label", { for: "over-days" }, W.overDays), length), body);
  whenSeen(part, () => void load());
}
