/* In a table of entries Enter and the arrow keys go from line to line within a column, as on a sheet of figures. Without
   it Tab goes through the fields as ever. */
(() => {
  "use strict";

  const fields = (cell) => cell?.querySelector("input:not([type=hidden]), select");

  // The nearest line in that direction whose cell of the column has a field.
  const neighbour = (field, step) => {
    const cell = field.closest("td");
    const row = cell.parentElement;
    const rows = [...row.parentElement.rows];
    for (let at = rows.indexOf(row) + step; at >= 0 && at < rows.length; at += step) {
      const found = [...rows[at].cells].find((other) => fields(other)?.dataset.column === field.dataset.column);
      if (found) {
        return fields(found);
      }
    }
    return null;
  };

  document.querySelectorAll("[data-entry-table]").forEach((table) => {
    table.querySelectorAll("td :is(input:not([type=hidden]), select)").forEach((field) => {
      field.dataset.column = field.name.replace(/\[\d+\]/g, "");
    });
    table.addEventListener("keydown", (event) => {
      const field = event.target;
      if (!field.dataset?.column || event.altKey || event.ctrlKey || event.metaKey) {
        return;
      }
      const isChoice = field instanceof HTMLSelectElement;
      const step = { Enter: event.shiftKey ? -1 : 1, ArrowDown: isChoice ? 0 : 1, ArrowUp: isChoice ? 0 : -1 }[event.key];
      if (!step) {
        return;
      }
      // Enter never sends a half-filled table; the button does.
      event.preventDefault();
      const next = neighbour(field, step);
      if (next) {
        next.focus();
        next.select?.();
      }
    });
  });
})();
