// Rooms and openings that stand in a spreadsheet already: a file or a text is read, shown as it was understood, and
// taken over only then.

const LARGEST = 10_000_000; // bytes

function readingPart(state, tell) {
  const text = h("textarea", {
    "data-key": "read-text",
    rows: 4,
    "aria-label": "Cells copied from a spreadsheet",
    placeholder: "Copy the cells in the spreadsheet, header and all, and paste them here",
  });
  const file = h("input", {
    type: "file",
    accept: ".csv,.tsv,.txt,.xlsx",
    "data-key": "read-file",
    onchange: (event) => sent(event.target.files[0], tell),
  });
  return [
    h("div", { class: "bd-bar" }, field("A file, CSV or XLSX, up to 10 MB", file)),
    h(
      "div",
      { class: "bd-bar bd-wide" },
      text,
      button("read-go", "Read the text", (event) => {
        const { value } = event.currentTarget.parentNode.querySelector("textarea");
        tell({ do: "read", name: "what was pasted", text: value });
      }),
    ),
    state.error && h("p", { class: "bd-alarm", role: "alert" }, state.error),
    ...(state.parts ?? []).map((part) => understood(part, tell)),
    state.parts?.length &&
      h(
        "div",
        { class: "bd-bar" },
        button("read-drop", "Put this away", () => tell({ do: "read", drop: true })),
      ),
  ];
}

async function sent(file, tell) {
  if (!file) return;
  if (file.size > LARGEST) {
    tell({ do: "read", name: file.name, size: file.size });
    return;
  }
  const bytes = new Uint8Array(await file.arrayBuffer());
  let text = "";
  for (let at = 0; at < bytes.length; at += 32768) text += String.fromCharCode(...bytes.subarray(at, at + 32768));
  tell({ do: "read", name: file.name, data: btoa(text) });
}

function understood(part, tell) {
  const kinds = part.choices.map((one) => ({ value: one.file, text: one.title }));
  return h(
    "section",
    { class: "bd-read", "aria-label": part.title },
    h("h4", {}, part.title),
    h("p", {}, part.told),
    h(
      "div",
      { class: "bd-bar" },
      field(
        "These rows are",
        choice(`read-as-${part.number}`, part.file, kinds, (file) => tell({ do: "read", part: part.number, as: file })),
      ),
    ),
    small("Columns", ["In the file", "Read as"], part.columns),
    small(`What was read${part.more ? `, ${part.more}` : ""}`, part.header, part.rows),
    part.faults.length
      ? small("What is wrong or doubtful", ["Row", "Column", "What is wrong", "What would be right"], part.faults)
      : null,
    h(
      "div",
      { class: "bd-bar" },
      button(`read-add-${part.number}`, `Add ${part.counted}`, () => tell({ do: "read", part: part.number, take: "add" }), {
        disabled: !part.count,
      }),
      button(
        `read-instead-${part.number}`,
        `Put them in the place of the ${part.there}`,
        () => tell({ do: "read", part: part.number, take: "instead" }),
        { disabled: !part.count },
      ),
    ),
  );
}

function small(caption, columns, rows) {
  const head = h(
    "tr",
    {},
    columns.map((name) => h("th", { scope: "col" }, name)),
  );
  const body = rows.map((row) =>
    h(
      "tr",
      {},
      row.map((text) => h("td", {}, text)),
    ),
  );
  return h(
    "div",
    { class: "bd-scroll", tabindex: "0", role: "region", "aria-label": caption },
    h("table", { class: "bd-table bd-plain" }, h("caption", {}, caption), h("thead", {}, head), h("tbody", {}, body)),
  );
}
