// The form of a house: what it is called, where guests arrive, its levels and ceilings, style, grade, unit, currency.

function formPart(state, refusal, tell) {
  const faulty = (key, label, control, hint) => field(label, control, hint, state.faults[key]);
  const set = (key) => (text) => tell({ do: "setting", key, text });
  const named = (key, names) => choice(key, state[key], plainChoices(names), set(key));
  return [
    h(
      "div",
      { class: "bd-fields" },
      faulty("name", "Name of the house", input("name", state.name, set("name"))),
      faulty("entry", "Guests arrive in", named("entry", state.entries)),
      faulty("style", "Style", named("style", state.styles)),
      faulty("grade", "Grade", named("grade", state.grades), "how high the ladder of tiers goes"),
      state.fixed_unit
        ? field("Unit", h("output", {}, state.unit), state.fixed_unit)
        : field("Unit", choice("unit", state.unit, state.units, set("unit"))),
      faulty("currency", "Currency", input("currency", state.currency, set("currency"), { size: 4, maxlength: 3 })),
      faulty(
        "year_built",
        "Built in",
        input("year_built", state.year_built, set("year_built"), { size: 5, inputmode: "numeric" }),
        "if known",
      ),
    ),
    h(
      "fieldset",
      { class: "bd-levels" },
      h("legend", {}, "Levels, and the height of their ceilings"),
      state.levels.map((level, at) => levelRow(level, at, tell)),
      newLevel(state, tell),
      refusal && h("p", { class: "bd-alarm" }, refusal),
    ),
  ];
}

function levelRow(level, at, tell) {
  const named = `level ${level.name}`;
  const ceiling = input(`ceiling-${at}`, level.ceiling, (text) => tell({ do: "ceiling", level: level.name, text }), {
    "aria-label": `Ceiling of ${named}`,
    placeholder: "ceiling",
    size: 9,
  });
  return h(
    "div",
    { class: "bd-level" },
    input(`level-${at}`, level.name, (text) => tell({ do: "rename level", level: level.name, text }), {
      "aria-label": `Name of ${named}`,
    }),
    ceiling,
    h("span", { class: "bd-soft" }, level.rooms),
    level.empty &&
      button(`drop-level-${at}`, "Remove", () => tell({ do: "remove level", level: level.name }), {
        "aria-label": `Remove ${named}`,
      }),
    atFault(ceiling, `ceiling-${at}`, level.fault),
  );
}

function newLevel(state, tell) {
  const add = ({ currentTarget }) => {
    const [name, ceiling] = currentTarget.closest(".bd-level").querySelectorAll("input");
    const made = { do: "add level", level: name.value, text: ceiling.value || state.usual_ceiling };
    name.value = ceiling.value = "";
    tell(made);
  };
  const onkeydown = (event) => {
    if (event.key !== "Enter" || !event.currentTarget.closest(".bd-level").querySelector("input").value) return;
    event.preventDefault();
    add(event);
  };
  const name = { "aria-label": "Name of a new level", placeholder: "e.g. Upper", onkeydown };
  const ceiling = { "aria-label": "Ceiling of the new level", placeholder: state.usual_ceiling, size: 9, onkeydown };
  return h(
    "div",
    { class: "bd-level" },
    input("new-level", "", null, name),
    input("new-ceiling", "", null, ceiling),
    button("add-level", "Add a level", add),
  );
}
