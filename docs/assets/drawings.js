/* Draws a card's joint and its steps with what the reader has set. Their drawings come once the form is open or something is set. */
"use strict";

(() => {
  const here = document.currentScript.src, section = document.querySelector(".bw-live"), { body } = document;
  const isSet = () => body.hasAttribute("data-bw-set");
  let shown = "", joint, resting;

  /* The figures of a shop in the order of the drawings, each with what it came with. */
  const came = new Map([...document.querySelectorAll(".bw-joint, .bw-steps .bw-figure")].map(figure => [figure, [...figure.children]]));
  const figures = shop => [...came].filter(([figure]) => figure.dataset.shop === shop);

  function put([figure, [drawing, words]], place, job) {
    if (!isSet()) return figure.replaceChildren(drawing, words);
    const { svg, caption } = globalThis.bondwrightDrawings[place](job.values, name => globalThis.bondwright.say(job, name), job.texts, `live-${job.system}-${place}`, job.refused);
    const told = words.cloneNode(true);
    told.querySelector(".bw-as-came").remove();
    told.lastChild.data = ` ${caption}`;
    // Not parsed as a page.
    figure.replaceChildren(new DOMParser().parseFromString(svg, "image/svg+xml").documentElement, told);
  }

  function drawJoint(job) {
    const [first] = figures(job.system);
    if (!first?.[0].matches(".bw-joint")) return;
    put(first, 0, job);
    joint = globalThis.bondwright.address().search;
  }

  function draw() {
    const { bondwright } = globalThis, { search, searchParams } = bondwright.address();
    if (!bondwright.draw || search === shown) return;
    shown = search;
    const { shop = globalThis.bondwrightCard.systems[0], ...own } = Object.fromEntries(searchParams), job = bondwright.work(shop, own);
    figures(shop).forEach((figure, place) => { if (joint !== search || !figure[0].matches(".bw-joint")) put(figure, place, job); });
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

  const watch = new MutationObserver(fetchOnce), form = section.querySelector("details");
  function fetchOnce() {
    if (!isSet() && !form.open) return;
    watch.disconnect();
    const script = document.createElement("script");
    script.src = new URL(section.dataset.drawings, here).href;
    script.onload = () => { globalThis.bondwright.draw = drawJoint; draw(); };
    document.head.append(script);
  }
  watch.observe(body, { attributeFilter: ["data-bw-set"] });
  watch.observe(form, { attributeFilter: ["open"] });
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
