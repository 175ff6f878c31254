// One athlete's row of one exercise: what stands in its boxes, and what becomes of what is typed into them.
import { boxText, differ, painElsewhere, placeOf, readBox, stateOf, swappedFor } from "./session_entries.js";

// Whether two results say the same: 3.50 and 3.5 do.
const same = (one, other, lift) =>
  ["time_s", "reps", "load_kg", ...(lift.rir == null ? [] : ["rir"])].every((name) => (one[name] ?? null) === (other[name] ?? null));

export class Row {
  constructor(element, field) {
    this.element = element;
    this.field = field;
    this.data = JSON.parse(element.dataset.row);
    this.inputs = [...element.querySelectorAll("input[data-set]")];
    this.rest = element.querySelector(".rest");
    this.state = element.querySelector(".state");
    this.ask = element.querySelector(".ask");
    this.server = this.state.textContent;
    element.querySelector(".pick").disabled = false;
    element.querySelector(".pick").addEventListener("click", () => field.choose(this));
    for (const input of this.inputs) this.wire(input);
    element.querySelector("[data-all]").addEventListener("click", (event) => {
      event.preventDefault();
      if (element.dataset.tired) {
        this.question("The rule says stop: what was run all the same is written one by one.");
        return;
      }
      field.write(field.pen.asWritten(this.data, field.last), this);
    });
  }

  wire(input) {
    input.addEventListener("focus", () => this.field.typing(this, input));
    input.addEventListener("focusout", (event) => {
      if (event.relatedTarget?.closest?.("#typing")) return;
      this.typed(input, this.field.steps.lift(this));
      this.field.rested();
    });
    input.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      this.field.steps.done();
    });
  }

  written(input) {
    return this.data.written[this.inputs.indexOf(input)];
  }

  base(input) {
    return this.other ? { ...this.written(input), load_kg: null, contacts: null } : this.written(input);
  }

  // Where no load is written: the one of the set before.
  loadBefore(input) {
    const before = this.inputs.slice(0, this.inputs.indexOf(input)).reverse();
    return before.map((one) => this.said(one).at(-1)?.result.load_kg).find((load) => load != null);
  }

  place(written) {
    return placeOf(this.other ?? this.data, written);
  }

  said(input) {
    return this.field.accounts.get(this.place(this.written(input))) ?? [];
  }

  shown(input) {
    const said = this.said(input);
    return said.length ? boxText(this.data, said.at(-1).result) : "";
  }

  // Done: an empty box is a repetition done without a number.
  done(input, lift) {
    if (!input.value.trim()) input.value = "x";
    const kept = this.typed(input, lift);
    if (kept) input.blur();
    return kept;
  }

  // Gives whether what was typed is kept, or nothing was to be kept.
  typed(input, lift = {}) {
    const said = this.said(input);
    const before = said.at(-1);
    const lifted = before && ["load_kg", "rir"].some((name) => lift[name] != null && lift[name] !== before.result[name]);
    if (input.value.trim() === this.shown(input) && !lifted) {
      input.removeAttribute("aria-invalid");
      return true;
    }
    const read = readBox(this.data, this.base(input), input.value, lift);
    if (read.fault) {
      this.question(read.fault);
      input.setAttribute("aria-invalid", "true");
      return false;
    }
    if (read.none && !before && !this.other) {
      input.value = "";
      return true;
    }
    if (before && read.result && same(before.result, read.result, lift)) {
      input.value = this.shown(input);
      return true;
    }
    const base = this.other ?? before?.entry;
    const made = base ? this.field.pen.instead(base, this.written(input), read.result ?? null) : this.field.pen.ofLine(this.data, [read.result]);
    this.question("");
    this.field.write([made], this);
    return true;
  }

  // What the site says now of a limit that is below what is written; nothing where none is.
  limited(text) {
    const { dataset } = this.element;
    const mark = this.element.querySelector(".limit") ?? this.state.parentElement.insertBefore(document.createElement("small"), this.state);
    mark.className = "limit";
    mark.textContent = text;
    if (text) dataset.limit = text;
    else delete dataset.limit;
  }

  question(text) {
    this.ask.textContent = text;
    this.ask.hidden = !text;
  }

  draw() {
    const { last } = this.field;
    this.other = swappedFor(this.data, last) ?? null;
    const { said, over } = stateOf(this.data, last);
    this.state.textContent = this.other ? this.field.nameOf(this.other.exercise, this.server) : said;
    this.element.classList.toggle("over", over && !this.other);
    const about = last.filter((one) => one.athlete === this.data.athlete && one.line === this.data.line);
    this.lastEntry = about.at(-1);
    for (const input of this.inputs) this.drawBox(input);
    this.tired();
    this.hurt(painElsewhere(this.data, last));
  }

  // Pain in one exercise stays at the name in all others of the session: they are written by hand.
  hurt(stop) {
    const mark = this.element.querySelector(".pain") ?? this.state.parentElement.insertBefore(document.createElement("small"), this.rest);
    mark.className = "state pain";
    mark.textContent = stop ? `stopped for pain in ${this.field.called(stop)}` : "";
    this.held = Boolean(stop) && !this.inputs.some((input) => this.said(input).length);
  }

  drawBox(input) {
    const said = this.said(input);
    const result = said.at(-1)?.result;
    const box = input.parentElement;
    const text = result ? boxText(this.data, result) : "";
    if (document.activeElement !== input && input.getAttribute("aria-invalid") !== "true") input.value = text;
    if (input.value.trim() === text) input.removeAttribute("aria-invalid");
    box.classList.toggle("done", Boolean(result));
    box.classList.toggle("slow", Boolean(result && this.slow(result)));
    box.classList.toggle("odd", result?.mark === "unusual");
    box.classList.toggle("two", differ(said));
  }

  slow(result) {
    return Boolean(this.data.stop_s && result.time_s > this.data.stop_s && !this.other);
  }

  // Two runs slower than the stop time: the rule of the line is said, the coach decides.
  tired() {
    const results = this.inputs.map((input) => this.said(input).at(-1)?.result).filter(Boolean);
    const slow = results.filter((result) => this.slow(result)).length;
    const said = slow > 1 ? `${slow} runs slower than ${this.data.stop_s.toFixed(2)} s: the rule says stop.` : "";
    this.element.dataset.tired = said;
    const mark = this.element.querySelector(".tired") ?? this.ask.parentElement.insertBefore(document.createElement("p"), this.ask);
    mark.className = "tired";
    mark.textContent = said;
    mark.hidden = !said;
  }
}
