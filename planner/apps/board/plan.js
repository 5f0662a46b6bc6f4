// The drawing: rooms that are dragged and resized, walls that take openings. It draws what it is told and reports what
// is done to it; where a thing then stands is told to it again.

const LEAST_SCALE = 0.7; // px/in: a closet of 5 ft can be touched
const MOST_SCALE = 2.5;
const MARGIN = 96; // inches round the rooms, to drag into

/** `view` is kept by the caller: what is seen of each level, and what lies in the hand. */
function planPart(state, view, tell) {
  view.kind = state.kind;
  const width = view.width || 600;
  const height = view.coarse ? 300 : 460;
  const needed = seenOf(state, view);
  const frame = h("div", { class: "bd-frame", "data-scroll": "frame", tabindex: "-1" });
  const fits = Math.min(width / needed.width, height / needed.height);
  const scale = Math.min(MOST_SCALE, Math.max(LEAST_SCALE, fits));
  const seen = widened(needed, (width - 2) / scale, height / scale);
  const drawing = h("svg", {
    class: state.kind ? "bd-plan bd-putting" : "bd-plan",
    viewBox: `${seen.west} ${-seen.north} ${seen.width} ${seen.height}`,
    width: seen.width * scale,
    height: seen.height * scale,
    role: "group",
    "data-kind": state.kind,
    "aria-label": `${state.level}. ${KEYS}`,
  });
  const at = { scale, state, view, tell };
  drawing.append(
    grid(seen, state.grid, scale),
    ...state.under.map(underlay),
    ...state.rooms.map((room) => roomShape(room, at)),
  );
  drawing.append(...state.openings.map((one) => openingMark(one, scale)));
  const picked = state.rooms.find((room) => room.at === state.picked);
  if (state.kind)
    drawing.append(...state.rooms.flatMap((room) => room.walls.map((wall) => wallTarget(room, wall, at))));
  else if (picked?.is_rectangular) drawing.append(...handles(picked, at));
  frame.append(drawing);
  return frame;
}

/** What of a room's handles stands out of it [px]. */
const HANDLE = 8;

/** Scroll the drawing in its frame so far that a room which has just been picked is seen, with its handles. */
function showPicked(part, view) {
  const shape = part.querySelector(".bd-picked");
  if (!shape || view.held || shape.dataset.key === view.brought || !part.clientWidth) return;
  view.brought = shape.dataset.key;
  const frame = part.querySelector(".bd-frame");
  const [seen, box] = [frame.getBoundingClientRect(), shape.getBoundingClientRect()];
  const by = (from, to, least, most) => (from < least ? from - least : Math.max(0, Math.min(to - most, from - least)));
  frame.scrollLeft += by(box.left - HANDLE, box.right + HANDLE, seen.left, seen.right);
  frame.scrollTop += by(box.top - HANDLE, box.bottom + HANDLE, seen.top, seen.bottom);
}

/** What is seen of a level: all its rooms and room beside them; it grows with them and never jumps back. */
function seenOf(state, view) {
  const before = view.levels[state.level];
  const points = [...state.rooms.flatMap((room) => room.corners), ...state.under.flat(), [0, 0], [240, 180]];
  const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
  const need = {
    west: Math.min(...xs) - MARGIN,
    south: Math.min(...ys) - MARGIN,
    east: Math.max(...xs) + MARGIN,
    north: Math.max(...ys) + MARGIN,
  };
  const is_seen =
    before &&
    need.west + MARGIN / 2 >= before.west &&
    need.south + MARGIN / 2 >= before.south &&
    need.east - MARGIN / 2 <= before.east &&
    need.north - MARGIN / 2 <= before.north;
  const seen = is_seen ? before : need;
  seen.width = seen.east - seen.west;
  seen.height = seen.north - seen.south;
  return (view.levels[state.level] = seen);
}

/** What is seen, as large as its frame at the least. */
function widened(seen, width, height) {
  const [more, higher] = [Math.max(0, width - seen.width) / 2, Math.max(0, height - seen.height) / 2];
  return {
    west: seen.west - more,
    north: seen.north + higher,
    east: seen.east + more,
    south: seen.south - higher,
    width: seen.width + 2 * more,
    height: seen.height + 2 * higher,
  };
}

function grid(seen, step, scale) {
  const lines = [];
  const bold = step * (step > 5 ? 4 : 10); // 2 ft, or 1 m
  for (const [way, from, to] of [
    ["x", seen.west, seen.east],
    ["y", seen.south, seen.north],
  ]) {
    const gap = step * scale >= 7 ? step : bold;
    for (let place = Math.ceil(from / gap) * gap; place <= to; place += gap) {
      const kind = Math.abs(place / bold - Math.round(place / bold)) < 0.01 ? "bd-grid bd-bold" : "bd-grid";
      const ends = way === "x" ? [place, -seen.north, place, -seen.south] : [seen.west, -place, seen.east, -place];
      lines.push(line(ends, { class: kind }));
    }
  }
  return h("g", { "aria-hidden": "true" }, lines);
}

