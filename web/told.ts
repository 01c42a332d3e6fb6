// What the record says, as charts need it: readings and marks at the time that a clock at the loop showed.
import type { Mark } from "./charts";
import { byCountry } from "./country";

export const timeOf = (e: any): number => Date.parse(`${e.local}Z`) / 1000;
const everyDay = ["fed", "topped_up"];
/// What is not done every day, and each chapter of the plumbing; numbered in order of time.
export function marksOf(entries: any[]): Mark[] {
  return entries.filter((e) => e.kind === "chapter" || (e.kind === "deed" && !everyDay.includes(e.what)))
    .sort((a, b) => timeOf(a) - timeOf(b))
    .filter((e, i, all) => e.kind === "chapter" || i === 0 || e.local !== all[i - 1].local || e.what !== all[i - 1].what)  // a row of weights is one deed
    .map((e, i) => ({ at: timeOf(e), sign: String(i + 1), text: byCountry(`${e.local.slice(0, 10)} ${e.words}`), chapter: e.kind === "chapter" }));
}
/// A reading stands for one value: its middle where a kit has steps. The highest of a thermometer that is read in the morning was
/// the day before: it stands in the middle of its time.
export function readingOf(e: any): { at: number; value: number; text: string; unit: string } {
  const at = timeOf(e), since = e.extreme === "max" && e.since ? (Date.parse(e.from) - Date.parse(e.since)) / 2000 : e.extreme === "max" ? 43200 : 0;
  return { at: at - since, value: e.high === undefined ? e.low : (e.low + e.high) / 2, text: e.words, unit: e.unit ?? "" };
}
/// The same in the unit that answers have it in, whatever unit the grower's own is; the server has turned it.
export const readingAsShown = (e: any) => ({ ...readingOf({ ...e, ...e.as_shown }), text: e.words });
export const isNumber = (e: any): boolean => e.kind === "reading" && typeof e.low === "number";
