// One exercise at a time, with what is done most within reach of a thumb.
import { kilograms, massText } from "./session_entries.js";
import { asked, takenBack, writtenBefore } from "./session_take_back.js";

const byId = (id) => document.getElementById(id);
const asNumber = (text) => (text.trim() ? Number(text.trim().replace(",", ".")) : null);

const [LIMIT, RULE, PAIN] = ["above a limit", "the rule says stop", "stopped for pain in another exercise"];
const WHY_LEFT_OUT = [LIMIT, RULE, PAIN];

// Why somebody is not done as written with all the others; nothing where they are.
const leftOut = (row) => {
  const { limit, tired } = row.element.dataset;
  return (limit && LIMIT) || (tired && RULE) || (row.held && PAIN) || "";
};

export class Steps {
  constructor(place, field) {
    this.field = field;
    this.steps = [...place.querySelectorAll("[data-step]")];
    place.classList.add("live");
    byId("bar").hidden = false;
    byId("back").addEventListener("click", () => this.go(this.at - 1));
    byId("on").addEventListener("click", () => this.go(this.at + 1));
    byId("everybody").addEventListener("click", () => this.everybody());
    byId("otherwise").addEventListener("click", () => this.otherwise());
    byId("box-stop").addEventListener("click", () => this.otherwise());
    for (const one of [byId("box-done"), byId("box-plain")]) one.addEventListener("mousedown", (event) => event.preventDefault());
    byId("box-plain").addEventListener("click", () => this.done("plain"));
    byId("box-done").addEventListener("click", () => this.done());
    for (const input of [byId("now-kg"), byId("now-rir")]) {
      input.addEventListener("keydown", (event) => event.key === "Enter" && this.done());
    }
    for (const form of place.querySelectorAll("form.rows")) form.addEventListener("submit", (event) => event.preventDefault());
    for (const button of place.querySelectorAll("[data-group]")) button.addEventListener("click", () => this.everybody());
    for (const form of place.querySelectorAll("[data-else]")) this.wire(form);
    place.querySelector("[data-after]").addEventListener("submit", (event) => this.after(event.target));
    addEventListener("hashchange", () => this.show(this.fromHash()));
    this.show(this.fromHash());
  }

