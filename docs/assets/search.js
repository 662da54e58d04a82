/* The search; `shop.js` fetches it, and it the index, when somebody first searches. */
"use strict";

(() => {

  // How a language asks, as `SearchWords` says.
  let idle, spoken, units, known, slanted;
  const listed = text => text.split(" ");
  function learn(index) {
    idle = new Set(listed(index.idle));
    slanted = new Set(listed(index.slanted));
    spoken = new Map(index.spoken.split(", ").map(listed));
    units = new Map(Object.entries(index.units).flatMap(([unit, names]) => listed(names).map(name => [name, unit])));
    known = new Set([...listed("mm cm m in ft °c °f g kg oz lbf kn n ml l h min d deg %"), ...units.values()]);
  }

  const WRITTEN = { "°c": "°C", "°f": "°F", kn: "kN", n: "N", knot: "kn" };
  const METRES = { mm: 0.001, cm: 0.01, in: 0.0254 };
  const TOKEN = /m\d+(?:[.]\d+)?(?:x[0-3](?:\.\d+)?(?![\d.]))?|#?\d+(?: \d+)?\/\d+(?:-\d+)?|#\d+(?:-\d+)?|\d+:\d+|\d+(?:[.,]\d+)?|°[cf]|%|[acdgt]\d+|\p{L}+/gu;

  function stem(word) {
    let cut = word.replace(/(?:ies|y)$/, "i").replace(/(?<=..)(?:[^s](?=s$)|ss)s?$/, all => all.replace(/^([^s])s$/, "$1"));
    if (/[^s]s$/.test(cut) && cut.length > 3) cut = cut.slice(0, -1);
    return cut.replace(/(?<=...)(?:ing|ed|er)$/, "").replace(/(?<=..)e$/, "").replace(/([^aeiousl])\1$/, "$1");
  }

  const number = text => text.split(/\s/).reduce((sum, part) => sum + +part.replace(",", ".").split("/").reduce((top, under) => top / under), 0);

  function read(text) {
    const clean = text.toLowerCase().replace(/[×✕]/g, "x").replace(/["″]/g, " in ").replace(/(\p{L}+)\.? ?(?=\d)/gu, (all, word) => spoken.get(word) === "#" ? "#" : all).replace(/(?<=\d) (\p{L}+) (?=1\b)/gu, (all, word) => spoken.get(word) === ":" ? ":" : all).replace(/\p{L}+/gu, word => spoken.get(word)?.replace("#", word) ?? word).replace(/(?<=\d)-(?=in)/g, " ").replace(/(\d)\s*(?:deg\.?|º|°)\s*(?=[cf]\b)/g, "$1 °").replace(/(\d)\s*(?:deg\b|°)(?!\s*[cf]\b)/g, "$1 deg").replace(/(\d)(?=[a-wyz]+\b)/g, "$1 ");
    const found = clean.match(TOKEN) ?? [], words = [], amounts = [], sizes = [];
    for (let place = 0; place < found.length; place++) {
      const one = found[place], raw = found[place + 1], unit = units.get(raw) ?? raw;
      if (/^\d+:\d+$/.test(one)) words.push(one);
      else if (/^(?:m\d|#|\d+\/\d+-)/.test(one)) sizes.push(one);
      else if (/^\d/.test(one)) {
        const is = known.has(unit) && !(raw === "in" && number(one) >= 20 && sizes.some(size => size[0] === "m"));
        const bare = sizes[0]?.[0] === "m" ? number(one) >= 20 && "mm" : sizes.length && found[place - 1] === "x" && "in";
        amounts.push({ value: number(one), unit: is ? unit : bare || "", after: found[place + 1], text: one });
        if (one.includes("/")) amounts.at(-1).sized = !sizes.length, sizes.push(one);
        if (is) place++;
      } else if (!idle.has(one) && one !== "x") words.push(one);
    }
    if (!sizes.length) for (const one of amounts) if (one.unit === "mm" && Number.isInteger(one.value) && one.value < 25) sizes.push(`m${one.value}`), one.sized = true;
    return { words, amounts, sizes, slanted: words.some(word => slanted.has(word)) };
  }

  const SCALE = { cm: [10, "mm"], n: [0.001, "kn"], oz: [28.35, "g"] };
  const shown = unit => WRITTEN[unit] ?? unit;
  const scaled = ({ value, unit, text }, [times, other] = SCALE[unit] ?? [1, unit]) => ({ value: value * times, unit: other, said: `${text}\u00a0${shown(unit)}. ` });


  function prepare(index) {
    learn(index);
    const means = new Map(), posts = new Map(), rare = new Map(), docs = [], seen = new Map();
    const stems = new Map(), cut = word => { if (!stems.has(word)) stems.set(word, stem(word)); return stems.get(word); };
    for (const group of index.same.map(all => all.map(one => cut(one.toLowerCase())))) for (const one of group) means.set(one, group[0]);
    const key = word => means.get(cut(word)) ?? cut(word), meant = word => means.get(cut(word)) ?? word;
    const keys = text => {
      if (!seen.has(text)) seen.set(text, [...new Set(read(text).words.map(key))]);
      return seen.get(text);
    };
    function post(doc, text, worth) {
      for (const one of text ? keys(text) : []) {
        if (!posts.has(one)) posts.set(one, new Map());
        const at = posts.get(one);
        at.set(doc, Math.max(at.get(doc) ?? 0, worth));
      }
    }
    index.pages.forEach((page, number) => {
      const doc = docs.push({ page, number, part: null }) - 1;
      post(doc, page.t, 5);
      for (const phrase of page.w) post(doc, phrase, 3);
      post(doc, page.d, 1.5);
      for (const part of page.s ?? []) {
        const own = part[0] ? docs.push({ page, number, part }) - 1 : doc;
        post(own, part[1], 2);
        post(own, part[2], 1);
        for (const text of part.slice(1)) post(doc, text, 0.5);
      }
      post(doc, page.c, 2);
      for (const grid of page.g ?? []) {
        grid[3] = grid[3].map(head => head.split("|"));
        grid[4] = grid[4].map(column => column.split("|"));
        for (const [head] of grid[3]) post(doc, head, 2);
        for (const text of [grid[2], ...grid[4][0]]) post(doc, text, 1);
      }
      page.phrases = [page.t, ...page.w].map(phrase => [...keys(phrase), ...read(phrase).sizes]);
    });
    for (const [word, ...pages] of listed(index.x).map(one => one.split(","))) {
      for (const page of pages) post(docs.findIndex(({ number }) => number === +page), word, 0.6);
    }
    for (const [word, at] of posts) rare.set(word, Math.log(1 + docs.length / at.size));
    const called = new Set(index.pages.flatMap(page => keys(page.t)));
    return { ...index, docs, posts, rare, key, keys, called, means: meant };
  }

  /* Whether two words differ by one letter more, less, other, or two changed about. */
  function slip(a, b) {
    if (Math.abs(a.length - b.length) > 1) return false;
    let from = 0, ends = [a.length, b.length];
    while (a[from] === b[from] && from < a.length) from++;
    while (ends[0] > from && ends[1] > from && a[ends[0] - 1] === b[ends[1] - 1]) ends = ends.map(one => one - 1);
    const [left, right] = [a.slice(from, ends[0]), b.slice(from, ends[1])];
    return !left[1] && !right[1] || left.length === 2 && left === [...right].reverse().join("");
  }

  function likes(ready, word, last) {
    const own = ready.key(word), found = new Map();
    if (ready.posts.has(own)) found.set(own, 1);
    if (last && word.length > 1) for (const one of ready.posts.keys()) if (one !== own && one.startsWith(own)) found.set(one, 0.6);
    if (!found.size && word.length > 3) for (const one of ready.posts.keys()) if (slip(own, one)) found.set(one, 0.7);
    if (!found.size && word.length > 5) for (const one of ready.posts.keys()) if (one.length > 3 && (own.startsWith(one) || one.startsWith(own))) found.set(one, 0.5);
    return found;
  }


  const HEAD = /^(-?[\d./, ]+?)\s*(°?\p{L}+(?:\/\p{L}+)?|%)?$/u;
  const amount = head => { const [, value, unit] = HEAD.exec(head) ?? []; return value ? { value: number(value.trim()), unit: unit === "kn" ? "knot" : (unit ?? "").toLowerCase() } : null; };
  const sized = (head, size) => { const own = head.toLowerCase(); return own.split(" ")[0] === size || own === size ? 1 : own.startsWith(size) && !/^[\d.x]/.test(own.slice(size.length)) ? 0.7 : 0; };

  /* The heads that say an amount: of two, the one that `safer` says, or else the nearer. */
  function among(heads, { value, unit }, safer) {
    const own = heads.map(amount), same = own.map(one => one && (!unit || one.unit === unit) && Math.abs(one.value - value) < 1e-6);
    if (same.some(Boolean)) return same.map(Number);
    const like = [...own.keys()].filter(place => unit && own[place]?.unit === unit), away = place => Math.abs(own[place].value - value);
    const beside = [one => one < value, one => one > value].map(side => like.filter(place => side(own[place].value)).sort((a, b) => away(a) - away(b))[0]);
    const taken = beside.includes(undefined) ? -1 : safer(...beside) ?? beside.sort((a, b) => away(a) - away(b))[0];
    return heads.map((_, place) => (place === taken ? 0.6 : 0));
  }

  /* Which of two cells is safe to go by: the way that such numbers are rounded. */
  function safeOf(way, [one, other], places) {
    if (!way || one === undefined) return undefined;
    const [first, second] = [one, other].map(number);
    if (first + second !== first + second) return undefined;
    return places[one === "" ? 0 : other === "" || first === second ? 1 : Number((first < second) === (way === "+"))];
  }

  /* The best row of a table for a query, the column that is meant, and what it is worth. */
  function bestRow(ready, page, query, shop) {
    let best = { worth: 0 };
    for (const grid of page.g) {
      const [system, , title, heads, [names, ...cells]] = grid;
      const across = heads.map(([head]) => head);
      const units = new Set([...names, ...across].map(head => amount(head)?.unit)), scores = names.map(() => 0), columns = heads.map(() => 0);
      const told = { deg: units.has("deg") ? "deg" : ready.shops[shop].toLowerCase(), kn: units.has("knot") ? "knot" : "kn" };
      const amounts = query.amounts.map(one => scaled({ ...one, unit: told[one.unit] ?? one.unit }));
      const between = ({ said }, safe, what) => `${safe === undefined ? "The nearest here, not" : what} ${said}`;
      const unsafe = new Set();
      let asked = "";
      for (const size of query.sizes) across.forEach((head, place) => { columns[place] += 2 * sized(head, size); });
      for (const one of amounts) {
        let safe;
        const byColumn = among(across, one, (...places) => {
          const row = names.findIndex((_, row) => places.every(place => cells[place][row]));
          return safe = safeOf(heads[places[0]][2], places.map(place => cells[place][row]), places);
        });
        byColumn.forEach((hit, place) => { columns[place] += 2 * hit; });
        if (byColumn.includes(0.6)) asked = between(one, safe, "The column on the safe side of");
      }
      const stated = Math.max(...columns) > 0;
      for (const word of query.words) across.forEach((head, place) => {
        if (head.includes(word) && word.includes(":") || ready.keys(head).includes(ready.key(word))) columns[place] += 1;
      });
      const column = Math.max(...columns), meant = column > 0 ? columns.indexOf(column) : -1;
      for (const size of query.sizes) names.forEach((head, place) => { scores[place] += 3 * sized(head, size); });
      for (const one of amounts) {
        let safe, beside = [];
        const safeBy = by => safeOf(heads[by]?.[2], beside.map(place => cells[by]?.[place]), beside);
        const byRow = among(names, one, (...places) => {
          beside = places;
          return safe = safeBy(heads[meant]?.[2] ? meant : heads.findIndex(([, , way], column) => way && places.some(place => cells[column][place])));
        });
        byRow.forEach((hit, place) => { scores[place] += 2.5 * hit; });
        const taken = byRow.indexOf(0.6);
        if (taken < 0) continue;
        asked = between(one, safe, "The row on the safe side of");
        heads.forEach((_, column) => { if (![undefined, taken].includes(safeBy(column)) && cells[column][beside[0]] !== cells[column][beside[1]]) unsafe.add(column); });
      }
      for (const word of query.words) if (!ready.called.has(ready.key(word))) names.forEach((head, place) => {
        if (head.toLowerCase() === word || ready.keys(head).includes(ready.key(word))) scores[place] += 1.6;
      });
      const own = ready.keys(title), extra = query.words.filter(word => own.includes(ready.key(word))).length * 0.8 + (system === shop ? 0.5 : 0);
      const top = Math.max(...scores);
      if (top <= 0 && !stated) continue;
      const worth = top + column + extra;
      if (worth > best.worth + 1e-9) best = { worth, asked, unsafe, grid, place: top > 0 ? scores.indexOf(top) : -1, column: meant };
    }
    return best;
  }


  function settings(ready, page, query, shop) {
    const takes = page.k, set = {};
    let cups = 0, elsewhere;
    if (!takes) return { set, whole: 0 };
    const gauged = takes.gauge && query.sizes.some(one => /^#\d+$/.test(one));
    const size = !gauged && query.sizes.map(one => ready.threads.find(thread => sized(thread, one) === 1) ?? ready.threads.find(thread => sized(thread, one))).find(Boolean);
    if (takes.thread && size) {
      set.thread = size;
      const degrees = size[0] === "M" ? "°C" : "°F";
      if (ready.shops[shop] !== degrees) elsewhere = Object.keys(ready.shops).find(one => ready.shops[one] === degrees);
    }
    const area = !size && query.amounts.some(one => !one.unit && one.value >= 20);
    for (let { value, unit: own, after, text: said, sized } of query.amounts) {
      if (own === "kg") said = value *= 1000, own = "g";
      const unit = own === "deg" && !query.slanted ? ready.shops[shop].toLowerCase() : own, long = value * METRES[unit];
      const fits = !sized && !area && page.l && long >= page.l[0] && long <= page.l[1];
      const field = long ? fits && "length" : { "°c": "T_a", "°f": "T_a", kn: "F_n", n: "F_n", lbf: "F_n", g: "m_b", oz: "m_b" }[unit];
      const written = shown(unit);
      const of = field === "m_b" && page.b ? Math.ceil(scaled({ value, unit }).value / parseFloat(page.b.replace(",", "."))) : 1;
      if (field && takes[field] && of > 1) set[takes[field]] = `${Number((value / of).toFixed(1))} ${written}`, cups = of;
      else if (field && takes[field] && !(takes[field] in set)) set[takes[field]] = `${said} ${written}`;
      else if (!unit && takes.N && Number.isInteger(value) && value < 20 && value > 0 && after !== undefined) set[takes.N] ??= said;
    }
    const ratio = query.words.find(word => /^\d+:\d+$/.test(word)), typed = query.words.map(ready.key);
    const says = text => ready.keys(text).every(one => typed.includes(one));
    if (ratio && takes.ratio) set.ratio = [ratio, "by", Object.keys(ready.by).find(kind => says(ready.by[kind])) ?? "volume"].join(" ");
    const telling = ({ words, sizes }) => [...words.filter(word => !ready.called.has(ready.key(word))).map(ready.means), ...sizes], asked = telling(query), fit = {};
    for (const name in ready.choices) for (const [key, title] of Object.entries(name in takes ? ready.choices[name] : {})) {
      const own = telling(read(title.split(",")[0])), said = own.filter(word => asked.some(one => one === word || one[4] && word.endsWith(one)));
      const hits = said.length && said.length + said.length / (1 + own.length);
      if (hits > (fit[name]?.hits ?? 0)) fit[name] = { hits, key, said };
    }
    for (const [name, { hits, key, said }] of Object.entries(fit)) {
      const better = Object.values(fit).some(one => one.hits > hits && said.every(word => one.said.includes(word)));
      if (!better && (name !== "hardener" || says(ready.hardener))) set[name] = key;
    }
    // What needs another choice with it is no whole answer.
    const names = Object.keys(set), whole = names.filter(name => !page.a?.[name]).length;
    return { set: Object.assign({}, ...names.map(name => !set.wood && page.a?.[name]), set), whole, cups, shop: elsewhere };
  }

  function address(ready, page, anchor, set) {
    const folder = page.u.endsWith("index") ? page.u.slice(0, -5) : `${page.u}/`;
    const params = new URLSearchParams(set).toString();
    return (ready.flat ? `${page.u}.html` : folder) + (params && `?${params}`) + (anchor && `#${anchor}`);
  }

  /* A row's heads and values, the column that is meant first; or that column. */
  function rowCells({ grid, place, column, unsafe }) {
    const [, , , heads, columns] = grid;
    const told = (head, value, [, unit]) => [head, `${value}${unit && `\u00a0${unit}`}`];
    if (place < 0) return columns[0].map((name, row) => told(name, columns[column + 1][row], heads[column])).filter((_, row) => columns[column + 1][row]);
    const cells = columns.slice(1).map(one => one[place]);
    const order = [...cells.keys()].filter(one => cells[one] !== "" && !unsafe.has(one));
    if (column >= 0) order.sort((a, b) => (b === column) - (a === column));
    return order.map(one => told(heads[one][0], cells[one], heads[one]));
  }

  function search(ready, text, shop = Object.keys(ready.shops)[0]) {
    const query = read(text), scores = new Map(), every = query.words.length + query.sizes.length + query.amounts.length;
    if (!every) return [];
    const got = new Map();
    query.words.forEach((word, place) => {
      const last = place === query.words.length - 1 && /\p{L}$/u.test(text), best = new Map();
      for (const [one, how] of likes(ready, word, last)) {
        for (const [doc, worth] of ready.posts.get(one)) best.set(doc, Math.max(best.get(doc) ?? 0, worth * how * ready.rare.get(one)));
      }
      for (const [doc, worth] of best) { scores.set(doc, (scores.get(doc) ?? 0) + worth); got.set(doc, (got.get(doc) ?? 0) + 1); }
    });
    const pages = new Map(), typed = new Set([...query.words.map(ready.key), ...query.sizes]);
    for (const { unit } of query.amounts) if (ready.key(unit) !== unit && (unit !== "deg" || query.slanted)) typed.add(ready.key(unit));
    ready.docs.forEach((doc, place) => {
      const { page, number, part } = doc, words = query.words.length;
      let score = scores.get(place) ?? 0, row = { worth: 0 };
      if (words) score *= ((got.get(place) ?? 0) / words) ** 1.5;
      if (!part) {
        for (const phrase of page.phrases) {
          if (phrase.length && phrase.every(one => typed.has(one))) score += 7 * phrase.length - 1 + (phrase.length === typed.size ? 6 : 0);
        }
        if (page.g && (score || !words)) {
          row = bestRow(ready, page, query, shop);
          const wanted = query.sizes.length + query.amounts.length;
          score += row.worth * (words ? Math.min(1, score / 8) : 1) * 2;
          if (wanted && !row.worth) score *= 0.5;
        }
      }
      if (!score) return;
      if (page.k) {
        const told = settings(ready, page, query, shop).whole;
        score *= 1 + 0.35 * told + told / Object.keys(page.k).length;
      }
      const held = pages.get(number);
      if (!held) pages.set(number, { score, own: part ? 0 : score, page, part, row, at: score });
      else if (part && score > held.at) Object.assign(held, { part, at: score, score: Math.max(held.score, score) });
    });
    const best = [...pages.values()].sort((a, b) => b.score - a.score);
    return best.slice(0, 12).filter(one => one.score > best[0].score / 8).map(({ page, part, row, at, own, score }) => {
      const { set, cups, shop: whose } = settings(ready, page, query, shop);
      if (row.grid) {
        const [system, name, title, heads, [names]] = row.grid, own = title === page.t ? "" : `, ${title}`, whole = row.place < 0;
        const where = whole ? heads[row.column][0] : names[row.place];
        const cells = rowCells(row), text = row.asked + (cells.length ? (whole || amount(where) ? `By ${page.c}.` : "") : "No number here; the reason stands below the table.");
        return { score, path: page.u, title: page.t, where: where + own, text, cells, href: address(ready, page, whole ? name : `${name}-${row.place + 1}`, Object.keys(ready.shops).length > 1 ? { shop: system } : {}) };
      }
      const [anchor, where, says] = part && at > own * 1.2 ? part : ["", ""];
      const values = Object.entries(set).map(([name, value]) => name === page.k.N ? `${value} of them` : name === "ratio" ? value.replace(/by (.+)/, (_, kind) => ready.by[kind]) : ready.choices[name]?.[value] ?? value);
      const told = values.length ? `Set to ${cups ? `one of ${cups} cups, ` : ""}${values.join(", ")}. ` : "";
      return { score, path: page.u, title: page.t, where, text: told + (says || page.d), cells: [], href: address(ready, page, anchor, whose ? { shop: whose, ...set } : set) };
    });
  }

  globalThis.bondwrightSearch = { prepare, search };
  if (!globalThis.document) return;


  const here = document.currentScript.src, opener = document.querySelector(".bw-find-open"), KEY = "bondwright-search";
  const make = (name, more = {}, ...inside) => { const node = Object.assign(document.createElement(name), more); node.append(...inside); return node; };
  const input = make("input", { type: "search", enterKeyHint: "go", autocomplete: "off", spellcheck: false, maxLength: 80, placeholder: "drills for M8" });
  input.setAttribute("aria-label", "Search");
  const hits = make("ol"), said = make("p", { className: "bw-find-said" });
  said.setAttribute("role", "status");
  const form = make("form", { method: "dialog" }, input, make("button", { type: "submit", value: "close", textContent: "Close" }));
  const dialog = make("dialog", { className: "bw-find" }, form, said, hits);
  dialog.setAttribute("aria-label", "Search");
  document.body.append(dialog);
  let ready;

  const shop = () => document.querySelector("[name='bw-shop']:checked")?.value ?? (() => { try { return localStorage.getItem("bondwright-shop") ?? undefined; } catch {} })();

  function hit({ href, title, where, text, cells }) {
    const link = make("a", { href: new URL(`../${href}`, here).href }, make("b", { textContent: title }));
    const add = (kind, ...inside) => link.append(" ", make("span", { className: `bw-find-${kind}` }, ...inside));
    if (where) add("where", where);
    if (text) add("text", text);
    if (cells.length) add("cells", ...cells.slice(0, 6).map(([head, value]) => make("span", {}, `${head} `, make("b", { textContent: value }))));
    return make("li", {}, link);
  }

  function show() {
    if (!ready) return;
    const found = search(ready, input.value, shop());
    hits.replaceChildren(...found.map(hit));
    said.textContent = found.length ? `${found.length} ${found.length > 1 ? "pages" : "page"}, the best first.` : input.value.trim() ? "Nothing found. Try another word, a thread or a size." : "A word, a thread, a size, or a question: drills for M8, full load at 12 °C, sealant.";
    try { sessionStorage.setItem(KEY, input.value); } catch { /* it is not remembered */ }
  }

  function open() {
    dialog.showModal();
    input.select();
    show();
  }

  input.addEventListener("input", show);
  form.addEventListener("submit", event => {
    if (event.submitter?.value === "close" && event.submitter === document.activeElement) return;
    event.preventDefault();
    hits.querySelector("a")?.click();
  });
  dialog.addEventListener("click", event => { if (event.target === dialog || event.target.closest("a")) dialog.close(); });
  dialog.addEventListener("keydown", event => {
    const links = [input, ...hits.querySelectorAll("a")], way = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (!way) return;
    event.preventDefault();
    links[Math.min(links.length - 1, Math.max(0, links.indexOf(document.activeElement) + way))].focus();
  });
  opener.addEventListener("click", open);
  try { input.value = sessionStorage.getItem(KEY) ?? ""; } catch { /* it is not remembered */ }
  said.textContent = "Fetching the index.";
  document.head.append(make("script", {
    src: new URL("../search/index.js", here).href,
    onload() { ready = prepare(globalThis.bondwrightIndex); show(); },
    onerror() { said.textContent = "The index could not be fetched. Try again with a connection."; },
  }));
  open();
})();
