// Taps and typed numbers turned into log entries; the site makes the same of forms.
import { newId, nowText } from "./queue.js";

const NO_CLOCK = { timing: null, clock: null, behind_m: null };
const NOT_HERE = new Set(["absent", "skipped", "stopped"]);
const NUMBER = /^\d{1,6}([.,]\d{1,4})?$/;
const DONE = new Set(["x", "✓", "✔", "ok", "yes", "done"]);
const NOT_DONE = new Set(["-", "–", "—", "0"]);
const SET = /^(\d{1,3}) ?(?:x|×|@) ?(\d{1,3}(?:[.,]\d{1,2})?) ?(kg|lb)?$/;
const LONGEST_S = 600;
const MOST_REPS = 200;

export const asNumber = (text) => (NUMBER.test(text.trim()) ? Number(text.trim().replace(",", ".")) : null);

// Ada's third run: which repetition of which line, or of which exercise where it is not in the programme.
export const placeOf = (entry, result) =>
  [entry.athlete, entry.line ?? "", entry.line ? "" : (entry.exercise ?? ""), result.set, result.rep ?? 0].join(" ");

export const lastEntries = (entries) => {
  const replaced = new Set(entries.map((one) => one.replaces).filter(Boolean));
  const left = entries.filter((one) => !replaced.has(one.id));
  return left.sort((one, other) => Date.parse(one.at) - Date.parse(other.at) || (one.id < other.id ? -1 : 1));
};

export const accountsOf = (last) => {
  const found = new Map();
  for (const entry of last) {
    for (const result of entry.results) {
      const place = placeOf(entry, result);
      found.set(place, [...(found.get(place) ?? []), { entry, result }]);
    }
  }
  return found;
};

const MEASURED = ["time_s", "load_kg", "distance_m", "reps", "rir", "contacts"];
export const differ = (said) =>
  MEASURED.some((name) => new Set(said.map((one) => one.result[name]).filter((value) => value != null)).size > 1);

// What somebody does instead of a line is found by the words of its note.
export const swappedFor = (row, last) =>
  last.findLast((one) => one.athlete === row.athlete && one.status === "extra" && (one.note === row.instead || one.note.startsWith(`${row.instead}:`)));

export const stateOf = (row, last) => {
  const own = last.filter((one) => one.athlete === row.athlete && one.line === row.line && NOT_HERE.has(one.status));
  const whole = last.filter((one) => one.athlete === row.athlete && !one.line && one.session === row.session);
  for (const entry of [...own.reverse(), ...whole.reverse()]) {
    const said = entry.note || [entry.status, entry.reason].filter(Boolean).join(": ");
    if (NOT_HERE.has(entry.status)) return { said, over: true };
    if (entry.status === "modified") return { said, over: false };
  }
  return { said: "", over: false };
};

// What pain stopped in this session for an athlete, in another exercise than this one.
export const painElsewhere = (row, last) =>
  last.findLast((one) => one.athlete === row.athlete && one.session === row.session && one.status === "stopped" && one.reason === "pain" && one.line && one.line !== row.line);

const KG_PER = { kg: 1, lb: 0.45359237 };
const HUNDREDTHS = 100;

// A load in the person's unit, as the site writes it; loads are kept in kilograms.
export const massText = (row, kg) => {
  if (kg == null) return "";
  return String(row.kg_per_unit === 1 ? kg : Number((kg / row.kg_per_unit).toFixed(1)));
};

// What was typed in the person's unit; where that is how a known load is written, it is that load.
export const kilograms = (row, value, known, unit) => {
  if (value == null) return null;
  const kg = Math.round(value * (KG_PER[unit] ?? row.kg_per_unit) * HUNDREDTHS) / HUNDREDTHS;
  return known != null && massText(row, kg) === massText(row, known) ? known : kg;
};

export const boxText = (row, result) => {
  if (row.kind === "times") return result.time_s == null ? "x" : result.time_s.toFixed(3).replace(/0$/, "");
  if (result.reps == null) return "x";
  const written = row.written[0]?.load_kg ?? null;
  return result.load_kg != null && result.load_kg !== written ? `${result.reps} x ${massText(row, result.load_kg)}` : String(result.reps);
};

const [NEAR, NEAR_UNKNOWN, USUAL_MPS] = [2.5, 3, 6];

