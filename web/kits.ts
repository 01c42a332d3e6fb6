// Test kits by their steps, in the order in which they stand on a kit's own card. What is read lies on a step, between two, below
// the first or above the last: an interval, never a false decimal.
import { dialog, h } from "./dom";
import { askWords } from "./pads";
import { W } from "./words";

export interface Kit { key: string; name: string; word: string; unit: string; steps: number[]; counted?: boolean }
// Steps as drop kits commonly have them (common practice). Their colours differ from kit to kit and are the makers' own: none is
// shown here, the grower's card says which step it is.
const usual: Kit[] = [
  { key: "ammonia", name: W.kits.ammonia!, word: "nh3", unit: "mg/L", steps: [0, 0.25, 0.5, 1, 2, 4, 8] },
  { key: "nitrite", name: W.kits.nitrite!, word: "no2", unit: "mg/L", steps: [0, 0.25, 0.5, 1, 2, 5] },
  { key: "nitrate", name: W.kits.nitrate!, word: "no3", unit: "mg/L", steps: [0, 5, 10, 20, 40, 80] },
  { key: "ph", name: "pH", word: "ph", unit: "", steps: [6, 6.2, 6.4, 6.6, 6.8, 7, 7.2, 7.4, 7.6, 8] },
  { key: "kh", name: "KH", word: "kh", unit: "drops", steps: [1, 2, 3, 4, 5, 6, 7, 8, 10, 12], counted: true },
];
/// The grower's own kit, if its steps were put in on this device.
function own(kit: Kit): Kit {
  const said = /^([\d.\s]+)\s*(\D*)$/.exec(localStorage.getItem(`kit.${kit.key}`) ?? "");
  const steps = said ? stepsOf(said[1]!) : [];
  return steps.length > 1 ? { ...kit, steps, unit: said![2]!.trim() || kit.unit } : kit;
}
const stepsOf = (text: string) => [...new Set(text.split(/[\s;]+/).filter(Boolean).map(Number).filter(Number.isFinite))].sort((a, b) => a - b);
export const kits = (): Kit[] => usual.map(own);

async function change(kit: Kit): Promise<void> {
  const said = await askWords(W.kitOwn(kit.name), W.kitOwnAsk, `${kit.steps.join("  ")} ${kit.unit}`.trim(), true);
  if (said === undefined) return;
  const text = said.replaceAll(",", " ").trim(), numbers = /^[\d.\s;]+/.exec(text)?.[0] ?? "";
  if (stepsOf(numbers).length > 1) localStorage.setItem(`kit.${kit.key}`, text);
  else localStorage.removeItem(`kit.${kit.key}`);
}

/// What was read, in the words of the record: on a step, between two, below the first, above the last.
function said(kit: Kit, on: Set<number>): string {
  const [a, b] = [...on].sort((x, y) => x - y), at = (i: number) => kit.steps[i], unit = kit.unit ? ` ${kit.unit}` : "";
  if (a === -1) return `<${at(0)}${unit}`;
  if (a === kit.steps.length) return `>${at(a - 1)}${unit}`;
  return `${b === undefined ? at(a!) : `between ${at(a!)} and ${at(b)}`}${unit}`;
}
/// One step, or two beside each other for what lies between. Resolves to the phrase of a note.
export function askStep(kit: Kit): Promise<string | undefined> {
  return new Promise((resolve) => {
    const on = new Set<number>(), last = kit.steps.length, shown = h("output", { class: "shown", "aria-live": "polite" });
    const paint = () => {
      shown.textContent = on.size ? said(kit, on) : "–";
      for (const [i, b] of buttons) b.setAttribute("aria-pressed", String(on.has(i)));
    };
    const touch = (i: number) => () => {
      if (on.has(i)) on.delete(i);
      else {
        for (const c of [...on]) if (i < 0 || i === last || c < 0 || c === last || Math.abs(c - i) > 1 || on.size > 1 || kit.counted) on.delete(c);
        on.add(i);
      }
      paint();
    };
    const step = (i: number, label: string, which?: string): [number, HTMLButtonElement] => [i, h("button", { "aria-pressed": "false", onclick: touch(i) }, h("span", {}, label), which !== undefined && h("small", {}, which))];
    const buttons = [...(kit.steps[0]! > 0 && !kit.counted ? [step(-1, W.kitBelow(String(kit.steps[0])))] : []),
      ...kit.steps.map((s, i) => step(i, `${s} ${kit.unit}`, kit.counted ? undefined : W.kitStep(i + 1, last))), step(last, W.kitAbove(String(kit.steps[last - 1])))];
    const done = (keep: boolean) => () => {
      if (keep && !on.size) return;
      d.close(); resolve(keep ? `${kit.word} ${said(kit, on)}` : undefined);
    };
    const other = h("button", { class: "quiet", onclick: () => { d.close(); void change(kit).then(() => askStep(own(usual.find((k) => k.key === kit.key)!))).then(resolve); } }, W.kitOther);
    const d = dialog(`${kit.name}: ${kit.counted ? W.whichDrop : W.whichStep}`, shown, h("div", { class: "ladder" }, ...buttons.map(([, b]) => b)), other,
      h("div", { class: "row stays" }, h("button", { onclick: done(false) }, W.cancel), h("button", { class: "main", onclick: done(true) }, W.keep)));
    d.addEventListener("cancel", () => resolve(undefined));
    paint();
  });
}
