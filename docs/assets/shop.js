/* On every page: remembers which shop the reader works in, and gives names and keys to what the theme leaves without. On a card it also fetches what makes the card live. */
"use strict";

(() => {
  const here = document.currentScript.src, KEY = "bondwright-shop";
  const radio = shop => document.getElementById(`bw-shop-${shop}`);
  // A browser may refuse to remember anything; the switch works all the same.
  const remembered = () => { try { return localStorage.getItem(KEY); } catch { return null; } };
  const remember = shop => { try { localStorage.setItem(KEY, shop); } catch { /* not remembered */ } };

  const asked = new URLSearchParams(location.search).get("shop");
  const shop = [asked, remembered()].find(one => one === "metric" || one === "inch");
  if (shop && radio(shop)) radio(shop).checked = true;
  document.addEventListener("change", event => {
    if (event.target.name === "bw-shop") remember(event.target.value);
  });

  // A frame that scrolls is reached by the keyboard; one that has nothing to scroll is passed over.
  const reach = new ResizeObserver(entries => {
    for (const { target } of entries) target.tabIndex = target.scrollWidth > target.clientWidth ? 0 : -1;
  });
  for (const frame of document.querySelectorAll(".bw-line")) reach.observe(frame);
  document.querySelector(".md-search")?.setAttribute("aria-label", "Search");

  const live = document.querySelector(".bw-live"), wanted = live ? [`../cards/${live.dataset.card}/live.js`, "live.js"] : [];
  if (document.querySelector(".bw-code")) wanted.push("paper-code.js");
  if (document.querySelector(".bw-choose")) wanted.push("chooser.js");
  for (const name of wanted) {
    const script = document.createElement("script");
    script.src = new URL(name, here).href;
    script.async = false;
    document.head.append(script);
  }
})();
