// The first ten minutes: a few questions, none of them forced; guesses are marked; then the first answers.
import { ask, post } from "./ask";
import { h } from "./dom";
import { firstAnswers } from "./first";
import { places } from "./places";
import { clearAnswers } from "./store";
import { W } from "./words";

interface Guess { path: string; value: string; reason: string; better: string }
export interface Begun { text: string; guesses: Guess[]; species: string[]; crops: string[] }
/// What was typed, with the unit of its field unless it has its own.
export const withUnit = (v: string, unit: string) => !v || /[a-z%°]/i.test(v) ? v.replace("°C", "degC").replace("°F", "degF") : `${v} ${unit}`;

export async function startView(main: HTMLElement, note: (words: string) => Promise<void>): Promise<void> {
  main.replaceChildren(h("h1", {}, W.start), h("p", {}, W.loading));
  let begun: Begun;
  try { begun = await post("/api/new", { "dry-run": true }); }
  catch (e) { main.replaceChildren(h("h1", {}, W.start), h("p", { class: "bad" }, (e as Error).message || W.offline)); return; }
  const guess = (path: string) => begun.guesses.find((g) => g.path === path)?.value ?? "";
  const boxes: Record<string, () => string> = {};
  const field = (name: string, label: string, unit: string, guessed: string) => {
    const box = h("input", { id: `ask-${name}`, type: "text", placeholder: guessed ? W.guess(guessed) : "", autocomplete: "off", maxlength: 60, ...(unit ? { inputmode: "decimal" } : {}) });
    boxes[name] = () => withUnit(box.value.trim(), unit === "°C" ? "degC" : unit);
    return h("p", { class: "field" }, h("label", { for: box.id }, unit ? `${label}, ${unit}` : label), box);
  };
  const choice = (name: string, label: string, options: string[], guessed: string) => {
    const box = h("select", { id: `ask-${name}` }, h("option", { value: "" }, W.guess(guessed)), ...options.map((o) => h("option", { value: o }, o)));
    boxes[name] = () => box.value;
    return h("p", { class: "field" }, h("label", { for: box.id }, label), box);
  };
  const tick = (name: string, label: string, on: boolean, area: HTMLElement) => {
    const box = h("input", { id: `have-${name}`, type: "checkbox", checked: on });
    const typed = boxes[name];
    area.hidden = !on;
    box.addEventListener("change", () => { area.hidden = !box.checked; });
    boxes[name] = () => box.checked ? typed() || (name === "gravel" ? "1.2 m2" : "") : "none";
    return h("div", {}, h("label", { class: "tick", for: box.id }, box, label), area);
  };
  const group = (title: string, hint: string, ...parts: HTMLElement[]) => h("fieldset", {}, h("legend", {}, title), h("p", { class: "hint" }, hint), ...parts);
  const latitude = field("latitude", W.latitude, "", guess("place.latitude")), longitude = field("longitude", W.longitude, "", guess("place.longitude"));
  const altitude = field("altitude", W.altitude, "m", "50 m");
  const put = (name: string, v: number) => { document.querySelector<HTMLInputElement>(`#ask-${name}`)!.value = String(v); };
  const town = h("select", { id: "ask-town" }, h("option", { value: "" }, W.otherPlace), ...places.map(([name], i) => h("option", { value: String(i) }, name)));
  town.addEventListener("change", () => { const p = places[Number(town.value)]; if (town.value && p) { put("latitude", p[1]); put("longitude", p[2]); put("altitude", p[3]); } });
  const litres = h("input", { id: "ask-litres", inputmode: "decimal", maxlength: 12, placeholder: W.guess("10") }), seconds = h("input", { id: "ask-seconds", inputmode: "decimal", maxlength: 12 });
  boxes.flow = () => seconds.value.trim() ? `${withUnit(litres.value.trim() || "10", "L")} in ${withUnit(seconds.value.trim(), "s")}` : "";
  const wrong = h("p", { class: "bad", role: "alert" });
  const given = () => {
    const all: Record<string, string> = {};
    for (const [name, get] of Object.entries(boxes)) if (get()) all[name] = get();
    const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
    if (zone && zone !== "UTC" && all.latitude) all["time-zone"] = zone;
    return all;
  };
  const begin = async () => {
    const all = given();
    try { begun = await post("/api/new", all); } catch (e) { wrong.textContent = (e as Error).message || W.offline; return; }
    await clearAnswers();
    if (all.low && all.high) await note(`min ${all.low} max ${all.high}`);
    document.dispatchEvent(new Event("begun"));
    history.replaceState(null, "", "#first");  // no longer the view that is drawn anew when the record grows
    firstAnswers(main, begun);
  };
  const play = async () => {
    try { await post("/api/example", {}); await clearAnswers(); document.dispatchEvent(new Event("begun")); location.hash = "#tank"; }
    catch (e) { wrong.textContent = (e as Error).message || W.offline; }
  };
  main.replaceChildren(h("h1", {}, W.start), h("p", {}, W.startIntro),
    h("div", { class: "row" }, h("button", { onclick: () => void play() }, W.playExample)),
    group(W.askPlace, W.askPlaceHint, h("p", { class: "field" }, h("label", { for: "ask-town" }, W.town), town), latitude, longitude, altitude),
    group(W.askFish, W.askFishHint, choice("fish", W.species, begun.species, guess("fish.first.species")), field("count", W.howMany, "", guess("fish.first.count")), field("mass", W.howHeavy, "g", guess("fish.first.mass"))),
    group(W.askOwn, W.askOwnHint, field("tank", W.tankHolds, "L", guess("tank.main.volume")), field("sump", W.sumpHolds, "L", guess("sump.main.volume")),
      tick("raft", W.haveRaft, true, field("raft", W.raftArea, "m2", guess("raft_bed.main.area"))), tick("gravel", W.haveGravel, false, field("gravel", W.gravelArea, "m2", "1.2 m2")),
      choice("plant", W.whatGrows, begun.crops, guess("planting.first.crop"))),
    group(W.askFlow, W.askFlowHint, h("p", { class: "field" }, h("label", { for: "ask-litres" }, W.bucket), litres), h("p", { class: "field" }, h("label", { for: "ask-seconds" }, W.fullAfter), seconds)),
    group(W.askNight, W.askNightHint, field("low", W.min, "°C", ""), field("high", W.max, "°C", "")),
    wrong, h("div", { class: "row" }, h("button", { class: "main", onclick: () => void begin() }, W.showFirst)));
}

/// A line above everything while the example is shown.
export async function exampleLine(line: HTMLElement): Promise<boolean> {
  const about = await ask("/api/about");
  if (about.home && !about.paired) { document.dispatchEvent(new Event("unknown")); throw new Error(W.pair); }
  line.hidden = !about.example;
  line.replaceChildren(h("span", {}, W.isExample), h("button", { onclick: () => void post("/api/own", {}).then(clearAnswers).then(() => { location.hash = "#tank"; location.reload(); }) }, W.toOwn));
  return about.has_loop;
}
