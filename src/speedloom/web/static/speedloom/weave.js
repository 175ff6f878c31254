// The weave answers clicks and arrow keys: a week that is chosen opens below it.
for (const picture of document.querySelectorAll("[data-weave]")) {
  const weeks = [...picture.querySelectorAll("[data-week]")];
  const open = (week) => {
    globalThis.location.assign(`${picture.dataset.weave}&week=${week}#week`);
  };
  weeks.forEach((area, place) => {
    area.addEventListener("click", () => open(area.dataset.week));
    area.addEventListener("keydown", (event) => {
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        open(area.dataset.week);
      }
      const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (step && weeks[place + step]) {
        event.preventDefault();
        weeks[place + step].focus();
      }
    });
  });
}
