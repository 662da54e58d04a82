/* Takes a series of pulled joints at the bench and writes its file. The card's own script reads what the card was set to; all
   else is checked by the limits and words in the page's data, which are the loader's. A plain script: a browser loads no
   module from a memory stick. */
"use strict";

(() => {
  const form = document.querySelector(".bw-result"), { work, readQuantity } = globalThis.bondwright, { fields, shops } = globalThis.bondwrightCard;
  const data = JSON.parse(form.querySelector(".bw-result-data").textContent), KEY = `bondwright-${data.card}-result`, MOST = 500;
  const part = name => form.querySelector(`.bw-result-${name}`), entry = box => box.querySelector("input, select");
  const system = () => document.querySelector("[name='bw-shop']:checked")?.value ?? Object.keys(shops)[0];
  const write = (node, text) => { if (node.textContent !== text) node.textContent = text; };
  const box = key => form.querySelector(`form > fieldset [data-key='${key}']`), given = name => form.querySelector(`[data-field='${name}']`);
  const rows = () => [...form.querySelectorAll(".bw-result-joint")];
  // What is typed: the series and its wood by key, the card's inputs by name where they differ from how the card came, and the joints.
  let typed = { keys: {}, given: {}, joints: [{}] };

  // Reading and checking

  /* One line without what cannot be seen: the loader takes no other. */
  const line = text => text.replace(/\s+/gu, " ").replace(/\p{C}/gu, "").trim();
  const bare = text => /^[+-]?[\d\s./,-]+$/.test(text);

  /* A number with its unit, or what is wrong with it. */
  function quantity(key, text) {
    const unit = data.units[key][system()], whole = bare(text) && unit ? `${text} ${unit}` : text;
    const { scales, write, least, most, wrong } = data.numbers[key in data.numbers ? key : "load"], value = readQuantity(whole, { scales, write, least: 0 }, system());
    const out = !(value < least * (1 - 1e-9) || value > most * (1 + 1e-9)) ? "" : wrong[system()];
    return { text: whole, value, fault: `${value.toFixed ? out : value}` && `'${whole}'${value.toFixed ? out : value}` };
  }

  const isDay = text => { const day = new Date(`${text}T00:00Z`); return /^\d{4}-\d\d-\d\d$/.test(text) && !isNaN(day) && day.toISOString().startsWith(text); };

  /* A key's text as the file has it, and what is wrong with it. Empty is neither. */
  function check(key, raw) {
    const text = line(raw ?? "");
    if (text.includes("<")) return { text, fault: data.no_tag };
    if (text && key in data.units) return quantity(key, text);
    return { text, fault: key === "on" && text && !isDay(text) ? `'${text}' is no day; write it like 2026-11-28` : "" };
  }

  /* A text of the loader's with its values, a number with its decimals. */
  const worded = (parts, values) => parts.map(([words, name, places]) => words + (!name ? "" : places === null ? values[name] : values[name].toFixed(places))).join("");

  /* The wood's gravity, where it is another wood's. */
  const strange = (gravity, { values: { G }, titles: { wood } }) =>
    Math.abs(gravity / G - 1) > data.another_wood ? worded(data.not_that_wood, { gravity, G, wood }) : "";

  /* Over the thread of a rod, or over the core of a screw. */
  function tooStrong({ values: { f_u, A_s, d_r }, titles }, load) {
    const least = f_u * (data.metal.includes("A_s") ? A_s : Math.PI / 4 * d_r ** 2);
    if (!(load > data.strongest * least)) return "";
    const size = data.sizes.find(name => name in titles && input(name) !== "none");
    return worded(data.too_strong, { ...titles, load: load / 1000, least: least / 1000, strongest: data.strongest, thread: titles[size] });
  }

  /* A joint's faults by key; `left` where it is not whole yet. */
  function checkJoint(raw, job) {
    const found = Object.fromEntries(data.joint.map(key => [key, check(key, raw[key])])), { load, failed, held } = found;
    for (const one of [load, held]) if (one.text && !one.fault) one.fault = tooStrong(job, one.value);
    const whole = load.text ? failed.text && !held.text : held.text && !failed.text;
    if (!whole && held.text) held.fault ||= data.broken_or_held;
    return { found, left: !whole };
  }

  // The file

  /* Plain where YAML cannot mistake it, else in double quotes. */
  const scalar = text => /^[\p{L}\d][\p{L}\d ./%°()-]*$/u.test(text) && !/^[\d.]+$/.test(text) ? text : JSON.stringify(text);
  const flow = entries => `{${entries.filter(([, text]) => text).map(([key, text]) => `${key}: ${scalar(text)}`).join(", ")}}`;

  function file(keys, inputs, joints) {
    const lines = [`title: ${scalar(keys.title.text)}`, `card: ${data.card}`, "given:"];
    for (const [name, text] of inputs) lines.push(`  ${name}: ${scalar(text)}`);
    lines.push(`measured: ${flow(data.measured.map(key => [key, keys[key].text]))}`, "joints:");
    for (const found of joints) lines.push(`  - ${flow(data.joint.map(key => [key, found[key].text]))}`);
    if (keys.note.text) lines.push(`note: ${scalar(keys.note.text)}`);
    return `${lines.join("\n")}\n`;
  }

  // The page

  function tell(place, fault) {
    write(place.querySelector(".bw-fault"), fault);
    entry(place).ariaInvalid = !!fault || null;
  }

  /* An input of the card with the unit that it came in, where none was typed. */
  function input(name) {
    const [came, unit] = fields[name].came[system()], text = line(typed.given[name] ?? came);
    return unit && bare(text) ? `${text} ${unit}` : text;
  }

  function update() {
    const names = ["title", ...data.measured, "note"], left = [], label = place => place.querySelector("label").textContent;
    const inputs = Object.fromEntries(data.given.map(name => [name, input(name)])), job = work(system(), inputs), faults = [];
    for (const name of data.given) {
      const [row, why] = data.untried[name] ?? [], fault = job.faults[name] ?? (row === inputs[name] ? why : "");
      tell(given(name), fault);
      if (fault) faults.push(label(given(name)));
    }
    const reasons = data.set_up.map(symbol => job.refused[symbol]?.[0]).filter(Boolean);
    if (!faults.length && reasons.length) faults.push(`${data.unworked} ${[...new Set(reasons)].join("; ")}`);
    const keys = Object.fromEntries(names.map(key => [key, check(key, typed.keys[key])]));
    keys.gravity.fault ||= keys.gravity.text ? strange(keys.gravity.value, job) : "";
    for (const key of names) {
      tell(box(key), keys[key].fault);
      if (keys[key].fault) faults.push(label(box(key)));
      else if (!keys[key].text && key !== "note") left.push(label(box(key)));
    }
    const joints = rows().map((row, place) => {
      const { found, left: more } = checkJoint(typed.joints[place], job);
      for (const key of data.joint) {
        tell(row.querySelector(`[data-key='${key}']`), found[key].fault);
        if (found[key].fault) faults.push(`joint ${place + 1}`);
      }
      if (more) left.push(`joint ${place + 1}`);
      return found;
    });
    const broke = joints.filter(({ load, failed }) => load.text && failed.text && failed.text !== "steel").length;
    const whole = !faults.length && !left.length, said = [faults.length ? `To mend: ${[...new Set(faults)].join(", ")}.` : "", left.length ? `Still to give: ${left.join(", ")}.` : ""];
    write(part("left"), said.filter(Boolean).join(" ") || "The file is whole.");
    write(part("count"), broke < data.fewest ? `${data.gave_way}: ${broke}. Fewer than ${data.fewest} give no number.` : `${data.gave_way}: ${broke}.`);
    part("file").hidden = !whole;
    part("file").value = whole ? file(keys, [["shop", system()], ...Object.entries(inputs)], joints) : "";
    for (const act of ["copy", "save"]) form.querySelector(`[data-act='${act}']`).disabled = !whole;
    form.querySelector("[data-act='add']").disabled = rows().length >= MOST;
    keep();
  }

  function keep() {
    try { localStorage.setItem(KEY, JSON.stringify({ ...typed, shop: system() })); } catch { write(part("told"), "This browser keeps nothing. Save the file before you leave."); }
  }

  function addRow(raw) {
    const row = form.querySelector("template").content.cloneNode(true).firstElementChild, number = rows().length + 1;
    part("joints").append(row);
    for (const place of row.querySelectorAll("[data-key]")) entry(place).value = raw[place.dataset.key] ?? "";
    return number;
  }

  /* Each joint's number, and names of its own for its fields. */
  function numberRows() {
    rows().forEach((row, place) => {
      write(row.querySelector("legend"), `Joint ${place + 1}`);
      for (const one of row.querySelectorAll("[id], [for], [aria-describedby]"))
        for (const name of ["id", "for", "aria-describedby"])
          if (one.hasAttribute(name)) one.setAttribute(name, one.getAttribute(name).replace(/joint-(\d+-)?/, `joint-${place + 1}-`));
      row.querySelector("[data-act='drop']").hidden = rows().length < 2;
    });
  }

  function fill() {
    for (const key of ["title", ...data.measured, "note"]) entry(box(key)).value = typed.keys[key] ?? "";
    for (const name of data.given) entry(given(name)).value = typed.given[name] ?? fields[name].came[system()][0];
    part("joints").replaceChildren();
    for (const raw of typed.joints) addRow(raw);
    numberRows();
    update();
  }

  const acts = {
    /* Who pulled the last one, and when, most likely pulled this one too. */
    add() {
      const { by = "", on = "" } = typed.joints.at(-1);
      typed.joints.push({ by, on });
      addRow({ by, on });
      numberRows();
      update();
      entry(rows().at(-1)).focus();
    },
    drop(target) {
      const row = target.closest(".bw-result-joint");
      typed.joints.splice(rows().indexOf(row), 1);
      row.remove();
      numberRows();
      update();
    },
    copy() {
      part("file").select();
      write(part("told"), document.execCommand("copy") ? "Copied." : "Not copied: copy the marked text yourself.");
    },
    save() {
      const words = line(typed.keys.title).normalize("NFKD").toLowerCase().match(/[a-z0-9]+/g) ?? [], link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([part("file").value], { type: "text/yaml" }));
      link.download = `${["pulled", ...words].join("-").slice(0, 50).replace(/-$/, "")}.yaml`;
      link.click();
      URL.revokeObjectURL(link.href);
      write(part("told"), `Saved as ${link.download}.`);
    },
    clear() {
      if (!confirm("Clear everything that was typed here?")) return;
      typed = { keys: {}, given: {}, joints: [{}] };
      fill();
    },
  };

  form.addEventListener("input", ({ target }) => {
    const row = target.closest(".bw-result-joint"), { key, field } = target.closest("[data-key], [data-field]").dataset;
    const into = row ? typed.joints[rows().indexOf(row)] : field ? typed.given : typed.keys;
    into[key ?? field] = target.value;
    update();
  });
  form.addEventListener("click", ({ target }) => acts[target.dataset.act]?.(target));
  document.addEventListener("change", ({ target }) => { if (target.name === "bw-shop") fill(); });

  // What was kept, if it is what this page keeps; over it, how a card was set that led here.
  try {
    const { shop, ...kept } = JSON.parse(localStorage.getItem(KEY)) ?? {};
    if (kept.joints?.length && kept.keys && kept.given) typed = kept;
    const button = document.getElementById(`bw-shop-${shop}`);
    if (button && !location.search) button.checked = true;
  } catch { /* Nothing is kept, or it was spoiled. */ }
  for (const [name, text] of new URLSearchParams(location.search)) if (data.given.includes(name)) typed.given[name] = text;
  fill();
  form.hidden = false;
})();
