// What is typed is kept in the browser's own database first, and leaves the queue only when the site has named its id.
const NAME = "speedloom-field";
const STORE = "entries";

const PATIENCE_MS = 8000;

const done = (request) =>
  new Promise((resolve, reject) => {
    if (!(request instanceof IDBRequest)) {
      resolve(request);
      return;
    }
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

const opened = async () => {
  const request = indexedDB.open(NAME, 1);
  request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: "id" });
  return done(request);
};

const late = new Promise((resolve) => setTimeout(() => resolve(null), PATIENCE_MS));

// A browser that gives no database (closed by its settings, or broken) is served from memory: `lasting` says so.
class Memory {
  constructor() {
    this.rows = new Map();
  }

  put(row) {
    this.rows.set(row.id, row);
  }

  get(id) {
    return this.rows.get(id);
  }

  getAll() {
    return [...this.rows.values()];
  }

  delete(id) {
    this.rows.delete(id);
  }
}

export class Queue {
  constructor() {
    this.lasting = true;
    this.database = Promise.race([opened(), late]).catch(() => null);
  }

  async within(mode, deed) {
    const database = await this.database;
    if (!database) {
      this.lasting = false;
      this.memory ??= new Memory();
      return deed(this.memory);
    }
    const deal = database.transaction(STORE, mode, { durability: "strict" });
    const over = new Promise((resolve, reject) => {
      deal.oncomplete = resolve;
      deal.onabort = () => reject(deal.error);
      deal.onerror = () => reject(deal.error);
    });
    const result = await deed(deal.objectStore(STORE));
    await over;
    return result;
  }

  // A record is {id, state: "waiting" | "sent" | "refused", why, by, door, programme, zone, entry}.
  // What the database does not take, as when the phone is full, waits in memory and is sent all the same.
  async add(records) {
    try {
      await this.within("readwrite", (store) => Promise.all(records.map((one) => done(store.put(one)))));
    } catch {
      this.lasting = false;
      this.memory ??= new Memory();
      for (const one of records) this.memory.put(one);
    }
  }

  // In the database, and in memory where some had to go there.
  async everywhere(deed) {
    await this.within("readwrite", deed);
    if (this.memory && (await this.database)) await deed(this.memory);
  }

  async all() {
    const found = await this.within("readonly", (store) => done(store.getAll()));
    if (this.memory && (await this.database)) found.push(...this.memory.getAll());
    return found.sort((one, other) => (one.id < other.id ? -1 : 1));
  }

  async waiting(by) {
    return (await this.all()).filter((one) => one.state === "waiting" && one.by === by);
  }

  // Only ids that the site has named change: everything else goes on waiting.
  settle(answer) {
    const states = new Map();
    for (const id of [...answer.stored, ...answer.known]) states.set(id, { state: "sent", why: "" });
    for (const one of [...answer.clashing, ...answer.refused]) states.set(one.id, { state: "refused", why: one.why });
    return this.everywhere((store) =>
      Promise.all(
        [...states].map(async ([id, state]) => {
          const there = await done(store.get(id));
          if (there) await done(store.put({ ...there, ...state }));
        }),
      ),
    );
  }

  forget(ids) {
    return this.everywhere((store) => Promise.all(ids.map((id) => done(store.delete(id)))));
  }

  async forgetSent() {
    const sent = (await this.all()).filter((one) => one.state === "sent");
    return this.forget(sent.map((one) => one.id));
  }
}

let last = 0;
let more = 0;

// An id as RFC 9562 has it (version 7): by time first, so that ids stand in the order in which they were made.
export const newId = (now = Date.now()) => {
  more = now > last ? 0 : more + 1;
  last = Math.max(last, now);
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  let time = last + Math.floor(more / 4096);
  for (let at = 5; at >= 0; at -= 1) {
    bytes[at] = time % 256;
    time = Math.floor(time / 256);
  }
  bytes[6] = 0x70 | ((more % 4096) >> 8);
  bytes[7] = more % 256;
  bytes[8] = 0x80 | (bytes[8] & 0x3f);
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
};

const two = (number) => String(Math.floor(Math.abs(number))).padStart(2, "0");
let moment = 0;

// This moment with the phone's own offset; never the same one twice, for the later word counts.
export const nowText = (now = Date.now()) => {
  moment = Math.max(now, moment + 1);
  const there = new Date(moment);
  const offset = -there.getTimezoneOffset();
  const local = new Date(moment + offset * 60_000).toISOString().slice(0, 23);
  return `${local}${offset < 0 ? "-" : "+"}${two(offset / 60)}:${two(offset % 60)}`;
};