const line = ([x1, y1, x2, y2], more) => h("line", { x1, y1, x2, y2, ...more });
const path = (corners) => corners.map(([x, y]) => `${x},${-y}`).join(" ");
const underlay = (corners) => h("polygon", { class: "bd-under", points: path(corners), "aria-hidden": "true" });

function roomShape(room, at) {
  const { state, tell } = at;
  const kinds = [
    "bd-room",
    room.placed ? "" : "bd-unplaced",
    room.at === state.picked ? "bd-picked" : "",
    room.fault ? "bd-faulty" : "",
  ];
  return h(
    "g",
    {
      class: kinds.join(" "),
      tabindex: "0",
      role: "button",
      "data-key": `room-${room.at}`,
      "aria-pressed": room.at === state.picked ? "true" : "false",
      "aria-label": room.told,
      onfocus: () => room.at !== at.view.picked && !at.view.held && tell({ do: "pick", at: room.at }),
      onkeydown: (event) => keyed(event, room, at),
      onpointerdown: (event) => state.kind || dragged(event, room, "", at, event.currentTarget),
      ontouchstart: state.kind ? null : held_still,
      onclick: () => room.at !== at.view.picked && tell({ do: "pick", at: room.at }),
    },
    h("polygon", { points: path(room.corners) }),
    ...lettering(room, at),
  );
}

/** A finger on what can be dragged drags it, and does not scroll the page. */
const held_still = (event) => event.cancelable && event.preventDefault();

/** Name, use and size in the middle of where a room is widest, as large as the screen asks and no wider than that. */
function lettering(room, { scale, view }) {
  const [x, y] = room.middle;
  const [width, height] = [room.width * scale - CLEAR, room.height * scale - CLEAR / 2];
  const { px, name } = named(room.name || "no name", width, height, view.font);
  const size = px / scale;
  const fits = Math.max(1, Math.floor(height / (px * LEADING)));
  const said = [room.size, room.fault ? "▲ see below" : room.use];
  const whole = said.filter((text) => inked(text, px, "", view.font) <= width && text !== room.name.toLowerCase());
  const lines = [...name, ...whole].slice(0, Math.min(name.length + 2, fits));
  return lines.map((text, place) =>
    h(
      "text",
      {
        x,
        y: -y + (place - (lines.length - 1) / 2) * size * LEADING + size * 0.35,
        "font-size": size,
        class: place < name.length ? "bd-name" : "bd-small",
      },
      text,
    ),
  );
}

const SIZES = [12, 11, 10, 9]; // px
const CLEAR = 8; // px between a name and the walls on both its sides together
const LEADING = 1.2;
const PEN = document.createElement("canvas").getContext("2d");

/** How wide a text is [px]. */
function inked(text, px, weight, font) {
  PEN.font = `${weight} ${px}px ${font}`;
  return PEN.measureText(text).width;
}

/** A name in lines, as large as it fits whole; cut short only where it does not fit at all. */
function named(text, width, height, font) {
  for (const px of SIZES) {
    const fits = (line) => inked(line, px, "600", font) <= width;
    const name = inLines(text, fits);
    if (name.every(fits) && name.length * px * LEADING <= height) return { px, name };
  }
  const px = SIZES.at(-1);
  const fits = (line) => inked(line, px, "600", font) <= width;
  const most = Math.max(1, Math.floor(height / (px * LEADING)));
  return { px, name: inLines(text, fits).slice(0, most).map((line) => cutTo(line, fits)) };
}

function cutTo(line, fits) {
  if (fits(line)) return line;
  let length = line.length - 1;
  while (length > 2 && !fits(`${line.slice(0, length)}…`)) length -= 1;
  return `${line.slice(0, length)}…`;
}

/** A text broken between its words into lines that fit, where words do. */
function inLines(text, fits) {
  const lines = [];
  for (const word of text.split(" ")) {
    const longer = `${lines.at(-1)} ${word}`;
    if (lines.length && fits(longer)) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

const KEYS =
  "Arrow keys move the room that has the focus, with Shift they resize it, and Enter goes to what is typed of it.";

/** To the fields of the room that is picked: the keys alone would pick every room on the way there. */
function intoFields(shape, room, { state, tell }) {
  if (room.at === state.picked) shape.getRootNode().querySelector("[data-key=typed-room]").focus();
  else tell({ do: "pick", at: room.at });
}

function keyed(event, room, at) {
  const { state, tell } = at;
  const step = state.grid;
  const ways = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] };
  const by = ways[event.key];
  if (by) {
    const handle = by[0] ? "e" : "n";
    tell(
      event.shiftKey
        ? { do: "resize", at: room.at, handle, by, dragged: false }
        : { do: "move", at: room.at, by, dragged: false },
    );
  } else if (event.key === "Delete") event.repeat || tell({ do: "remove", file: "rooms.csv", at: room.at });
  else if (event.key === "Enter" || event.key === " ") intoFields(event.currentTarget, room, at);
  else return;
  event.preventDefault();
}

