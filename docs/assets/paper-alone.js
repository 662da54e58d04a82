/* In a theme that ours are not made for, its style sheets are for the screen: what stands before ours is the theme's, and what
   stands behind them is the site's own. So a page takes the same paper in each. */
"use strict";

{
  const sheets = [...document.styleSheets], ours = sheets.findIndex(({ href }) => /\/assets\/(figures|bondwright)\.css$/.test(href));
  const onScreen = query => query.startsWith("(") ? ["screen", "and", query].join(" ") : query.replace(/^all\b/, "screen").replace(/^print\b.*/, "none");
  for (const { media } of sheets.slice(0, Math.max(0, ours))) media.mediaText = [...media].map(onScreen).join() || "screen";
}
