"use strict";
/* Sorting and searching of tables. Without it every page still shows everything. */
(function () {
  /* Letters that do not fall apart into a plain one and an accent. */
  const LETTERS = { "ł": "l", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ß": "ss", "ı": "i" };
  const plain = (text) =>
    text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase()
      .replace(/[łøđðþæœßı]/g, (letter) => LETTERS[letter]);

  function valueOf(cell, kind) {
    const text = cell.dataset.value ?? cell.textContent.trim();
    if (kind !== "number") return plain(text);
    const number = parseFloat(text.replace("−", "-"));
    return Number.isNaN(number) ? Infinity : number;
  }

  function sortBy(table, column, head) {
    const upwards = head.getAttribute("aria-sort") !== "ascending";
    const rows = Array.from(table.tBodies[0].rows);
    const kind = head.dataset.kind;
    const keyed = rows.map((row, place) => [valueOf(row.cells[column], kind), place, row]);
    const sign = upwards ? 1 : -1;
    keyed.sort((a, b) => {
      if (a[0] === b[0]) return a[1] - b[1];
      if (a[0] === Infinity) return 1;
      if (b[0] === Infinity) return -1;
      return (a[0] < b[0] ? -1 : 1) * sign;
    });
    for (const other of table.tHead.rows[0].cells) other.removeAttribute("aria-sort");
    head.setAttribute("aria-sort", upwards ? "ascending" : "descending");
    table.tBodies[0].append(...keyed.map((entry) => entry[2]));
  }

  for (const table of document.querySelectorAll("table[data-sortable]")) {
    Array.from(table.tHead.rows[0].cells).forEach((head, column) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = head.textContent;
      head.replaceChildren(button);
      button.addEventListener("click", () => sortBy(table, column, head));
    });
  }

  /* On a phone the pages are named in one row: bring this one's name into sight. */
  const here = document.querySelector("nav [aria-current]");
  if (here !== null) {
    const row = here.closest("ul");
    row.scrollLeft = here.offsetLeft - row.offsetLeft - (row.clientWidth - here.offsetWidth) / 2;
  }

  /* A page that is open, or kept by a phone, says when a newer version is up. */
  const newer = document.getElementById("newer");
  function look() {
    if (newer === null || location.protocol === "file:") return;
    fetch("newest.json", { cache: "no-store" })
      .then((answer) => answer.json())
      .then((up) => {
        const own = (up.pages ?? {})[newer.querySelector("a").getAttribute("href")] ?? up;
        newer.hidden = own.edition === document.documentElement.dataset.edition;
      })
      .catch(() => {});
  }
  look();
  document.addEventListener("visibilitychange", () => { if (!document.hidden) look(); });

  const form = document.querySelector("[data-search]");
  if (form === null) return;
  const field = form.querySelector("input");
  const said = form.querySelector("output");
  const rows = Array.from(document.querySelectorAll("tr[data-find]"), (row) => [
    row,
    plain(row.dataset.find),
  ]);

  function search() {
    const words = plain(field.value).split(/\s+/).filter(Boolean);
    const found = new Set();
    for (const [row, text] of rows) {
      const number = text.split(" ", 1)[0];
      const hit = words.every((word) =>
        /^\d+$/.test(word) ? number.startsWith(word) : text.includes(word));
      row.hidden = !hit;
      if (hit) found.add(number);
    }
    said.textContent = words.length ? said.dataset.found.replace("…", found.size) : "";
    return found;
  }

  field.addEventListener("input", search);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const found = search();
    const exact = plain(field.value).trim();
    const chosen = found.has(exact) ? exact : found.size === 1 ? [...found][0] : null;
    if (chosen !== null) location.href = `pilot-${chosen}.html`;
  });
})();
