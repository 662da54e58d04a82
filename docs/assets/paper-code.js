/* A card printed as set carries a code that opens it as set, and at the foot of what explains it the same link in text, or,
   where that is long, the card's own. A link that no code holds stands there alone. */
"use strict";

(() => {
  const place = document.querySelector(".bw-code"), came = [...place.childNodes], LONGEST = 100;
  const encoder = document.createElement("script"), foot = document.createElement("style");
  encoder.src = new URL("../print/code.js", document.currentScript.src);
  document.head.append(encoder);
  // A browser takes what comes later.
  document.body.append(foot);

  function picture(link) {
    const svg = globalThis.bondwrightCode?.([...new TextEncoder().encode(link)], `Code for ${link}`);
    return svg ? new DOMParser().parseFromString(svg, "image/svg+xml").documentElement : "";
  }

  addEventListener("beforeprint", () => {
    const { address, foot: said } = place.dataset, set = document.body.hasAttribute("data-bw-set");
    const link = address + (set ? globalThis.bondwright.address().search : ""), told = link.length > LONGEST ? address : link;
    place.replaceChildren(...set ? [picture(link)] : came);
    foot.textContent = `@page why { @bottom-left { content: ${JSON.stringify(said)} "\\a " ${JSON.stringify(told)}; } }`;
  });
})();
