/* Has the browser keep the whole site, once the page has had the line to itself. */
"use strict";

setTimeout(() => {
  const { href } = document.querySelector("link[rel=manifest]");
  navigator.serviceWorker?.register(new URL("sw.js", href)).catch(() => {});
}, 8000);
