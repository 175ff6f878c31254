// A button that ticks everybody, or nobody, does so at once; without this file the site answers it with the page.
document.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-ticks]");
  if (!button) return;
  event.preventDefault();
  for (const box of button.form.querySelectorAll(`input[type=checkbox][name$="${button.dataset.ticks}"]`))
    box.checked = button.value === "all";
});
