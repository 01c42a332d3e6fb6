// How many fish the loop carries through a year, and what limits first.
import { carryChart } from "./chart";
import { fill } from "./desk";
import { h, whenSeen } from "./dom";
import { W } from "./words";

function shown(a: any): (Node | string)[] {
  const box = h("div", {}), b = a.bands, fish = W.carryFish(a.species, a.mass.toFixed(0));
  const head = b?.count_all_year ? W.carryBand(b.count_all_year.middle, fish, b.count_all_year.low, b.count_all_year.high, b.members)
    : a.count_all_year === null ? W.carryNoLimit : W.carryOne(a.count_all_year, fish);
  const first = b ? b.crossings.filter((c: any) => c.first_members > 0).sort((x: any, y: any) => y.first_members - x.first_members)
    .map((c: any) => W.carryFirst(W.needs[c.need] ?? c.need, c.first_members, b.members)) : [W.carryTight(W.needs[a.limited_by] ?? a.limited_by, a.tightest_week)];
  setTimeout(() => carryChart(box, a));
  return [h("p", { class: "verdict" }, head), h("p", {}, W.carryNow(a.count_now), b ? ` ${W.carryTooMany(b.too_many_now_members, b.members)}` : ""),
    h("p", { class: "caution" }, W.carryCare), h("ul", {}, ...first.map((f: string) => h("li", {}, f))), box];
}

export function carryPart(part: HTMLElement): void {
  part.append(h("p", { class: "hint" }, W.carryHint));
  whenSeen(part, () => void fill(part, "/api/carry", shown));
}
