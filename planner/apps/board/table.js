// The tables of a house: a cell is a field, or a list where its column has one; a fault stands under its row.

function tablePart(state, tell) {
  const tabs = state.files.map((one) =>
    button(`file-${one.file}`, one.title, () => tell({ do: "file", file: one.file }), {
      "aria-pressed": one.file === state.file ? "true" : "false",
    }),
  );
  const find = input("find", state.find, (text) => tell({ do: "find", text }), { placeholder: "part of any cell" });
  return [
    h("div", { class: "bd-bar", role: "group", "aria-label": "Which table" }, tabs),
    h("div", { class: "bd-bar" }, field("Find", find), paging(state, tell)),
    h(
      "div",
      {
        class: "bd-scroll",
        "data-scroll": "table",
        tabindex: "0",
        role: "region",
        "aria-label": state.title,
        onpaste: (event) => pasted(event, state, tell),
      },
      grown(state, tell),
    ),
    h(
      "div",
      { class: "bd-bar" },
      button("row", "Add a row", () => tell({ do: "row" })),
      h("span", { class: "bd-soft" }, state.hint),
    ),
  ];
}

function paging(state, tell) {
  if (state.total <= state.page) return null;
  const last = Math.min(state.first + state.page, state.total);
  return [
    button("earlier", "Earlier", () => tell({ do: "page", first: state.first - state.page }), {
      disabled: !state.first,
    }),
    h("span", { class: "bd-soft" }, `${state.first + 1} to ${last} of ${state.total}`),
    button("later", "Later", () => tell({ do: "page", first: last }), { disabled: last >= state.total }),
  ];
}

function grown(state, tell) {
  const head = h(
    "tr",
    {},
    h("th", { scope: "col" }, "Row"),
    state.columns.map((column) => h("th", { scope: "col" }, column.name)),
    h("th", {}, ""),
  );
  return h(
    "table",
    { class: "bd-table" },
    h("thead", {}, head),
    h(
      "tbody",
      {},
      state.rows.flatMap((row) => tableRow(row, state, tell)),
    ),
  );
}

function tableRow(row, state, tell) {
  const named = row.cells[0] || `row ${row.number}`;
  const cells = state.columns.map((column, place) =>
    h(
      "td",
      { "data-head": column.name, "data-said": row.cells[place] },
      cell(row, column, row.cells[place], named, state, tell),
    ),
  );
  const drop = button(`drop-${row.at}`, "✕", () => tell({ do: "remove", file: state.file, at: row.at }), {
    "aria-label": `Remove ${named}`,
    class: "bd-drop",
  });
  const made = [h("tr", {}, h("th", { scope: "row" }, row.number), cells, h("td", {}, drop))];
  if (row.faults.length) {
    const told = row.faults.map((fault) =>
      h(
        "p",
        { id: `fault-${row.at}-${fault.column}`, class: fault.is_error ? "bd-alarm" : "bd-soft" },
        h("b", {}, fault.column),
        ` ${fault.words}`,
      ),
    );
    made.push(h("tr", { class: "bd-faults" }, h("td", {}), h("td", { colspan: state.columns.length + 1 }, told)));
  }
  return made;
}

function cell(row, column, value, named, state, tell) {
  const key = `cell-${row.at}-${column.name}`;
  const fault = row.faults.find((one) => one.column === column.name && one.is_error);
  const more = {
    "aria-label": `${column.name} of ${named}`,
    "aria-invalid": fault ? "true" : null,
    "aria-describedby": fault ? `fault-${row.at}-${column.name}` : null,
    "data-at": row.at,
    "data-column": column.name,
  };
  const told = (text) => tell({ do: "cell", file: state.file, at: row.at, column: column.name, text });
  const names = row.lists[column.name] ?? (column.list ? state.lists[column.list] : null);
  if (names && !column.free) return choice(key, value, plainChoices(names, true), told, more);
  const list = names
    ? h(
        "datalist",
        { id: `list-${key}` },
        names.map((name) => h("option", { value: name })),
      )
    : null;
  const size = Math.max(column.size, Math.min(value.length, 24));
  return [
    input(key, value, told, {
      ...more,
      size,
      list: list && `list-${key}`,
      onkeydown: (event) => stepped(event, row, column),
    }),
    list,
  ];
}

/** Enter goes to the cell below, as in a spreadsheet. */
function stepped(event, row, column) {
  if (event.key !== "Enter") return;
  const root = event.target.getRootNode();
  const below = root.querySelector(`[data-at="${row.at + 1}"][data-column="${CSS.escape(column.name)}"]`);
  event.target.blur();
  (below ?? event.target).focus();
}

/** What was copied in a spreadsheet, told with the cell that it is to begin in. */
function pasted(event, state, tell) {
  const text = event.clipboardData?.getData("text/plain") ?? "";
  const cell = event.target.closest("[data-at]");
  if (cell?.tagName === "INPUT" && !/[\t\n]/.test(text.trim())) return;
  event.preventDefault();
  tell({
    do: "paste",
    file: state.file,
    at: cell ? Number(cell.dataset.at) : state.total,
    column: cell?.dataset.column ?? state.columns[0].name,
    text,
  });
}
