// One plant, several names: the page shows the one that is usual where the grower is, and finds all of them.
import { W } from "./words";

// Names of one plant: [the program's, then by country]. From memory; common names differ within a country as well.
const names: Record<string, Partial<Record<string, string>>> = {
  chard: { au: "silverbeet", nz: "silverbeet", us: "Swiss chard", ca: "Swiss chard", za: "Swiss chard" },
  rocket: { us: "arugula", ca: "arugula" },
  coriander: { us: "cilantro", ca: "cilantro" },
  "pak choi": { us: "bok choy", ca: "bok choy", au: "bok choy", nz: "bok choy" },
  "spring onion": { us: "scallion", ca: "green onion" },
  aubergine: { us: "eggplant", ca: "eggplant", au: "eggplant", nz: "eggplant", za: "brinjal" },
  courgette: { us: "zucchini", ca: "zucchini", au: "zucchini" },
  beetroot: { us: "beet", ca: "beet" },
  capsicum: { uk: "sweet pepper", us: "bell pepper", ca: "bell pepper", za: "sweet pepper" },
};
export const countries = ["uk", "us", "ca", "au", "nz", "za"];
export const country = (): string => {
  const set = localStorage.getItem("country");
  if (set) return set;
  const region = (navigator.language.split("-")[1] ?? "").toLowerCase();
  return region === "gb" || region === "ie" ? "uk" : countries.includes(region) ? region : "uk";
};
const word = (w: string) => new RegExp(`\\b${w}\\b`, "gi");
/// A line with the names of plants as they are called there.
export function byCountry(text: string): string {
  const c = country();
  for (const [ours, theirs] of Object.entries(names)) if (theirs[c]) text = text.replace(word(ours), theirs[c]!);
  return text;
}
/// Typed words as the server looks for them: a name of a plant stands for all that others call the same plant.
export function searched(typed: string): string {
  let text = typed.trim().toLowerCase().replaceAll("|", " ").replaceAll("_", " ");
  const several: string[] = [];
  for (const [ours, theirs] of Object.entries(names)) {
    const all = [...new Set([ours, ...Object.values(theirs)].map((x) => x!.toLowerCase()))];
    for (const name of [...all].sort((a, b) => b.length - a.length))
      if (word(name).test(text)) { several.push(all.map((n) => n.replaceAll(" ", "_")).join("|")); text = text.replace(word(name), " "); break; }
  }
  return [...text.split(/\s+/).filter(Boolean), ...several].join(" ");
}
export const countryName = (c: string) => W.countries[c] ?? c;
