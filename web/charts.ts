// Charts, fetched only where they are shown.
import uPlot from "uplot";
import { W } from "./words";

/// Something that happened: a line from top to bottom with its number; a chapter's line is whole and thick.
export interface Mark { at: number; sign: string; text: string; chapter: boolean }
/// The lowest and highest of each day as the model has them, a band about both, and over them what was read.
export interface Series {
  label: string; unit: string; days: number[]; low: (number | null)[]; high: (number | null)[];
  band?: { name: string; low: number[]; high: number[] };
  readings?: { name: string; times: number[]; values: number[] }; marks?: Mark[];
}
/// Several lines over time, to be moved by hand: `times` in seconds, as a clock at the loop shows them.
export interface Lines { label: string; times: number[]; lines: { name: string; values: (number | null)[] }[]; dots?: boolean; marks?: Mark[] }

const styled = (name: string) => getComputedStyle(document.body).getPropertyValue(name).trim();
/// As people write dates where this browser is; a year where several are shown, hours where they are apart.
function dates(at: number[], step: number, span: number): string[] {
  const form = new Intl.DateTimeFormat([], { timeZone: "UTC", ...(step < 86400 ? { hour: "2-digit", minute: "2-digit", ...(span > 86400 ? { day: "numeric", month: "short" } as const : {}) } : span > 400 * 86400 ? { month: "short", year: "numeric" } : { day: "numeric", month: "short" }) });
  return at.map((t) => form.format(new Date(t * 1000)));
}
function axes(label: string): uPlot.Axis[] {
  const axis = { stroke: getComputedStyle(document.body).color, grid: { stroke: styled("--line"), width: 1 }, ticks: { stroke: styled("--line"), width: 1 }, font: "14px sans-serif", labelFont: "14px sans-serif" };
  return [{ ...axis, space: 78, values: (u, at, _i, _s, step) => dates(at, step, u.scales.x!.max! - u.scales.x!.min!) }, { ...axis, label, size: 60 }];
}
const isDark = () => (/\d+/g.exec(getComputedStyle(document.body).backgroundColor) ?? ["255"]).map(Number)[0]! < 128;
const clock = (v: number | null, to: number) => v === null ? "–" : new Date(v * 1000).toISOString().slice(0, to).replace("T", " ");
const asSaid = (t: number) => uPlot.tzDate(new Date(t * 1000), "Etc/UTC");  // times stand as the loop's clock shows them

/// Draws what happened over the lines, the signs at the top, none over another.
function marked(marks: Mark[]): uPlot.Plugin {
  return { hooks: { draw: (u) => {
    const pen = u.ctx, { left, top, width, height } = u.bbox, wide = devicePixelRatio;
    let free = -1e9;
    pen.save();
    pen.font = `bold ${13 * wide}px sans-serif`;
    pen.textAlign = "center";
    for (const m of marks) {
      const x = Math.round(u.valToPos(m.at, "x", true));
      if (x < left || x > left + width) continue;
      const half = pen.measureText(m.sign).width / 2 + 3 * wide, room = x - half >= free;
      if (!room && !m.chapter) continue;  // where many stand close, some are left to the list
      pen.strokeStyle = pen.fillStyle = getComputedStyle(document.body).color;
      pen.lineWidth = (m.chapter ? 3 : 1) * wide;
      pen.setLineDash(m.chapter ? [] : [2 * wide, 4 * wide]);
      pen.beginPath();
      pen.moveTo(x, top + 18 * wide);
      pen.lineTo(x, top + height);
      pen.stroke();
      if (!room) continue;
      pen.fillText(m.sign, x, top + 14 * wide);
      free = x + half;
    }
    pen.restore();
  } } };
}

