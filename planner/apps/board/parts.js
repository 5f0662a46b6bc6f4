// What the parts of the board share: elements, fields, and a part that is drawn anew without losing the focus.

const SVG = "http://www.w3.org/2000/svg";
const MARKS = new Set(["svg", "g", "rect", "polygon", "polyline", "line", "text", "tspan", "path", "title"]);

/** An element with its attributes, listeners (`on…`) and children; what is null or false is left out. */
function h(tag, given = {}, ...children) {
  const made = MARKS.has(tag) ? document.createElementNS(SVG, tag) : document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (name === "value") made.value = value;
    else made.setAttribute(name, value === true ? "" : value);
  }
  made.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
  return made;
}

/** A control under its label, with a hint below it. */
function field(label, control, hint = "") {
  control.id = `bd-${control.dataset.key ?? label}`;
  return h("div", { class: "bd-field" }, h("label", { for: control.id }, label), control, hint && h("small", {}, hint));
}

/** `key` finds a control again after its part has been drawn anew. */

function input(key, value, told, more = {}) {
  const change = (event) => told(event.target.value);
  return h("input", {
    type: "text",
    autocomplete: "off",
    "data-key": key,
    "data-was": value,
    value,
    onchange: change,
    ...more,
  });
}

/** A list; its other choices are put in when it is first reached, so that a long table stays light. */
function choice(key, value, choices, told, more = {}) {
  const own = choices.find((one) => one.value === value) ?? { value, text: value };
  const list = h(
    "select",
    { "data-key": key, onchange: (event) => told(event.target.value), ...more },
    option(own, true),
  );
  const fill = () => {
    if (list.dataset.full) return;
    list.dataset.full = "yes";
    const at = choices.findIndex((one) => one.value === value);
    choices.forEach((one, place) => {
      if (place === at) return;
      if (at >= 0 && place < at) list.insertBefore(option(one), list.lastElementChild);
      else list.append(option(one));
    });
    if (at < 0) list.prepend(list.querySelector("option[selected]"));
  };
  if (choices.length <= 40) fill();
  for (const reached of ["focus", "pointerdown", "mousedown", "touchstart"]) list.addEventListener(reached, fill);
  return list;
}

function option(one, selected = false) {
  return h("option", { value: one.value, selected, title: one.title }, one.text || " ");
}

const plainChoices = (names, blank = false) =>
  [...(blank ? [""] : []), ...names].map((name) => ({ value: name, text: name }));

function button(key, label, told, more = {}) {
  return h("button", { type: "button", "data-key": key, onclick: told, ...more }, label);
}

/** Draw a part anew: what had the focus has it again, with what was typed into it and not told yet. */
function redraw(root, part, ...children) {
  const held = root.activeElement;
  const is_ours = held && part.contains(held);
  const key = is_ours ? held.closest("[data-key]")?.dataset.key : null;
  const typed = is_ours && held.tagName === "INPUT" && held.value !== held.dataset.was ? held.value : null;
  const scrolled = [...part.querySelectorAll("[data-scroll]")].map((one) => [
    one.dataset.scroll,
    one.scrollLeft,
    one.scrollTop,
  ]);
  part.replaceChildren(...children.filter(Boolean));
  for (const [name, left, top] of scrolled) {
    const frame = part.querySelector(`[data-scroll="${name}"]`);
    if (frame) [frame.scrollLeft, frame.scrollTop] = [left, top];
  }
  if (key) refocus(part, key, typed);
}

function refocus(part, key, typed = null) {
  const again = part.querySelector(`[data-key="${CSS.escape(key)}"]`);
  if (!again) return;
  again.focus({ preventScroll: true });
  if (typed !== null) again.value = typed;
}
