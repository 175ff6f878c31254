// The limits in force, asked of the site as long as the page is open: what is set or lifted reaches the row at once.
const HX = { "HX-Request": "true" };

export class Limits {
  constructor({ place, by, rows }) {
    Object.assign(this, { address: place.dataset.limits, by, rows });
    this.list = document.getElementById("limits");
  }

  // The tag of the last answer goes with the question: where nothing changed, the site answers so and nothing more.
  async look() {
    if (this.busy) return this.busy;
    this.busy = this.asked().finally(() => (this.busy = null));
    return this.busy;
  }

  async asked() {
    const headers = this.tag ? { ...HX, "If-None-Match": this.tag } : HX;
    const answer = await fetch(this.address, { headers, credentials: "same-origin" }).catch(() => null);
    if (!answer?.ok) return;
    const body = await answer.json().catch(() => null);
    if (body?.by !== this.by) return;
    this.tag = answer.headers.get("ETag");
    for (const row of this.rows()) row.limited(body.rows[row.data.line] ?? "");
    this.listed(body.listed);
  }

  listed(texts) {
    this.list.hidden = !texts.length;
    const items = texts.map((text) => Object.assign(document.createElement("li"), { textContent: text }));
    this.list.querySelector("ul").replaceChildren(...items);
  }
}
