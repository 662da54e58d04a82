/* The panel of the home page: a size worked on several cards beside each other. `workers.js` comes first. */
"use strict";

(() => {
  const { fetchCards, written, carried, workAll, recall, keep } = globalThis.bondwrightCards;
  const panel = document.querySelector(".bw-panel"), data = JSON.parse(panel.querySelector(".bw-panel-data").textContent), { came, taken, loads, none } = data;
  const boxes = [...panel.querySelectorAll("[data-field]")], cells = [...panel.querySelectorAll("[data-card]")], status = panel.querySelector(".bw-panel-status"), reasons = [...panel.querySelectorAll(".bw-why-none")];
  const shops = Object.keys(came), system = () => document.querySelector("[name='bw-shop']:checked")?.value ?? shops[0];
  const entry = box => box.querySelector("input, select");
  const write = (node, text) => { if (node.textContent !== text) node.textContent = text; };
  // What the reader has set, by name.
  let own = {}, fetched, turn = 0;

  const text = name => written(own[name], came[system()][name]);

  function tell(workers) {
    const worked = workAll(workers, system(), data, text), told = new Map(reasons.map(place => [place, {}]));
    for (const cell of cells) {
      const { card } = cell.dataset, worker = workers[card], { job, inputs } = worked[card], whys = new Set();
      for (const place of cell.querySelectorAll("[data-s]")) {
        const { s } = place.dataset;
        write(place, worker.say(job, s));
        if (job.refused[s]) whys.add(Object.values(job.faults)[0] ?? job.refused[s][0]);
      }
      for (const place of cell.querySelectorAll("[data-when]")) {
        const { when, over = -Infinity, not } = place.dataset;
        place.hidden = parseFloat(worker.say(job, when).replace(",", ".")) > over === !!not;
      }
      for (const beside of cell.querySelectorAll("p > span:not([data-when])")) beside.hidden = [...beside.querySelectorAll("[data-s]")].some(place => job.refused[place.dataset.s]);
      for (const place of cell.querySelectorAll("[data-way]")) {
        const { words, why } = carried(worker, job, loads[card][place.dataset.way], none);
        write(place, why ? "no number" : words);
        if (why) whys.add(why);
      }
      const here = told.get(cell.parentElement.querySelector(".bw-why-none"));
      for (const why of whys) (here[why] ??= []).push(cell.querySelector(".bw-said").textContent);
      for (const link of cell.querySelectorAll("a[href]")) link.search = new URLSearchParams({ shop: system(), ...inputs });
    }
    for (const [place, whys] of told) write(place, Object.entries(whys).map(([why, names]) => `${names.join(", ")}: ${`no number: ${why}`}.`).join(" "));
    for (const box of boxes) {
      const name = box.dataset.field, faults = Object.entries(taken).flatMap(([card, { given }]) => Object.keys(given).filter(one => given[one] === name).map(one => worked[card].job.faults[one]));
      // One card's range is not another's: only what no card takes is wrong.
      const wrong = faults.every(Boolean) ? faults[0] : "";
      write(box.querySelector(".bw-fault"), wrong);
      entry(box).ariaInvalid = !!wrong || null;
    }
    write(status, "");
  }

  async function update() {
    const mine = ++turn;
    write(status, fetched ? "" : "Working.");
    try {
      const workers = await (fetched ??= fetchCards(Object.keys(taken)));
      if (mine === turn) tell(workers);
    } catch {
      fetched = undefined;
      write(status, "The numbers could not be worked here. Each card works its own.");
    }
  }

  const fill = () => { for (const box of boxes) entry(box).value = own[box.dataset.field] ?? came[system()][box.dataset.field]; };

  panel.addEventListener("input", ({ target }) => {
    own[target.closest("[data-field]").dataset.field] = target.value;
    keep(system(), own);
    update();
  });
  document.addEventListener("change", ({ target }) => {
    if (target.name !== "bw-shop") return;
    own = {};
    fill();
    keep(system(), own);
    if (fetched) update();
  });

  own = recall(came, system());
  fill();
  panel.querySelector("form").hidden = false;
  if (Object.keys(own).length) update();
})();
