// What to do now, without typing and without a connection: from tables worked out beforehand.
import { dialog, h } from "./dom";
import { askChoice } from "./pads";
import { keptAnswer } from "./store";
import { W } from "./words";

interface Row { temperature: number; share_of_stock: number; fish_are: string; duration_to_low: number | null; duration_to_low_soonest: number | null; duration_to_danger: number | null; duration_to_danger_soonest: number | null }
const stories = ["power", "gasping", "flooding"];
const said = ["power off", "fish gasping", "flooding"];

export const ageWords = (ms: number) => {
  const h = ms / 3.6e6;
  return h < 1.5 ? W.minAgo(Math.max(1, Math.round(h * 60))) : h < 36 ? W.hoursAgo(Math.round(h)) : W.daysAgo(Math.round(h / 24));
};
const clockWords = (minutes: number) => {
  if (minutes <= 0) return W.past;
  const s = Math.floor(minutes * 60), min = Math.floor(s / 60);
  // To the second only where it is a matter of minutes: the times are a guess.
  return min >= 60 ? W.hoursMinutes(Math.floor(min / 60), String(min % 60).padStart(2, "0")) : min >= 10 ? W.minutesOnly(min) : W.minutesSeconds(min, String(s % 60).padStart(2, "0"));
};

/// The row that fits today's water; fed fish, full stock: the careful side.
function rowFor(rows: Row[], celsius: number): Row {
  const stock = rows.filter((r) => Math.abs(r.share_of_stock - 100) < 1 && r.fish_are === "fed");
  const all = stock.length ? stock : rows;
  // The warmer neighbour: less time, not more.
  return all.filter((r) => r.temperature >= celsius).sort((a, b) => a.temperature - b.temperature)[0] ?? all[all.length - 1];
}

export async function emergency(note: (words: string) => void): Promise<void> {
  const which = await askChoice(W.what, [W.power, W.gasping, W.flooding]);
  if (which === undefined) return;
  const since = await askChoice(W.since, [W.now, W.m30, W.h2, W.unknown]);
  if (since === undefined) return;
  const ago = [0, 30, 120, 120][since];
  note(since === 3 ? `${said[which]} since unknown` : since ? `${said[which]} ${ago} min ago` : said[which]);
  await show(stories[which], Date.now() - ago * 60000, since === 3, note);
}

async function show(story: string, began: number, unknown: boolean, note: (words: string) => void): Promise<void> {
  const [table, outage, feed] = await Promise.all([keptAnswer("emergency"), keptAnswer("outage"), keptAnswer("feed")]);
  const parts: (HTMLElement | string)[] = [];
  const ticks: (() => void)[] = [];
  const countdown = (label: string, likely: number | null, soonest: number | null) => {
    const t = h("strong", { role: "timer" }), most = h("span", {});
    ticks.push(() => {
      const gone = (Date.now() - began) / 60000;
      t.textContent = soonest === null ? W.never : clockWords(soonest - gone);
      most.textContent = soonest === null ? "" : `, ${W.likely} ${likely === null ? W.never : clockWords(likely - gone)}`;
    });
    return h("p", { class: "count" }, `${label}, ${W.soonest}: `, t, most);
  };
  if (table && story !== "flooding") {
    const celsius = feed ? JSON.parse(feed.text).temperature : 15;
    for (const t of JSON.parse(table.text).tables) {
      const row = rowFor(t.rows, celsius);
      parts.push(h("h3", {}, `${t.tank}: ${W.left}`), countdown(W.toLow, row.duration_to_low, row.duration_to_low_soonest),
        countdown(W.toDanger, row.duration_to_danger, row.duration_to_danger_soonest),
        h("p", { class: "hint" }, `${W.taken(row.temperature.toFixed(0), row.fish_are)} ${W.tableAge(ageWords(Date.now() - table.at))}`));
    }
  } else if (!table) parts.push(h("p", {}, W.noTable));
  if (unknown) parts.push(h("p", {}, W.unknownSince));
  const steps = h("ol", { class: "steps" });
  const own = outage && story === "power" ? Object.values<any>(JSON.parse(outage.text).fish ?? {}).flatMap((f) => f.actions ?? []) : [];
  if (own.length) for (const a of own) steps.append(h("li", {}, h("strong", {}, a.what), `: ${a.why}.`, a.caution ? h("em", {}, ` ${a.caution}.`) : ""));
  else for (const line of W.general[story]) steps.append(h("li", {}, line));
  const d = dialog(`${W.emergency}: ${story === "power" ? W.power : story === "gasping" ? W.gasping : W.flooding}`,
    h("p", { class: "caution" }, W.caution), ...parts, h("h3", {}, W.doNow), steps,
    h("div", { class: "row" }, h("button", { onclick: () => d.close() }, W.close),
      story === "power" && h("button", { class: "main", onclick: () => { d.close(); note("power back on"); } }, W.over)));
  const tick = () => { for (const t of ticks) t(); };
  tick();
  const timer = setInterval(tick, 1000);
  d.addEventListener("close", () => clearInterval(timer));
}
