// Before buying: forms in the words of the loop's file write a plan, which stands beside the loop as it is while it is typed.
import { ask, fetched, post, sent } from "./ask";
import { h } from "./dom";
import { besides } from "./beside";
import { bare, listOf, literal, partsOf, quoted, valueOf, withoutValue, withValue } from "./toml";
import { W } from "./words";

interface Form { type?: string | string[]; enum?: string[]; description?: string; examples?: string[] }
interface Kinds { [kind: string]: { description: string; properties?: Record<string, Form>; additionalProperties?: { properties?: Record<string, Form> } | boolean } }
const keysOf = (kinds: Kinds, path: string): Record<string, Form> => {
  const k = kinds[path.split(".")[0]!];
  return k?.properties ?? (typeof k?.additionalProperties === "object" ? k.additionalProperties.properties : undefined) ?? {};
};
const option = (value: string, label = value) => h("option", { value }, label);
const vessels = ["tank", "sump", "raft_bed", "gravel_bed"];

class PlanForms {
  private readonly text = h("textarea", { id: "plan", rows: 10, spellcheck: "false" });
  private readonly rows = h("div", { id: "changes" });
  private readonly adds = h("div", {});
  private readonly out = h("div", { "aria-live": "polite", id: "beside" });
  private turn = 0;
  private wait: number | undefined;
  private job = "";
  constructor(private readonly main: HTMLElement, private readonly loop: string, private readonly kinds: Kinds) {
    this.text.value = localStorage.getItem("plan") ?? W.planStart;
    this.text.addEventListener("input", () => { this.changed(); this.paint(); });
    main.replaceChildren(h("h1", {}, W.plan), h("p", {}, W.planIntro), h("div", { class: "two" },
      h("div", {}, h("h2", {}, W.changes), this.rows, this.adds, h("details", { open: true }, h("summary", {}, W.planFile), h("label", { for: "plan", class: "hint" }, W.planText), this.text)),
      h("div", {}, h("h2", {}, W.beside), this.out)));
    this.paint();
    this.changed();
  }
  private put(text: string): void { this.text.value = text; this.changed(); this.paint(); }
  private changed(): void {
    localStorage.setItem("plan", this.text.value);
    clearTimeout(this.wait);
    this.wait = window.setTimeout(() => void this.compare(), 120);
  }
  /// What needs no days at once; then the whole, which stands in its place as soon as it is there.
  private async compare(): Promise<void> {
    const mine = ++this.turn;
    if (this.job) void post("/api/stop", { job: this.job }).catch(() => {});
    for (const quick of [{ days: "1", members: "0" }, undefined]) {
      this.job = `plan${mine}-${Math.random().toString(36).slice(2)}`;
      try {
        const r = await sent("/api/compare", { plan: this.text.value, job: this.job, ...quick });
        const a = await r.json();
        if (mine !== this.turn) return;
        this.job = "";  // nothing is left to stop
        if (!this.out.contains(document.activeElement) || !quick) this.out.replaceChildren(...(r.ok ? besides(a, !quick) : [h("pre", { class: "bad" }, a.problems)]));
        this.out.dataset.shows = quick ? "check" : "all";
        if (!r.ok) return;
      } catch {
        if (mine !== this.turn) return;
        this.job = "";
        this.out.replaceChildren(h("p", { class: "bad" }, W.offline));
        this.wait = window.setTimeout(() => { if (this.main.contains(this.out)) void this.compare(); }, 3000);  // by itself once more
        return;
      }
    }
  }
  /// All parts there are once the plan is carried out, without those it takes away.
  private paths(): string[] {
    const copied = listOf(valueOf(this.text.value, "plan", "copy")).map((c) => c.split(" as ")[1] ?? "");
    const all = [...partsOf(this.loop), ...partsOf(this.text.value)].map((p) => p.path).concat(copied);
    return [...new Set(all)].filter((p) => p && p !== "plan");
  }
  private field(path: string, key: string, form: Form, value: string, label: string, use: (v: string) => void): HTMLElement {
    const id = `plan-${path}-${key}`.replace(/\W/g, "-");
    const box = form.enum ? h("select", { id }, ...["", ...form.enum].map((v) => option(v))) : h("input", { id, type: "text", autocomplete: "off", placeholder: bare(form.examples?.[0] ?? "") });
    box.value = bare(value);
    box.addEventListener(form.enum ? "change" : "input", () => { if (box.value.trim()) use(literal(form, box.value)); });
    return h("p", { class: "field" }, h("label", { for: id }, label), box);
  }
  private paint(): void {
    if (this.rows.contains(document.activeElement)) return;  // not under the hands of who types
    const rows: HTMLElement[] = [];
    for (const part of partsOf(this.text.value))
      for (const line of part.lines) {
        const remove = h("button", { "aria-label": `${W.takeBack} ${part.path} ${line.key}`, onclick: () => this.put(withoutValue(this.text.value, part.path, line.key)) }, W.takeBack);
        const now = valueOf(this.loop, part.path, line.key), form = keysOf(this.kinds, part.path)[line.key] ?? {};
        rows.push(part.path === "plan" ? h("div", { class: "change" }, h("p", {}, h("strong", {}, `${W.planVerbs[line.key] ?? line.key}: `), listOf(line.value).join(", ")), remove)
          : h("div", { class: "change" }, this.field(part.path, line.key, form, line.value, `${part.path} ${line.key}${now ? ` (${W.now2}: ${bare(now)})` : ""}`,
            (v) => { this.text.value = withValue(this.text.value, part.path, line.key, v); this.changed(); }), remove));
      }
    this.rows.replaceChildren(...(rows.length ? rows : [h("p", { class: "hint" }, W.noChanges)]));
    this.adds.replaceChildren(this.addKey(), this.addPart());
  }
  private addKey(): HTMLElement {
    const part = h("select", { id: "add-part" }, ...this.paths().filter((p) => p.includes(".")).concat(this.paths().filter((p) => !p.includes("."))).map((p) => option(p))), key = h("select", { id: "add-key" });
    const slot = h("div", {}), meaning = h("p", { class: "hint" });
    const keys = () => { key.replaceChildren(...Object.keys(keysOf(this.kinds, part.value)).map((k) => option(k))); value(); };
    const value = () => {
      const form = keysOf(this.kinds, part.value)[key.value] ?? {}, now = valueOf(this.loop, part.value, key.value);
      meaning.textContent = form.description ?? "";
      let typed = "";
      slot.replaceChildren(this.field("add", "value", form, "", `${W.planned}${now ? ` (${W.now2}: ${bare(now)})` : ""}`, (v) => { typed = v; }),
        h("button", { onclick: () => { if (typed) this.put(withValue(this.text.value, part.value, key.value, typed)); } }, W.putIn));
    };
    part.addEventListener("change", keys);
    key.addEventListener("change", value);
    keys();
    return h("fieldset", {}, h("legend", {}, W.changeOne), h("p", { class: "field" }, h("label", { for: "add-part" }, W.part), part),
      h("p", { class: "field" }, h("label", { for: "add-key" }, W.key), key), meaning, slot);
  }
  private addPart(): HTMLElement {
    const name = h("input", { id: "new-name", type: "text", placeholder: "third", maxlength: 30, autocomplete: "off" });
    const mine = this.paths();
    const vessel = h("select", { id: "copy-of" }, ...mine.filter((p) => vessels.includes(p.split(".")[0]!)).map((p) => option(p)));
    const gone = h("select", { id: "gone" }, ...partsOf(this.loop).map((p) => p.path).filter((p) => p.includes(".")).map((p) => option(p)));
    const list = (verb: string, add: string) => this.put(withValue(this.text.value, "plan", verb, `[${[...listOf(valueOf(this.text.value, "plan", verb)), add].map(quoted).join(", ")}]`));
    const clean = () => name.value.trim().toLowerCase().replace(/[^a-z0-9_-]+/g, "_") || "third";
    return h("fieldset", {}, h("legend", {}, W.moreOrLess), h("p", { class: "field" }, h("label", { for: "copy-of" }, W.onceMore), vessel),
      h("p", { class: "field" }, h("label", { for: "new-name" }, W.newName), name),
      h("button", { onclick: () => list("copy", `${vessel.value} as ${vessel.value.split(".")[0]}.${clean()}`) }, W.copyIt),
      h("p", { class: "field" }, h("label", { for: "gone" }, W.without), gone), h("button", { onclick: () => list("remove", gone.value) }, W.takeOut));
  }
}

export async function planView(main: HTMLElement): Promise<void> {
  main.replaceChildren(h("h1", {}, W.plan), h("p", {}, W.loading));
  try {
    const [loop, words] = await Promise.all([ask("/api/loop"), fetched("/api/words").then((r) => r.json())]);
    if (location.hash === "#plan") new PlanForms(main, loop.text, words.properties);
  } catch (e) { main.replaceChildren(h("h1", {}, W.plan), h("p", { class: "bad" }, navigator.onLine ? (e as Error).message : W.offline)); }
}
