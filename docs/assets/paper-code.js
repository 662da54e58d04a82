/* A card printed as set carries a code that opens it as set, and the same link in text. A link that no code holds stands
   there in text alone. */
"use strict";

(() => {
  const place = document.querySelector(".bw-code"), came = [...place.childNodes];
  const encoder = document.createElement("script");
  encoder.src = new URL("../print/code.js", document.currentScript.src);
  document.head.append(encoder);

  function picture(link) {
    const svg = globalThis.bondwrightCode?.([...new TextEncoder().encode(link)], `Code for ${link}`);
    return svg ? new DOMParser().parseFromString(svg, "image/svg+xml").documentElement : "";
  }

  addEventListener("beforeprint", () => {
    const set = document.body.hasAttribute("data-bw-set"), link = place.dataset.address + globalThis.bondwright.address().search;
    place.replaceChildren(...set ? [picture(link), link] : came);
  });
})();
