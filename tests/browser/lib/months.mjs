// Months of notes of a yard that nobody has: made up, the same each time.
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const pad = (n) => String(n).padStart(2, "0");
/// Numbers that look like chance and are the same each time (a linear congruence, Numerical Recipes' constants).
function dice(seed) { let s = seed; return () => { s = (Math.imul(s, 1664525) + 1013904223) >>> 0; return s / 2 ** 32 - 0.5; }; }

/// Puts so many days of notes before today into the record of the yard's loop; in the midst it is re-plumbed.
export function putMonths(leat, folder, days, today = new Date()) {
  const chance = dice(7), rows = ["Day,Clock,Where,Note"];
  const leatOf = (...flags) => execFileSync(leat, flags, { cwd: folder, encoding: "utf8" });
  const dateOf = (d) => { const t = new Date(today.getTime() - (days - d) * 86400e3); return `${t.getUTCFullYear()}-${pad(t.getUTCMonth() + 1)}-${pad(t.getUTCDate())}`; };
  leatOf("note", "loop.toml", "moved in", "--now", `${dateOf(0)} 07:00`);
  let fish = 60;
  for (let d = 0; d < days; d++) {
    const day = dateOf(d), warm = 12 + 5 * Math.cos((2 * Math.PI * (Number(day.slice(5, 7)) * 30.4 + Number(day.slice(8)) - 210)) / 365) + 2 * chance();
    const note = (clock, words) => rows.push(`${day},${clock},,"${words}"`);
    note("07:40", `min ${(warm - 1.4 + chance()).toFixed(1)} max ${(warm + 1.6 + chance()).toFixed(1)}`);
    note("07:45", `air min ${(warm - 5 + 2 * chance()).toFixed(1)} max ${(warm + 4 + 2 * chance()).toFixed(1)}`);
    note("08:00", `fed ${28 + (d % 5)} g`);
    note("17:00", `fed ${26 + (d % 4)} g`);
    if (d % 3 === 1) note("06:30", `do ${(10.6 - 0.12 * warm + 0.4 * chance()).toFixed(1)} mg/L`);
    if (d % 7 === 2) for (const w of [`nh3 ${d % 14 === 2 ? 0.25 : 0.5} mg/L`, `no2 0.25 mg/L`, `no3 ${5 * (1 + (d % 6))} mg/L`, `ph ${(7 + 0.2 * chance()).toFixed(1)}`, "kh 4 drops"]) note("09:00", w);
    if (d % 20 === 11) { note("07:50", "1 dead"); fish -= 1; }
    if (d % 14 === 6) note("10:00", "cleaned the strainer");
    if (d === 10) { note("11:00", "planted 12 chard in raft bed north"); note("11:05", "planted 12 chard in gravel bed east"); }
    if (d === 30) note("11:00", "1 chard died in raft bed north");
    if (d === 62) { note("11:00", "harvested chard 118 142 96 131 120 88 140 105 99 127 111 g in raft bed north"); note("11:20", "harvested chard 101 92 110 98 83 104 95 90 108 87 99 93 g in gravel bed east"); }
  }
  writeFileSync(join(folder, "months.csv"), `${rows.join("\n")}\n`);
  leatOf("record", "loop.toml", "--import", "months.csv", "--map", "Day=date, Clock=time, Note=note");
  const file = join(folder, "loop.toml"), loop = readFileSync(file, "utf8");
  const other = loop.replace(/power = "\d+ W"/, 'power = "90 W"');
  if (other === loop) throw new Error("the loop has no pump with a power");
  writeFileSync(file, other);
  leatOf("note", "loop.toml", "re-plumbed: a stronger pump", "--now", `${dateOf(Math.floor(days / 2))} 15:00`);
  return fish;
}
