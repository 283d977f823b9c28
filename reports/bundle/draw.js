// The drawing of a chart when its page is written, without a browser: the library's server mode, and a writer of SVG
// whose elements carry attributes only, since the pages allow no style but their own.
import { init } from "echarts/core";
import { revive } from "./options.js";

const escape = (s) => String(s).replace(/[&<>"]/g, (c) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[c]);

// What a style may say that an attribute says as well.
const styled = ["font-size", "font-family", "font-weight", "text-anchor", "dominant-baseline"];

const write = (node) => {
  if (node.tag === "style") return "";
  let out = "<" + node.tag;
  for (const [name, value] of Object.entries(node.attrs ?? {})) {
    if (value === false || value == null || name === "class" || name.startsWith("xmlns") || name === "baseProfile") continue;
    if (name !== "style") {
      out += " " + name + '="' + escape(value) + '"';
      continue;
    }
    for (const part of String(value).split(";")) {
      const cut = part.indexOf(":"), key = part.slice(0, cut).trim();
      if (styled.includes(key)) out += " " + key + '="' + escape(part.slice(cut + 1).trim()) + '"';
    }
  }
  return out + ">" + (node.text ? escape(node.text) : "") + (node.children ?? []).filter(Boolean).map(write).join("") + "</" + node.tag + ">";
};

globalThis.drawChart = (json, width, height) => {
  const chart = init(null, null, { renderer: "svg", ssr: true, width, height });
  try {
    const option = JSON.parse(json);
    chart.setOption(revive(option, option));
    return write(chart.getZr().painter.renderToVNode({ useViewBox: true, animation: false }));
  } finally {
    chart.dispose();
  }
};
