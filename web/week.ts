// The week on one page: wording that is yours to change, each number leads to what it was made of, and it goes on paper.
import { ask, post } from "./ask";
import { table } from "./desk";
import { dialog, h } from "./dom";
import { byCountry } from "./country";
import { W } from "./words";

type Lead = (anchor: string) => void;
/// Text with *stress*, **strong** and links within the page; all else is text.
function inline(text: string, lead: Lead): (Node | string)[] {
  const out: (Node | string)[] = [];
  const bare = (t: string) => byCountry(t.replace(/\\([^\w\s])/g, "$1"));
  let at = 0;
  for (const m of text.matchAll(/\\[^\w\s]|\*\*((?:[^*\\]|\\.)+)\*\*|\*((?:[^*\\]|\\.)+)\*|\[((?:[^\]\\]|\\.)*)\]\(#([^)\s]*)\)/g)) {
    if (m[0].startsWith("\\")) continue;
    out.push(bare(text.slice(at, m.index)));
    at = m.index + m[0].length;
    if (m[1] !== undefined) out.push(h("strong", {}, bare(m[1])));
    else if (m[2] !== undefined) out.push(h("em", {}, bare(m[2])));
    else out.push(h("a", { href: `#week`, onclick: (e: Event) => { e.preventDefault(); lead(m[4]!); } }, bare(m[3]!)));
  }
  return [...out, bare(text.slice(at))].filter((x) => x !== "");
}
function wording(markdown: string, lead: Lead): HTMLElement[] {
  const blocks: HTMLElement[] = [];
  let open: HTMLElement | undefined;
  for (const line of markdown.split("\n")) {
    const m = /^(#{1,3} |- |> )?(.*)$/.exec(line)!, mark = m[1]?.trim() ?? "", rest = inline(m[2]!.trim(), lead);
    const last = open?.tagName;
    if (!mark && !m[2]!.trim()) open = undefined;
    else if (mark.startsWith("#")) { blocks.push(h(mark.length === 1 ? "h2" : "h3", {}, ...rest)); open = undefined; }
    else if (mark === "-") { if (last !== "UL") blocks.push(open = h("ul", {})); open!.append(h("li", {}, ...rest)); }
    else if (mark === ">") { if (last !== "BLOCKQUOTE") blocks.push(open = h("blockquote", {})); open!.append(h("p", {}, ...rest)); }
    else { if (last !== "P") blocks.push(open = h("p", {})); open!.append(...rest, " "); }
  }
  return blocks;
}
const anchorOf = (name: string) => name.replace(/[^A-Za-z0-9._-]/gu, (c) => "_".repeat(new TextEncoder().encode(c).length));

class Week {
  private a: any;
  private readonly date = h("input", { id: "week-until", type: "date" });
  private readonly body = h("div", {});
  constructor(private readonly main: HTMLElement) {
    this.date.addEventListener("change", () => void this.load());
    const by = (days: number) => () => {
      const t = new Date(`${this.a?.to ?? this.date.value}T00:00:00Z`);
      if (Number.isNaN(t.getTime())) return;
      t.setUTCDate(t.getUTCDate() + days);
      this.date.value = t.toISOString().slice(0, 10);
      void this.load();
    };
    main.replaceChildren(h("h1", { class: "screen" }, W.week), h("div", { class: `row weeks screen` }, h("button", { onclick: by(-7) }, W.weekBefore),
      h("label", { for: "week-until", class: "inline" }, W.weekTo, this.date), h("button", { onclick: by(7) }, W.weekAfter)), this.body);
    void this.load();
  }
  private async load(): Promise<void> {
    this.body.replaceChildren(h("p", {}, W.loading));
    try { this.show(await ask(`/api/week${this.date.value ? `?until=${this.date.value}` : ""}`)); }
    catch (e) { this.body.replaceChildren(h("p", { class: "bad" }, (e as Error).message || W.offline)); }
  }
  /// What an entry says, or what a number was made of.
  private readonly lead = (anchor: string): void => {
    const figure = this.a.figures.find((f: any) => anchorOf(f.name) === anchor);
    const numbers: number[] = figure ? figure.entries : /^e\d+$/.test(anchor) ? [Number(anchor.slice(1))] : [];
    const lines = numbers.map((n) => this.a.cited.find((e: any) => e.number === n)?.line ?? W.entryGone(n));
    const d = dialog(figure ? `${figure.label}: ${figure.text}` : W.entry, h("ul", { class: "plain" }, ...(lines.length ? lines : [W.saysNothing]).map((l: string) => h("li", {}, byCountry(l)))),
      h("div", { class: "row" }, h("button", { onclick: () => d.close() }, W.close)));
  };
  private show(a: any): void {
    this.a = a;
    this.date.value = a.to;
    const rows = a.figures.map((f: any) => [f.label, f.text, f.entries.join(", ")]);
    const all = h("details", {}, h("summary", {}, W.madeOf(a.cited.length)), h("ul", { class: "plain" }, ...a.cited.map((e: any) => h("li", {}, byCountry(`${e.number}  ${e.line}`)))));
    addEventListener("beforeprint", () => { all.open = true; }, { once: true });
    this.body.replaceChildren(h("article", { id: "wording" }, ...wording(a.wording, this.lead)),
      ...a.stale.map((s: string) => h("p", { class: "caution" }, `${s}.`)), ...a.faults.map((f: string) => h("p", { class: "bad" }, f)),
      h("div", { class: "row screen" }, h("button", { onclick: () => this.edit() }, W.editWording), h("button", { onclick: () => print() }, W.print),
        a.own_wording && h("button", { onclick: () => void this.keep({ fresh: true }) }, W.writeAnew)),
      ...(rows.length ? [table(W.numbers, W.numbersHead, rows)] : []), all, h("p", { class: "hint" }, W.headOf(a.head)));
  }
  private edit(): void {
    const box = h("textarea", { id: "wording-text", rows: 18, maxlength: 100000 });
    box.value = this.a.wording;
    const wrong = h("p", { class: "bad", role: "alert" });
    this.body.replaceChildren(h("label", { for: "wording-text", class: "hint" }, W.wordingHint), box, wrong,
      h("div", { class: "row" }, h("button", { onclick: () => this.show(this.a) }, W.cancel),
        h("button", { class: "main", onclick: () => void this.keep({ wording: box.value }).catch((e) => { wrong.textContent = (e as Error).message || W.offline; }) }, W.keep)));
    box.focus();
  }
  private async keep(what: object): Promise<void> { this.show(await post("/api/week", { ...what, until: this.a.to })); }
}
export const weekView = (main: HTMLElement): void => { new Week(main); };
