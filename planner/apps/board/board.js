// The board: the parts one below the other, each drawn anew when what is told of it has changed.

const NOW = Date.now();
const PATIENCE = 5000; // ms that what is done next waits for an answer

/**
 * What outlives a board that is built anew in the same page, as when the house has been saved: among it what was done
 * and is not sent yet, the numbers of what was sent and answered last, other ones in each page, and when it was sent.
 */
const kept = { folds: {}, levels: {}, focus: null, done: [], sent: NOW, answered: NOW, when: NOW };

/** What is pressed above the drawing to change it: the drawing is in view when it does. */
const DRAWS = new Set(["add", "undo", "redo", "level"]);

/** What is done in the form: where that is refused, the form says so too. */
const FORMS = new Set(["setting", "rename level", "ceiling", "add level", "remove level"]);

const isNarrow = () => matchMedia("(max-width: 700px)").matches; // as the tables are laid out for in board.css

const isBehind = () => kept.done.length > 0 || kept.sent > kept.answered;

/** Send what was done, in its order: all of it together once the last sending is answered, or no answer came in time. */
function send(model, is_waited_for = true) {
  const waits = is_waited_for && kept.sent > kept.answered && Date.now() - kept.when < PATIENCE;
  if (!kept.done.length || waits) return;
  kept.when = Date.now();
  model.send({ number: ++kept.sent, gestures: kept.done.splice(0) });
  setTimeout(() => send(model), PATIENCE);
}

function render({ model, el }) {
  const root = el.getRootNode();
  const view = { levels: kept.levels, coarse: matchMedia("(pointer: coarse)").matches, width: 0, held: false };
  const tell = (gesture) => {
    if (gesture.do === "kind") view.kind = gesture.kind; // so that a click that follows at once puts that kind
    if (gesture.do === "pick") view.picked = gesture.at;
    view.inForm = FORMS.has(gesture.do);
    kept.done.push({ ...gesture, seen: model.get("said").moment }); // rows are counted as they are shown
    send(model);
    if (DRAWS.has(gesture.do)) held.scrollIntoView({ block: "nearest" });
    if (gesture.do === "show") parts.table.closest("details").open = true;
  };
  const parts = {};
  const fold = (name, title, is_open) => {
    parts[name] = h("div", { class: "bd-part" });
    const told = (event) => (kept.folds[name] = event.target.open);
    return h(
      "details",
      { open: kept.folds[name] ?? is_open, class: "bd-fold", ontoggle: told },
      h("summary", {}, title),
      parts[name],
    );
  };
  for (const name of ["tools", "plan", "news", "said", "picked"])
    parts[name] = h("div", { class: `bd-part bd-${name}-part` });
  const held = h("div", { class: "bd-held" }, parts.plan, parts.news);
  const is_blank = model.get("form").is_blank;
  el.classList.add("bd");
  el.append(
    fold("form", "The house: name, levels, style, unit", is_blank),
    h("div", {}, parts.tools, held, parts.said, parts.picked),
    fold("table", "Tables of rooms, openings and what else there is", !is_blank && !isNarrow()),
    fold("reading", "Bring in a spreadsheet", false),
  );
  const drawings = {
    form: () => {
      const said = model.get("said");
      return formPart(model.get("form"), view.inForm && said.is_refused ? said.news : "", tell);
    },
    news: () => newsPart(model.get("said")),
    said: () => saidPart(model.get("said"), tell),
    tools: () => toolsPart(model.get("plan"), model.get("said"), tell),
    plan: () => {
      if (!isBehind()) view.picked = model.get("plan").picked;
      view.font = getComputedStyle(el).fontFamily;
      return [planPart(model.get("plan"), view, tell)];
    },
    picked: () => pickedPart(model.get("plan"), tell),
    table: () => tablePart(model.get("table"), tell),
    reading: () => readingPart(model.get("reading"), tell),
  };
  const outdated = new Set(); // parts that were drawn while an answer was under way
  const draw = (name) => {
    redraw(root, parts[name], isBehind(), ...drawings[name]());
    outdated[isBehind() ? "add" : "delete"](name);
    if (name === "plan") showPicked(parts.plan, view);
  };
  const answered = () => {
    kept.answered = model.get("answered");
    send(model);
    if (!isBehind()) outdated.forEach(draw);
  };
  const follows = {
    form: ["form"],
    said: ["news", "said", "tools", "form"],
    plan: ["tools", "plan", "picked"],
    table: ["table"],
    reading: ["reading"],
  };
  for (const [name, drawn] of Object.entries(follows)) model.on(`change:${name}`, () => drawn.forEach(draw));
  model.on("change:answered", answered);
  const leave = () => send(model, false);
  addEventListener("pagehide", leave);
  const measured = new ResizeObserver(() => {
    const width = parts.plan.clientWidth;
    if (Math.abs(width - view.width) < 2 || view.held) return;
    view.width = width;
    draw("plan");
  });
  Object.keys(drawings).forEach(draw);
  measured.observe(parts.plan);
  if (kept.focus && document.activeElement === document.body) setTimeout(() => refocus(el, kept.focus));
  el.addEventListener("focusin", (event) => (kept.focus = event.target.closest("[data-key]")?.dataset.key ?? null));
  el.addEventListener(
    "focusout",
    (event) => event.relatedTarget && !el.contains(event.relatedTarget) && (kept.focus = null),
  );
  return () => {
    measured.disconnect();
    removeEventListener("pagehide", leave);
  };
}

