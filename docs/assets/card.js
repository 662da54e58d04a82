/* A card on a screen: its parts by tab, its key figures marked where the reader changed them, steps to tick and to see in short, a
   clock from the mix, and a screen that stays awake beside the steps. Print knows nothing of it. */
"use strict";

(() => {
  const card = document.querySelector(".bw-card"), bar = document.querySelector(".bw-keys"), steps = card.querySelector(".bw-steps");
  const name = bar.dataset.card, all = (sign, root = document) => [...root.querySelectorAll(sign)];
  const kept = (key, none) => { try { return JSON.parse(localStorage.getItem(`bondwright-${key}`)) ?? none; } catch { return none; } };
  const keep = (key, value) => { try { localStorage.setItem(`bondwright-${key}`, JSON.stringify(value)); } catch { /* it is not remembered */ } };
  const make = (tag, more = {}, ...inside) => { const node = Object.assign(document.createElement(tag), more); node.append(...inside); return node; };
  const inHash = () => { try { return document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch { return null; } }; // anybody can write an address that cannot be read

  // Parts by tab. What stands below a heading goes with it.

  const PARTS = [["how-much-to-trust", "trust"], ["sizes", "numbers"], ["", "do"]];
  const parts = new Map();
  let part = "do";
  for (const node of card.querySelector(".bw-why").children) {
    if (node.matches("h2")) part = PARTS.find(([start]) => node.id.startsWith(start))[1];
    parts.set(node, part);
  }
  for (const node of all(".bw-own")) parts.set(node, "trust");
  const tabs = all("[data-tab]", bar);

  function show(wanted) {
    for (const [node, own] of parts) node.toggleAttribute("data-put-away", own !== wanted);
    for (const tab of tabs) tab.setAttribute("aria-pressed", tab.dataset.tab === wanted);
  }
  function reveal() {
    const target = inHash();
    for (const [node, own] of target ? parts : []) if (node.contains(target)) {
      show(own);
      target.closest(".bw-steps > li")?.toggleAttribute("data-open", true);
      target.scrollIntoView();
    }
  }
  function open({ currentTarget }) {
    const { tab } = currentTarget.dataset, live = document.querySelector(".bw-live > details");
    show(tab);
    if (tab === "numbers" && live) live.open = true;
    const first = tab === "numbers" && live ? document.querySelector(".bw-live") : tab === "do" ? steps.previousElementSibling : [...parts].find(([, own]) => own === tab)?.[0];
    first?.scrollIntoView();
  }
  for (const tab of tabs) { tab.hidden = false; tab.addEventListener("click", open); }
  show("do");
  reveal();
  addEventListener("hashchange", reveal);
  // What they lead to may have been put away since, with the address as it was.
  bar.querySelector("[data-of] a")?.addEventListener("click", () => tabs.at(-1).click());

  // Key figures that the reader has changed.

  const figures = all("[data-s]", bar), shop = () => document.querySelector("[name='bw-shop']:checked")?.value ?? "";
  const own = node => (node.querySelector(`[data-shop="${shop()}"]`) ?? node).textContent;
  const shops = ["", ...all("[name='bw-shop']").map(one => one.value)];
  const clean = new Map(figures.map(node => [node, Object.fromEntries(shops.map(one => [one, (node.querySelector(`[data-shop="${one}"]`) ?? node).textContent]))]));
  function mark() {
    for (const node of figures) node.parentElement.toggleAttribute("data-changed", own(node) !== clean.get(node)[shop()]);
    // A figure that has no number says so once, and why.
    for (const cell of all("dd", bar)) {
      const symbols = all("[data-s]", cell.matches("[data-of]") ? card.querySelector(".bw-trust") : cell).map(node => node.dataset.s), { refused = {} } = globalThis.bondwright?.job ?? {};
      const why = symbols.every(symbol => refused[symbol]) ? refused[symbols[0]]?.[0] ?? "" : "";
      cell.dataset.why = why && `${own(document.querySelector(`[data-s="${symbols[0]}"]`))}: ${why}`;
      cell.parentElement.toggleAttribute("data-none", why);
    }
  }
  const marks = new MutationObserver(mark), changes = { subtree: true, childList: true, characterData: true };
  for (const node of [bar, document.querySelector(".bw-live-why")]) if (node) marks.observe(node, changes);

  // On a phone the bar is two lines of figures. A tap on them brings what stands beside them and the clock; then each leads to its working.

  const phone = matchMedia("(max-width: 45rem)"), list = bar.querySelector("dl");
  const more = make("button", { type: "button", className: "bw-more", title: "More key figures" });
  function spread(on) {
    more.setAttribute("aria-expanded", on);
    bar.toggleAttribute("data-spread", on);
  }
  for (const node of [more, list]) node.addEventListener("click", event => {
    if (!phone.matches || event.target.closest("[data-of]")) return;
    const on = bar.hasAttribute("data-spread");
    if (on && event.target.closest("a")) return;
    event.preventDefault();
    spread(!on);
  });
  list.after(more);
  spread(!phone.matches);

  // On a phone, what is read once before the work is folded away.

  function door(head, open) {
    const title = make("span", {}, ...[...head.childNodes].filter(node => node.className !== "headerlink"));
    const button = make("button", { type: "button", className: "bw-fold" }, title);
    const set = on => { button.setAttribute("aria-expanded", on); open(on); };
    head.prepend(button);
    button.addEventListener("click", event => { event.stopPropagation(); set(button.getAttribute("aria-expanded") !== "true"); });
    return set;
  }
  for (const head of phone.matches ? all("h2:is([id^='use-it-when'], [id^='what-you-need'], [id^='time'])", card) : []) {
    const below = [];
    for (let next = head.nextElementSibling; next && !next.querySelector("h2") && !next.matches("h2"); next = next.nextElementSibling) below.push(next);
    door(head, on => { for (const node of below) node.toggleAttribute("data-folded", !on); })(false);
  }

  // The form: a keyboard with a stroke for fractions, a fault in sight, a link, and all of it still there on coming back.

  const live = document.querySelector(".bw-live");
  if (live) {
    // A unit that is typed stands in the field's own stead.
    const unite = () => {
      for (const input of all("input[aria-describedby*='-unit']", live)) {
        const unit = live.querySelector(`[id='${input.id}-unit']`), [typed] = /[\p{L}°%].*/u.exec(input.value) ?? [""];
        input.inputMode = /^(in|ft)$/.test(own(unit).trim()) ? "text" : "decimal";
        if (unit.dataset.typed !== typed) unit.dataset.typed = typed;
      }
    };
    unite();
    for (const kind of ["input", "click"]) live.addEventListener(kind, unite);
    live.querySelector(".bw-all").open = !phone.matches;
    document.addEventListener("change", ({ target }) => {
      if (target.name === "bw-shop") unite();
      if (live.contains(target)) live.querySelector("[aria-invalid]")?.closest(".bw-field").scrollIntoView({ block: "nearest" });
      if (target.id === "live-thread") keep("row-thread", target.value);
    });
    const set = () => globalThis.bondwright.address();
    document.addEventListener("click", ({ target }) => {
      if (target.closest("a[href]")) try { history.replaceState(history.state, "", set()); } catch { /* a file's address stays */ }
      if (target.dataset.act === "copy") live.querySelector(".bw-all").open = true;
    }, true);
    live.querySelector(".bw-copy-link").addEventListener("click", () => {
      const sheet = live.querySelector(".bw-live-sheet"), url = set();
      if (!url.search) url.searchParams.set("shop", shop());
      sheet.value = url;
      sheet.hidden = false;
      sheet.select();
      live.querySelector(".bw-live-status").textContent = document.execCommand("copy") ? "Link copied." : "Not copied: copy the marked link yourself.";
    });
  }

  // The drilling aid is drawn for the card as it is set.

  const aid = document.querySelector(".bw-to-aid a");
  for (const kind of aid ? ["pointerdown", "click"] : []) aid.addEventListener(kind, () => {
    const set = new URLSearchParams(globalThis.bondwright?.address().search);
    set.set("card", name);
    aid.search = set;
  });

  // Steps: a tick each, and all of them in short, of which the next one to do is open.

  const ticked = new Set(kept(`ticks-${name}`, []));
  const clear = make("button", { type: "button", textContent: "Clear the ticks" });
  const short = make("button", { type: "button", textContent: "Steps in short" });
  const boxes = all(":scope > li", steps).map((step, place) => {
    const head = step.querySelector("h3"), box = make("input", { type: "checkbox" });
    box.setAttribute("aria-label", `Done: ${head.firstChild.textContent}`);
    box.addEventListener("change", () => {
      ticked[box.checked ? "add" : "delete"](place);
      keep(`ticks-${name}`, [...ticked]);
      draw();
    });
    head.before(make("label", { className: "bw-tick" }, box));
    return [step, box, door(head, on => step.toggleAttribute("data-open", on))];
  });
  function draw() {
    const now = boxes.findIndex(([step], place) => !step.hidden && !ticked.has(place));
    boxes.forEach(([step, box, open], place) => {
      box.checked = ticked.has(place);
      step.toggleAttribute("data-done", box.checked);
      open(place === now);
    });
    clear.hidden = !ticked.size;
  }
  clear.addEventListener("click", () => { ticked.clear(); keep(`ticks-${name}`, []); draw(); });
  function shorten(on) {
    steps.toggleAttribute("data-short", on);
    short.setAttribute("aria-pressed", on);
  }
  short.addEventListener("click", () => { const on = !steps.hasAttribute("data-short"); keep("short", on); shorten(on); });
  steps.addEventListener("click", ({ target }) => {
    if (steps.hasAttribute("data-short") && !target.closest("a, label, summary, [data-open]")) target.closest("li")?.querySelector(".bw-fold").click();
  });
  steps.before(make("p", { className: "bw-acts bw-on-screen" }, short, clear));
  shorten(kept("short", phone.matches));
  draw();

  // The clock: what is left of each wait, from when the epoxy was mixed.

  const clock = document.querySelector(".bw-timer"), UNIT = { min: 60, h: 3600, d: 86400 };
  if (clock) {
    const waits = all("[data-s]", clock).map(wait => [wait, make("b", { className: "bw-left" })]);
    for (const [wait, left] of waits) wait.after(left);
    const [title] = clock.children, called = title.textContent, start = clock.querySelector("button"), since = clock.querySelector(".bw-since");
    let mixed = kept(`mixed-${name}`, 0), beat;
    const spoken = seconds => seconds < 3600 ? `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}` : seconds < 172800 ? `${Math.floor(seconds / 3600)} h ${Math.floor(seconds % 3600 / 60)} min` : `${Math.floor(seconds / 86400)} d ${Math.floor(seconds % 86400 / 3600)} h`;
    function told(seconds) {
      const rest = spoken(seconds);
      return seconds > 0 ? `${rest} left` : "over";
    }
    function tick() {
      // What ends next is told on the door too.
      let next = called;
      for (const [wait, left] of waits) {
        const [, number, unit] = /([\d.,]+)\s*(min|h|d)\b/.exec(own(wait)) ?? [], rest = mixed / 1000 + number?.replace(",", ".") * UNIT[unit] - Date.now() / 1000;
        left.textContent = mixed && number ? ` ${told(rest)}` : "";
        if (next === called && mixed && rest > 0) next += `: ${wait.parentElement.firstChild.textContent}·${left.textContent}`;
      }
      title.textContent = next;
    }
    function run() {
      clearInterval(beat);
      start.textContent = mixed ? "Stop" : "Mixed now";
      clock.toggleAttribute("data-runs", mixed);
      since.textContent = mixed ? `Mixed at ${new Date(mixed).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" })}.` : "";
      if (mixed) beat = setInterval(tick, 1000);
      tick();
    }
    start.addEventListener("click", () => { mixed = mixed ? 0 : Date.now(); keep(`mixed-${name}`, mixed); run(); });
    clock.hidden = false;
    run();
  }

  // The screen stays awake while steps are in sight, where the browser can.

  let awake, seen = false, turn = Promise.resolve();
  const hold = () => {
    // One after the other, so that none that was asked for is lost.
    turn = turn.then(async () => {
      if (seen && !document.hidden) awake ??= await navigator.wakeLock?.request("screen");
      else { await awake?.release(); awake = undefined; }
    }).catch(() => { awake = undefined; /* it goes dark as it would */ });
  };
  new IntersectionObserver(([{ isIntersecting }]) => { seen = isIntersecting; hold(); }).observe(steps);
  // The browser lets go of it when the page is put away, and does not take it again.
  document.addEventListener("visibilitychange", hold);
})();
