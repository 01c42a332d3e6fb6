// One relation of the trade with its source: every input keeps the unit that it is typed with.
import { ask, askHere } from "./ask";
import { h } from "./dom";
import { withUnit } from "./start";
import { W } from "./words";

const plain = (name: string) => name.replaceAll("_", " ");
const number = (v: number) => String(Number(v.toPrecision(6)));

export function calcPart(part: HTMLElement): void {
  const which = h("input", { id: "calc-which", list: "calc-all", autocomplete: "off", maxlength: 80, placeholder: W.calcSuch });
  const all = h("datalist", { id: "calc-all" }), form = h("div", { class: "fields" }), out = h("div", { "aria-live": "polite" });
  const opened = h("details", {}, h("summary", {}, W.calcOpen), h("p", { class: "hint" }, W.calcHint), h("p", { class: "field" }, h("label", { for: which.id }, W.calcWhich), which), all, form, out);
  part.append(opened);
  let relations: any[] = [];
  let boxes: [string, string, HTMLInputElement][] = [];
  const work = async (relation: string) => {
    const said = new URLSearchParams({ relation });
    for (const [name, unit, box] of boxes) if (box.value.trim()) said.append("input", `${name}=${withUnit(box.value.trim(), unit)}`);
    try {
      const a = await askHere(`/api/calc?${said}`);
      out.replaceChildren(...a.outputs.map((o: any) => h("p", { class: "verdict" }, `${plain(o.name)} = ${number(o.value)} ${o.unit}`)),
        h("ul", {}, ...a.inputs.map((i: any) => h("li", {}, `${plain(i.name)} = ${i.shown}${i.assumed ? ` (${W.assumed})` : ""}${i.beyond ? `; ${W.beyond(i.beyond)}` : ""}`))), h("p", { class: "hint" }, `${W.source}: ${a.source}`));
    } catch (e) { out.replaceChildren(h("p", { class: "bad" }, (e as Error).message || W.offline)); }
  };
  const paint = () => {
    const r = relations.find((x) => x.relation === which.value.trim());
    out.replaceChildren();
    if (!r) { form.replaceChildren(); return; }
    boxes = r.inputs.map((i: any) => [i.name, i.is_word ? "" : i.unit, h("input", { id: `calc-${i.name}`, type: "text", autocomplete: "off", maxlength: 60, placeholder: i.may_be_left_out ? W.mayBeLeft : "" })]);
    form.replaceChildren(h("p", {}, r.meaning), ...boxes.map(([name, unit, box]) => h("p", { class: "field" }, h("label", { for: box.id }, `${plain(name)}${unit ? `, ${unit}` : ""}`), box)),
      h("div", { class: "row" }, h("button", { class: "main", onclick: () => void work(r.relation) }, W.workOut)));
  };
  which.addEventListener("input", paint);
  opened.addEventListener("toggle", () => {
    if (!opened.open || relations.length) return;
    void ask("/api/calc?list=true").then((a) => { relations = a.relations; all.replaceChildren(...relations.map((r) => h("option", { value: r.relation }, r.meaning))); paint(); },
      (e) => { out.replaceChildren(h("p", { class: "bad" }, (e as Error).message || W.offline)); });
  });
}
