// The first answers: is it sound, how long in a power cut, the swing, the feed; each as rough as what it stands on.
import { fill } from "./desk";
import { h } from "./dom";
import type { Begun } from "./start";
import { W } from "./words";

const rough = (n: number) => h("p", { class: "hint" }, n ? W.rough(n) : W.asSaid);
const big = (text: string) => h("p", { class: "verdict" }, text);
const deg = (v: number) => v.toFixed(1).replace(/^-(?=0\.0$)/, "");

export function firstAnswers(main: HTMLElement, begun: Begun): void {
  const n = begun.guesses.length;
  main.replaceChildren(h("h1", {}, W.firstAnswers), h("p", {}, W.firstIntro));
  const part = (title: string, path: string, show: (a: any) => (Node | string)[]) => {
    const s = h("section", { class: "first" }, h("h2", {}, title));
    main.append(s);
    void fill(s, path, (a) => [...show(a), rough(n)]);
  };
  part(W.check, "/api/check", (a) => {
    const bad = a.findings.filter((f: any) => f.verdict === "NO"), care = a.findings.filter((f: any) => f.verdict !== "NO" && f.verdict !== "ok");
    return [big(bad.length ? W.notSound : care.length ? W.soundIf(care.length) : W.sound),
      ...[...bad, ...care].slice(0, 3).map((f: any) => h("p", {}, h("strong", {}, `${f.path}: `), f.reason, f.action ? h("span", { class: "hint" }, `. ${W.toDo} ${f.action}.`) : ""))];
  });
  part(W.inACut, "/api/outage", (a) => Object.entries<any>(a.fish ?? {}).flatMap(([tank, f]) => [big(`${tank}: ${f.verdict}`), h("p", { class: "hint" }, f.band)]));
  part(W.feedToday, "/api/feed", (a) => [big(a.groups.map((g: any) => g.stop ? W.noFeed : `${Math.round(g.feed_given)} ${a.units.feed_given}`).join(", ")),
    h("p", {}, (a.groups[0]?.why ?? []).join("; "))]);
  part(W.nextDays, "/api/ahead?days=3", (a) => {
    const tank = Object.keys(a.vessels).find((v) => v.startsWith("tank."))!;
    const days: any[] = a.bands?.tanks?.[tank] ?? [];
    const swings: number[] = a.vessels[tank].map((d: any) => d.swing);
    const owes: any[] = a.bands?.owes_most_to ?? [];
    return [big(W.swing(deg(Math.max(...swings)), a.units.swing)), h("ul", {}, ...days.map((d) => h("li", {}, W.dayBand(d.date, deg(d.coldest.low), deg(d.warmest.high))))),
      h("h2", {}, W.sharpen), h("p", {}, begun.guesses[0] ? W.measureFirst(sharpest(begun)) : W.nothingToSharpen),
      ...(owes[0] ? [h("p", { class: "hint" }, W.owes(owes[0].what, owes[0].to.map((t: any) => typeof t === "string" ? t : t.thing ?? t.path ?? "").filter(Boolean).slice(0, 2).join(", ")))] : [])];
  });
  main.append(h("details", {}, h("summary", {}, W.guessed(n)), h("ul", { class: "plain" }, ...begun.guesses.map((g) => h("li", {}, h("strong", {}, `${g.path}${g.value ? ` = ${g.value}` : ""}`), `: ${g.reason}. `, h("span", { class: "hint" }, g.better))))),
    h("details", {}, h("summary", {}, W.theFile), h("pre", { class: "scroll", tabindex: "0", "aria-label": W.theFile }, begun.text)),
    h("div", { class: "row" }, h("a", { class: "button main", href: "#tank" }, W.goOn)));
}

/// Of what was guessed, the one thing that sharpens most: where it stands and the night first, then the tank, the fish, the flow.
function sharpest(begun: Begun): string {
  const order = ["place.latitude", "water.temperature", "tank.main.volume", "fish.first.mass", "fish.first.count", "pipe.tank.flow", "pump.main.largest_flow"];
  for (const path of order) { const g = begun.guesses.find((x) => x.path === path); if (g) return g.better; }
  return begun.guesses[0]!.better;
}
