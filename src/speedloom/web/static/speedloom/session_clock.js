// The rest of each athlete, read off the moment of the last entry: it goes on after a reload, and needs no sound.
const SECOND_MS = 1000;
const SHOWN_AFTER_S = 20;
const MOST_NAMED = 3;

// Whole seconds that have begun: 3 min 59.6 s is 4:00.
export const clockText = (seconds) => {
  const whole = Math.ceil(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
};

// Seconds of rest that are left after an entry of one repetition; null where none is known or it is long over.
export const restLeft = (row, entry, now) => {
  if (!entry || entry.results.length !== 1) return null;
  const [result] = entry.results;
  const place = row.written.findIndex((one) => one.set === result.set && one.rep === result.rep);
  const next = row.written[place + 1];
  if (!next) return null;
  const rest = next.set === result.set ? row.rest_reps_s : (row.rest_s ?? row.rest_reps_s);
  const left = rest ? rest - (now - Date.parse(entry.at)) / SECOND_MS : null;
  return left === null || left < -SHOWN_AFTER_S ? null : left;
};

export class Clocks {
  constructor(line, rows) {
    this.line = line;
    this.rows = rows;
    setInterval(() => this.draw(), SECOND_MS);
  }

  draw(now = Date.now()) {
    const said = [];
    for (const row of this.rows()) {
      const left = restLeft(row.data, row.lastEntry, now);
      const text = left === null ? "" : left > 0 ? `rest ${clockText(left)}` : "ready";
      if (row.rest.textContent !== text) row.rest.textContent = text;
      if (text) said.push({ left, text: `${row.data.name.split(" ")[0]} ${text.replace("rest ", "")}` });
    }
    said.sort((one, other) => one.left - other.left);
    const text = said.slice(0, MOST_NAMED).map((one) => one.text).join(" · ");
    if (this.line.textContent !== text) this.line.textContent = text;
  }
}
