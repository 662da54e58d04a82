/* The reader's shop, keys the theme lacks, what makes a page live, and the door to the search. */
"use strict";

(() => {
  const here = document.currentScript.src, KEY = "bondwright-shop";
  const radio = shop => document.getElementById(`bw-shop-${shop}`);
  const remembered = () => { try { return localStorage.getItem(KEY); } catch { return null; } };
  const remember = shop => { try { localStorage.setItem(KEY, shop); } catch {} };

  const asked = new URLSearchParams(location.search).get("shop");
  const shop = [asked, remembered()].find(one => one === "metric" || one === "inch");
  if (shop && radio(shop)) {
    radio(shop).checked = true;
    // A link to a working names one shop.
    const own = `${shop}-${location.hash.split("-")[1]}`;
    if (document.getElementById(own)) location.replace(`#${own}`);
  }
  document.addEventListener("change", event => {
    if (event.target.name === "bw-shop") remember(event.target.value);
  });

  // The keyboard reaches a frame that scrolls, and passes over others.
  const reach = new ResizeObserver(entries => {
    for (const { target } of entries) target.tabIndex = target.scrollWidth > target.clientWidth ? 0 : -1;
  });
  for (const frame of document.querySelectorAll(".bw-line")) reach.observe(frame);
  function add(name) {
    const script = document.createElement("script");
    script.src = new URL(name, here).href;
    script.async = false;
    document.head.append(script);
  }
  const wanted = [...document.querySelectorAll("[data-scripts]")].flatMap(part => part.dataset.scripts.split(" "));
  for (const name of new Set(wanted)) add(name);
  document.querySelector(".bw-find-open")?.addEventListener("click", () => add("search.js"), { once: true });
})();
