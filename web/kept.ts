// What this device keeps for when there is no connection: the last answers, first of all those of an emergency.
import { fetched } from "./ask";
import { keepAnswer, keptAnswer } from "./store";
import { reachable, setReachable } from "./sync";

/// Asks the server, and keeps what it says for when there is no connection. Calls back at once with what was kept.
export async function answer(name: string, path: string, use: (a: any, at: number) => void): Promise<void> {
  const old = await keptAnswer(name);
  if (old) use(JSON.parse(old.text), old.at);
  try {
    const r = await fetched(path);
    setReachable(true);
    if (!r.ok) return;
    const text = await r.text();
    await keepAnswer(name, text);
    if (text !== old?.text) use(JSON.parse(text), Date.now());
  } catch { setReachable(false); }
}

/// Since when an emergency finds all that it needs on this device: its table, its steps, and the page itself.
export async function readySince(): Promise<number | undefined> {
  try {
    const [table, steps, worker] = await Promise.all([keptAnswer("emergency"), keptAnswer("outage"), navigator.serviceWorker?.getRegistration()]);
    return table && steps && worker?.active ? Math.min(table.at, steps.at) : undefined;
  } catch { return undefined; }
}

let asked: Promise<unknown> = Promise.resolve();
/// Asks for what an emergency needs; one asking after the other, so that the last one speaks of the loop as it is now.
export async function keepReady(): Promise<void> {
  asked = asked.then(() => Promise.all(["emergency", "outage"].map((name) => answer(name, `/api/${name}`, () => {}))));
  await asked;
}
/// Once more, if something is not here yet.
export async function keepReadyAtLast(): Promise<void> {
  if (reachable && !(await readySince())) await keepReady();
}
