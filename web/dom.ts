// Elements in one call.
type Child = Node | string | undefined | false;
export function h<K extends keyof HTMLElementTagNameMap>(tag: K, with_: Record<string, unknown> = {}, ...children: Child[]): HTMLElementTagNameMap[K] {
  const e = document.createElement(tag);
  for (const [k, v] of Object.entries(with_)) {
    if (k.startsWith("on")) e.addEventListener(k.slice(2), v as EventListener);
    else if (v === true) e.setAttribute(k, "");
    else if (v !== false && v !== undefined) e.setAttribute(k, String(v));
  }
  for (const c of children) if (c !== undefined && c !== false) e.append(c);
  return e;
}
/// Does something once a part of the page comes near to being seen.
export function whenSeen(part: HTMLElement, act: () => void): void {
  const eye = new IntersectionObserver((all) => { if (all.some((x) => x.isIntersecting)) { eye.disconnect(); act(); } }, { rootMargin: "400px" });
  eye.observe(part);
}
export const $ = (id: string) => document.getElementById(id)!;
/// A window over the page; Escape closes it.
export function dialog(title: string, ...children: Child[]): HTMLDialogElement {
  const d = h("dialog", { "aria-label": title }, h("h2", { tabindex: "-1", autofocus: true }, title), ...children);  // it opens at its top, whatever key stands below
  d.addEventListener("close", () => d.remove());
  document.body.append(d);
  d.showModal();
  return d;
}
