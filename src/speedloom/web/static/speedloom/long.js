// Work that takes seconds says so: its buttons wait, a sentence tells what happens and that one may leave.
function begin(form, button) {
  for (const other of form.querySelectorAll("button")) other.setAttribute("aria-disabled", "true");
  button?.setAttribute("aria-busy", "true");
  if (!form.dataset.long) return; // it has words of its own
  const said = form.querySelector(".working") ?? form.appendChild(document.createElement("p"));
  said.className = "working";
  said.setAttribute("role", "status");
  said.textContent = form.dataset.long;
}

function end(form) {
  delete form.dataset.sent;
  for (const button of form.querySelectorAll("button")) {
    button.removeAttribute("aria-disabled");
    button.removeAttribute("aria-busy");
  }
  const said = form.querySelector(".working");
  if (said) said.textContent = "";
}

// Before anything else hears of it, htmx among them: a second press while the first is under way is none. A
// button that is disabled would not send its value, so the press is stopped instead.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!("long" in form.dataset)) return;
  if (form.dataset.sent) {
    event.preventDefault();
    event.stopImmediatePropagation();
  } else {
    form.dataset.sent = "yes";
    begin(form, event.submitter);
  }
}, { capture: true });
document.addEventListener("htmx:afterRequest", (event) => {
  if (event.target.matches?.("form[data-long]")) end(event.target);
});
// A page that comes back from the browser's own store has not been sent.
globalThis.addEventListener("pageshow", (event) => {
  if (event.persisted) for (const form of document.querySelectorAll("form[data-long]")) end(form);
});
