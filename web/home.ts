// At home: a device becomes known by a code; who is known is listed and can be made unknown again.
import { ask, post } from "./ask";
import { dialog, h } from "./dom";
import { W } from "./words";

/// Asks for the code that the terminal shows; then the page begins anew.
export function pairView(main: HTMLElement): void {
  document.title = `leat: ${W.pair}`;
  const code = h("input", { id: "code", inputmode: "numeric", autocomplete: "one-time-code", maxlength: 12 });
  const name = h("input", { id: "device-name", type: "text", maxlength: 40, autocomplete: "off", placeholder: W.deviceSuch });
  const wrong = h("p", { class: "bad", role: "alert" });
  const begin = async () => {
    try { await post("/api/pair", { code: code.value, name: name.value.trim() }); location.reload(); }
    catch (e) { wrong.textContent = (e as Error).message || W.offline; }
  };
  main.replaceChildren(h("h1", {}, W.pair), h("p", {}, W.pairWhy), h("p", { class: "field" }, h("label", { for: "code" }, W.pairCode), code),
    h("p", { class: "field" }, h("label", { for: "device-name" }, W.deviceName), name), wrong,
    h("div", { class: "row" }, h("button", { class: "main", onclick: () => void begin() }, W.pairDo)));
  code.focus();
}

export async function devicesPart(part: HTMLElement): Promise<void> {
  const { devices } = await ask("/api/devices");
  const forget = async (d: any) => { await post("/api/forget", { device: d.device }); if (d.this_one) location.reload(); else await devicesPart(part); };
  const code = async () => {
    const a = await post("/api/code", {});
    const d = dialog(W.pairCode, h("p", { class: "verdict" }, `${a.code.slice(0, 4)} ${a.code.slice(4)}`), h("p", {}, W.codeLasts), h("div", { class: "row" }, h("button", { onclick: () => d.close() }, W.close)));
  };
  part.replaceChildren(h("h2", {}, W.devices), h("ul", { class: "plain" }, ...devices.map((d: any) => h("li", {},
    `${d.name}, ${W.since_} ${new Date(d.paired_s * 1000).toLocaleDateString()}${d.this_one ? ` (${W.thisOne})` : ""} `,
    h("button", { "aria-label": `${W.forget} ${d.name}`, onclick: () => void forget(d) }, W.forget)))),
    h("div", { class: "row" }, h("button", { onclick: () => void code() }, W.letIn)));
}
