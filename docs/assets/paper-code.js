/* A card printed as set carries a code that opens it as set. What makes the code is fetched once something is set; where
   it cannot be fetched, as from a memory stick, the link stands there in text. */
"use strict";

(() => {
  const here = document.currentScript.src, place = document.querySelector(".bw-code"), came = [...place.childNodes];
  let code;
  async function fetchCode() {
    try { code ??= await import(new URL("lean-qr.js", here)); } catch { /* the link is enough */ }
  }

  function picture(text) {
    const { generate, mode, correction } = code, level = { minCorrectionLevel: correction.M, maxCorrectionLevel: correction.M };
    const dots = generate(text, { modes: [mode.ascii], ...level }), margin = 4, size = dots.size + 2 * margin;
    const all = [...Array(dots.size).keys()];
    const path = all.map(y => all.filter(x => dots.get(x, y)).map(x => `M${x} ${y}h1v1h-1z`).join("")).join("");
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${-margin} ${-margin} ${size} ${size}"><path d="${path}"/></svg>`;
    return new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  }

  addEventListener("beforeprint", () => {
    const set = document.body.hasAttribute("data-bw-set"), link = place.dataset.address + globalThis.bondwright.address().search;
    place.replaceChildren(...set ? [code ? picture(link) : "", link] : came);
  });
  document.querySelector(".bw-live").addEventListener("input", fetchCode);
  document.querySelector(".bw-live").addEventListener("click", fetchCode);
  if (document.body.hasAttribute("data-bw-set")) fetchCode();
})();
