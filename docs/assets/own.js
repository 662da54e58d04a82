/* What the shop's own pulled joints say of the joint as it is set, by the rule of `generator/evidence.py`; and the link that takes
   the card as set along to where a result is entered. The card's script and its runtime come first. */
"use strict";

(() => {
  const { work, say, address } = globalThis.bondwright, { own, tests = [], lines, outputs } = globalThis.bondwrightCard, NOISE = 1e-9;
  const place = document.querySelector(".bw-own-said"), link = document.querySelector(".bw-enter");

  /* Whether a joint is like those of a series. */
  function alike({ titles, values }, series) {
    const tested = series.values, near = own.gravity * series.gravity * (1 + NOISE);
    return own.needed.every(symbol => symbol in values)
      && own.sizes.every(name => titles[name] === series.titles[name])
      && Math.abs(values[own.bore] - tested[own.bore]) <= own.hole
      && Math.abs(values.G - series.gravity) <= near
      && values[own.depth] <= tested[own.depth] * (1 + 1e-6)
      && own.same.every(name => !(name in titles && name in series.titles) || titles[name] === series.titles[name]);
  }

  /* What a series says of the joint, a sentence a working load. */
  function sentences(job, { values, low, said, counts }) {
    const q_t = own.parts.reduce((share, symbol) => share * Math.min(1, job.values[symbol] / values[symbol]), 1);
    const found = { ...job, values: { ...job.values, q_t, R_t: low } }, refused = { ...job.refused };
    return tests.map(([symbol, meaning, by, names, how]) => {
      if ([by, ...names].some(name => name in refused)) return refused[by] = { load: 0, text: "" };
      const load = found.values[by] = how(...names.map(name => found.values[name])), model = job.values[symbol];
      const beside = model === undefined ? "no model" : load < model ? "lower" : "higher";
      return { symbol, load, counts, text: Number.isFinite(load) && `${meaning[0].toUpperCase()}${meaning.slice(1)}: ${said[beside].replace(/\{\{|\}\}|\{load\}/g, part => ({ "{{": "{", "}}": "}" })[part] ?? say(found, by))}.` };
    });
  }

  /* What else comes lower where tests that count take a load down: what is reckoned from it, in working order. */
  function along(job, found) {
    const values = { ...job.values }, texts = {};
    for (const { symbol, load, counts } of found) if (counts && load < values[symbol]) values[symbol] = load;
    for (const [symbol, text] of Object.entries(own.along ?? {})) {
      const [, names, how] = lines.find(([one, names]) => one === symbol && names.every(name => name in values)) ?? [];
      const value = how && symbol in values ? how(...names.map(name => values[name])) : NaN;
      if (value < values[symbol] * (1 - NOISE)) [values[symbol], texts[symbol]] = [value, text];
    }
    return outputs.filter(symbol => texts[symbol]).map(symbol => ({ text: texts[symbol].replace(/\{(\w+)\}/g, (_, name) => say({ ...job, values }, name === "value" ? symbol : name)) }));
  }

  function update() {
    const query = address().searchParams, system = query.get("shop") ?? globalThis.bondwrightCard.systems[0];
    if (link) link.search = address().search;
    if (!own || !place) return;
    const job = work(system, Object.fromEntries(query));
    const found = own.series.filter(series => alike(job, series)).map(series => sentences(job, series)).sort(([a], [b]) => a.load - b.load).flat();
    const texts = [...found, ...along(job, found)].map(({ text }) => text).filter(Boolean);
    // On paper, what counts for nothing would be read as a load.
    place.toggleAttribute("data-idle", !found.some(({ counts }) => counts));
    if (texts.join() === [...place.children].map(node => node.textContent).join()) return;
    place.replaceChildren(...texts.map(text => Object.assign(document.createElement("p"), { textContent: text })));
  }

  for (const kind of ["input", "click", "change"]) document.addEventListener(kind, update);
  update();
})();
