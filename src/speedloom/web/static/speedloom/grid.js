// A table to type into over the textarea that is sent: cells copied from a spreadsheet spread out from where they are pasted.
const ROWS = 6;

const cellsOf = (text) => text.replace(/\r\n?/g, "\n").replace(/\n+$/, "").split("\n").map((line) => line.split("\t").map((cell) => cell.trim()));
const isHeading = (cells) => cells.some((cell) => /^\d+([.,]\d+)?\s*(m|metres?|meters?|yd|yards?)\b/i.test(cell) || /^(name|athlete)$/i.test(cell));

class Grid {
  constructor(place) {
    this.place = place;
    this.area = place.querySelector("textarea");
    this.words = place.dataset;
    this.faults = this.readFaults();
    this.cells = this.area.value.trim() ? cellsOf(this.area.value) : [this.words.heads.split("|")];
    while (this.cells.length < ROWS + 1) this.cells.push([]);
    this.build();
  }

  // The faults stand in the table below: each is said again at its input here.
  readFaults() {
    const found = new Map();
    for (const cell of document.querySelectorAll("[data-typed] [data-column]")) {
      const said = [...cell.querySelectorAll(".fault")].map((one) => one.textContent).join(" ");
      found.set(`${cell.parentElement.dataset.line} ${cell.dataset.column}`, said);
    }
    return found;
  }

  get width() {
    return Math.max(2, ...this.cells.map((row) => row.length));
  }

  build() {
    this.place.classList.add("typing");
    this.area.hidden = true;
    this.place.querySelector("label").hidden = true;
    this.hint = document.createElement("p");
    this.hint.className = "help";
    this.hint.id = "grid-hint";
    this.hint.textContent = this.words.hint;
    this.table = document.createElement("table");
    this.table.className = "typed";
    const region = document.createElement("div");
    region.className = "wide";
    region.append(this.table);
    const acts = document.createElement("p");
    acts.className = "acts";
    acts.append(this.button(this.words.moreRows, () => this.grow(5, 0)), this.button(this.words.moreColumns, () => this.grow(0, 1)));
    this.area.before(this.hint, region, acts);
    this.table.addEventListener("input", (event) => this.typed(event.target));
    this.table.addEventListener("paste", (event) => this.pasted(event));
    this.table.addEventListener("keydown", (event) => this.moved(event));
    this.draw();
  }

  button(label, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "quiet";
    made.textContent = label;
    made.addEventListener("click", act);
    return made;
  }

  draw() {
    const width = this.width;
    this.table.replaceChildren(...this.cells.map((row, line) => {
      const drawn = document.createElement("tr");
      const head = document.createElement("th");
      head.scope = "row";
      head.textContent = line + 1;
      drawn.append(head);
      for (let column = 0; column < width; column += 1) drawn.append(this.cell(line, column, row[column] ?? ""));
      return drawn;
    }));
  }

  cell(line, column, value) {
    const box = document.createElement(line ? "td" : "th");
    const input = document.createElement("input");
    input.value = value;
    input.dataset.line = line;
    input.dataset.column = column;
    input.autocomplete = "off";
    input.spellcheck = false;
    const heading = this.cells[0][column] || column + 1;
    input.setAttribute("aria-label", line ? `${heading}, ${this.words.row} ${line + 1}` : `${this.words.row} 1, ${column + 1}`);
    const fault = this.faults.get(`${line + 1} ${column}`);
    if (fault) {
      box.className = "wrong";
      input.title = fault;
      input.setAttribute("aria-invalid", "true");
    }
    if (line && column) input.inputMode = "decimal";
    box.append(input);
    return box;
  }

  typed(input) {
    const row = this.cells[input.dataset.line];
    while (row.length <= input.dataset.column) row.push("");
    row[input.dataset.column] = input.value.replace(/\t/g, " ");
    this.save();
  }

  pasted(event) {
    const text = event.clipboardData.getData("text/plain");
    if (!/[\t\n]/.test(text.trim())) return;
    event.preventDefault();
    const sent = cellsOf(text);
    const whole = isHeading(sent[0]);
    if (whole) this.cells = [];
    const line = whole ? 0 : Number(event.target.dataset.line);
    const column = whole ? 0 : Number(event.target.dataset.column);
    sent.forEach((row, down) => {
      while (this.cells.length <= line + down) this.cells.push([]);
      const into = this.cells[line + down];
      row.forEach((cell, right) => {
        while (into.length <= column + right) into.push("");
        into[column + right] = cell;
      });
    });
    this.faults.clear();
    this.draw();
    this.save();
    this.focus(line, column);
  }

  moved(event) {
    const step = { ArrowDown: 1, ArrowUp: -1, Enter: 1 }[event.key];
    if (!step) return;
    event.preventDefault();
    this.focus(Number(event.target.dataset.line) + step, Number(event.target.dataset.column));
  }

  focus(line, column) {
    this.table.querySelector(`input[data-line="${line}"][data-column="${column}"]`)?.focus();
  }

  grow(rows, columns) {
    for (let more = 0; more < rows; more += 1) this.cells.push([]);
    for (let more = 0; more < columns; more += 1) {
      const width = this.width;
      while (this.cells[0].length <= width) this.cells[0].push("");
    }
    this.draw();
    if (columns) this.focus(0, this.width - 1);
    else this.focus(this.cells.length - rows, 0);
  }

  // Rows that only hold a name or nothing are sent too: the site says what it makes of them.
  save() {
    this.area.value = this.cells.map((row) => row.join("\t")).join("\n").replace(/[\t\n]+$/, "");
  }
}

for (const place of document.querySelectorAll("[data-grid]")) new Grid(place);
document.getElementById("look")?.scrollIntoView();
