/* The form of a live card: reads the reader's inputs, and writes the worked values into every place of the page that
   names a symbol (data-s). Texts are set as text, never as HTML. */
"use strict";

Bondwright.whenTaken(card => {
  const section = document.querySelector(".bw-live"), form = section.querySelector("form");
  const part = name => section.querySelector(`.bw-live-${name}`);
  const box = name => form.querySelector(`[data-field="${name}"]`);
  const label = name => box(name).querySelector("label").textContent;
  const radios = [...document.querySelectorAll("input[name='bw-shop']")];
  const system = () => radios.find(radio => radio.checked)?.value ?? card.systems[0];
  const places = [...document.querySelectorAll("[data-s]")].map(place => [place, [...place.childNodes]]);
  const figures = new Map([...document.querySelectorAll(".bw-joint")].map(figure => [figure.dataset.shop, [figure, [...figure.childNodes]]]));
  // What the reader has set, as texts that the generator would read too.
  let own = {};

  const text = name => own[name] ?? card.fields[name][system()];
  const unit = name => card.fields[name].as[system()][0];
  const inUnit = (name, typed) => {
    try { return Bondwright.readNumber(typed)[1] === "" && unit(name) ? `${typed.trim()} ${unit(name)}` : typed; } catch { return typed; }
  };
  const typed = name => {
    const inputs = [...box(name).querySelectorAll("input, select")].map(input => input.value);
    return inputs.length === 3 ? `${inputs[0]}:${inputs[1]} by ${inputs[2]}` : card.fields[name].as ? inUnit(name, inputs[0]) : inputs[0];
  };

  function fill() {
    for (const name in card.fields) {
      const inputs = box(name).querySelectorAll("input, select"), as = card.fields[name].as?.[system()];
      if (inputs.length === 3) {
        text(name).split(/:| by /).forEach((one, place) => { inputs[place].value = one.trim(); });
      } else {
        inputs[0].value = as?.[0] && text(name).endsWith(as[0]) ? text(name).slice(0, -as[0].length).trim() : text(name);
      }
      if (as) {
        box(name).querySelector(".bw-in").textContent = as[0];
        box(name).querySelector(".bw-hint").textContent = as[2];
      }
    }
  }

  function take(name) {
    if (typed(name) === card.fields[name][system()]) delete own[name]; else own[name] = typed(name);
    update();
  }

  /* One push on a button: to the next whole step, within the range. */
  function push(name, way) {
    const [field, input] = [card.fields[name], box(name).querySelector("input")];
    let number, written;
    try { [number, written] = Bondwright.readNumber(input.value); } catch { return; }
    const base = card.units[card.symbols[name][1]][2], scale = base[written || unit(name)];
    if (!scale) return;
    const step = written && written !== unit(name) ? 1 : field.as[system()][1];
    const within = (bound, limit) => bound === null ? limit : (bound - scale[1]) / scale[0];
    const next = Math.min(within(field.max, Infinity), Math.max(within(field.min, 0), Math.round(number / step + way) * step));
    const inches = (written || unit(name)) === "in" && Bondwright.inches(next);
    input.value = `${inches || parseFloat(next.toFixed(6))} ${written}`.trim();
    take(name);
  }

  function place(job, worked) {
    const set = Object.keys(own).length > 0;
    document.body.classList.toggle("bw-set", set);
    for (const [spot, came] of places) {
      const name = spot.dataset.s;
      if (!set) spot.replaceChildren(...came);
      else spot.textContent = worked ? job.trust[name] ?? Bondwright.say(card, job, name) : "—";
    }
    const [figure, came] = figures.get(job.system);
    if (!set) figure.replaceChildren(...came); else draw(figure, came, job, worked);
  }

  /* The drawing comes as SVG text out of numbers and known titles; it is parsed as a picture, not as a page. */
  function draw(figure, came, job, worked) {
    const caption = document.createElement("figcaption"), drawn = worked && card.figure;
    if (!drawn) {
      caption.textContent = worked ? "No drawing of your numbers can be made here." : "No drawing: these numbers cannot be worked.";
      figure.replaceChildren(caption);
      return;
    }
    const made = card.figure(job.values, symbol => Bondwright.say(card, job, symbol), job.texts, `${card.name}-live`);
    const head = document.createElement("b");
    head.textContent = "Figure 1.";
    caption.append(head, ` ${made.caption}`);
    figure.replaceChildren(document.importNode(new DOMParser().parseFromString(made.svg, "image/svg+xml").documentElement, true), caption);
  }

  let telling;
  function tell(message) {
    clearTimeout(telling);
    telling = setTimeout(() => { part("status").textContent = message; }, 700);
  }

  function update() {
    const job = Bondwright.work(card, system(), own), worked = !job.faults.length && job.refusal === null;
    const faults = new Map(job.faults), set = Object.entries(own);
    for (const name in card.fields) {
      const fault = faults.get(name) ?? "";
      box(name).querySelector(".bw-fault").textContent = fault;
      for (const input of box(name).querySelectorAll("input, select")) input.toggleAttribute("aria-invalid", fault !== "");
      if (fault) box(name).closest("details.bw-rare")?.setAttribute("open", "");
    }
    const why = job.refusal ?? (faults.size ? "Mend the fields that are marked." : "");
    part("why").textContent = why ? `No numbers: ${why}` : "";
    part("warnings").textContent = worked && set.length ? job.warnings.map(one => `Mind: ${one}.`).join(" ") : "";
    part("job").textContent = set.length
      ? `This card is set for: ${set.map(([name, one]) => `${label(name)}: ${job.titles[name] ?? one}`).join("; ")}. All else is as the card came (${system()} shop).` : "";
    place(job, worked);
    carry();
    tell(why || [...faults.values()][0] ? `${why} ${[...faults.values()].join(" ")}` : "All numbers on this page are worked for what you set.");
    return job;
  }

  // The address carries what is set

  function query() {
    const asked = new URLSearchParams(own);
    if (system() !== card.systems[0] || Object.keys(own).length) asked.set("shop", system());
    return asked.toString();
  }
  function carry() {
    // A browser may refuse to change the address of a file.
    try { history.replaceState(null, "", location.pathname + (query() && `?${query()}`) + location.hash); } catch { /* stays */ }
  }
  function read() {
    const passed = [];
    for (const [name, asked] of new URLSearchParams(location.search)) {
      if (!Object.hasOwn(card.fields, name)) continue;
      try { Bondwright.known(card, name, asked); own[name] = asked; } catch { passed.push(label(name)); }
    }
    if (passed.length) part("warnings").after(Object.assign(document.createElement("p"), {
      className: "bw-live-passed", textContent: `The address asked for something that this card cannot read; left as the card came: ${passed.join(", ")}.`,
    }));
  }

  // To paper and to a notebook

  function notebook() {
    const rows = [...section.querySelectorAll("tr:has(td)")].map(row => `${row.cells[0].textContent}: ${shownText(row.cells[2])}`);
    const inputs = Object.keys(card.fields).map(name => `${label(name)}: ${Bondwright.title(card, name, text(name))}`);
    return [card.title, location.href, "", ...inputs, "", part("why").textContent, part("warnings").textContent, ...rows]
      .filter((line, at, all) => line || (at && all[at - 1])).join("\n").replaceAll("\u00a0", " ") + "\n";
  }
  const shownText = cell => {
    const both = cell.querySelector(`.bw-${system()}`);
    return (both ?? cell).textContent.trim();
  };
  async function copy() {
    const sheet = part("sheet");
    sheet.value = notebook();
    sheet.hidden = false;
    sheet.select();
    let copied = false;
    try { await navigator.clipboard.writeText(sheet.value); copied = true; } catch { copied = document.execCommand("copy"); }
    part("status").textContent = copied ? "Copied." : "Not copied: this browser does not allow it. Copy the marked text yourself.";
  }

  form.addEventListener("submit", event => event.preventDefault());
  form.addEventListener("input", event => { const field = event.target.closest("[data-field]"); if (field) take(field.dataset.field); });
  section.addEventListener("click", event => {
    const { by, act } = event.target.closest("button")?.dataset ?? {};
    if (by) push(event.target.closest("[data-field]").dataset.field, Number(by));
    if (act === "print") window.print();
    if (act === "copy") copy();
    if (act === "reset") { own = {}; fill(); update(); }
  });
  for (const radio of radios) radio.addEventListener("change", () => { fill(); update(); });
  read();
  section.hidden = false;
  if (Object.keys(own).length) section.querySelector("details").open = true;
  fill();
  Bondwright.update = update;
  update();
});
