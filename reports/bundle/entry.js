// The chart runtime of the trainer's pages. Each chart is already drawn in its page; where the trainer points at one,
// this draws it once more on top, with the values under the pointer. A data block is
// <script type="application/json" data-for="ID">OPTION</script>.
import { init } from "echarts/core";
import { revive } from "./options.js";

const draw = (block, place) => {
  const height = place.getBoundingClientRect().height;
  const live = document.createElement("div");
  live.className = "live-" + (place.dataset.size || "usual");
  place.append(live);
  place.classList.add("live");
  const chart = init(live, null, { renderer: "svg", width: place.clientWidth, height });
  const option = JSON.parse(block.textContent);
  chart.setOption(revive(option, option));
  new ResizeObserver(() => {
    if (live.clientWidth > 0 && live.clientWidth !== chart.getWidth()) chart.resize({ width: live.clientWidth, height: "auto" });
  }).observe(place);
};

const start = () => {
  document.querySelectorAll("script[data-for]").forEach((block) => {
    const place = document.getElementById(block.dataset.for);
    place.addEventListener("pointerenter", () => draw(block, place), { once: true });
  });
};
if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
else start();