function toolsPart(plan, said, tell) {
  const levels = plan.levels.map((name) =>
    button(`show-${name}`, name, () => tell({ do: "level", level: name }), {
      "aria-pressed": name === plan.level ? "true" : "false",
    }),
  );
  const use = choice("use", plan.use, plan.uses, (text) => tell({ do: "use", use: text }));
  const kind = choice(
    "kind",
    plan.kind,
    [{ value: "", text: "move and resize rooms" }, ...plan.puts],
    (text) => tell({ do: "kind", kind: text }),
  );
  return [
    h(
      "div",
      { class: "bd-bar" },
      field("Room to add", use),
      button("add", "Add the room", () => tell({ do: "add" }), { class: "bd-main" }),
      field("A click or a drag is to", kind),
    ),
    h(
      "div",
      { class: "bd-bar" },
      levels.length > 1 && h("span", { role: "group", "aria-label": "Level that is drawn", class: "bd-bar" }, levels),
      back("undo", "Undo", said.undo, tell),
      back("redo", "Redo", said.redo, tell),
      button("save", "Save the house", () => tell({ do: "save" }), { class: "bd-main" }),
    ),
  ];
}

/** Undo or redo, which say what they are about to those who point at them or hear them. */
function back(step, label, words, tell) {
  return button(step, label, () => tell({ do: step }), {
    disabled: !words,
    title: words,
    "aria-label": words ? `${label}: ${words}` : label,
  });
}

/** What was done last, or why it could not be, where the eye is: at the foot of the drawing. */
const newsPart = (said) => [
  h("p", { role: "status", class: said.is_refused ? "bd-news bd-alarm" : "bd-news" }, said.news),
];

function saidPart(said, tell) {
  const faults = said.faults.map((fault) =>
    h(
      "li",
      { class: fault.is_error ? "bd-alarm" : "bd-soft" },
      fault.file
        ? button(`fault-${fault.place}`, fault.place, () => tell({ do: "show", file: fault.file, row: fault.row }), {
            class: "bd-link",
          })
        : h("b", {}, fault.place),
      ` ${fault.words}`,
    ),
  );
  return [
    h(
      "p",
      { class: "bd-soft" },
      said.unsaved,
      " ",
      said.is_saved
        ? ""
        : button("let-go", "Go back to what is saved", () => tell({ do: "let go" }), { class: "bd-link" }),
    ),
    faults.length
      ? h("details", { class: "bd-todo", open: said.is_open }, h("summary", {}, said.summary), h("ul", {}, faults))
      : null,
  ];
}

/** The room that is picked, to be typed, and its walls to put openings on without a pointer. */
function pickedPart(plan, tell) {
  const room = plan.rooms.find((one) => one.at === plan.picked);
  if (!room) return [h("p", { class: "bd-soft" }, "Pick a room to type its name, use and size.")];
  const set = (column) => (text) => tell({ do: "cell", file: "rooms.csv", at: room.at, column, text });
  const typed = (column, label, size) =>
    field(label, input(`typed-${column}`, room.cells[column], set(column), { size }));
  const listed = (column, label, names) =>
    field(label, choice(`typed-${column}`, room.cells[column], plainChoices(names), set(column)));
  const place = (column, label) =>
    field(
      label,
      input(`typed-${column}`, room[column], (text) => tell({ do: "place", at: room.at, column, text }), { size: 8 }),
    );
  const wall = choice(
    "typed-wall",
    plan.wall,
    room.walls.map((one) => ({ value: one.name, text: `${one.name}, to ${one.leads_to}` })),
    (text) => tell({ do: "wall", wall: text }),
  );
  return [
    h(
      "fieldset",
      { class: "bd-fields" },
      h("legend", {}, room.name || "A room without a name"),
      typed("room", "Name", 16),
      listed("use", "Use", plan.use_names),
      listed("level", "Level", plan.levels),
      typed("length", "West to east", 8),
      typed("width", "South to north", 8),
      field(
        "Ceiling",
        input("typed-ceiling", room.cells.ceiling, set("ceiling"), { size: 8, placeholder: room.level_ceiling }),
      ),
      place("from_west", "From the west"),
      place("from_south", "From the south"),
      field("Wall", wall),
      field(
        "Opening",
        choice("typed-kind", plan.put, plainChoices(plan.kinds), (text) => tell({ do: "to put", kind: text })),
      ),
      button("put", "Put it there", () =>
        tell({ do: "put", at: room.at, wall: plan.wall, along: null, kind: plan.put }),
      ),
      button("remove", "Remove the room", () => tell({ do: "remove", file: "rooms.csv", at: room.at })),
    ),
  ];
}

export default { render };
