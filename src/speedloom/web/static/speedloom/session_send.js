// Sends what waits: in small parts, again and again with longer pauses, and at once when the network is back.
const PART = 40;
const FIRST_MS = 1000;
const LONGEST_MS = 60_000;
const OK = 200;
const SIGN_IN = 401;
const TOKEN = 403;
const UNUSABLE = 422;
const HX = { "HX-Request": "true" };

export class Sender {
  // `tell` hears {state, by}: "sending", "sent", "offline", "sign_in", "other_person".
  constructor({ queue, by, token, door, tell, asked, changed }) {
    Object.assign(this, { queue, by, token, door, tell, asked, changed });
    this.pause = FIRST_MS;
    this.busy = false;
    addEventListener("online", () => this.now());
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && this.now());
  }

  now() {
    this.pause = FIRST_MS;
    return this.send();
  }

  later() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.send(), this.pause);
    this.pause = Math.min(this.pause * 2, LONGEST_MS);
  }

  async send() {
    if (this.busy) {
      this.again = true;
      return;
    }
    this.busy = true;
    try {
      do {
        this.again = false;
        await this.empty();
      } while (this.again);
    } finally {
      this.busy = false;
    }
  }

  async empty() {
    for (;;) {
      const waiting = await this.queue.waiting(this.by);
      if (!waiting.length) {
        this.tell({ state: "sent" });
        return;
      }
      const { door } = waiting[0];
      const part = waiting.filter((one) => one.door === door).slice(0, PART);
      this.tell({ state: "sending" });
      if (!(await this.part(door, part))) return;
    }
  }

  // Gives whether sending may go on.
  async part(door, part) {
    let answer = await this.post(door, part);
    if (answer?.status === TOKEN && (await this.fresh())) answer = await this.post(door, part);
    if (!answer) return this.stop("offline");
    if (answer.status === SIGN_IN) return this.stop("sign_in");
    if (answer.status !== OK && answer.status !== UNUSABLE) return this.stop("offline");
    const body = await answer.json().catch(() => null);
    if (!body?.stored) return this.stop("offline");
    const mine = body.by === this.by;
    await this.queue.settle(mine ? body : { ...body, clashing: [], refused: [] });
    this.asked(body.asked);
    await this.changed();
    if (!mine) return this.stop("other_person", body.by);
    this.pause = FIRST_MS;
    return true;
  }

  stop(state, by) {
    this.tell({ state, by });
    this.later();
    return false;
  }

  async post(door, part) {
    const body = JSON.stringify({ entries: part.map((one) => one.entry) });
    const headers = { "Content-Type": "application/json", "X-CSRFToken": this.token, ...HX };
    return fetch(door, { method: "POST", headers, body, credentials: "same-origin" }).catch(() => null);
  }

  // A page that was open for long asks who is signed in now, and for a new token.
  async fresh() {
    const body = await this.look();
    if (!body) return false;
    this.token = body.token;
    if (body.by !== this.by) this.stop("other_person", body.by);
    return body.by === this.by;
  }

  async look(search = "") {
    const answer = await fetch(`${this.door}${search}`, { headers: HX, credentials: "same-origin" }).catch(() => null);
    return answer?.ok ? answer.json().catch(() => null) : null;
  }
}
