// A loop's file or a plan as text: finds its parts and keys, and changes one value in its place. Comments and order stay;
// nothing is written anew. What each value means is the server's to judge.
export interface Line { key: string; value: string; from: number; to: number }  // of the value, in the text
export interface Part { path: string; from: number; to: number; lines: Line[] }  // from the heading to the next one

/// Where a value that starts at `at` ends: a comment, or the line's end when no bracket or quote is open.
function valueEnd(text: string, at: number): number {
  let depth = 0, quote = "";
  let end = at;
  for (let i = at; i < text.length; i++) {
    const c = text[i]!;
    if (quote) {
      if (c === "\\" && quote === '"') i++;
      else if (c === quote || c === "\n") quote = "";
    } else if (c === '"' || c === "'") quote = c;
    else if (c === "[" || c === "{") depth++;
    else if (c === "]" || c === "}") depth--;
    else if (c === "#") {
      if (depth <= 0) break;
      i = (text.indexOf("\n", i) + 1 || text.length + 1) - 2;
      continue;
    } else if (c === "\n" && depth <= 0) break;
    if (!/\s/.test(c)) end = Math.min(i + 1, text.length);
  }
  return end;
}
export function partsOf(text: string): Part[] {
  const parts: Part[] = [];
  for (let at = 0; at < text.length;) {
    let next = text.indexOf("\n", at) + 1 || text.length;
    const line = text.slice(at, next);
    const head = /^\s*\[\s*([A-Za-z0-9_.-]+)\s*\]/.exec(line), key = /^\s*([A-Za-z0-9_-]+)\s*=[ \t]*/.exec(line);
    const last = parts[parts.length - 1];
    if (head) {
      if (last) last.to = at;
      parts.push({ path: head[1]!, from: at, to: text.length, lines: [] });
    } else if (key && last) {
      const from = at + key[0].length, to = valueEnd(text, from);
      last.lines.push({ key: key[1]!, value: text.slice(from, to), from, to });
      next = text.indexOf("\n", to) + 1 || text.length;
    }
    at = next;
  }
  return parts;
}
export const valueOf = (text: string, path: string, key: string) => partsOf(text).find((p) => p.path === path)?.lines.find((l) => l.key === key)?.value;
const ended = (text: string) => text && !text.endsWith("\n") ? `${text}\n` : text;
/// The text with one value put in its place; a part or key that is not there yet is added.
export function withValue(text: string, path: string, key: string, value: string): string {
  const part = partsOf(text).find((p) => p.path === path);
  if (!part) return `${ended(text)}${text ? "\n" : ""}[${path}]\n${key} = ${value}\n`;
  const line = part.lines.find((l) => l.key === key);
  if (line) return text.slice(0, line.from) + value + text.slice(line.to);
  const body = text.slice(part.from, part.to).trimEnd();
  const at = part.from + body.length;
  return `${text.slice(0, at)}\n${key} = ${value}${text.slice(at) || "\n"}`;
}
/// The text without one key, its comment with it; a part that says nothing more goes too.
export function withoutValue(text: string, path: string, key: string): string {
  const part = partsOf(text).find((p) => p.path === path);
  const line = part?.lines.find((l) => l.key === key);
  if (!part || !line) return text;
  const from = text.lastIndexOf("\n", line.from - 1) + 1, to = text.indexOf("\n", line.to) + 1 || text.length;
  const rest = text.slice(0, from) + text.slice(to);
  const left = partsOf(rest).find((p) => p.path === path)!;
  if (left.lines.length || path === "plan" || rest.slice(left.from, left.to).includes("#")) return rest;
  return ended(rest.slice(0, left.from).trimEnd()) + (rest.slice(left.to) && `\n${rest.slice(left.to)}`);
}
/// The texts of a list such as ["a", "b"].
export const listOf = (value: string | undefined) => [...(value ?? "").matchAll(/"((?:[^"\\]|\\.)*)"/g)].map((m) => m[1]!);
export const quoted = (text: string) => `"${text.replace(/[\\"]/g, "\\$&")}"`;
export const bare = (value: string) => value.startsWith('"') && value.endsWith('"') && value.length > 1 ? value.slice(1, -1).replace(/\\(.)/g, "$1") : value;
/// What was typed as it stands in the file, by what the key takes.
export function literal(form: { type?: string | string[]; enum?: string[] }, typed: string): string {
  const takes = (t: string) => form.type === t || (Array.isArray(form.type) && form.type.includes(t));
  const v = typed.trim();
  if (form.enum) return quoted(v);
  if (takes("array")) return v.startsWith("[") ? v : `[${v.split(",").map((x) => quoted(x.trim())).join(", ")}]`;
  if (takes("boolean") && /^(true|false)$/.test(v)) return v;
  if ((takes("number") || takes("integer")) && /^[-+]?[0-9.]+(e[-+]?\d+)?$/i.test(v)) return v;
  return quoted(v);
}
