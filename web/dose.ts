// What to dose: a few fields, the grams, and the caution on the same answer. The record fills in what is left empty.
import { askHere } from "./ask";
import { table } from "./desk";
import { h } from "./dom";
import { withUnit } from "./start";
import { W } from "./words";

type Field = [flag: string, unit: string];
const fields: Record<string, Field[]> = {
  base: [["ph", ""], ["shaken", ""], ["kh", "mg/L"], ["feed", "g/d"], ["to", ""]],
  acid: [["ph", ""], ["shaken", ""], ["kh", "mg/L"], ["feed", "g/d"], ["to", ""]],
  nitrite: [["reading", "mg/L"], ["there", "mg/L"]],
  iron: [["target", "mg/L"], ["reading", "mg/L"], ["share", "%"]],
  chlorine: [["reading", "mg/L"], ["new-water", "L"]],
  chloramine: [["reading", "mg/L"], ["new-water", "L"]],
  change: [["reading", "mg/L"], ["target", "mg/L"], ["there", "mg/L"]],
};
const label = (what: string, flag: string) => W.doseFields[`${what}.${flag}`] ?? W.doseFields[flag] ?? flag;
const g = (v: number) => v.toPrecision(3).replace(/\.0+$|(\.\d*?)0+$/, "$1");

/// The server speaks of its flags; here they are fields.
const byFields = (what: string, said: string) => fields[what]!.reduce((s, [flag]) => s.replaceAll(new RegExp(`--${flag}(?![\\w-])`, "g"), `"${label(what, flag)}"`), said);

function days(a: any): HTMLElement[] {
  if (!a.days.length) return [];
  const acidity = a.days[0].pH_from !== undefined;
  return [table(W.doseDays, acidity ? W.doseHead : W.doseHead.slice(0, 3), a.days.map((d: any) => [String(d.day), g(d.dry_mass), `${d.goes} × ${g(d.dry_mass / d.goes)}`,
    ...(acidity ? [`${d.pH_from.toFixed(1)}${W.to}${d.pH_to.toFixed(1)}`] : [])]))];
}
const upper = (text: string) => text.startsWith("pH") ? text : text.charAt(0).toUpperCase() + text.slice(1);
/// The caution stands right below the grams, before anything else.
export function dosed(a: any): (Node | string)[] {
  const taken = a.from_record.map((t: any) => h("li", {}, t.used ? `${t.path} ${t.value}: ${t.reason}` : W.notTaken(t.path, t.reason)));
  return [h("p", { class: "verdict" }, `${upper(a.verdict)}.`), ...a.cautions.map((c: string) => h("p", { class: "caution" }, `${upper(c)}.`)),
    ...days(a), a.dry_mass_a_day > 0 && a.days.length ? h("p", {}, W.thenADay(g(a.dry_mass_a_day), a.reagent)) : "",
    h("details", {}, h("summary", {}, W.howWorkedOut), h("ul", {}, ...a.lines.map((l: string) => h("li", {}, `${upper(l)}.`)), ...taken)),
    ...a.assumed.map((l: string) => h("p", { class: "hint" }, `${upper(W.assumed)}: ${l.replace(/; --.*$/, "")}.`))];
}

export function dosePart(part: HTMLElement): void {
  const what = h("select", { id: "dose-what" }, ...Object.keys(fields).map((k) => h("option", { value: k }, W.doseWhat[k] ?? k)));
  const form = h("div", { class: "fields" }), out = h("div", { "aria-live": "polite" });
  let boxes: [string, string, HTMLInputElement][] = [];
  const paint = () => {
    boxes = fields[what.value]!.map(([flag, unit]) => [flag, unit, h("input", { id: `dose-${flag}`, type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 40, placeholder: W.dosePlaceholders[`${what.value}.${flag}`] ?? W.dosePlaceholders[flag] ?? "" })]);
    form.replaceChildren(...boxes.map(([flag, unit, box]) => h("p", { class: "field" }, h("label", { for: box.id }, label(what.value, flag), unit ? `, ${unit}` : ""), box)));
    out.replaceChildren();
  };
  const work = async () => {
    const of = what.value, said = new URLSearchParams({ what: of });
    for (const [flag, unit, box] of boxes) if (box.value.trim()) said.set(flag, withUnit(box.value.trim(), unit));
    try { out.replaceChildren(...dosed(await askHere(`/api/dose?${said}`))); }
    catch (e) { if (of === what.value) out.replaceChildren(h("p", { class: "bad" }, byFields(of, (e as Error).message || W.offline))); }
  };
  what.addEventListener("change", paint);
  part.append(h("p", { class: "hint" }, W.doseHint), h("p", { class: "field" }, h("label", { for: what.id }, W.doseFor), what), form,
    h("div", { class: "row" }, h("button", { class: "main", onclick: () => void work() }, W.workOut)), out);
  paint();
  // Today's base, if the record knows enough; if not, nothing is said before somebody asks.
  void askHere("/api/dose?what=base").then((a) => { if (!out.firstChild && what.value === "base") out.replaceChildren(...dosed(a)); }, () => {});
}
