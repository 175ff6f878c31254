// The paper grid by keyboard: a whole number moves on by itself, so that a sheet takes one typing a value.
const form = document.getElementById("paper");
const moveOn = document.getElementById("move-on");
const WHOLE = { times: /^(\d{1,2}[.,]\d\d|a|-)$/, effort: /^([2-9]|10|a)$/, minutes: /^\d\d\d?$/ };
const boxes = () => [...form.querySelectorAll("table input:not([type=hidden])")];

const focusAt = (input) => {
  input?.focus();
  input?.select();
};

const column = (input) => [...input.closest("tr").querySelectorAll("input:not([type=hidden])")].indexOf(input);
const inRow = (row, at) => {
  const those = row ? [...row.querySelectorAll("input:not([type=hidden])")] : [];
  return those[Math.min(at, those.length - 1)];
};

const below = (input, step) => {
  const rows = [...form.querySelectorAll("tbody tr:not(.group)")];
  return inRow(rows[rows.indexOf(input.closest("tr")) + step], column(input));
};

const section = (input, step) => {
  const parts = [...form.querySelectorAll("section")];
  return parts[parts.indexOf(input.closest("section")) + step]?.querySelector("table input");
};

// Effort goes down its column, times along their row.
const next = (input) => {
  const all = boxes();
  return input.dataset.kind === "times" ? all[all.indexOf(input) + 1] : below(input, 1);
};

form?.addEventListener("input", ({ target }) => {
  const whole = WHOLE[target.dataset.kind];
  if (whole && moveOn.checked && target.dataset.kind !== "minutes" && whole.test(target.value.trim())) {
    focusAt(target.value.trim() === "a" ? inRow(below(target, 1)?.closest("tr"), 0) : next(target));
  }
});

form?.addEventListener("focusin", ({ target }) => target.matches("table input") && target.select());

form?.addEventListener("keydown", (event) => {
  const { key, target, ctrlKey, metaKey } = event;
  if (!target.matches("table input")) return;
  if (key === "Enter" && (ctrlKey || metaKey)) {
    event.preventDefault();
    form.requestSubmit();
    return;
  }
  const goal = { Enter: () => below(target, 1), ArrowDown: () => below(target, 1), ArrowUp: () => below(target, -1), PageDown: () => section(target, 1), PageUp: () => section(target, -1) }[key];
  if (!goal) return;
  event.preventDefault();
  focusAt(goal());
});

if (form) focusAt(document.querySelector(".fault") ? null : boxes()[0]);
