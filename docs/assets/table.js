/* Tables on a screen: one series, one hardener at a time by tab, and the row of the reader's own size, both remembered. Without
   this script, and on paper, every table stands below the other. */
"use strict";

(() => {
  const all = (sign, root) => [...root.querySelectorAll(sign)], KEPT = 12;
  const inHash = () => { try { return document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch { return null; } }; // anybody can write an address that cannot be read
  const kept = (key, none) => { try { return JSON.parse(localStorage.getItem(`bondwright-${key}`)) ?? none; } catch { return none; } };
  const keep = (key, value) => { try { localStorage.setItem(`bondwright-${key}`, JSON.stringify(value)); } catch { /* it is not remembered */ } };
  const title = grid => grid.querySelector("caption").textContent;

  // The row of one's own size, by what the rows run over.

  const heads = all(".bw-grids", document).flatMap(grids => all("tr:not(.bw-yours) > th[scope='row']", grids)).map(head => {
    const over = `row-${head.closest("table").querySelector("th").textContent}`;
    const button = Object.assign(document.createElement("button"), { type: "button", className: "bw-row", title: "Mark as your own size" });
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      keep(over, kept(over, "") === button.textContent ? "" : button.textContent);
      mark();
    });
    return [button, over];
  });
  function mark() {
    for (const [button, over] of heads) {
      const own = kept(over, "") === button.textContent;
      button.setAttribute("aria-pressed", own);
      button.closest("tr").toggleAttribute("data-own", own);
    }
  }
  mark();

  // Tabs. What was chosen in one table is chosen in the next that has it: lately chosen titles come first.

  const choosers = [];
  for (const bar of document.querySelectorAll(".bw-grids > .bw-tabs")) {
    const tabs = [...bar.children], own = all(`:scope > .bw-grid[data-shop="${bar.dataset.shop}"]`, bar.parentElement);
    tabs.forEach((tab, place) => tab.addEventListener("click", () => {
      const grid = own[place];
      keep("tabs", [title(grid), ...kept("tabs", []).filter(one => one !== title(grid))].slice(0, KEPT));
      show(grid);
    }));
    const show = chosen => own.forEach((grid, place) => {
      grid.toggleAttribute("data-put-away", grid !== chosen);
      tabs[place].setAttribute("aria-pressed", grid === chosen);
    });
    bar.hidden = false;
    const lately = kept("tabs", []).map(one => own.find(grid => title(grid) === one)).find(Boolean);
    show(lately ?? own.find(grid => grid.querySelector("[data-own]")) ?? own.find(grid => !grid.hasAttribute("data-later")));
    for (const grid of own) grid.removeAttribute("data-later");
    choosers.push([own, show]);
  }
  function reveal() {
    const target = inHash();
    for (const [own, show] of target ? choosers : []) {
      const grid = own.find(one => one.contains(target));
      if (grid) { show(grid); target.scrollIntoView({ block: target === grid ? "start" : "center" }); }
    }
  }
  addEventListener("hashchange", reveal);
  reveal();
})();
