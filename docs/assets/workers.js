/* What pages share that work several cards with a few numbers: the cards' own scripts, fetched when a number is first set, so
   that page and card cannot differ. A plain script: a browser loads no module from a memory stick. */
"use strict";

(() => {
  const here = document.currentScript.src, KEY = "bondwright-size";

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
    if (why) return { words: `no number: ${why}`, newtons: 0, why };
    const least = symbols.reduce((a, b) => (job.values[b] < job.values[a] ? b : a));
    return { words: worker.say(job, least), newtons: job.values[least] };
  }

  /* A length in metres as a reader writes it, rounded down. */
  function lengthText(length, [size, parts, unit]) {
    return `${Number((Math.floor(length / size * parts + 1e-6) / parts).toFixed(4))} ${unit}`;
  }

  /* Each card's inputs and job with a page's numbers, no deeper than the wood asked for: a length that has no number leaves the
     card none, and tells why. `AskingPage.reckoning` works it alike. */
  function workAll(workers, shop, { taken, lengths, least, thin }, text) {
    const done = {};
    const found = (job, symbol) => Object.values(job.faults)[0] ?? job.refused[symbol]?.[0] ?? job.values[symbol];
    function one(card) {
      if (done[card]) return done[card];
      const { given, deep, from } = taken[card], why = {}, work = () => workers[card].work(shop, inputs);
      const inputs = Object.fromEntries(Object.entries(given).map(([name, source]) => [name, text(source)]));
      const put = (name, length) => {
        if (length.trim) why[name] = length;
        inputs[name] = lengthText(length.trim ? 0 : length, lengths[shop]);
      };
      for (const name in from) {
        const length = found(one(from[name]).job, name);
        put(name, length.trim ? length : Math.max(length, least));
      }
      for (const name in deep) {
        const job = work(), depth = found(job, deep[name]);
        put(name, depth.trim ? depth : 2 * job.values[name] - depth);
        why[name] ??= work().faults[name] && thin;
      }
      const job = work();
      for (const name in why) if (why[name]) job.faults[name] = why[name];
      return done[card] = { inputs, job };
    }
    return Object.fromEntries(Object.keys(taken).map(card => [card, one(card)]));
  }

  /* What was set on such a page: in the address, else on this visit, on whichever of them. */
  function recall(came, shop) {
    const asked = [...new URLSearchParams(location.search)].filter(([name]) => name in came[shop]);
    if (asked.length) return Object.fromEntries(asked);
    try {
      const [kept, own] = JSON.parse(sessionStorage.getItem(KEY)) ?? [];
      return kept === shop ? own : {};
    } catch { return {}; /* nothing is remembered */ }
  }

  function keep(shop, own) {
    try { sessionStorage.setItem(KEY, JSON.stringify([shop, own])); } catch { /* it is not remembered */ }
  }

  globalThis.bondwrightCards = { fetchCards, written, carried, workAll, recall, keep };
})();
