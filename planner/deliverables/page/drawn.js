// Elements and pictures. Words are set as text and never as markup.

const SVG = "http://www.w3.org/2000/svg";

/** What an object says under a name, whatever names objects are born with. */
function under(object, name) {
  return Object.hasOwn(object, name) ? object[name] : undefined;
}

function element(tag, values, ...inner) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(values || {})) {
    if (name in made) made[name] = value;
    else made.setAttribute(name, value);
  }
  made.append(...inner.filter(each => each !== null && each !== ""));
  return made;
}

function shape(tag, values, ...inner) {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(values)) made.setAttribute(name, value);
  made.append(...inner);
  return made;
}

function address(drawing) {
  return drawing.startsWith("data:") ? drawing : `data:image/svg+xml,${encodeURIComponent(drawing)}`;
}

const unpacked = new Map();

/** The address of a drawing, out of the packed form in which the page holds it; kept, for it is asked for again. */
function unpack(packed) {
  const text = async () => {
    const bytes = Uint8Array.from(atob(packed), each => each.charCodeAt(0));
    return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).text();
  };
  if (!unpacked.has(packed)) unpacked.set(packed, text().then(address));
  return unpacked.get(packed);
}

/** A drawing, as soon as it is unpacked. */
function drawing(packed, { alt, width, height }) {
  const image = element("img", { alt, width, height });
  unpack(packed).then(found => { image.src = found; }, () =>
    image.replaceWith(element("p", { className: "soft" }, "This browser is too old to show the drawing.")));
  return image;
}

/** A chart on light paper or on dark, as the device is set; always light when printed. */
function chart(drawn, alt) {
  const night = element("source", { media: "screen and (prefers-color-scheme: dark)", srcset: address(drawn.dark) });
  const day = element("img", { src: address(drawn.light), width: drawn.width, height: drawn.height, alt });
  return element("picture", {}, night, day);
}

function dots(tier, most) {
  return element("span", { className: "dots" },
    element("span", { ariaHidden: "true" }, "●".repeat(tier) + "○".repeat(most - tier)), ` ${tier} of ${most}`);
}

function colour(tiers, tier, on = "t") {
  return `var(--${on}${tiers}-${tier})`;
}

/** The floor plan: a picture, and over it what is clicked; rooms that move are drawn as they become. */
class Plan {
  constructor(map, alternative, rooms, pick) {
    this.map = map;
    this.alternative = alternative;
    this.shapes = new Map();
    this.moved = shape("g", {});
    const clicked = shape("g", {
      role: "group", "aria-label": "Rooms on the plan. Arrow keys go from room to room, Enter chooses.",
    });
    for (const room of rooms.filter(each => under(map.outlines, each))) {
      const { tier } = alternative.rooms[room];
      const one = shape("polygon", {
        class: "room", points: map.outlines[room], role: "button", tabindex: -1,
        "aria-label": `${room}, ${tier} of ${alternative.richest}`, "aria-pressed": false,
      });
      one.addEventListener("click", () => pick(room));
      one.addEventListener("keydown", event => this.key(event, room, pick));
      this.shapes.set(room, one);
      clicked.append(one);
    }
    const over = shape("svg", { viewBox: `0 0 ${map.width} ${map.height}` }, this.moved, clicked);
    this.whole = element("div", { className: "chart" }, chart(map, "The floor plan, how rich each room is"), over);
  }

  key(event, room, pick) {
    const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    if (event.key === "Enter" || event.key === " ") pick(room);
    else if (ways[event.key]) this.turn(this.beyond(room, ways[event.key]));
    else return;
    event.preventDefault();
  }

  turn(room) {
    if (!this.shapes.has(room)) return;
    for (const [name, one] of this.shapes) one.setAttribute("tabindex", name === room ? 0 : -1);
    this.shapes.get(room).focus();
  }

  /** The room that lies nearest in a direction; the same where there is none. */
  beyond(room, [right, down]) {
    const middle = one => {
      const box = one.getBBox();
      return [box.x + box.width / 2, box.y + box.height / 2];
    };
    const [x, y] = middle(this.shapes.get(room));
    let nearest = room, least = Infinity;
    for (const [name, one] of this.shapes) {
      const [u, v] = middle(one), along = (u - x) * right + (v - y) * down;
      const off = Math.abs((u - x) * down) + Math.abs((v - y) * right);
      if (along > 1 && along + 2 * off < least) [nearest, least] = [name, along + 2 * off];
    }
    return nearest;
  }

  show(picked, moves) {
    for (const [name, one] of this.shapes) {
      one.classList.toggle("picked", name === picked);
      one.setAttribute("aria-pressed", name === picked);
      one.setAttribute("tabindex", name === picked ? 0 : -1);
    }
    if (!this.shapes.has(picked) && this.shapes.size) [...this.shapes.values()][0].setAttribute("tabindex", 0);
    this.raise(this.shapes.get(picked));
    this.moved.replaceChildren(...Object.entries(moves).flatMap(([name, [, tier]]) => this.becoming(name, tier)));
  }

  /** Draw a room's outline over those of the others; it keeps the focus if it has it. */
  raise(one) {
    if (!one || one === one.parentNode.lastChild) return;
    const focused = one === document.activeElement;
    one.parentNode.append(one);
    if (focused) one.focus();
  }

  /** A room with another tier, over the one that it has. */
  becoming(room, tier) {
    const points = under(this.map.outlines, room);
    if (!points) return [];
    const floor = shape("polygon", { class: "moved", points });
    floor.style.fill = colour(this.alternative.tiers, tier);
    const label = under(this.map.labels, room)?.[tier];
    const lines = (label?.lines || []).map(({ text, y }) => {
      const line = shape("text", { class: "label", x: label.x, y, "font-size": label.size, "font-weight": 600 }, text);
      line.style.fill = colour(this.alternative.tiers, tier, "on");
      return line;
    });
    return [floor, ...lines];
  }
}

/** The step-down: a picture, and over it the room that is picked and where rooms go that an answer moves. */
class Course {
  constructor(course, alternative) {
    this.course = course;
    this.tiers = alternative.tiers;
    this.over = shape("svg", { viewBox: `0 0 ${course.width} ${course.height}`, "aria-hidden": true });
    const alt = `How rich the rooms are, by steps from the front door. ${alternative.course}`;
    this.whole = element("figure", {},
      element("div", { className: "chart" }, chart(course, alt), this.over), element("figcaption", {}, course.reading));
  }

  show(picked, moves) {
    const frame = room => {
      const box = under(this.course.boxes, room);
      if (!box) return [];
      const [x, y, right, bottom] = box;
      return [shape("rect", { class: "frame", x, y, width: right - x, height: bottom - y })];
    };
    const going = Object.entries(moves).flatMap(([name, [, tier]]) => this.going(name, tier));
    this.over.replaceChildren(...frame(picked), ...going);
  }

  /** An arrow from where a room stands to the row of the tier that it goes to. */
  going(room, tier) {
    const box = under(this.course.boxes, room), to = under(this.course.rows, tier);
    if (!box || to === undefined) return [];
    const [, top, right, bottom] = box, x = right + 4, from = (top + bottom) / 2;
    const end = to + Math.sign(from - to) * 8;
    const disc = shape("circle", { class: "goes", cx: x, cy: to, r: 6 });
    disc.style.fill = colour(this.tiers, tier);
    return [shape("path", { class: "goes", d: `M${right},${from}H${x}V${end}` }), disc];
  }
}
