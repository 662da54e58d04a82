/* What pages share that work several cards with a few numbers: the cards' own scripts, fetched when a number is first set, so
   that page and card cannot differ. A plain script: a browser loads no module from a memory stick. */
"use strict";

(() => {
  const here = document.currentScript.src;

  function script(name) {
    return new Promise((resolve, reject) => {
      const node = document.createElement("script");
      Object.assign(node, { src: new URL(name, here).href, onload: resolve, onerror: reject });
      document.head.append(node);
    });
  }

  /* A card's script, then the runtime, which takes it up. */
  async function fetchCards(cards) {
    const workers = {};
    for (const card of cards) {
      await script(`../cards/${card}/live.js`);
      await script("live.js");
      workers[card] = globalThis.bondwright;
    }
    return workers;
  }

  /* Empty is as it came; a number without a unit is in the unit that it came in. */
  function written(typed, came) {
    const said = typed?.trim() || came, [unit] = /[^\d\s./]+$/.exec(came) ?? [];
    return unit && /^[\d\s./,-]+$/.test(said) ? `${said} ${unit}` : said;
  }

  /* What a card carries one way: words, and newtons where there is a number. */
  function carried(worker, job, symbols, none) {
    const fault = Object.values(job.faults)[0];
    if (!symbols.length) return { words: none, newtons: 0 };
    const why = fault ?? symbols.map(symbol => job.refused[symbol]?.[0]).find(Boolean);
    if (why) return { words: `no number: ${why}`, newtons: 0 };
    const least = symbols.reduce((a, b) => (job.values[b] < job.values[a] ? b : a));
    return { words: worker.say(job, least), newtons: job.values[least] };
  }

  globalThis.bondwrightCards = { fetchCards, written, carried };
})();
