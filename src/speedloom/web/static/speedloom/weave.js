// The weave answers taps, clicks and keys: one week has the focus, arrows move it, Enter opens it below.
const STEPS = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };

function focusable(picture, weeks) {
  const drawing = picture.querySelector("svg");
  // As one image it would hide its weeks from screen readers; what is drawn stands in the table as well.
  drawing.setAttribute("role", "group");
  for (const part of drawing.children) {
    if (!part.matches("title, desc, defs, [data-week]")) part.setAttribute("aria-hidden", "true");
  }
  const open = weeks.find((area) => area.dataset.week === picture.dataset.open) ?? weeks[0];
  for (const area of weeks) {
    area.setAttribute("role", "link");
    area.setAttribute("aria-label", area.querySelector("title").textContent);
    area.setAttribute("tabindex", area === open ? "0" : "-1");
  }
  open.setAttribute("aria-current", "true");
  picture.removeAttribute("tabindex");
}

for (const picture of document.querySelectorAll("[data-weave]")) {
  const weeks = [...picture.querySelectorAll("[data-week]")];
  if (weeks.length === 0) continue;
  focusable(picture, weeks);
  const open = (area) => {
    globalThis.location.assign(`${picture.dataset.weave}&week=${area.dataset.week}#week`);
  };
  const move = (from, to) => {
    if (!to) return;
    from.setAttribute("tabindex", "-1");
    to.setAttribute("tabindex", "0");
    to.focus();
    to.scrollIntoView({ block: "nearest", inline: "nearest" });
  };
  weeks.forEach((area, place) => {
    area.addEventListener("click", () => open(area));
    area.addEventListener("keydown", (event) => {
      const ends = { Home: weeks[0], End: weeks.at(-1) };
      if (event.key === "Enter" || event.key === " ") open(area);
      else if (event.key in STEPS) move(area, weeks[place + STEPS[event.key]]);
      else if (event.key in ends) move(area, ends[event.key]);
      else return;
      event.preventDefault();
    });
  });
}
