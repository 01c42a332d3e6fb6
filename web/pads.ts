// Big keys for one wet hand: numbers with half steps, choices, words.
import { dialog, h } from "./dom";
import { W } from "./words";

/// Something that may be said beside a number, by a key that stays down.
export interface Beside { label: string; on: boolean }
/// Asks for one number; `step` is what the small keys move it by. Resolves to nothing when it is closed.
export function askNumber(title: string, unit: string, start: string, step: number, beside?: Beside): Promise<string | undefined> {
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
      h("button", { onclick: half, "aria-label": `${W.half} ${W.andAHalf}` }, W.half),
      h("button", { onclick: move(-step), "aria-label": `− ${step}: ${W.less}` }, `− ${step}`),
      h("button", { onclick: erase, "aria-label": W.erase }, "⌫"),
      h("button", { onclick: move(step), "aria-label": `+ ${step}: ${W.more}` }, `+ ${step}`));
    const also = beside && h("button", { class: "beside", "aria-pressed": "false", onclick: () => { beside.on = !beside.on; also!.setAttribute("aria-pressed", String(beside.on)); } }, beside.label);
    const d = dialog(title, shown, pad, also, h("div", { class: "row" },
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

export function askWords(title: string, label: string, start = "", mayBeEmpty = false): Promise<string | undefined> {
  return new Promise((resolve) => {
    const box = h("textarea", { id: "said", rows: 3, maxlength: 1000 });
    box.value = start;
    const done = (v?: string) => () => { d.close(); resolve(v === undefined ? undefined : box.value.trim() || (mayBeEmpty ? "" : undefined)); };
    const d = dialog(title, h("label", { for: "said" }, label), box,
      h("div", { class: "row" }, h("button", { onclick: done() }, W.cancel), h("button", { class: "main", onclick: done("") }, W.keep)));
    d.addEventListener("cancel", () => resolve(undefined));
    box.focus();
  });
}
