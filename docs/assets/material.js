/* What the theme Material's own script does on a page that asks no more of it: light and dark, the menu,
   where the reader is, and the way back to the top. `bare` in `generator/pages/frame.py` says which pages take it. */
"use strict";

(() => {
  const all = (sign, root = document) => [...root.querySelectorAll(sign)], part = name => document.querySelector(`[data-md-component="${name}"]`);
  const inHash = () => { try { return document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch { return null; } }; // anybody can write an address that cannot be read
  const { documentElement: root, body } = document;
  root.classList.replace("no-js", "js");

  // Light and dark: as the device has it, until the reader chooses.

  const lights = all("[data-md-component='palette'] input"), { __md_get: kept, __md_set: keep } = globalThis;
  const told = ({ attributes }) => Object.fromEntries([...attributes].filter(({ name }) => name.startsWith("data-md-color-")).map(({ name, value }) => [name.slice(14), value]));
  function light(chosen) {
    for (const [name, value] of Object.entries(told(chosen))) body.setAttribute(`data-md-color-${name}`, value);
    chosen.checked = true;
    for (const one of lights) one.nextElementSibling.hidden = one !== chosen;
  }
  const ofDevice = () => lights.find(one => matchMedia(one.dataset.mdColorMedia).matches) ?? lights[0];
  const before = () => lights[kept("__palette")?.index] ?? ofDevice();
  for (const one of lights) {
    one.addEventListener("change", () => { light(one); keep("__palette", { index: lights.indexOf(one), color: told(one) }); });
    matchMedia(one.dataset.mdColorMedia).addEventListener("change", () => light(before()));
  }
  if (lights.length) light(before());

  // The menu: a link or Escape closes it on a phone, and its labels are pressed by keys as buttons are.

  const drawer = document.getElementById("__drawer");
  addEventListener("click", ({ target }) => { if (target.closest("a[href]")) drawer.checked = false; });
  addEventListener("keydown", event => {
    if (event.key === "Escape") drawer.checked = false;
    if (event.key === "Enter" && event.target.matches("label[tabindex]")) event.target.click();
  });
  for (const toggle of all(".md-nav__toggle")) toggle.addEventListener("change", () => toggle.parentElement.querySelector(".md-nav").setAttribute("aria-expanded", toggle.checked));

  // Where the reader is: the page's name in the head once its heading is past, and the link of the heading read last.

  const heading = document.querySelector(".md-content h1");
  if (heading) new IntersectionObserver(([{ isIntersecting, boundingClientRect }]) => {
    part("header-title").classList.toggle("md-header__title--active", !isIntersecting && boundingClientRect.top < 0);
  }, { rootMargin: "-60px 0px 0px" }).observe(heading);

  const contents = document.querySelector(".md-sidebar--secondary"), links = all(".md-sidebar--secondary .md-nav__link[href^='#']");
  const headings = links.map(link => document.getElementById(decodeURIComponent(link.hash.slice(1))));
  const top = part("top");
  let last = scrollY, waits = false;
  function follow() {
    waits = false;
    if (top) top.tabIndex = (top.hidden = scrollY >= last || scrollY < innerHeight) ? -1 : 0;
    last = scrollY;
    if (!contents?.offsetParent) return;
    const now = headings.findLastIndex(one => one?.checkVisibility() && one.getBoundingClientRect().top < innerHeight / 4);
    links.forEach((link, place) => {
      link.classList.toggle("md-nav__link--passed", place < now);
      link.classList.toggle("md-nav__link--active", place === now);
    });
    const box = contents.querySelector(".md-sidebar__scrollwrap"), link = links[now];
    if (link) box.scrollTop += link.getBoundingClientRect().top - box.getBoundingClientRect().top - box.clientHeight / 2;
  }
  if (top) top.tabIndex = -1;  // it is there unseen
  addEventListener("scroll", () => { if (!waits) requestAnimationFrame(follow); waits = true; }, { passive: true });
  top?.addEventListener("click", () => scrollTo({ top: 0 }));

  // A table that has no class of its own scrolls in a frame, and what scrolls sideways is reached by the keyboard.

  const framed = name => Object.assign(document.createElement("div"), { className: `md-typeset__${name}` });
  for (const table of all(".md-content table:not([class])")) {
    const frame = framed("scrollwrap"), inner = framed("table");
    table.replaceWith(frame);
    frame.append(inner);
    inner.append(table);
  }

  const wide = new ResizeObserver(boxes => {
    for (const { target } of boxes) {
      if (target.scrollWidth > target.clientWidth) target.tabIndex = 0;
      else target.removeAttribute("tabindex");
    }
  });
  for (const box of all(".md-content pre > code, .md-typeset__scrollwrap")) wide.observe(box);

  // What is folded is printed too, and a link to it opens it.

  const folded = () => all(".md-content details:not([open])");
  let opened = [];
  addEventListener("beforeprint", () => { opened = folded(); for (const one of opened) one.open = true; });
  addEventListener("afterprint", () => { for (const one of opened) one.open = false; });
  function reveal() {
    const target = inHash();
    const inside = target ? folded().filter(one => one.contains(target)) : [];
    for (const one of inside) one.open = true;
    if (inside.length) target.scrollIntoView();
  }
  addEventListener("hashchange", reveal);
  reveal();
})();
