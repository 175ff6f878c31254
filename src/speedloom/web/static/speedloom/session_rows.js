// One athlete's row of one exercise: what stands in its boxes, and what becomes of what is typed into them.
import { boxText, differ, painElsewhere, placeOf, pointMissing, readBox, stateOf, swappedFor } from "./session_entries.js";

// Whether two results say the same: 3.50 and 3.5 do.
const same = (one, other, lift) =>
  ["time_s", "reps", "load_kg", ...(lift.rir == null ? [] : ["rir"])].every((name) => (one[name] ?? null) === (other[name] ?? null));

// So many characters stand in a box in letters of the usual size.
const FITS = 5;

export class Row {
  constructor(element, field) {
    this.element = element;
    this.field = field;
    this.data = JSON.parse(element.dataset.row);
    this.inputs = [...element.querySelectorAll("input[data-set]")];
    this.rest = element.querySelector(".rest");
    this.state = element.querySelector(".state");
    this.ask = element.querySelector(".ask");
    this.server = this.state.textContent.replace(/, as you choose$/, "");
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

  // Done without a number has a tap of its own: Done on an empty box keeps nothing.
  plain(input, lift) {
    input.value = "x";
    return this.done(input, lift);
  }

  done(input, lift) {
    if (!input.value.trim() && !this.shown(input) && lift.rir != null) {
      this.question("How many repetitions? Nothing is kept yet.");
      return false;
    }
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
    const meant = this.insisted === input.value ? null : pointMissing(this.data, this.base(input), this.expected, input.value);
    if (meant) {
      this.offer(input, meant, lift);
      return false;
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
    this.insisted = null;
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

  question(text, ...acts) {
    this.ask.replaceChildren(text, ...acts);
    this.ask.hidden = !text;
    this.offered = null;
    if (text) this.inView();
  }

  // The whole question stands between the top of the screen and the bar.
  inView() {
    const { top, bottom } = this.ask.getBoundingClientRect();
    if (top < 0 || bottom > document.getElementById("bar").getBoundingClientRect().top) this.ask.scrollIntoView({ block: "center" });
  }

  get expected() {
    return this.other ? 0 : Number.parseFloat(this.element.dataset.expect) || 0;
  }

  // A time without its point is asked about before it is kept; what was typed stays in its box.
  offer(input, meant, lift) {
    input.setAttribute("aria-invalid", "true");
    const typed = input.value.trim();
    if (this.offered === typed) return;
    const act = (text, chosen) => {
      const made = Object.assign(document.createElement("button"), { type: "button", textContent: text });
      made.addEventListener("click", chosen);
      return made;
    };
    const take = act(`${meant} s`, () => {
      input.value = meant;
      this.typed(input, lift);
    });
    const keep = act(`Keep ${typed} s`, () => {
      this.insisted = input.value;
      this.typed(input, lift);
    });
    keep.className = "quiet";
    this.question(`${meant} s? You typed ${typed}; nothing is kept yet.`, take, keep);
    this.offered = typed;
  }

  draw() {
    const { last } = this.field;
    this.other = swappedFor(this.data, last) ?? null;
    const { said, over } = stateOf(this.data, last);
    // None of the numbers of the exercise that is not done stands beside the swap.
    this.state.textContent = this.other ? `${this.field.nameOf(this.other.exercise, this.server)}, as you choose` : said;
    this.element.classList.toggle("swapped", Boolean(this.other));
    this.element.classList.toggle("over", over && !this.other);
    const about = last.filter((one) => one.athlete === this.data.athlete && one.line === this.data.line);
    this.lastEntry = about.at(-1);
    for (const input of this.inputs) this.drawBox(input);
    this.two();
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
    input.classList.toggle("long", input.value.length > FITS);
  }

  // Two values of one repetition stand in the row, both of them, until somebody says which is right.
  two() {
    const said = this.inputs.map((input) => [input.getAttribute("aria-label").split(", ").slice(1).join(", "), this.said(input)]).filter(([, those]) => differ(those));
    const texts = said.map(([label, those]) => `Two values, ${label}: ${those.map((one) => boxText(this.data, one.result)).join(" or ")}.`);
    const mark = this.element.querySelector(".both") ?? this.ask.parentElement.insertBefore(document.createElement("p"), this.ask);
    mark.className = "both";
    mark.hidden = !texts.length;
    if (mark.dataset.said === texts.join(" ")) return;
    mark.dataset.said = texts.join(" ");
    const settle = Object.assign(document.createElement("button"), { type: "button", className: "quiet", textContent: "Settle it" });
    settle.addEventListener("click", () => document.getElementById("differences").scrollIntoView({ block: "start" }));
    mark.replaceChildren(`${texts.join(" ")} `, settle);
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