function draw(into: HTMLElement, s: Series): HTMLCanvasElement {
  // Of Okabe and Ito's set, told apart by all, the two that stand out from the paper; the line of the lows is dashed as well.
  const dark = isDark(), high = dark ? "#E69F00" : "#D55E00", low = dark ? "#56B4E9" : "#0072B2", edge = dark ? "#9AA7AD" : "#56B4E9", fill = dark ? "rgba(170, 190, 200, .25)" : "rgba(86, 180, 233, .22)";
  const table = [s.days, s.high, s.low, ...(s.band ? [s.band.high, s.band.low] : [])] as uPlot.AlignedData;
  const read = s.readings && s.readings.times.length ? [s.readings.times, s.readings.values] as uPlot.AlignedData : undefined;
  const dot: uPlot.Series = { label: s.readings?.name ?? "", paths: () => null, stroke: getComputedStyle(document.body).color, points: { show: true, size: s.readings && s.readings.times.length > 60 ? 4 : 8, width: 2, fill: styled("--paper") } };
  const plot = new uPlot({
    width: Math.max(280, into.clientWidth), height: 260, legend: { show: true }, scales: { x: { time: true } },
    series: [{ label: W.day, value: (_u, v) => clock(v, 10) },
      { label: W.high, stroke: high, width: 2, spanGaps: true }, { label: W.low, stroke: low, width: 2, dash: [8, 4], spanGaps: true },
      ...(s.band ? [{ label: `${s.band.name} ↑`, stroke: edge, width: 1, spanGaps: true, points: { show: false } }, { label: `${s.band.name} ↓`, stroke: edge, width: 1, spanGaps: true, points: { show: false } }] : []),
      ...(read ? [dot] : [])],
    cursor: { drag: { x: false, y: false } }, bands: s.band ? [{ series: [3, 4], fill }] : [],
    axes: axes(`${s.label}${s.unit ? `, ${s.unit}` : ""}`), tzDate: asSaid, plugins: [marked(s.marks ?? [])],
  }, read ? uPlot.join([table, read]) : table, into);
  pannable(plot);
  return plot.ctx.canvas;
}

// Okabe and Ito's set, each with a dash of its own.
const inks = ["#0072B2", "#D55E00", "#009E73", "#CC79A7", "#E69F00", "#56B4E9"], inksOnDark = ["#56B4E9", "#E69F00", "#009E73", "#CC79A7", "#F0E442", "#D55E00"], dashes = [[], [8, 4], [2, 3], [12, 3, 2, 3], [5, 5], [1, 4]];

/// Shows another stretch of time: a share of what is shown to the side, or narrower and wider about a place.
function move(plot: uPlot, by: number, zoom = 1, about = 0.5): void {
  const { min, max } = plot.scales.x!, times = plot.data[0], first = times[0]!, last = times[times.length - 1]!;
  const span = Math.min(Math.max((max! - min!) * zoom, 3600), Math.max(last - first, 3600));
  const from = Math.min(Math.max(min! + (max! - min!) * about - span * about + by * span, first), last - span);
  plot.setScale("x", { min: from, max: from + span });
}
function pannable(plot: uPlot): void {
  const over = plot.over;
  let at: number | undefined, due = 0, frame = 0;
  const paint = () => { frame = 0; move(plot, due); due = 0; };  // one change a frame, however often the hand moves
  over.style.touchAction = "pan-y";
  over.tabIndex = 0;
  over.setAttribute("role", "application");
  over.setAttribute("aria-label", W.moveHint);
  over.addEventListener("pointerdown", (e) => { at = e.clientX; over.setPointerCapture(e.pointerId); });
  over.addEventListener("pointermove", (e) => {
    if (at === undefined) return;
    due += (at - e.clientX) / over.clientWidth;
    at = e.clientX;
    frame ||= requestAnimationFrame(paint);
  });
  for (const end of ["pointerup", "pointercancel"]) over.addEventListener(end, () => { at = undefined; });
  over.addEventListener("wheel", (e) => { if (!e.ctrlKey) return; e.preventDefault(); move(plot, 0, e.deltaY > 0 ? 1.25 : 0.8, e.offsetX / over.clientWidth); }, { passive: false });
  over.addEventListener("keydown", (e) => {
    const acts: Record<string, [number, number]> = { ArrowLeft: [-0.2, 1], ArrowRight: [0.2, 1], "+": [0, 0.8], "-": [0, 1.25] }, act = acts[e.key];
    if (act) { e.preventDefault(); move(plot, ...act); }
  });
}
/// Two readings of one minute stand in the hour that they belong to, not in the years about it.
function hourAtLeast(u: uPlot, from: number, to: number): [number, number] {
  const times = u.data[0], first = times[0] ?? from, last = times[times.length - 1] ?? to, middle = (first + last) / 2;
  return last - first < 3600 ? [middle - 1800, middle + 1800] : [from, to];
}
function lines(into: HTMLElement, s: Lines): uPlot {
  const plot = new uPlot({
    width: Math.max(280, into.clientWidth), height: 260, legend: { show: true }, scales: { x: { time: true, range: hourAtLeast } },
    cursor: { drag: { x: false, y: false } }, axes: axes(s.label), tzDate: asSaid, plugins: [marked(s.marks ?? [])],
    series: [{ label: W.day, value: (_u, v) => clock(v, 16) },
      ...s.lines.map((l, i) => ({ label: l.name, stroke: (isDark() ? inksOnDark : inks)[i % 6]!, dash: dashes[i % 6]!, width: 2, spanGaps: true, points: { show: s.dots === true } }))],
  }, [s.times, ...s.lines.map((l) => l.values)], into);
  pannable(plot);
  return plot;
}
Object.assign(window, { leatDraw: draw, leatLines: lines });
