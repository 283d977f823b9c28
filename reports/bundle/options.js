// What an option of a page says in words, made into what the chart library takes. JSON carries no functions and a
// trace is long, so two shapes stand for them:
//   "$name" or "$name:argument"            a function of the table below
//   {"$steps": [first, step, ...], "every": n, "parts": p}
//                                           points n apart whose values are the running sums by p;
//                                           null is a missing value and keeps the sum
import { use } from "echarts/core";
import { LineChart, BarChart, ScatterChart, CustomChart } from "echarts/charts";
import { GridComponent, TooltipComponent, MarkAreaComponent, MarkLineComponent } from "echarts/components";
import { SVGRenderer } from "echarts/renderers";

use([LineChart, BarChart, ScatterChart, CustomChart, GridComponent, TooltipComponent, MarkAreaComponent, MarkLineComponent,
  SVGRenderer]);

const number = (v, digits) => v == null || Number.isNaN(v) ? "not recorded" : Number(v).toFixed(digits).replace(/\.0+$/, "");
const clock = (s) => {
  const h = Math.floor(s / 3600), m = Math.floor(s / 60) % 60, r = Math.round(s % 60);
  return h > 0 ? h + ":" + String(m).padStart(2, "0") + ":" + String(r).padStart(2, "0") : m + ":" + String(r).padStart(2, "0");
};
const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const day = (n) => {
  const d = new Date(Math.round(n) * 86400000);
  return d.getUTCDate() + " " + months[d.getUTCMonth()];
};
const value = (p) => {
  const v = Array.isArray(p.value) ? p.value[p.encode && p.encode.y ? p.encode.y[0] : 1] : p.value;
  return p.data && typeof p.data === "object" && p.data.text ? p.data.text : v;
};

const functions = {
  // Axis labels: seconds as minutes of the clock.
  clock: () => clock,
  minutes: () => (s) => String(Math.round(s / 60)),
  // Axis labels: days since 1970.
  day: () => day,
  // Tooltip over an axis of days.
  days: (unit) => (list) => {
    list = Array.isArray(list) ? list : [list];
    return list.length ? [day(list[0].value[0])].concat(list.map((p) => number(p.value[1], 1) + " " + unit)).join("\n") : "";
  },
  // Tooltip over a dot of a chart of heart rate over load.
  pairs: (unit) => (list) => [].concat(list).filter((p) => p.name).map((p) => p.name + ": " + number(p.value[0], 1) + " " + unit + ", " +
    number(p.value[1], 1) + " bpm").join("\n"),
  // Tooltip over one place of the axis: its label, then a line for each series that has a value.
  rows: (unit) => (list) => {
    list = Array.isArray(list) ? list : [list];
    const lines = list.filter((p) => p.seriesName && value(p) != null && value(p) !== "-")
      .map((p) => p.seriesName + ": " + (typeof value(p) === "number" ? number(value(p), 1) + " " + unit : value(p)));
    return list.length ? [list[0].axisValueLabel ?? list[0].name].concat(lines).join("\n") : "";
  },
  // Tooltip over a trace whose axis is seconds; a series with a field "unit" brings its own.
  moment: (unit, option) => (list) => {
    list = Array.isArray(list) ? list : [list];
    const lines = list.filter((p) => p.seriesType === "line" && p.value && p.value[1] != null)
      .map((p) => {
        const own = option.series[p.seriesIndex].unit;
        return (p.seriesName ? p.seriesName + ": " : "") + number(p.value[1], own ? 1 : 0) + " " + (own ?? unit);
      });
    return list.length ? [clock(list[0].axisValue)].concat(lines.length ? lines : ["not recorded"]).join("\n") : "";
  },
  // An interval [x, from, to] as an upright bar.
  whisker: () => (params, api) => {
    const a = api.coord([api.value(0), api.value(1)]), b = api.coord([api.value(0), api.value(2)]);
    return { type: "line", shape: { x1: a[0], y1: a[1], x2: b[0], y2: b[1] }, style: { stroke: "var(--z1)", lineWidth: 5, lineCap: "round" } };
  },
  // The foot of a value axis that is cut off below.
  break: () => (params) => {
    const x = params.coordSys.x, y = params.coordSys.y + params.coordSys.height;
    return { type: "polyline", shape: { points: [[x, y], [x, y - 3], [x - 4, y - 5], [x + 4, y - 9], [x, y - 11], [x, y - 14]] },
      style: { stroke: "var(--soft)", fill: "none", lineWidth: 1.5 } };
  },
  // One span [from, to, row, fill, name] drawn as a box, with its name inside where it fits.
  span: () => (params, api) => {
    const a = api.coord([api.value(0), api.value(2)]), b = api.coord([api.value(1), api.value(2)]);
    const height = Math.min(22, api.size([0, 1])[1] * 0.8), width = Math.max(1, b[0] - a[0] - 1);
    let name = String(api.value(4)), size = 11, longest = name.length;
    if (width < longest * 6.5 + 8 && name.includes("-")) { // in two lines where one is too long
      name = name.replace("-", "-\n");
      size = 9.5;
      longest = Math.max(...name.split("\n").map((s) => s.length));
    }
    const box = { type: "rect", shape: { x: a[0], y: a[1] - height / 2, width, height, r: 3 },
      style: { fill: String(api.value(3)), stroke: "var(--outline)", lineWidth: 1 } };
    if (width < longest * size * 0.59 + (size < 11 ? 2 : 8)) return box;
    return { type: "group", children: [box, { type: "text", style: { text: name, x: a[0] + width / 2, y: a[1], align: "center",
      verticalAlign: "middle", fill: String(api.value(5)), fontSize: size, lineHeight: size, fontFamily: "inherit" } }] };
  },
};

// revive makes the functions and the points of v; option is the whole of which it is a part.
export const revive = (v, option) => {
  if (typeof v === "string" && v[0] === "$") {
    const cut = v.indexOf(":"), name = cut < 0 ? v.slice(1) : v.slice(1, cut);
    return Object.hasOwn(functions, name) ? functions[name](cut < 0 ? "" : v.slice(cut + 1), option) : v;
  }
  if (Array.isArray(v)) return v.map((w) => revive(w, option));
  if (v === null || typeof v !== "object") return v;
  if (Array.isArray(v.$steps)) {
    let sum = 0;
    return v.$steps.map((d, i) => [i * v.every, d === null ? null : (sum += d) / v.parts]);
  }
  return Object.fromEntries(Object.entries(v).map(([k, w]) => [k, revive(w, option)]));
};
