/* A change of language keeps the card as it is set, and the place on its page. */
"use strict";

document.addEventListener("click", event => {
  const link = event.target.closest?.(".bw-language");
  if (!link) return;
  const url = new URL(link.href);
  url.search = location.search;
  url.hash = location.hash;
  link.href = url;
});
