/* A card keeps to its sheets on paper, whatever it is set to and whatever language tells it: what can be spared gives way until
   its sides hold, and the room that is left goes between the lines. In a handout all cards are measured at once. */
"use strict";

(() => {
  const whole = document.querySelector("#bw-print-whole"), paper = matchMedia("print");
  const ROW = 4, LEAST = ["small", 0], sheets = [...document.querySelectorAll(".bw-card")].map(card => {
    const why = card.querySelector(".bw-why"), all = sign => [...why.querySelectorAll(sign)];
    // The last of these is spared first: a row on paper of the record at a time, the code, then what to do where a step went
    // wrong, from the first step on, for dry work can be done anew. What may hurt stays, and a row where steps ask to write down.
    const rows = all(".bw-record p").map((line, place, lines) => place % ROW || (!place && line.closest(".bw-stays")) ? [] : lines.slice(place, place + ROW));
    const wrong = all(".bw-wrong:not(.bw-stays)").reverse().map(line => [line]);
    const spared = [...wrong, all(".bw-scroll:not(.bw-stays):has(.bw-joints)"), all(".bw-code"), ...rows].filter(parts => parts.length);
    return { bench: card.querySelector(".bw-bench"), why, spared };
  });
  const single = sheets.length === 1, sides = () => whole && (!whole.checked || stopped(sheets[0])) ? 1 : 2;

  const stopped = ({ bench }) => bench.querySelector(".bw-stop:not([hidden])");
  const put = (side, name, value) => side.style.setProperty(name, value);
  function keep({ why, spared }, way, count = spared.length) {
    why.dataset.way = way;
    spared.forEach((parts, place) => parts.forEach(part => part.toggleAttribute("data-spared", place >= count)));
  }

  /* How many pages are taken when a side of a card ends, with a hair below it. What explains the card begins on a page of its
     own, unless the card stops; and so do both in a handout. */
  function pages(sheet, side) {
    const page = document.documentElement.clientHeight; // On paper the window is a page.
    const { top, bottom } = sheet[side].getBoundingClientRect(), own = !single || (side === "why" && !stopped(sheet));
    return Math.ceil((bottom - (own ? top : -scrollY) + 4) / page);
  }

  /* Letters stand a hair closer; then a line stands for how loads across were reckoned, and one thing after another that can be spared
     goes; then the loads; and last, in a language that says it all at greater length, letters are smaller. */
  function give() {
    const ways = ({ spared: { length } }) => [["", length], ["close", length], ...Array.from({ length: length + 1 }, (_, less) => ["lean", length - less]), ["bare", 0], LEAST];
    let wide = sheets.map(sheet => ({ sheet, left: ways(sheet) }));
    while (wide.length) {
      for (const { sheet, left } of wide) keep(sheet, ...left.shift());
      wide = wide.filter(({ sheet, left }) => left.length && pages(sheet, "why") > sides());
    }
  }

  /* The most that these sides take, from the least on, without another page. Sides that do not move each other are tried at
     once, for every try is a layout. */
  function widen(...sides) {
    const tried = sheets.flatMap(sheet => sides.map(([side, name, low, high]) => ({ sheet, side, name, low, high })));
    const lay = value => tried.forEach(one => put(one.sheet[one.side], one.name, value(one)));
    lay(({ low }) => low);
    for (const one of tried) one.taken = pages(one.sheet, one.side);
    for (let tries = single ? 5 : 2; tries; tries -= 1) {
      lay(({ low, high }) => (low + high) / 2);
      for (const one of tried) one[pages(one.sheet, one.side) > one.taken ? "high" : "low"] = (one.low + one.high) / 2;
    }
    lay(({ low }) => low);
  }

  /* A browser counts the pages once, with the least on them, and then tells that they are laid out for paper. Where only
     Chromium is known to tell while they can still be changed, others print all there is. */
  let printing = false;
  addEventListener("beforeprint", () => {
    printing = !paper.matches && "userAgentData" in navigator;
    if (!printing) return;
    for (const sheet of sheets) {
      put(sheet.bench, "--air", -1);
      put(sheet.why, "--lead", 1.2);
      keep(sheet, ...LEAST);
    }
  });
  paper.addEventListener("change", ({ matches }) => {
    if (!printing) return;
    if (matches) {
      const bench = ["bench", "--air", -1, 3], why = ["why", "--lead", 1.2, 1.4];
      if (sheets.some(stopped)) widen(bench); // What explains a card that stops goes on below it.
      give();
      sheets.some(stopped) ? widen(why) : widen(bench, why);
    } else {
      printing = false;
      for (const sheet of sheets) {
        for (const side of [sheet.bench, sheet.why]) side.removeAttribute("style");
        keep(sheet, "");
      }
    }
  });
})();
