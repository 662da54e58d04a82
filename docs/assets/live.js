/* Works a card by its script. */
"use strict";

(() => {
  const card = globalThis.bondwrightCard, NOISE = 1e-9;

  // Reading

  const QUANTITY = /^([+−-]?)(?:(?:(\d{1,9})[ -]+)?(\d{1,9})[/⁄](?!0+(?!\d))(\d{1,9})|(\d{1,12}(?:\.\d{0,20}|,\d{1,2}(?!\d))?|\.\d{1,20})) ?(.*)$/;
  /* "3½ in" as 3.5, its unit and 3½; NaN without a number. */
  function readNumber(text) {
    const words = text.replace(/[¼-¾⅐-⅞]/g, " $&").normalize("NFKC").replace(/["”]|(['′’])\1/, " in").replace(/\s+/g, " ").trim();
    const [, sign, whole = 0, top, under, decimal = "none", unit = ""] = QUANTITY.exec(words) ?? [];
    const size = under ? (whole * under + +top) / under : +decimal.replace(",", ".");
    return [sign > "+" ? -size : size, unit, words.replace(unit, "").trim()];
  }

  function readQuantity(text, { scales = {}, write, positive, least, low, high, span }, shop) {
    const [number, unit] = readNumber(text);
    if (isNaN(number) || !Object.hasOwn(scales, unit)) return write?.[shop];
    const [factor, offset] = scales[unit], value = number * factor + offset, close = NOISE * value;
    if (value < 0 || (positive && !value)) return least;
    return value < low - close || value > (high ?? 1 / 0) + close ? `outside the range of this card: take ${span[shop]}` : value;
  }

  function readRatio(text, { symbols, write, range: [low, high] }, titles) {
    const [resin, rest, its] = readNumber(text), [hardener, by, own] = readNumber(rest.slice(1));
    const parts = resin / hardener;
    if (!(parts >= low * (1 - NOISE) && parts <= high * (1 + NOISE) && rest[0] == ":" && hardener > 0 && Object.hasOwn(symbols, by))) return write;
    titles.ratio = `${pointed(its)}:${pointed(own)} ${symbols[by][1]}`;
    return { [symbols[by][0]]: parts };
  }

  /* A number, values, a fault, or what is withheld. */
  function take(name, { texts, titles, stocks, system }) {
    const field = card.fields[name], text = texts[name];
    if (field.scales) return readQuantity(text, field, system);
    if (field.symbols) return readRatio(text, field, titles);
    if (!Object.hasOwn(field.rows, text)) return "not one of the choices";
    const [title, gifts, by] = field.rows[text];
    titles[name] = title;
    if (field.stock) stocks[field.stock] = card.stocks[text][system];
    return stocks[field.stock]?.trim ? stocks[field.stock] : gifts.at(titles.thread ? by?.[titles.thread] ?? -1 : 0);
  }

  // Writing

  const pointed = number => `${number}`.replace(/[.,]/, card.point ?? ".");

  function wholeSteps(value, step, direction) {
    const steps = +(value / step).toFixed(9);
    return direction ? Math[direction](steps) : Math.sign(steps) * Math.floor(Math.abs(steps) + 0.5);
  }

  const common = (a, b) => b ? common(b, a % b) : a;
  function mixed(top, under) {
    const part = common(top, under), whole = Math.floor(top / under), rest = top % under;
    return [whole, rest && `${rest / part}/${under / part}`].filter(Boolean).join("\u00a0") || "0";
  }

  /* As the shop writes it or it was set. */
  function say({ titles, texts, values, system }, name) {
    if (name in titles || !(name in values)) return titles[name] ?? "no number";
    let [unit, factor, offset, top, under, direction, places, trim] = card.ways[card.shown[name]][system];
    const own = card.fields[name];
    if (own && places < 0) [top, under] = [1, 64];
    const value = (values[name] - offset) / factor, steps = wholeSteps(value, top / under, direction), told = steps * top / under;
    if (own && Math.abs(told - value) > 5e-5) return pointed(readNumber(texts[name]).slice(1).reverse().join("\u00a0").trim());
    if (places < 0) return (steps < 0 ? "-" : "") + mixed(Math.abs(steps) * top, under) + unit;
    const text = pointed(told.toFixed(places));
    return (trim && places ? text.replace(/\D?0+$/, "") : text) + unit;
  }

  // Working

  function choose({ key, stock, within, step, none }, values, stocks) {
    const target = values[key];
    if (step) return wholeSteps(target, values[step]) * values[step];
    const [title, told, unit, more] = stocks[stock], scale = unit == "in" ? 0.0254 : 1e-3, sizes = told.map(one => one * scale);
    const away = size => Math.abs(size - target), least = Math.min(...sizes.map(away));
    const size = within ? sizes.findLast(one => away(one) <= least + NOISE) : sizes.find(one => one >= target - NOISE);
    if (size && (!within || least <= values[within] + NOISE)) return size;
    const wanted = pointed(+(target / scale).toPrecision(4));
    return [title, none[0], wanted, unit, none[1] || more].join(" ");
  }

  /* Refused: why, about which. */
  function walk(job, lines) {
    const { values, stocks, refused, warnings } = job;
    const refuse = (symbol, why) => { refused[symbol] ??= why; delete values[symbol]; };
    const carry = ([symbol, names]) => {
      const cause = names.find(name => name in refused);
      if (cause && symbol) refuse(symbol, refused[cause]);
      return cause || symbol in refused;
    };
    for (const line of lines) {
      if (carry(line)) continue;
      const [symbol, names, how, message, limits] = line;
      const value = how.key ? choose(how, values, stocks) : how(...names.map(name => values[name]));
      if (symbol && isFinite(value)) values[symbol] = value;
      else if (symbol) refuse(symbol, [value.at ? value : card.none, []]);
      else if (!value) {
        const why = message(name => say(job, name));
        limits ? limits.forEach(one => refuse(one, [why, names])) : warnings.push(why);
      }
    }
    lines.forEach(carry);
  }

  function work(system, own) {
    const [shop, given] = card.shops[system], values = { ...given }, stocks = { ...card.sold[system] }, refused = {};
    const job = { system, titles: { shop }, texts: {}, values, stocks, refused, warnings: [], faults: {}, why: [] };
    for (const name in card.fields) {
      job.texts[name] = own[name] ?? card.fields[name].came[system][0];
      const taken = take(name, job);
      if (taken.trim) job.faults[name] = taken;
      else if (taken.map) for (const symbol of taken[1]) refused[symbol] = [taken[0], [name]];
      else Object.assign(values, taken.toFixed ? { [name]: taken } : taken);
    }
    for (const symbol in values) delete refused[symbol];
    const [lines, missing] = card.plans[card.deciding.filter(symbol => symbol in values || symbol in refused).join(" ")] ?? [];
    if (Object.keys(job.faults)[0]) for (const symbol in card.shown) delete values[symbol], refused[symbol] = [card.mend, []];
    else walk(job, lines.map(place => card.lines[place]), Object.assign(refused, missing));
    job.why = card.outputs.map(symbol => refused[symbol]).filter(Boolean);
    job.titles.why = [...new Set(job.why.map(([why]) => `No number: ${why}.`))].join(" ");
    return job;
  }

  const api = globalThis.bondwright = { work, say, address, readQuantity };
  const section = globalThis.document?.querySelector(".bw-live");
  if (!section) return;

  // The form: no text is set as HTML.
  const part = name => section.querySelector(`.bw-live-${name}`);
  const system = () => document.querySelector("[name='bw-shop']:checked")?.value ?? card.systems[0];
  const all = (sign, root = document) => [...root.querySelectorAll(sign)], places = all("[data-s]"), turns = all("[data-when]");
  const fields = all("[data-field]", section).map(box => {
    const name = box.dataset.field, [label, fault] = all("label, .bw-fault", box);
    return { ...card.fields[name], name, label: label.textContent, box, fault, inputs: all("input, select", box) };
  });
  const among = texts => fields.filter(({ name }) => name in texts);
  const told = ({ name, label }) => `${label}: ${job.faults[name] ? job.texts[name] : say(job, name)}`;
  const said = faults => Object.keys(faults).map(name => [among({ [name]: 1 })[0]?.label, faults[name]].filter(Boolean).join(": ")).join("; ");
  let own = {}, job;

  function fill() {
    for (const { name, inputs, came } of fields) {
      const [asCame, unit] = came[system()], text = own[name] ?? asCame;
      const texts = inputs[1] ? text.split(/ *: *| +(?:by +)?(?=[vw])/) : [text.endsWith(` ${unit}`) ? text.slice(0, -1 - unit.length) : text];
      inputs.forEach((input, place) => input.value = texts[place]);
    }
    update();
  }

  function set({ name, inputs, came }) {
    const [one, other, by] = inputs.map(input => input.value.trim()), [asCame, unit] = came[system()];
    own[name] = by ? `${one}:${other} by ${by}` : unit && !readNumber(one)[1] ? `${one} ${unit}` : one;
    if (own[name] == asCame) delete own[name];
    update();
  }

  function step(field, way) {
    const [, unit, factor, offset, size, low, high] = field.came[system()], value = (readQuantity(job.texts[field.name], field) - offset) / factor || 0;
    const number = Math.min(high ?? Infinity, Math.max(low ?? 0, (Math.round(value / size) + way) * size));
    field.inputs[0].value = unit == "in" ? mixed(Math.round(number * 64), 64).replace("\u00a0", " ") : pointed(+number.toFixed(6));
    set(field);
  }

  const write = (node, text) => { if (node.textContent != text) node.textContent = text; };

  function update() {
    job = work(system(), own);
    const mine = among(own);
    job.titles.why = said(job.faults) || job.titles.why;
    for (const { name, box, fault, inputs } of fields) {
      const wrong = job.faults[name] ?? job.why.find(([, about]) => about.includes(name))?.[0] ?? "";
      write(fault, wrong);
      for (const input of inputs) input.ariaInvalid = !!wrong || null;
      if (wrong) box.closest("details").open = true;
    }
    write(part("set"), mine.map(told).join("; "));
    job.titles.minds = mine[0] ? job.warnings.map(one => `Mind: ${one}.`).join(" ") : "";
    document.body.toggleAttribute("data-bw-set", mine.length);
    for (const place of places) write(place, say(job, place.dataset.s));
    for (const turn of turns) {
      const { when, over = -Infinity, not } = turn.dataset;
      turn.hidden = when.split(" ").every((one, place) => parseFloat(say(job, one).replace(",", ".")) > (place ? -1 / 0 : over)) === !!not;
    }
    api.job = job;
    api.draw?.(job);
    clearTimeout(resting);
    resting = setTimeout(rest, 500);
  }

  function address() {
    const url = new URL(location);
    url.search = among(own)[0] || system() != card.systems[0] ? new URLSearchParams({ ...own, shop: system() }) : "";
    return url;
  }

  function rest() {
    try { history.replaceState(null, "", address()); } catch {}
    write(part("status"), part("said").innerText);
  }
  let resting;

  const acts = {
    step,
    print: () => print(),
    copy() {
      const sheet = part("sheet"), texts = [card.title, address(), part("said").innerText, ...fields.map(told), part("results").innerText];
      sheet.value = texts.join("\n").replaceAll("\u00a0", " ");
      sheet.hidden = false;
      sheet.select();
      write(part("status"), document.execCommand("copy") ? "Copied." : "Not copied: copy the marked text yourself.");
    },
    reset() { own = {}; fill(); },
  };
  const field = ({ target }) => fields.find(({ box }) => box.contains(target));
  section.addEventListener("input", event => { if (field(event)) set(field(event)); });
  section.addEventListener("click", event => acts[event.target.dataset.act]?.(field(event), +event.target.value));
  addEventListener("beforeprint", rest);
  document.addEventListener("change", ({ target }) => { if (target.name === "bw-shop") fill(); });

  const { shop, ...asked } = Object.fromEntries(new URLSearchParams(location.search)), { faults } = work(system(), asked);
  for (const name in asked)
    if (!(name in card.fields)) faults[name] = `${asked[name]}, see: ${fields.find(one => one.name[0] == name[0] && readQuantity(asked[name], one) >= 0)?.label ?? "form"}`;
    else if (!faults[name]) own[name] = asked[name];
  write(part("passed"), said(faults));
  fill();
  section.querySelector("details").open = among(own).length;
  section.hidden = false;
})();
