// The session on the phone: one exercise at a time; what is typed is kept here first and sent when the network allows.
import { Clocks } from "./session_clock.js";
import { Pen, accountsOf, differ, lastEntries } from "./session_entries.js";
import { Kept } from "./session_kept.js";
import { Limits } from "./session_limits.js";
import { Row } from "./session_rows.js";
import { Sender } from "./session_send.js";
import { Steps } from "./session_steps.js";
import { Queue } from "./queue.js";

const LOOK_MS = 30_000;
const place = document.getElementById("session");
const { by, door, programme, zone, day, planned, squad } = place.dataset;

class Field {
  constructor() {
    this.queue = new Queue();
    this.pen = new Pen({ by, revision: Number(place.dataset.revision), day });
    this.site = new Map(JSON.parse(place.dataset.entries).map((one) => [one.id, one]));
    this.own = new Map();
    this.questions = new Map();
    this.kept = new Kept({ queue: this.queue, by, signIn: place.dataset.signIn, programme, zone, known: () => [...this.site.values(), ...this.own.values()] });
    this.sender = new Sender({
      queue: this.queue, by, door, token: place.dataset.token,
      tell: (said) => this.kept.tell(said), asked: (asked) => this.asked(asked), changed: () => this.look(),
    });
    this.limits = new Limits({ place, by, rows: () => this.rows });
    this.rows = [...place.querySelectorAll("[data-row]")].map((element) => new Row(element, this));
    this.sessions = new Set(this.rows.map((row) => row.data.session));
    this.steps = new Steps(place, this);
    this.clocks = new Clocks(document.getElementById("clocks"), () => this.rows);
  }

  async start() {
    const records = await this.queue.all();
    const there = records.filter((one) => one.state === "sent" && this.site.has(one.id));
    await this.queue.forget(there.map((one) => one.id));
    for (const one of records) {
      if (one.by === by && one.programme === programme && this.isOurs(one.entry) && one.state !== "refused") this.own.set(one.id, one.entry);
    }
    this.redraw();
    await this.kept.draw();
    place.dataset.ready = "";
    this.sender.now();
    const again = () => document.visibilityState === "visible" && this.sender.send().then(() => this.look());
    setInterval(again, LOOK_MS);
    addEventListener("online", again);
    document.addEventListener("visibilitychange", again);
    this.limits.look();
  }

  // About this training, on whatever day it was trained; work outside the programme has its day only.
  isOurs(entry) {
    return entry.session ? this.sessions.has(entry.session) : entry.date === day;
  }

  get entries() {
    return [...new Map([...this.own, ...this.site]).values()];
  }

  redraw() {
    this.last = lastEntries(this.entries);
    this.accounts = accountsOf(this.last);
    for (const row of this.rows) row.draw();
    this.clocks.draw();
  }

  // Shown at once, kept in the phone's database, then sent.
  async write(entries, row) {
    if (!entries.length) return;
    for (const one of entries) this.own.set(one.id, one);
    this.redraw();
    await this.queue.add(entries.map((entry) => ({ id: entry.id, state: "waiting", why: "", by, door, programme, squad, zone, entry })));
    if (!this.queue.lasting) row?.question("This phone could not keep that; write it on paper as well.");
    await this.kept.draw();
    this.sender.now();
  }

  // What others wrote, limited or lifted meanwhile; and whether two values stand now.
  look() {
    return Promise.all([this.limits.look(), this.written()]);
  }

  async written() {
    const about = new URLSearchParams([["date", planned], ["on", day], ["have", this.site.size], ...[...this.sessions].map((one) => ["session", one])]);
    const body = await this.sender.look(`?${about}`);
    if (!body?.entries) return;
    this.site = new Map(body.entries.map((one) => [one.id, one]));
    const differing = [...this.accounts.values()].filter(differ).length;
    this.redraw();
    if (differing || [...this.accounts.values()].some(differ)) await this.differences();
  }

  async differences() {
    const headers = { "HX-Request": "true", "HX-Target": "differences" };
    const answer = await fetch(location.href, { headers, credentials: "same-origin" }).catch(() => null);
    if (!answer?.ok) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    document.getElementById("differences").replaceChildren(...page.body.childNodes);
  }

  asked(asked) {
    for (const one of asked) {
      const entry = this.own.get(one.id);
      const row = this.rows.find((other) => entry && other.data.athlete === entry.athlete && other.data.line === entry.line);
      row?.question(`${one.question} Kept as typed, marked unusual; correct it, or leave it.`);
    }
  }

  nameOf(exercise, otherwise) {
    const option = place.querySelector(`option[value="swap:${CSS.escape(exercise)}"]`);
    return option ? option.textContent.replace(/^[^:]*: /, "") : otherwise || exercise.replaceAll("_", " ");
  }

  // The name of the exercise that an entry is about.
  called(entry) {
    return this.rows.find((row) => row.data.line === entry.line)?.data.called ?? this.nameOf(entry.exercise ?? "");
  }

  choose(row) {
    this.row = row;
    this.steps.chosen(row);
  }

  typing(row, input) {
    this.row = row;
    this.steps.typing(row, input);
  }

  rested() {
    this.steps.rested();
  }
}

const cacheForLater = async () => {
  if (!("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register(place.dataset.worker, { scope: "/" }).catch(() => null);
  const ready = await navigator.serviceWorker.ready;
  ready.active.postMessage({ by, page: location.href, files: [...document.querySelectorAll("script[src], link[rel=stylesheet], link[rel=icon]")].map((one) => one.src || one.href) });
};

const field = new Field();
field.start();
for (const form of document.querySelectorAll('form[action*="/sign-out/"]')) {
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    field.queue.forgetSent().finally(() => form.submit());
  });
}
cacheForLater();
