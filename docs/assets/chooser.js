/* Ranks the chooser's cards by what each carries at the reader's size. `workers.js` comes first. */
"use strict";

(() => {
  const { fetchCards, written, carried, workAll, recall, keep } = globalThis.bondwrightCards, form = document.querySelector(".bw-choose");
  const data = JSON.parse(form.querySelector(".bw-choose-data").textContent), { came, taken, loads, none } = data;
  const part = name => form.querySelector(`.bw-choose-${name}`), list = form.querySelector(".bw-choices");
  const choices = [...form.querySelectorAll(".bw-choice")], boxes = [...form.querySelectorAll("[data-field]")];
  const shops = Object.keys(came), system = () => document.querySelector("[name='bw-shop']:checked")?.value ?? shops[0];
  const entry = box => box.querySelector("input, select");
  const write = (node, text) => { if (node.textContent !== text) node.textContent = text; };
  // What the reader has set, by name; each card's runtime, once it is here.
  let own = {}, fetched, workers;

  const text = name => written(own[name], came[system()][name]);
  const carriedBy = (card, job, way) => carried(workers[card], job, loads[card][way], none);

  /* The load is read by a card that asks for one. */
  function read(name) {
    const reader = Object.values(workers).find(({ work }) => name in work(system(), {}).texts);
    const { values, faults } = reader.work(system(), { [name]: text(name) });
    return [values[name], faults[name] ?? ""];
  }

  function verdict(newtons, load) {
    if (!newtons || !load) return "";
    return newtons >= load ? `Carries it, ${Math.floor((newtons / load - 1) * 100)}\u00a0% over.` : `Falls short by ${Math.ceil((1 - newtons / load) * 100)}\u00a0%.`;
  }

  function rank() {
    const way = form.querySelector("[name='way']:checked").value, [load, wrong] = read("F_n"), worked = workAll(workers, system(), data, text);
    for (const box of boxes) {
      const name = box.dataset.field, asks = Object.entries(taken).flatMap(([card, { given }]) => Object.keys(given).filter(one => given[one] === name).map(one => worked[card].job.faults[one]));
      // One card's range is not another's: only what no card takes is wrong.
      const fault = name === "F_n" ? wrong : asks.length && asks.every(Boolean) ? asks[0] : "";
      write(box.querySelector(".bw-fault"), fault);
      entry(box).ariaInvalid = !!fault || null;
    }
    for (const node of choices) {
      const { card } = node.dataset, { job, inputs } = worked[card];
      for (const line of node.querySelectorAll("[data-way]")) write(line.lastElementChild, carriedBy(card, job, line.dataset.way).words);
      const { newtons } = carriedBy(card, job, way);
      write(node.querySelector(".bw-verdict"), verdict(newtons, load));
      node.querySelector("a").search = new URLSearchParams({ shop: system(), ...inputs });
      node.newtons = newtons;
    }
    list.append(...choices.sort((a, b) => b.newtons - a.newtons));
    const wood = entry(boxes.find(box => box.dataset.field === "wood")).selectedOptions[0].text;
    const spoken = form.querySelector("[name='way']:checked").parentNode.textContent.trim();
    const pulled = document.documentElement.lang === "en" ? spoken.toLowerCase() : spoken; // others write nouns large
    write(part("set"), `Worked for ${text("thread")}, ${text("T")} deep, ${wood}, fasteners pulled together: ${text("n_h")}, an angle of ${text("theta_p")}, a pull of ${text("F_n")} ${pulled}.`);
    write(part("status"), `${choices.filter(node => node.offsetParent).length} cards, the strongest first.`);
  }

  function fill() {
    for (const box of boxes) entry(box).value = own[box.dataset.field] ?? came[system()][box.dataset.field];
  }

  async function update() {
    try {
      workers = await (fetched ??= fetchCards(Object.keys(taken)));
      rank();
    } catch {
      fetched = undefined;
      write(part("status"), "The numbers could not be worked here. Each card works its own.");
    }
  }

  form.addEventListener("input", ({ target }) => {
    const box = target.closest("[data-field]");
    if (box) {
      own[box.dataset.field] = target.value;
      keep(system(), own);
    }
    if (box || target.name === "way" || fetched) update();
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
  part("numbers").hidden = false;
  if (Object.keys(own).length) update();
})();
