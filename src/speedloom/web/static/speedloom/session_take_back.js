// Whoever turns out to be absent, or stops, may have runs that were written before: asked about, never taken in silence.
import { placeOf } from "./session_entries.js";

const ABOUT = {
  absent: (row, entry) => entry.session === row.session && entry.line,
  stop: (row, entry) => entry.line === row.line,
};
// Taken back is said by an entry that replaces the old one and holds no results.
const LEFT = { absent: "absent", stop: "modified" };

// The entries with results that stand of somebody where this was written of them.
export const writtenBefore = (row, what, last) =>
  last.filter((one) => one.athlete === row.athlete && one.results.length && ABOUT[what]?.(row, one));

export const takenBack = (pen, what, reason, entries) =>
  entries.map((one) => ({ ...pen.instead(one, {}, null), results: [], status: LEFT[what], reason: what === "absent" ? reason : one.reason }));

export const asked = (row, entries) => {
  const count = new Set(entries.flatMap((one) => one.results.map((result) => placeOf(one, result)))).size;
  const runs = entries.every((one) => one.results.every((result) => result.rep != null));
  const sets = entries.every((one) => one.results.every((result) => result.rep == null));
  const [single, many] = runs ? ["run", "runs"] : sets ? ["set", "sets"] : ["result", "results"];
  return `${row.name}: take back the ${count === 1 ? single : `${count} ${many}`} written before?`;
};
