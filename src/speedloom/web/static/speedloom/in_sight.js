// A table wider than the screen opens at the column that matters: it stands there at once, nothing moves.
// What names the column is a link as well, for pages without this module; it goes where all is in sight.
for (const place of document.querySelectorAll("[data-in-sight]")) {
  const column = place.querySelector(place.dataset.inSight);
  const link = document.querySelector(`.to-week a[href="${place.dataset.inSight}"]`);
  if (link && place.scrollWidth <= place.clientWidth) link.parentElement.hidden = true;
  if (!column) continue;
  const from = Number.parseFloat(getComputedStyle(column).scrollMarginInlineStart);
  const left = column.getBoundingClientRect().left - place.getBoundingClientRect().left;
  place.scrollTo({ left: place.scrollLeft + left - from, behavior: "instant" });
}
