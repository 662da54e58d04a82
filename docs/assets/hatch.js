/* To a browser that prints, every area filled with a pattern is a picture of its own, some hundred kilobytes, and a card
   has fifty. So before it prints, each becomes its tint, and the pattern's lines cut off at its outline. */
"use strict";

(() => {
  let areas = 0;

  function element(name, attributes, ...content) {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, text] of Object.entries(attributes)) made.setAttribute(key, text);
    made.append(...content);
    return made;
  }

  /* Where the tiles lie that cover points. */
  function tiles(points, wide, high) {
    const steps = (places, size) => {
      const first = Math.floor(Math.min(...places) / size), last = Math.ceil(Math.max(...places) / size);
      return Array.from({ length: last - first }, (_, step) => +((first + step) * size).toFixed(2));
    };
    const down = steps(points.map(point => point.y), high);
    return steps(points.map(point => point.x), wide).flatMap(x => down.map(y => `M${x} ${y}`));
  }

  function rule(area, { x, y, width, height }) {
    const d = area.getAttribute("d"), pattern = document.getElementById(area.getAttribute("fill").slice(5, -1));
    const [ground, mark] = pattern.children, wide = pattern.width.baseVal.value, high = pattern.height.baseVal.value;
    const turn = pattern.patternTransform.baseVal.consolidate()?.matrix ?? new DOMMatrix(), back = turn.inverse();
    const corners = [[x, y], [x + width, y], [x, y + height], [x + width, y + height]].map(([x, y]) => new DOMPoint(x, y).matrixTransform(back));
    const lines = mark.cloneNode(), name = `bw-area-${areas += 1}`;
    lines.setAttribute("d", tiles(corners, wide, high).map(at => at + mark.getAttribute("d")).join(""));
    lines.setAttribute("transform", `matrix(${["a", "b", "c", "d", "e", "f"].map(key => turn[key])})`);
    area.before(
      element("clipPath", { id: name }, element("path", { d })),
      element("path", { d, stroke: "none", fill: ground.getAttribute("fill"), class: ground.getAttribute("class") }),
      element("g", { "clip-path": `url(#${name})` }, lines),
    );
    area.setAttribute("fill", "none");
  }

  /* How large they are is seen where something is shown whatever the shop is. */
  addEventListener("beforeprint", () => {
    const room = document.querySelector(".bw-patterns svg"), found = [...document.querySelectorAll("[fill^='url(#']")];
    const copies = found.map(area => element("path", { d: area.getAttribute("d"), stroke: "none" }));
    room.append(...copies);
    const boxes = copies.map(copy => copy.getBBox());
    copies.forEach(copy => copy.remove());
    found.forEach((area, place) => rule(area, boxes[place]));
  });
})();
