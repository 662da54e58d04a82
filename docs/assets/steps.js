/* Draws a card's steps with what the reader has set. Their drawings come once something is. */
"use strict";

(() => {
  const here = document.currentScript.src, section = document.querySelector(".bw-live");
  let shown = "", resting;

  function draw() {
    const { bondwright, bondwrightCard, bondwrightSteps } = globalThis, { search, searchParams } = bondwright.address();
    if (!bondwrightSteps || search === shown) return;
    shown = search;
    const { shop = bondwrightCard.systems[0], ...own } = Object.fromEntries(searchParams), job = bondwright.work(shop, own);
    document.querySelectorAll(`.bw-steps .bw-figure.bw-${shop}`).forEach((figure, place) => {
      const [old, words] = figure.children;
      const { svg, caption } = bondwrightSteps[place](job.values, name => bondwright.say(job, name), job.texts, `step-${shop}-${place}`, job.refused);
      old.replaceWith(new DOMParser().parseFromString(svg, "image/svg+xml").documentElement);
      words.querySelector(".bw-as-came")?.remove();
      words.lastChild.data = ` ${caption}`;
    });
    gather(job);
  }

  // Loads that have no number for one reason stand in one line, with the reason.
  const loads = [...document.querySelectorAll(".bw-trust tbody tr")].map(row => [row, row.cells[0], row.cells[0].textContent, row.querySelector("[data-s]").dataset.s]);
  function gather({ refused }) {
    const told = {};
    for (const [row, what, came, symbol] of loads) {
      const [why] = refused[symbol] ?? [], first = told[why];
      row.hidden = !!why && !!first;
      what.textContent = came;
      if (row.hidden) first.push(came);
      else if (why) told[why] = [came];
    }
    for (const [row, what, , symbol] of loads) if (symbol in refused && !row.hidden) what.textContent = `${told[refused[symbol][0]].join("; ")}: ${refused[symbol][0]}`;
  }

  function later() {
    clearTimeout(resting);
    resting = setTimeout(draw, 500);
  }

  const watch = new MutationObserver(fetchOnce);
  function fetchOnce() {
    if (!document.body.hasAttribute("data-bw-set")) return;
    watch.disconnect();
    const script = document.createElement("script");
    script.src = new URL(section.dataset.steps, here).href;
    script.onload = draw;
    document.head.append(script);
  }
  watch.observe(document.body, { attributeFilter: ["data-bw-set"] });
  fetchOnce();

  for (const kind of ["input", "click"]) section.addEventListener(kind, later);
  document.addEventListener("change", later);
  // No line of what is told of the reader's job ends between a number and its unit, as none of the page's own does.
  function keep() {
    for (const told of document.querySelectorAll(".bw-live-said span, .bw-trust td, [data-s]")) {
      if (!told.children.length) told.textContent = told.textContent.replace(/(\d) (?=(?:°?[a-zA-Z·]{1,4}|%|\d+\/\d+)(?![a-zA-Z]))/g, "$1\u00a0");
    }
  }

  // Before anything else that is done for the printer.
  addEventListener("beforeprint", () => { draw(); keep(); }, true);
})();
