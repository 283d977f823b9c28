// The drawing of a chart when its page is written, without a browser: the library's server mode, and a writer of SVG
// whose elements carry attributes only, since the pages allow no style but their own.
import { init } from "echarts/core";
import { revive } from "./options.js";

const escape = (s) => String(s).replace(/[&<>"]/g, (c) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[c]);

// What a style may say that an attribute says as well.
const styled = ["font-size", "font-family", "font-weight", "text-anchor", "dominant-baseline"];

// The library numbers what a drawing refers to anew in each chart; name makes these names the drawing's own, so that
// two of them can stand in one page and the same chart is always the same text.
const write = (node, name) => {
  if (node.tag === "style") return "";
  const own = (value) => String(value).replace(/^(url\(#|#)?zr\d+-/, "$1" + name + "-");
  let out = "<" + node.tag;
  for (const [key, value] of Object.entries(node.attrs ?? {})) {
    if (value === false || value == null || key === "class" || key.startsWith("xmlns") || key === "baseProfile") continue;
    if (key !== "style") {
      out += " " + key + '="' + escape(own(value)) + '"';
      continue;
    }
    for (const part of String(value).split(";")) {
      const cut = part.indexOf(":"), said = part.slice(0, cut).trim();
      if (styled.includes(said)) out += " " + said + '="' + escape(part.slice(cut + 1).trim()) + '"';
    }
  }
  return out + ">" + (node.text ? escape(node.text) : "") + (node.children ?? []).filter(Boolean).map((child) => write(child, name)).join("") + "</" + node.tag + ">";
};

globalThis.drawChart = (json, width, height, name) => {
  const chart = init(null, null, { renderer: "svg", ssr: true, width, height });
  try {
    const option = JSON.parse(json);
    chart.setOption(revive(option, option));
    return write(chart.getZr().painter.renderToVNode({ useViewBox: true, animation: false }), name);
  } finally {
    chart.dispose();
  }
};
