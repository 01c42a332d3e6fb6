// Charts, fetched only at the desk.
import uPlot from "uplot";

export interface Series { label: string; unit: string; days: number[]; low: (number | null)[]; high: (number | null)[]; band?: { name: string; low: number[]; high: number[] } }
function draw(into: HTMLElement, s: Series): HTMLCanvasElement {
  const style = getComputedStyle(document.body);
  const ink = style.color, grid = style.getPropertyValue("--line").trim();
  // Okabe and Ito's blue and vermilion, told apart by all; the line of the lows is dashed as well.
  const axis = { stroke: ink, grid: { stroke: grid, width: 1 }, ticks: { stroke: grid, width: 1 }, font: "14px sans-serif", labelFont: "14px sans-serif" };
  const plot = new uPlot({
    width: Math.max(280, into.clientWidth), height: 240, legend: { show: true }, scales: { x: { time: true } },
    series: [{ value: (_u, v) => v === null ? "–" : new Date(v * 1000).toISOString().slice(0, 10) },
      { label: "highest", stroke: "#D55E00", width: 2 }, { label: "lowest", stroke: "#0072B2", width: 2, dash: [8, 4] },
      ...(s.band ? [{ label: `${s.band.name} ↑`, stroke: "#56B4E9", width: 1 }, { label: `${s.band.name} ↓`, stroke: "#56B4E9", width: 1 }] : [])],
    bands: s.band ? [{ series: [3, 4], fill: "rgba(86, 180, 233, .22)" }] : [],
    axes: [{ ...axis, space: 70 }, { ...axis, label: `${s.label}${s.unit ? `, ${s.unit}` : ""}`, size: 60 }],
    tzDate: (t) => uPlot.tzDate(new Date(t * 1000), "Etc/UTC"),
  }, [s.days, s.high, s.low, ...(s.band ? [s.band.high, s.band.low] : [])], into);
  return plot.ctx.canvas;
}
(window as unknown as { leatDraw: typeof draw }).leatDraw = draw;
