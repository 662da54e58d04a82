/* A card keeps to one sheet on paper, whatever it is set to and whatever language tells it: what can be spared gives way until
   its sides hold, and the room that is left goes between the lines. */
"use strict";

(() => {
  const bench = document.querySelector(".bw-bench"), why = document.querySelector(".bw-why"), paper = matchMedia("print");
  const whole = document.querySelector("#bw-print-whole"), all = sign => [...why.querySelectorAll(sign)];
  // What is filled in or looked up later, first what is spared last. Of the record a row on paper at a time.
  const ROW = 4, rows = all(".bw-record p").map((_, place, lines) => place % ROW ? [] : lines.slice(place, place + ROW));
  const spared = [all(".bw-scroll:has(.bw-joints)"), ...rows, all(".bw-code")].filter(parts => parts.length);

  const stopped = () => bench.querySelector(".bw-stop:not([hidden])");
  function put(side, name, value) { side.style.setProperty(name, value); }
  function keep(way, count) {
    why.dataset.way = way;
    spared.forEach((parts, place) => parts.forEach(part => part.toggleAttribute("data-spared", place >= count)));
  }

  let page;
  function measure() {
    put(bench, "min-block-size", "100vh");
    page = parseFloat(getComputedStyle(bench).minBlockSize);
    put(bench, "min-block-size", "");
  }

  /* How many pages are taken when a side ends, with a hair below it. What explains the card begins on a page of its own,
     unless the card stops. */
  function pages(side) {
    const { top, bottom } = side.getBoundingClientRect();
    return Math.ceil((bottom - (side === why && !stopped() ? top : -scrollY) + 4) / page);
  }

  /* Letters stand a hair closer; then what is filled in goes, then what to do where a step went wrong, then the loads, and
     as much as can be is filled in again. */
  function give() {
    for (const way of ["", "close", "short", "bare"]) {
      for (let count = spared.length; count >= (way ? 0 : spared.length); count -= 1) {
        keep(way, count);
        if (pages(why) < 2) return;
      }
    }
  }

  /* The most that a side takes, from `least` on, without another page. */
  function widen(side, name, least, greatest) {
    put(side, name, least);
    for (let taken = pages(side), tries = 0; tries < 5; tries += 1) {
      const middle = (least + greatest) / 2;
      put(side, name, middle);
      if (pages(side) > taken) greatest = middle; else least = middle;
    }
    put(side, name, least);
  }

  /* A browser counts the pages once, with the least on them, and then tells that they are laid out for paper. Where only
     Chromium is known to tell while they can still be changed, others print all there is. */
  let printing = false;
  addEventListener("beforeprint", () => {
    printing = !paper.matches && "userAgentData" in navigator;
    if (!printing) return;
    put(bench, "--air", -1);
    if (!whole.checked) keep("bare", 0);
  });
  paper.addEventListener("change", ({ matches }) => {
    if (!printing) return;
    if (matches) {
      measure();
      put(bench, "--air", 0);
      widen(bench, "--air", pages(bench) > 1 ? -1 : 0, 3);
      if (!whole.checked) give();
      widen(why, "--lead", 1.2, 1.4);
    } else {
      printing = false;
      for (const side of [bench, why]) side.removeAttribute("style");
      keep("", spared.length);
    }
  });
})();
