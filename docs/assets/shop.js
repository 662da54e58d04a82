/* The reader's shop, keys the theme lacks, what makes a page live, the door to the search. */
"use strict";

(() => {
  const here = document.currentScript.src, KEY = "bondwright-shop";
  const radio = shop => document.getElementById(`bw-shop-${shop}`);
  const remembered = () => { try { return localStorage.getItem(KEY); } catch { return; } };

  const shop = [new URLSearchParams(location.search).get("shop"), remembered()].find(one => one && radio(one));
  if (shop) {
    radio(shop).checked = true;
    // A link to a working names one shop.
    const own = `${shop}-${location.hash.split("-")[1]}`;
    if (document.getElementById(own)) location.replace(`#${own}`);
  }
  document.addEventListener("change", event => {
    if (event.target.name === "bw-shop") try { localStorage.setItem(KEY, event.target.value); } catch {}
  });

  // The keyboard reaches a frame that scrolls.
  const reach = new ResizeObserver(entries => {
    for (const { target } of entries) target.tabIndex = target.scrollWidth > target.clientWidth ? 0 : -1;
  });
  document.querySelectorAll(".bw-line").forEach(frame => reach.observe(frame));

  function add(name) {
    const onerror = () => document.documentElement.dataset.bare = "";
    document.head.append(Object.assign(document.createElement("script"), { src: new URL(name, here), async: false, onerror }));
  }
  new Set([...document.querySelectorAll("[data-scripts]")].flatMap(({ dataset }) => dataset.scripts.split(" "))).forEach(name => add(name));
  document.querySelector(".bw-contents")?.addEventListener("click", event => event.currentTarget.hidePopover());
  document.querySelector(".bw-find-open")?.addEventListener("click", () => add("search.js"), { once: true });
  if (!("mdColorScheme" in document.body.dataset)) add("paper-alone.js");
})();
