// What the parts of the board share: elements, fields, and a part that is drawn anew without losing the focus.

const SVG = "http://www.w3.org/2000/svg";
const MARKS = new Set(["svg", "g", "rect", "polygon", "polyline", "line", "text", "tspan", "path", "title"]);

/** What an element does on each event, so that another drawing of it can take its place. */
const HEARD = Symbol("heard");
/** The entries of a list, whether they have been put in or not. */
const CHOICES = Symbol("choices");

/** An element with its attributes, listeners (`on…`) and children; what is null or false is left out. */
function h(tag, given = {}, ...children) {
  const made = MARKS.has(tag) ? document.createElementNS(SVG, tag) : document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) hear(made, name.slice(2), value);
    else if (name === "value") made.value = value;
    else made.setAttribute(name, value === true ? "" : value);
  }
  made.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
  return made;
}

function hear(element, name, told) {
  const heard = (element[HEARD] ??= {});
  if (!(name in heard)) element.addEventListener(name, (event) => heard[name]?.(event));
  heard[name] = told;
}

/** A control under its label, with a hint below it, and what is wrong with what is in it. */
function field(label, control, hint = "", wrong = "") {
  control.id = `bd-${control.dataset.key ?? label}`;
  return h(
    "div",
    { class: "bd-field" },
    h("label", { for: control.id }, label),
    control,
    hint && h("small", {}, hint),
    atFault(control, control.id, wrong),
  );
}

/** What is wrong with what is in a control, for its foot; the control is marked. */
function atFault(control, id, words) {
  if (!words) return null;
  control.setAttribute("aria-invalid", "true");
  control.setAttribute("aria-describedby", `fault-${id}`);
  return h("p", { id: `fault-${id}`, class: "bd-alarm" }, words);
}

/** `key` finds a control again in another drawing. A field that tells nobody what was typed keeps it until it is used. */

function input(key, value, told, more = {}) {
  const change = ({ target }) => {
    target.dataset.was = target.value;
    told(target.value);
  };
  return h("input", {
    type: "text",
    autocomplete: "off",
    "data-key": key,
    "data-was": value,
    value,
    onchange: told && change,
    ...more,
  });
}

/** A list; its other choices are put in when it is first reached, so that a long table stays light. */
function choice(key, value, choices, told, more = {}) {
  const own = choices.find((one) => one.value === value) ?? { value, text: value };
  const reached = ({ currentTarget }) => fill(currentTarget);
  const list = h(
    "select",
    {
      "data-key": key,
      onchange: (event) => told(event.target.value),
      onfocus: reached,
      onpointerdown: reached,
      onmousedown: reached,
      ontouchstart: reached,
      ...more,
    },
    option(own, true),
  );
  list[CHOICES] = choices;
  if (choices.length <= 40) fill(list);
  return list;
}

function fill(list) {
  if (list.dataset.full) return;
  list.dataset.full = "yes";
  const own = list.firstElementChild;
  const at = list[CHOICES].findIndex((one) => one.value === own.value);
  list[CHOICES].forEach((one, place) => {
    if (place < at) list.insertBefore(option(one), own);
    else if (place > at) list.append(option(one));
  });
}

function option(one, selected = false) {
  return h("option", { value: one.value, selected, title: one.title }, one.text || " ");
}

const plainChoices = (names, blank = false) =>
  [...(blank ? [""] : []), ...names].map((name) => ({ value: name, text: name }));

function button(key, label, told, more = {}) {
  return h("button", { type: "button", "data-key": key, onclick: told, ...more }, label);
}

/**
 * Draw a part anew, in place: what is pressed, held or typed into stays the same element, and keeps what was typed and
 * is not told yet. `is_behind` says that the drawing is older than what was done last: the control with the focus then
 * keeps its value too.
 */
function redraw(root, part, is_behind, ...children) {
  const held = root.activeElement;
  const key = held && part.contains(held) ? held.closest("[data-key]")?.dataset.key : null;
  becomeChildren(part, children.filter(Boolean), is_behind ? held : null);
  if (key && root.activeElement !== held) refocus(part, key);
}

function refocus(part, key) {
  part.querySelector(`[data-key="${CSS.escape(key)}"]`)?.focus({ preventScroll: true });
}

const NAMES = ["data-key", "data-wall", "data-opening", "data-handle"];
const nameOf = (node) => node.getAttribute && NAMES.map((name) => node.getAttribute(name)).find(Boolean);
const areAlike = (one, other) =>
  one.nodeName === other.nodeName && nameOf(one) === nameOf(other) && one.type === other.type;

function becomeChildren(parent, drawn, held) {
  const named = new Map([...parent.children].map((child) => [nameOf(child), child]));
  let next = parent.firstChild;
  for (const one of drawn) {
    const same = nameOf(one) ? named.get(nameOf(one)) : next;
    if (same?.parentNode !== parent || !areAlike(same, one)) {
      parent.insertBefore(one, next);
      continue;
    }
    while (next !== same) next = without(next);
    next = same.nextSibling;
    become(same, one, held);
  }
  while (next) next = without(next);
}

function without(node) {
  const next = node.nextSibling;
  node.remove();
  return next;
}

/** Make an element what it is in another drawing, and touch nothing that is the same. */
function become(shown, drawn, held) {
  if (!shown.setAttribute) {
    if (shown.data !== drawn.data) shown.data = drawn.data;
    return;
  }
  const { value } = shown;
  const keeps = shown === held || ("was" in shown.dataset && value !== shown.dataset.was);
  becomeAttributes(shown, drawn, shown === held);
  for (const name of Object.keys(shown[HEARD] ?? {})) shown[HEARD][name] = null;
  for (const [name, told] of Object.entries(drawn[HEARD] ?? {})) hear(shown, name, told);
  if (drawn[CHOICES]) {
    shown[CHOICES] = drawn[CHOICES];
    if (shown.dataset.full) fill(drawn);
  }
  becomeChildren(shown, [...drawn.childNodes], held);
  const wanted = keeps ? value : drawn.value;
  if ((shown.localName === "select" || "was" in drawn.dataset) && shown.value !== wanted) shown.value = wanted;
}

/** A fold that was opened stays open, and a list that was filled full. */
const KEPT = new Set(["open", "data-full"]);

function becomeAttributes(shown, drawn, is_held) {
  for (const { name } of [...shown.attributes])
    if (!drawn.hasAttribute(name) && !KEPT.has(name)) shown.removeAttribute(name);
  for (const { name, value } of drawn.attributes)
    if (shown.getAttribute(name) !== value && !(is_held && name === "data-was")) shown.setAttribute(name, value);
}
