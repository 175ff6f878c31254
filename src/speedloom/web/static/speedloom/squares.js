// A table whose squares are links is one stop of the tab key; arrow keys go from square to square, and a
// square opens its form beside the week; without this module, or in a new tab, it opens as a page.
const BESIDE = { ArrowRight: [0, 1], ArrowLeft: [0, -1], ArrowDown: [1, 0], ArrowUp: [-1, 0] };

function next(rows, link, [down, right]) {
  let row = rows.findIndex((cells) => cells.includes(link.closest("td")));
  let column = rows[row].indexOf(link.closest("td"));
  do {
    row += down;
    column += right;
  } while (rows[row]?.[column] && !rows[row][column].querySelector("a"));
  return rows[row]?.[column]?.querySelector("a");
}

for (const table of document.querySelectorAll("[data-squares]")) {
  const rows = [...table.querySelectorAll("tbody tr")]
    .map((row) => [...row.querySelectorAll("td")])
    .filter((cells) => cells.length > 0);
  const links = [...table.querySelectorAll("td a")];
  links.forEach((link, place) => link.setAttribute("tabindex", place === 0 ? "0" : "-1"));
  table.addEventListener("focusin", (event) => {
    if (!links.includes(event.target)) return;
    for (const link of links) link.setAttribute("tabindex", link === event.target ? "0" : "-1");
  });
  table.addEventListener("click", (event) => {
    const link = event.target.closest("td a");
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    globalThis.htmx.ajax("GET", link.href, { target: "#why", swap: "innerHTML show:#why:top" });
  });
  table.addEventListener("keydown", (event) => {
    if (!(event.key in BESIDE) || !links.includes(event.target)) return;
    event.preventDefault();
    next(rows, event.target, BESIDE[event.key])?.focus();
  });
}
