/* Works a live card as the generator works it, rounded and written alike. Each card's own script, printed from its
   formulas and data, hands itself over by take. A plain script: a browser loads no module from a memory stick. */
"use strict";

const Bondwright = (() => {
  const NOISE = 1e-9, SAME_SIZE = 1e-9, LONGEST = 80;
  const cards = {};

  /* Why there is no number, and the field it stands beside. */
  class Refusal extends Error {
    constructor(message, field = "") { super(message); this.field = field; }
  }

  // Reading

  const words = text => text.split(/\s+/).filter(Boolean).join(" ");
  function clip(text, length = 60) {
    const line = [...words(text)];
    return line.length <= length ? line.join("") : line.slice(0, length - 1).join("") + "…";
  }

  const QUANTITY = /^([+-]?)(?:(\d{1,9})[ -]+(\d{1,9})\/(\d{1,9})|(\d{1,9})\/(\d{1,9})|(\d{1,12}(?:\.\d{0,20})?|\.\d{1,20}))\s*(.*)$/;
  function readNumber(text) {
    const part = [...text].length <= LONGEST && QUANTITY.exec(words(text));
    if (!part) throw new Refusal(`'${clip(text)}' does not begin with a number`);
    const [, sign, whole, top, under, top2, under2, decimal, unit] = part;
    const below = Number(under ?? under2 ?? 1);
    if (!below) throw new Refusal(`'${clip(text)}' divides by zero`);
    const size = decimal ? Number(decimal) : (Number(whole ?? 0) * below + Number(top ?? top2)) / below;
    return [sign === "-" ? -size : size, unit];
  }

  function readSymbol(card, name, text) {
    const [meaning, base, positive] = card.symbols[name], [kind, example, spellings] = card.units[base];
    const wanted = `write ${kind}, for example ${example}`;
    let number, unit;
    try { [number, unit] = readNumber(text); } catch (error) { throw new Refusal(`${error.message}; ${wanted}`); }
    if (!Object.hasOwn(spellings, unit)) {
      const known = Object.keys(spellings).filter(Boolean).join(", ") || "none";
      throw new Refusal(unit ? `'${clip(text)}' is not ${kind}: unit '${clip(unit)}' does not fit; ${wanted} (units: ${known})`
        : `'${clip(text)}' has no unit; ${wanted}`);
    }
    const value = number * spellings[unit][0] + spellings[unit][1];
    if (value < 0 || (positive && value === 0)) {
      throw new Refusal(`'${clip(text)}' makes no ${meaning}; give ${positive ? "more than 0" : "0 or more"}`);
    }
    return value;
  }

  function readRatio(text) {
    const part = [...text].length <= LONGEST && /^\s*([^:]+):(.+?)\s*(?:\bby\s+)?\b(volume|weight)\s*$/s.exec(text);
    if (!part) throw new Refusal(`'${clip(text)}' is no mix ratio; write it like '2:1 by volume' or '100:43 by weight'`);
    const parts = [part[1], part[2]].map(one => {
      const [number, unit] = readNumber(one);
      if (unit || number <= 0) throw new Refusal(`'${clip(text)}': both parts are plain numbers above 0, like '2:1 by volume'`);
      return number;
    });
    return [part[3] === "volume" ? "n_v" : "n_w", parts[0] / parts[1]];
  }

  // Writing

  function wholeSteps(value, step, direction) {
    const steps = Number((value / step).toFixed(9));
    if (direction) return direction > 0 ? Math.ceil(steps) : Math.floor(steps);
    return Math.sign(steps) * Math.floor(Math.abs(steps) + 0.5);
  }

  function significant(value, digits) {
    if (Math.abs(value) < 1e-6) return "0";
    const text = value.toFixed(Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value)))));
    return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
  }

  const common = (a, b) => b ? common(b, a % b) : a;
  function mixed(top, under) {
    const part = common(top, under), whole = Math.floor(top / under), rest = top % under;
    const broken = `${rest / part}/${under / part}`;
    return rest ? (whole ? `${whole}\u00a0${broken}` : broken) : `${whole}`;
  }

  /* A value rounded for the shop, [number, unit], by the card's way to show it. */
  function shown([unit, factor, offset, top, under, direction, places, trim], value) {
    const steps = wholeSteps((value - offset) / factor, top / under, direction);
    if (places < 0) return [(steps < 0 ? "-" : "") + mixed(Math.abs(steps) * top, under), unit];
    const text = (steps * top / under).toFixed(places);
    return [trim && text.includes(".") ? text.replace(/\.?0+$/, "") : text, unit];
  }
  const withUnit = (number, unit) => unit === "" ? number : unit === "°" ? number + unit : `${number}\u00a0${unit}`;

  // Working, by the plan that the generator made for what is given

  const both = length => `${significant(length / 1e-3, 4)} mm (${significant(length / 0.0254, 4)} in)`;
  function choose([symbol, , by], values, stocks) {
    const target = values[by.key];
    if (by.step) return wholeSteps(target, values[by.step], 0) * values[by.step];
    if (!stocks[by.stock]) throw new Refusal(`${symbol} is chosen from a stock list, but none is given`);
    const [title, sizes] = stocks[by.stock];
    const none = what => new Refusal(`${title} have no size ${what} the ${both(target)} that is wanted; choose another kind of drill, `
      + "or give the hole's width");
    if (by.choice === "at least") {
      const size = sizes.find(one => one >= target - SAME_SIZE);
      if (size === undefined) throw none("as large as");
      return size;
    }
    const away = size => Math.round(Math.abs(size - target) / SAME_SIZE);
    const size = sizes.reduce((best, one) => away(one) <= away(best) ? one : best);
    if (Math.abs(size - target) > values[by.within] + SAME_SIZE) throw none("near");
    return size;
  }

  function ask(rules, values, warnings) {
    for (const [names, refuses, message, holds] of rules) {
      if (!names.every(name => name in values) || holds(...names.map(name => values[name]))) continue;
      if (refuses) throw new Refusal(`${names.join(", ")}: ${message}`);
      warnings.push(message);
    }
  }

  function walk(card, places, values, stocks, warnings) {
    for (const place of places) {
      const step = card.steps[place], [symbol, names, how] = step;
      const value = typeof how === "function" ? how(...names.map(name => values[name])) : choose(step, values, stocks);
      if (!Number.isFinite(value)) throw new Refusal(`${symbol} cannot be worked from these values: it has no finite value`);
      values[symbol] = value;
      ask(card.rules.filter(rule => rule[0].includes(symbol)), values, warnings);
    }
  }

  function choosing(card, name, text, system, job) {
    if (name === "thread") {
      for (const [, common, ...rows] of card.threads) {
        const row = rows.find(([size]) => size === text);
        if (row) { Object.assign(job.values, common, row[1]); job.titles.thread = text; return; }
      }
      throw new Refusal(`thread '${clip(text)}' is not in the data`);
    }
    const choice = card.choices[name];
    if (!Object.hasOwn(choice.rows, text)) {
      throw new Refusal(`'${clip(text)}' is not one of the ${choice.table}: ${Object.keys(choice.rows).join(", ")}`);
    }
    const row = choice.rows[text], own = row.outcomes?.[row.by[job.titles.thread] ?? row.none];
    // A row that is laid down for other threads matters only where one of its values is needed.
    if (typeof own !== "string") Object.assign(job.values, row.gives, own);
    else for (const gives of [row.gives, ...row.outcomes]) for (const symbol in Object(gives)) if (typeof gives !== "string") job.withheld[symbol] = new Refusal(own, name);
    job.titles[name] = row.title;
    if (choice.stock && !job.anyShop) {
      const stock = card.stocks.find(([kind, shop]) => kind === text && shop === system);
      if (!stock) throw new Refusal(`a ${system} shop's list of drills has no kind '${clip(text)}'`);
      job.stocks[choice.stock] = [stock[2], stock[4].map(size => size * stock[3])];
    }
  }

  function reading(card, name, text, job) {
    const [symbol, value] = name === "ratio" ? readRatio(text) : [name, readSymbol(card, name, text)];
    const { min = null, max = null, bound } = card.fields[name], close = NOISE * Math.abs(value);
    if ((min !== null && value < min - close) || (max !== null && value > max + close)) {
      throw new Refusal(`outside the range of this card; take ${bound}`);
    }
    job.values[symbol] = value;
  }

  /* One job. `inputs` are texts by field, as the generator's own are; `faults` belong to fields, `refusal` to the whole. */
  function work(card, system, inputs) {
    const titles = { shop: card.shops[system].title };
    const job = { system, titles, texts: {}, values: {}, stocks: {}, withheld: {}, warnings: [], trust: {}, faults: [], refusal: null };
    for (const name in card.fields) job.texts[name] = inputs[name] ?? card.fields[name][system];
    Object.assign(job.values, card.shops[system].gives, ...card.constants);
    const chosen = Object.keys(job.texts).filter(name => name in card.choices || name === "thread");
    const read = Object.keys(job.texts).filter(name => !chosen.includes(name));
    for (const name of [...chosen.sort((a, b) => (b === "thread") - (a === "thread")), ...read]) {
      try {
        if (chosen.includes(name)) choosing(card, name, job.texts[name], system, job); else reading(card, name, job.texts[name], job);
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        job.faults.push([name, chosen.includes(name) ? error.message : `${name}: ${error.message}`]);
      }
    }
    if (job.faults.length) return job;
    const given = { ...job.values }, plans = card.plans[card.deciding.filter(symbol => symbol in given).join(" ")];
    const go = (plan, values, done, warnings) => {
      if (typeof plan[0] === "string") throw job.withheld[plan[0]] ?? new Refusal(plan[1]);
      walk(card, plan.filter(place => !done.includes(place)), values, job.stocks, warnings);
      for (const symbol in job.withheld) if (symbol in values && !(symbol in given)) throw job.withheld[symbol];
    };
    try {
      if (typeof plans[0][0] !== "string") ask(card.rules, job.values, job.warnings);
      go(plans[0], job.values, [], job.warnings);
      for (const [place, symbol] of card.trust.entries()) {
        const values = { ...job.values };
        try {
          go(plans[place + 1], values, plans[0], []);
          job.trust[symbol] = say(card, job, symbol, values);
        } catch (error) {
          if (!(error instanceof Refusal)) throw error;
          if (error.field) throw error;
          job.trust[symbol] = `no number: ${error.message}`;
        }
      }
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (error.field) job.faults.push([error.field, error.message]); else job.refusal = error.message;
    }
    return job;
  }

  /* A symbol's value for the shop, or the title of what was chosen. */
  function say(card, job, name, values = job.values) {
    if (name in job.titles) return job.titles[name];
    if (!(name in values)) return "—";
    return withUnit(...shown(card.shown[card.symbols[name][job.system === "metric" ? 3 : 4]], values[name]));
  }

  /* Reads one text as its field would; a Refusal when it is no such quantity or choice. */
  function known(card, name, text) {
    const job = { values: {}, titles: {}, stocks: {}, withheld: {} };
    if (name === "thread" || name in card.choices) choosing(card, name, text, "", { ...job, anyShop: true });
    else if (name === "ratio") readRatio(text); else readSymbol(card, name, text);
  }

  const waiting = [];
  return {
    cards, work, say, readNumber, known,
    inches: number => mixed(Math.round(number * 64), 64).replace("\u00a0", " "),
    title: (card, name, text) => card.choices[name]?.rows[text]?.title ?? text,
    // Called by a card's script
    take(name, data, steps, rules, figure) {
      cards[name] = { ...data, name, steps, rules, figure };
      for (const tell of waiting.splice(0)) tell(cards[name]);
    },
    whenTaken: tell => waiting.push(tell),
  };
})();
globalThis.Bondwright = Bondwright;
