// What stays on this device: notes on their way, and the last answers. Nothing leaves before it has been taken.
export interface Note { id?: number; key: string; kind: "note" | "undo"; words: string; made: number; of?: number[]; state: "waits" | "sent" | "refused" | "undone"; said?: string; numbers?: number[] }

let opened: Promise<IDBDatabase> | undefined;
function db(): Promise<IDBDatabase> {
  opened ??= new Promise((resolve, reject) => {
    const ask = indexedDB.open("leat", 1);
    ask.onupgradeneeded = () => {
      ask.result.createObjectStore("notes", { keyPath: "id", autoIncrement: true });
      ask.result.createObjectStore("answers");
    };
    ask.onsuccess = () => resolve(ask.result);
    ask.onerror = () => reject(ask.error);
  });
  return opened;
}
async function run<T>(store: string, mode: IDBTransactionMode, act: (s: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const t = (await db()).transaction(store, mode, { durability: "strict" });
  const r = act(t.objectStore(store));
  return new Promise((resolve, reject) => {
    t.oncomplete = () => resolve(r.result);
    t.onerror = t.onabort = () => reject(t.error);
  });
}
export const putNote = (n: Note) => run("notes", "readwrite", (s) => s.put(n)) as Promise<number>;
export const notes = () => run("notes", "readonly", (s) => s.getAll()) as Promise<Note[]>;
export const dropNote = (id: number) => run("notes", "readwrite", (s) => s.delete(id));
export interface Kept { at: number; text: string }
export const keepAnswer = (name: string, text: string) => run("answers", "readwrite", (s) => s.put({ at: Date.now(), text }, name));
export const keptAnswer = (name: string) => run("answers", "readonly", (s) => s.get(name)) as Promise<Kept | undefined>;
export const clearAnswers = () => run("answers", "readwrite", (s) => s.clear());
/// A name that no other note has; works without a secure context as well.
export function newKey(): string {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
}
