// The headings of a squad's pages close again: by the Escape key, by a press beside them, and when left by keyboard.
const open = () => document.querySelector(".about details[open]");

function close(back) {
  const one = open();
  if (!one) return;
  one.open = false;
  if (back) one.querySelector("summary").focus();
}

document.addEventListener("keydown", (event) => {
  if (event.key === "Escape") close(open()?.contains(document.activeElement));
});
document.addEventListener("pointerdown", (event) => {
  if (!event.target.closest(".about details[open]")) close(false);
});
document.addEventListener("focusin", (event) => {
  if (!event.target.closest(".about details[open]")) close(false);
});
globalThis.addEventListener("pageshow", () => close(false));
