// What the plantings say: the sentence first, then what it stands on.
import { table } from "./desk";
import { h } from "./dom";
import { byCountry } from "./country";
import { W } from "./words";

const g = (v: number | undefined) => v === undefined ? "–" : v.toFixed(0).replace(/^-0$/, "0");
const percent = (v: number) => `${(100 * v).toFixed(0)} %`;
const mean = (list: { mass: number }[]) => list.length ? g(list.reduce((s, x) => s + x.mass, 0) / list.length) : "–";

function one(t: any): (Node | string)[] {
  const said = (line: string) => byCountry(line);
  const stands = (t.stands ?? []).map((s: any) => [s.bed, s.planted, g(s.count_places), g(s.count_died), g(s.count_replaced), g(s.count_standing), g(s.survivors.length), mean(s.survivors)]);
  const apart = (c: any) => c.mass_difference_low === undefined ? g(c.mass_difference) : `${g(c.mass_difference)} (${g(c.mass_difference_low)}${W.to}${g(c.mass_difference_high)})`;
  const compared = (t.compared ?? []).map((c: any) => [W.bases[c.basis] ?? c.basis, `${c.first}: ${g(c.mass_first)}`, `${c.second}: ${g(c.mass_second)}`, apart(c), c.p === undefined ? "–" : c.p.toFixed(c.p < 0.095 ? 3 : 2)]);
  const lived = (t.lived ?? []).map((l: any) => [l.treatment, W.ofPlaces(g(l.count_alive), g(l.count_places)), `${percent(l.share_low)}${W.to}${percent(l.share_high)}`]);
  const list = (title: string, lines: string[]) => lines.length ? [h("h4", {}, title), h("ul", {}, ...lines.map((x) => h("li", {}, said(x))))] : [];
  return [h("h3", {}, said(`${t.crop}, ${t.from}${W.to}${t.to}`)), h("p", { class: "verdict" }, t.sentence ? said(t.sentence) : W.notCompared),
    ...(stands.length ? [table(W.stands, W.standsHead, stands)] : []), ...(compared.length ? [table(W.compared, W.comparedHead, compared)] : []),
    ...(lived.length ? [table(W.lived, W.livedHead, lived)] : []), ...list(W.care, t.warnings ?? []),
    ...list(W.leftOut, (t.left_out ?? []).map((e: any) => `${g(e.count)} ${e.what}, ${e.bed}: ${e.reason}`)),
    ...list(W.whileGrew, (t.events ?? []).map((e: any) => `${e.date} ${e.what} (${e.entry})`))];
}
export const trials = (a: any): (Node | string)[] => a.trials.length ? a.trials.flatMap(one) : [h("p", {}, W.noTrial)];
