// Says at any time how much is kept here and how much has reached the site; and saves what waits as a file.
const MINUTE_MS = 60_000;

const WHY = {
  offline: "no network",
  trouble: "the site does not answer as it should",
  sign_in: "sign in again to send",
  other_person: "somebody else is signed in",
};

export class Kept {
  constructor({ queue, by, signIn, programme, zone, known, token }) {
    Object.assign(this, { queue, by, signIn, programme, zone, known, token });
    this.line = document.getElementById("kept");
    this.told = document.getElementById("told");
    this.state = "sent";
  }

  tell({ state, by }) {
    this.state = state;
    this.other = by;
    return this.draw();
  }

  async draw() {
    const all = (await this.queue.all()).filter((one) => one.programme === this.programme || one.state !== "sent");
    const mine = all.filter((one) => one.by === this.by);
    const waiting = mine.filter((one) => one.state === "waiting").length;
    const refused = mine.filter((one) => one.state === "refused");
    const others = all.filter((one) => one.by !== this.by && one.state === "waiting");
    const mineHere = new Set(this.known().filter((one) => one.by === this.by).map((one) => one.id));
    const saved = new Set([...mineHere, ...mine.map((one) => one.id)]).size;
    this.line.textContent = this.inShort(waiting, refused.length);
    this.line.dataset.state = waiting ? this.state : "sent";
    this.line.dataset.waiting = waiting;
    this.line.dataset.saved = saved;
    this.words(waiting, refused, others);
  }

  inShort(waiting, refused) {
    const notTaken = refused ? `${refused} not taken` : "";
    if (!waiting) return notTaken || "Everything saved";
    const toSend = this.state === "sending" ? `Sending ${waiting}` : `${waiting} to send`;
    return [toSend, WHY[this.state], notTaken].filter(Boolean).join(" · ");
  }

  words(waiting, refused, others) {
    const parts = [];
    if (this.state === "sign_in" && waiting) {
      parts.push(this.card(`Sign in again; ${this.results(waiting)} kept here and sent after that.`, this.link("Sign in", `${this.signIn}?next=${encodeURIComponent(location.pathname + location.search)}`), this.save()));
    }
    if (this.state === "other_person") {
      parts.push(this.card(`${this.other} is signed in on this device, and ${this.by} typed ${this.results(waiting, "")}. Sign in as ${this.by} to send them, or save them as a file.`, this.save()));
    }
    if (others.length) {
      const who = [...new Set(others.map((one) => one.by))].join(", ");
      parts.push(this.card(`${this.results(others.length)} kept here that ${who} typed; they are sent when ${who} signs in on this device, or save them as a file.`, this.save()));
    }
    for (const one of refused) {
      parts.push(this.card(`Not taken: ${one.why}`, this.button("Leave it out", () => this.queue.forget([one.id]).then(() => this.draw())), this.save()));
    }
    if (!this.queue.lasting) {
      parts.push(this.card("This browser keeps nothing once the page is closed: keep it open until everything is sent, and write on paper as well.", this.save()));
    }
    if (!globalThis.isSecureContext) {
      parts.push(this.card("This address has no https, so the page cannot be opened again while the network is gone: keep it open until everything is sent. The printed sheet is the surest."));
    } else if (waiting && this.state === "offline") {
      parts.push(this.card(`No network. ${this.results(waiting)} kept here; they are sent by themselves.`, this.save()));
    }
    const text = parts.map((part) => part.textContent).join("\n");
    if (text === this.said) return;
    this.said = text;
    this.told.replaceChildren(...parts);
  }

  results(count, verb) {
    const is = verb ?? (count === 1 ? " is" : " are");
    return `${count} ${count === 1 ? "result" : "results"}${is}`;
  }

  card(text, ...acts) {
    const made = document.createElement("div");
    made.className = "told";
    const said = document.createElement("p");
    said.textContent = text;
    const row = document.createElement("p");
    row.className = "acts";
    row.append(...acts);
    made.append(said, ...(acts.length ? [row] : []));
    return made;
  }

  link(text, address) {
    const made = document.createElement("a");
    made.className = "button";
    made.href = address;
    made.textContent = text;
    return made;
  }

  button(text, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "quiet";
    made.textContent = text;
    made.addEventListener("click", act);
    return made;
  }

  save() {
    return this.button("Save as a file", () => this.file());
  }

  // A log as the documents have it: what waits, and the entries that it corrects.
  async file() {
    const rows = (await this.queue.all()).filter((one) => one.state !== "sent" && one.programme === this.programme);
    const entries = new Map(rows.map((one) => [one.id, one.entry]));
    const known = new Map(this.known().map((one) => [one.id, one]));
    for (const entry of entries.values()) {
      if (entry.replaces && known.has(entry.replaces)) entries.set(entry.replaces, known.get(entry.replaces));
    }
    const log = { schema: "speedloom.log/1", programme: this.programme, timezone: this.zone, entries: [...entries.values()] };
    const address = URL.createObjectURL(new Blob([JSON.stringify(log)], { type: "application/json" }));
    const made = this.link("", address);
    made.download = `log-${this.programme}-${this.by}.json`;
    made.click();
    setTimeout(() => URL.revokeObjectURL(address), MINUTE_MS);
  }
}
