// Every question to the server goes through here, with the name of this page: only the page that asked may stop it.
import { newKey } from "./store";

const who = newKey();
let view = new AbortController();
/// What the view before asked is not waited for any more: the server stops it.
export const leaveView = (): void => { view.abort(); view = new AbortController(); };
/// The same as ask, until the view is left.
export const askHere = async (path: string) => answered(await fetched(path, { signal: view.signal }));
/// Like fetch, never from a cache. Throws without a connection.
export async function fetched(path: string, init: RequestInit = {}): Promise<Response> {
  const r = await fetch(path, { cache: "no-store", ...init, headers: { ...(init.headers as object | undefined), "Leat-Page": who } });
  if (r.status === 401) document.dispatchEvent(new Event("unknown"));  // this device is not let in, or no longer
  return r;
}
export const sent = (path: string, body: unknown) =>
  fetched(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
async function answered(r: Response): Promise<any> {
  const body = await r.json();
  if (!r.ok) throw new Error(body.problems);
  return body;
}
/// The answer, or an error with the server's own sentence.
export const ask = async (path: string) => answered(await fetched(path));
export const post = async (path: string, body: unknown) => answered(await sent(path, body));
