// Big keys for one wet hand: numbers with half steps, and the steps of drop kits.
import { dialog, h } from "./dom";
import { W } from "./words";

/// Asks for one number; `step` is what the small keys move it by. Resolves to nothing when it is closed.
export function askNumber(title: string, unit: string, start: string, step: number): Promise<string | undefined> {
  return new Promise((resolve) => {
    let text = start, fresh = true;
    const shown = h("output", { class: "shown", "aria-live": "polite" });
    const show = () => { shown.textContent = `${text || "–"} ${unit}`; };
    const key = (c: string) => () => {
      if (fresh) { text = ""; fresh = false; }
      if (c === "." && text.includes(".")) return;
      if (text.length < 7) text += c === "." && !text ? "0." : c;
      show();
    };
    const half = () => {
      fresh = false;
      if (!text.includes(".")) text = `${text || "0"}.5`;
      show();
    };
    const move = (by: number) => () => {
      fresh = false;
      text = String(Math.max(-20, Math.round(((Number(text) || 0) + by) * 100) / 100));
      show();
    };
    const erase = () => { fresh = false; text = text.slice(0, -1); show(); };
    const done = (value?: string) => () => { d.close(); resolve(value === undefined ? undefined : text); };
    const keys = [..."123456789"].map((c) => h("button", { onclick: key(c) }, c));
    const pad = h("div", { class: "pad" }, ...keys, h("button", { onclick: key(".") }, "."), h("button", { onclick: key("0") }, "0"),
      h("button", { onclick: half, "aria-label": W.andAHalf }, W.half),
      h("button", { onclick: move(-step), "aria-label": W.less }, `− ${step}`),
      h("button", { onclick: erase, "aria-label": W.erase }, "⌫"),
      h("button", { onclick: move(step), "aria-label": W.more }, `+ ${step}`));
    const d = dialog(title, shown, pad, h("div", { class: "row" },
      h("button", { onclick: done() }, W.cancel),
      h("button", { class: "main", onclick: () => { if (text && Number.isFinite(Number(text))) done("")(); } }, W.keep)));
    d.addEventListener("keydown", (e) => {
      if (/^[0-9.]$/.test(e.key)) key(e.key)();
      else if (e.key === "Backspace") erase();
    });
    d.addEventListener("cancel", () => resolve(undefined));
    show();
  });
}

export function askChoice(title: string, choices: string[]): Promise<number | undefined> {
  return new Promise((resolve) => {
    const done = (i?: number) => () => { d.close(); resolve(i); };
    const d = dialog(title, h("div", { class: "choices" }, ...choices.map((c, i) => h("button", { onclick: done(i) }, c))),
      h("div", { class: "row" }, h("button", { onclick: done() }, W.cancel)));
    d.addEventListener("cancel", () => resolve(undefined));
  });
}

export function askWords(title: string, label: string, start = ""): Promise<string | undefined> {
  return new Promise((resolve) => {
    const box = h("textarea", { id: "said", rows: 3, maxlength: 1000 });
    box.value = start;
    const done = (v?: string) => () => { d.close(); resolve(v === undefined ? undefined : box.value.trim() || undefined); };
    const d = dialog(title, h("label", { for: "said" }, label), box,
      h("div", { class: "row" }, h("button", { onclick: done() }, W.cancel), h("button", { class: "main", onclick: done("") }, W.keep)));
    d.addEventListener("cancel", () => resolve(undefined));
    box.focus();
  });
}

interface Kit { name: string; word: string; unit: string; steps: number[] }
// Steps as drop kits commonly have them (common practice); the colours differ from kit to kit, so none is shown here.
export const kits: Kit[] = [
  { name: W.kits.ammonia, word: "nh3", unit: "mg/L", steps: [0, 0.25, 0.5, 1, 2, 4, 8] },
  { name: W.kits.nitrite, word: "no2", unit: "mg/L", steps: [0, 0.25, 0.5, 1, 2, 5] },
  { name: W.kits.nitrate, word: "no3", unit: "mg/L", steps: [0, 5, 10, 20, 40, 80] },
  { name: "pH", word: "ph", unit: "", steps: [6, 6.2, 6.4, 6.6, 6.8, 7, 7.2, 7.4, 7.6, 8] },
  { name: "KH", word: "kh", unit: "drops", steps: [1, 2, 3, 4, 5, 6, 7, 8, 10, 12] },
];

/// One step, or two beside each other for what lies between. Resolves to the phrase of a note.
export function askStep(kit: Kit): Promise<string | undefined> {
  return new Promise((resolve) => {
    const chosen = new Set<number>();
    const buttons = kit.steps.map((s, i) => h("button", { "aria-pressed": "false", onclick: () => {
      if (chosen.has(i)) chosen.delete(i);
      else {
        for (const c of [...chosen]) if (Math.abs(c - i) > 1 || chosen.size > 1) chosen.delete(c);
        chosen.add(i);
      }
      buttons.forEach((b, j) => b.setAttribute("aria-pressed", String(chosen.has(j))));
    } }, `${s} ${kit.unit}`));
    const phrase = () => {
      const [a, b] = [...chosen].sort((x, y) => x - y).map((i) => kit.steps[i]);
      const value = b === undefined ? `${a}` : `between ${a} and ${b}`;
      return `${kit.word} ${value}${kit.unit ? ` ${kit.unit}` : ""}`;
    };
    const done = (keep: boolean) => () => {
      if (keep && !chosen.size) return;
      d.close(); resolve(keep ? phrase() : undefined);
    };
    const d = dialog(`${kit.name}: ${W.whichStep}`, h("div", { class: "choices" }, ...buttons),
      h("div", { class: "row" }, h("button", { onclick: done(false) }, W.cancel), h("button", { class: "main", onclick: done(true) }, W.keep)));
    d.addEventListener("cancel", () => resolve(undefined));
  });
}
