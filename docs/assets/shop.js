/* The reader's shop, names and keys the theme lacks, and what makes a page live. */
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
  document.querySelector(".md-search")?.setAttribute("aria-label", "Search");

  const wanted = [...document.querySelectorAll("[data-scripts]")].flatMap(part => part.dataset.scripts.split(" "));
  for (const name of new Set(wanted)) {
    const script = document.createElement("script");
    script.src = new URL(name, here).href;
    script.async = false;
    document.head.append(script);
  }
})();
