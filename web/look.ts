// How the page looks, and what it calls things: kept on this device.
import { countries, country, countryName } from "./country";
import { h } from "./dom";
import { W } from "./words";

const looks: [string, string][] = [["", W.system], ["light", W.light], ["dark", W.dark], ["contrast", W.contrast]];
export function putLook(): void {
  const look = localStorage.getItem("look") ?? "";
  if (look) document.documentElement.dataset.look = look;
  else delete document.documentElement.dataset.look;
}
function choice(id: string, label: string, options: [string, string][], now: string, use: (v: string) => void): HTMLElement {
  const box = h("select", { id }, ...options.map(([v, l]) => h("option", { value: v, selected: v === now }, l)));
  box.addEventListener("change", () => use(box.value));
  return h("p", { class: "field" }, h("label", { for: id }, label), box);
}
/// The grower's own degrees: what the keys put in, and the word of the record for it.
export const degrees = (): { shown: string; said: string } => localStorage.getItem("degrees") === "F" ? { shown: W.degF, said: " F" } : { shown: W.degC, said: " C" };
export function lookPart(again: () => void): HTMLElement {
  return h("section", {}, h("h2", {}, W.look),
    choice("look", W.colours, looks, localStorage.getItem("look") ?? "", (v) => { localStorage.setItem("look", v); putLook(); again(); }),
    choice("degrees", W.degreesIn, [["C", W.degC], ["F", W.degF]], localStorage.getItem("degrees") ?? "C", (v) => { localStorage.setItem("degrees", v); }),
    choice("country", W.plantNames, countries.map((c) => [c, countryName(c)]), country(), (v) => { localStorage.setItem("country", v); again(); }));
}