/** A room, or one of its handles, in the hand: it follows the pointer step by step, and is told where it is let go. */
function dragged(event, room, handle, at, shape) {
  if (event.button) return;
  const { state, view, tell, scale } = at;
  const from = [event.clientX, event.clientY];
  const steps = (px) => Math.round(px / scale / state.grid) * state.grid;
  const target = event.currentTarget;
  let far = false;
  view.held = true;
  target.setPointerCapture(event.pointerId);
  event.stopPropagation();
  const move = (now) => {
    const [dx, dy] = [now.clientX - from[0], now.clientY - from[1]];
    far ||= Math.hypot(dx, dy) > 4;
    if (far) follow(shape, room, handle, steps(dx), -steps(dy));
  };
  const done = (last) => {
    target.removeEventListener("pointermove", move);
    view.held = false;
    if (last.type === "pointercancel" || !far) {
      follow(shape, room, "", 0, 0);
      if (room.at !== view.picked) tell({ do: "pick", at: room.at });
      return;
    }
    const by = [(last.clientX - from[0]) / scale, -(last.clientY - from[1]) / scale];
    tell(
      handle
        ? { do: "resize", at: room.at, handle, by, dragged: true }
        : { do: "move", at: room.at, by, dragged: true },
    );
  };
  target.addEventListener("pointermove", move);
  for (const end of ["pointerup", "pointercancel"]) target.addEventListener(end, done, { once: true });
}

function follow(shape, room, handle, dx, dy) {
  if (!handle) {
    shape.setAttribute("transform", dx || dy ? `translate(${dx} ${-dy})` : "");
    return;
  }
  const [west, south, east, north] = room.box;
  const now = [
    west + (handle.includes("w") ? dx : 0),
    south + (handle.includes("s") ? dy : 0),
    east + (handle.includes("e") ? dx : 0),
    north + (handle.includes("n") ? dy : 0),
  ];
  shape.querySelector("polygon").setAttribute(
    "points",
    path([
      [now[0], now[1]],
      [now[0], now[3]],
      [now[2], now[3]],
      [now[2], now[1]],
    ]),
  );
}

function handles(room, at) {
  const [west, south, east, north] = room.box;
  const places = {
    nw: [west, north],
    n: [(west + east) / 2, north],
    ne: [east, north],
    e: [east, (south + north) / 2],
    se: [east, south],
    s: [(west + east) / 2, south],
    sw: [west, south],
    w: [west, (south + north) / 2],
  };
  const [mark, reach] = [9 / at.scale, (at.view.coarse ? 30 : 22) / at.scale];
  return Object.entries(places).map(([handle, [x, y]]) =>
    h(
      "g",
      {
        class: `bd-handle bd-${handle}`,
        "aria-hidden": "true",
        "data-handle": handle,
        ontouchstart: held_still,
        onpointerdown: (event) => {
          const drawing = event.currentTarget.ownerSVGElement;
          dragged(event, room, handle, at, drawing.querySelector(`[data-key="room-${room.at}"]`));
        },
      },
      h("rect", { class: "bd-reach", x: x - reach / 2, y: -y - reach / 2, width: reach, height: reach }),
      h("rect", { x: x - mark / 2, y: -y - mark / 2, width: mark, height: mark }),
    ),
  );
}

function openingMark(one, scale) {
  const ends = [one.from[0], -one.from[1], one.to[0], -one.to[1]];
  const kind = `bd-opening bd-${one.kind.replaceAll(" ", "-")}`;
  return h(
    "g",
    { class: kind, "data-opening": one.name },
    h("title", {}, one.told),
    line(ends, { class: "bd-gap" }),
    line(ends, { class: "bd-mark", "stroke-width": 3 / scale }),
  );
}

/** A wall that takes an opening where it is clicked. */
function wallTarget(room, wall, { tell, view, scale }) {
  const [left, right] = [wall.left, wall.right];
  const put = (event) => {
    const drawn = event.currentTarget.ownerSVGElement.getScreenCTM();
    const spot = new DOMPoint(event.clientX, event.clientY).matrixTransform(drawn.inverse());
    const [dx, dy] = [right[0] - left[0], right[1] - left[1]];
    const along = ((spot.x - left[0]) * dx + (-spot.y - left[1]) * dy) / Math.hypot(dx, dy);
    tell({ do: "put", at: room.at, wall: wall.name, along, kind: view.kind });
  };
  const wide = (view.coarse ? 30 : 16) / scale;
  return line([left[0], -left[1], right[0], -right[1]], {
    class: "bd-wall",
    "stroke-width": wide,
    "data-wall": `${room.at} ${wall.name}`,
    onclick: put,
  });
}
