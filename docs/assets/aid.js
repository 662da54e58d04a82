/* Draws the drilling aid for a card as the address sets it; the card's own script works it, so that aid and card cannot
   differ. `workers.js` and the drawing come first. */
"use strict";

(async () => {
  const place = document.querySelector(".bw-set-aid"), part = sign => place.querySelector(sign);
  const { worked, spacing, systems } = JSON.parse(part(".bw-set-data").textContent);
  const { card, shop = Object.keys(spacing.came)[0], ...asked } = Object.fromEntries(new URLSearchParams(location.search));
  const title = [...place.querySelectorAll("[data-card]")].find(one => one.dataset.card === card);
  if (!title || !Object.hasOwn(spacing.came, shop)) return;
  const { [card]: worker } = await globalThis.bondwrightCards.fetchCards([card]), { readQuantity } = globalThis.bondwright;
  const { fields } = globalThis.bondwrightCard, { faults } = worker.work(shop, asked);
  const own = Object.fromEntries(Object.entries(asked).filter(([name]) => name in fields && !(name in faults)));
  const job = worker.work(shop, own), say = name => worker.say(job, name), input = part("input");

  /* A mark stands where its label says, so lengths are read from what is printed. */
  function aid(apart) {
    const texts = Object.fromEntries(worked.map(name => [name, say(name)])), values = {};
    for (const name in texts) values[name] = readQuantity(texts[name], { scales: spacing.scales });
    const distance = readQuantity(apart, spacing, shop);
    if (distance.trim) throw Error(`${apart} ${distance}`);
    return globalThis.bondwrightAid({ ...values, a_h: distance }, { ...texts, a_h: apart }, job.texts.thread, systems[shop], "aid-own").svg;
  }

  function draw() {
    const sheet = part(".bw-scroll"), fault = part(".bw-fault"), refused = worked.find(name => name in job.refused);
    try {
      if (refused) throw Error(job.refused[refused][0]);
      const svg = aid(globalThis.bondwrightCards.written(input.value, spacing.came[shop]));
      sheet.replaceChildren(new DOMParser().parseFromString(svg, "image/svg+xml").documentElement);
      fault.textContent = "";
    } catch ({ message }) {
      sheet.replaceChildren();
      fault.textContent = `No aid: ${message}.`;
    }
  }

  const mind = part(".bw-caution");
  title.hidden = false;
  part(".bw-set-job").textContent = `as it is set: ${["thread", "T", "large_drill", "guide_drill"].filter(name => name in job.texts).map(name => (job.titles[name] ?? job.texts[name]) + (name === "T" ? " deep" : "")).join(", ")}.`;
  mind.textContent = job.warnings.map(why => `Mind: ${why}.`).join(" ");
  mind.hidden = !job.warnings.length;
  input.value = spacing.came[shop];
  input.addEventListener("input", draw);
  draw();
  place.hidden = false;
})();