// What was meant by a time typed without its point: 431 where about 4 s are expected is 4.31; null where it may be so.
export const pointMissing = (row, written, expected, text) => {
  const typed = text.trim().toLowerCase().replace(/ ?s$/, "");
  if (row.kind !== "times" || !/^\d{2,5}$/.test(typed)) return null;
  const about = expected || (written.distance_m ? written.distance_m / USUAL_MPS : 0);
  if (!about) return null;
  const far = (time) => Math.abs(Math.log(time / about));
  const near = (time) => far(time) <= Math.log(expected ? NEAR : NEAR_UNKNOWN);
  if (near(Number(typed))) return null;
  const meant = [10, 100, 1000].map((tens) => Number(typed) / tens).sort((one, other) => far(one) - far(other))[0];
  return near(meant) ? meant.toFixed(3).replace(/0$/, "") : null;
};

// Reads a box: {result}, {none: true} for not done, or {fault} in words.
export const readBox = (row, written, text, lift = {}) => {
  const typed = text.trim().toLowerCase();
  if (typed === "" || NOT_DONE.has(typed)) return { none: true };
  if (row.kind === "times") {
    if (DONE.has(typed)) return { result: { ...written, time_s: null } };
    const time = asNumber(typed.replace(/ ?s$/, ""));
    if (time == null || time <= 0 || time > LONGEST_S) return { fault: `Expected a time up to ${LONGEST_S} s, x for done, or - for not done, got “${text}”.` };
    return { result: { ...written, time_s: time } };
  }
  const both = SET.exec(typed);
  const reps = DONE.has(typed) ? written.reps : asNumber(both ? both[1] : typed);
  const known = DONE.has(typed) || (Number.isInteger(reps) && reps > 0 && reps <= MOST_REPS);
  if (!known) return { fault: `Expected repetitions (5), repetitions x load (5 x 80), x for done, or - for not done, got “${text}”.` };
  const load = both ? kilograms(row, asNumber(both[2]), written.load_kg, both[3]) : (lift.load_kg ?? written.load_kg);
  const contacts = reps === row.reps || DONE.has(typed) ? written.contacts : null;
  return { result: { ...written, reps, load_kg: load, contacts, rir: lift.rir ?? null } };
};

export class Pen {
  constructor({ by, revision, day }) {
    this.by = by;
    this.revision = revision;
    this.day = day;
  }

  made(said) {
    return {
      id: newId(), at: nowText(), by: this.by, revision: this.revision, date: this.day, replaces: null, status: "done",
      reason: null, surface: null, ...NO_CLOCK, results: [], effort: null, minutes: null, note: "", mark: null, ...said,
    };
  }

  ofLine(row, results, said = {}) {
    const clock = results.some((one) => one.time_s != null) ? row.clock : NO_CLOCK;
    const { athlete, session, line, exercise, surface } = row;
    return this.made({ athlete, session, line, exercise, surface, results, ...clock, ...said });
  }

  ofSession(row, said) {
    return this.made({ athlete: row.athlete, session: row.session, line: null, exercise: null, ...said });
  }

  swap(row, to, name, reason) {
    const why = reason ? `: ${reason}` : "";
    return [
      this.ofLine(row, [], { status: "skipped", reason, note: `Instead: ${name}` }),
      this.made({ athlete: row.athlete, session: null, line: null, exercise: to, status: "extra", reason, note: `${row.instead}${why}` }),
    ];
  }

  // A correction: a new entry with all that stands in the old one but the place that changes.
  instead(old, written, result) {
    const same = (one) => one.set === written.set && (one.rep ?? null) === (written.rep ?? null);
    const kept = old.results.filter((one) => !same(one)).map((one) => ({ ...one, mark: null }));
    const results = [...kept, ...(result ? [result] : [])].sort((one, other) => one.set - other.set || (one.rep ?? 0) - (other.rep ?? 0));
    const status = results.length || old.status !== "done" ? old.status : "modified";
    const by = { id: newId(), at: nowText(), by: this.by, revision: this.revision };
    return { ...old, ...by, results, status, replaces: old.id, mark: null };
  }

  // What is left of a line, done as written.
  asWritten(row, last) {
    const said = accountsOf(last);
    const left = row.written.filter((one) => !said.has(placeOf(row, one)));
    return left.length && !stateOf(row, last).over ? [this.ofLine(row, left)] : [];
  }
}