  wire(form) {
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.wroteOtherwise(form);
    });
    const { what, reason } = form.elements;
    what.addEventListener("change", () => {
      for (const option of reason.options) option.hidden = option.disabled = Boolean(option.dataset.not?.split(" ").includes(what.value));
      if (reason.selectedOptions[0]?.disabled) reason.value = "other";
    });
    const close = form.querySelector("[data-close]");
    close.hidden = false;
    close.addEventListener("click", () => this.close(form));
  }

  fromHash() {
    const found = this.steps.findIndex((step) => `#${step.id}` === location.hash);
    return Math.max(found, 0);
  }

  get step() {
    return this.steps[this.at];
  }

  go(at) {
    if (!this.steps[at]) return;
    history.replaceState(null, "", `#${this.steps[at].id}`);
    this.show(at);
    this.step.scrollIntoView({ block: "start" });
    this.step.focus({ preventScroll: true });
  }

  show(at) {
    this.at = at;
    this.steps.forEach((step, number) => step.classList.toggle("now", number === at));
    byId("back").disabled = at === 0;
    const next = this.steps[at + 1];
    byId("on").disabled = !next;
    byId("on").textContent = next ? "Next" : "End";
    const rows = this.step.querySelector("[data-row]");
    byId("everybody").hidden = byId("otherwise").hidden = !rows;
    this.field.row = this.field.rows.find((row) => row.element === rows);
  }

  rowsNow() {
    return this.field.rows.filter((row) => this.step.contains(row.element));
  }

  typing(row, input) {
    this.input = input;
    const { load, expect, band, stop } = row.other ? {} : row.element.dataset;
    byId("typing").hidden = false;
    byId("moving").hidden = true;
    byId("now-name").textContent = row.data.name;
    byId("now-box").textContent = input.getAttribute("aria-label").split(", ").slice(1).join(", ");
    byId("now-load").textContent = load || expect || "";
    byId("now-expect").textContent = expect ? `${load ? `expect ${expect} ` : ""}(${band})` : "";
    byId("now-stop").textContent = stop ? `stop ${stop} s` : "";
    const lift = row.data.kind === "ticks";
    byId("lift").hidden = !lift;
    byId("box-plain").textContent = lift ? byId("box-plain").dataset.sets : byId("box-plain").dataset.times;
    const said = row.said(input).at(-1)?.result;
    this.load = (said ? said.load_kg : (row.base(input).load_kg ?? row.loadBefore(input))) ?? null;
    byId("now-kg").value = massText(row.data, this.load);
    byId("now-rir").value = said?.rir ?? "";
    for (const other of document.querySelectorAll(".who.typing")) other.classList.remove("typing");
    row.element.classList.add("typing");
  }

  done(how = "done") {
    const row = this.field.row;
    if (row[how](this.input, this.lift(row))) this.rested();
  }

  // Load and reserve of a set, as they stand beside the box that is being typed into.
  lift(row) {
    return row.data.kind === "ticks" ? { load_kg: kilograms(row.data, asNumber(byId("now-kg").value), this.load), rir: asNumber(byId("now-rir").value) } : {};
  }

  rested() {
    if (document.activeElement?.closest?.("#typing")) document.activeElement.blur();
    byId("typing").hidden = true;
    byId("moving").hidden = false;
    for (const other of document.querySelectorAll(".who.typing")) other.classList.remove("typing");
  }

  chosen(row) {
    row.inputs.find((input) => !input.value)?.focus();
  }

  // One tap and one confirmation.
  async everybody() {
    // Whoever is above a limit, stopped by the rule or in pain is written down one by one, by what was really done.
    const open = (row) => this.field.pen.asWritten(row.data, this.field.last);
    const written = (rows) => rows.filter((row) => !leftOut(row)).flatMap(open);
    const [here, whole] = [written(this.rowsNow()), written(this.field.rows)];
    const { name } = this.step.dataset;
    const asked = here.length ? `${name}: ${here.length} athletes done as written, without times?` : `${name}: everything is written already.`;
    const out = this.rowsNow().filter((row) => row.element.dataset.limit || open(row).length);
    const said = WHY_LEFT_OUT.map((why) => [why, out.filter((row) => leftOut(row) === why).map((row) => row.data.name)]);
    const text = [asked, ...said.filter(([, names]) => names.length).map(([why, names]) => `Left out, ${why}: ${names.join(", ")}.`)].join(" ");
    const choice = await this.confirmed(text, { here: here.length, whole: whole.length > here.length });
    if (choice === "here") await this.field.write(here);
    if (choice === "whole") await this.field.write(whole);
  }

  confirmed(text, { here, whole }) {
    const dialog = byId("confirm");
    byId("confirm-text").textContent = text;
    byId("confirm-yes").hidden = !here;
    byId("confirm-whole").hidden = !whole;
    dialog.showModal();
    return new Promise((resolve) => {
      const end = (choice) => {
        dialog.close();
        resolve(choice);
      };
      byId("confirm-yes").onclick = () => end("here");
      byId("confirm-whole").onclick = () => end("whole");
      byId("confirm-no").onclick = () => end(null);
      dialog.oncancel = () => resolve(null);
    });
  }

  otherwise() {
    const details = this.step.querySelector(".else");
    const form = details.querySelector("form");
    details.open = true;
    if (this.field.row && this.step.contains(this.field.row.element)) form.elements.line.value = this.field.row.data.line;
    form.elements.what.value = "stop";
    form.elements.what.dispatchEvent(new Event("change"));
    form.elements.reason.value = "pain";
    this.rested();
    form.elements.line.focus({ preventScroll: true });
  }

  close(form) {
    form.closest("details").open = false;
  }

  wroteOtherwise(form) {
    const { pen } = this.field;
    const row = this.field.rows.find((one) => one.data.line === form.elements.line.value);
    const what = form.elements.what.value;
    const [reason, note] = [form.elements.reason.value, form.elements.note.value.trim()];
    const option = form.elements.what.selectedOptions[0].textContent.replace(/^[^:]*: /, "");
    const made = {
      stop: () => [pen.ofLine(row.data, [], { status: "stopped", reason, note })],
      skip: () => [pen.ofLine(row.data, [], { status: "skipped", reason, note })],
      modify: () => [pen.ofLine(row.data, [], { status: "modified", reason, note })],
      late: () => [pen.ofSession(row.data, { status: "modified", reason: "time", note: note || "Came late" })],
      absent: () => [pen.ofSession(row.data, { status: "absent", reason, note })],
    }[what] ?? (() => pen.swap(row.data, what.replace("swap:", ""), option, reason));
    form.elements.note.value = "";
    this.close(form);
    this.field.write(made(), row);
    this.takeBack(row, what, reason);
    if (what === "stop" && reason === "pain") row.question("Stopped for pain: no more of this exercise until a coach or clinician lifts it. Symptoms go to a professional.");
  }

  // What was written before somebody was absent or stopped is kept, unless the person says otherwise.
  async takeBack(row, what, reason) {
    const before = writtenBefore(row.data, what, this.field.last);
    if (!before.length) return;
    const dialog = byId("take-back");
    byId("take-back-text").textContent = asked(row.data, before);
    dialog.returnValue = "";
    dialog.showModal();
    await new Promise((resolve) => dialog.addEventListener("close", resolve, { once: true }));
    if (dialog.returnValue === "yes") await this.field.write(takenBack(this.field.pen, what, reason, before), row);
  }

  async after(form) {
    const made = [];
    for (const element of form.querySelectorAll("[data-whole]")) {
      const row = { athlete: element.dataset.athlete, session: element.dataset.whole };
      const inputs = ["effort", "minutes"].map((name) => form.elements[`${name}:${row.athlete}`]);
      const [effort, minutes] = inputs.map((input) => asNumber(input.value));
      if (inputs.every((input) => input.value === input.defaultValue) || (effort ?? minutes) === null) continue;
      made.push(this.field.pen.ofSession(row, { effort, minutes }));
      for (const input of inputs) input.defaultValue = input.value;
    }
    await this.field.write(made);
  }
}
