// The page: what is chosen, shown, asked and kept. All figures and reasons come worked out with the facts.

const facts = JSON.parse(document.getElementById("facts").textContent);
const kept = new Kept(facts);
const at = id => document.getElementById(id);
const designer = facts.sent.who || "your designer";
let plans = [], courses = [];

const alternative = () => facts.alternatives.find(each => each.name === kept.alternative);
const named = name => facts.alternatives.find(each => each.name === name);
const here = () => alternative().rooms[kept.room];
const said = () => kept.said(kept.alternative, kept.room);

/** What an answer does by itself, as it was worked out; nothing where all stays. */
function effect(alternative, room, answer) {
  return under(alternative.rooms[room].ways, answer) || { moves: {}, cost: "as much as before", share: 1 };
}

/** A bar that is a part of its line, under its words. */
function bar(words, part) {
  const long = element("span", { className: "bar" });
  long.style.width = `${part * 100}%`;
  return [element("span", { className: "soft" }, words), long];
}

function alternativeChoice(each) {
  const input = element("input", { type: "radio", name: "alternative", checked: each.name === kept.alternative });
  input.addEventListener("change", () => {
    kept.alternative = each.name;
    kept.write();
    showAlternative();
  });
  const most = Math.max(...facts.alternatives.map(one => one.share));
  const costs = facts.alternatives.length > 1 ? bar(each.cost, each.share / most) : [];
  return element("label", { className: "choice" }, input, element("span", {}, each.title, ...costs));
}

function showAlternatives() {
  const many = facts.alternatives.length;
  at("choose-head").textContent = many > 1 ? `Which of ${many} ways do you want to look at?` : facts.alternatives[0].title;
  at("alternatives").hidden = many < 2;
  at("alternatives").replaceChildren(...facts.alternatives.map(alternativeChoice));
}

/** Both pictures of a chart, for a desk and for a phone. */
function bothWidths(wide, narrow) {
  return [element("div", { className: "wide" }, wide), element("div", { className: "narrow" }, narrow)];
}

function showAlternative() {
  const now = alternative();
  plans = now.maps.map(map => new Plan(map, now, facts.walk, room => pick(room, true)));
  at("map").replaceChildren(...bothWidths(...plans.map(each => each.whole)));
  at("plan-head").textContent = now.title;
  at("hint").textContent = `1 is the plainest, ${now.richest} the richest. Click or tap a room.`;
  at("course").textContent = `${now.course}.`;
  courses = now.steps.map(course => new Course(course, now));
  at("steps").replaceChildren(...bothWidths(...courses.map(each => each.whole)));
  showRoom();
}

function pick(room, fromPlan) {
  kept.room = room;
  kept.write();
  showRoom();
  if (fromPlan && matchMedia("(max-width: 700px)").matches) at("room").scrollIntoView();
}

function step(by) {
  const rooms = facts.walk, next = (rooms.indexOf(kept.room) + by + rooms.length) % rooms.length;
  pick(rooms[next]);
}

function showRoom() {
  const now = alternative(), room = facts.rooms.find(each => each.name === kept.room);
  at("rooms").value = kept.room;
  at("room-head").textContent = kept.room;
  at("rich").replaceChildren("How rich it is planned: ", dots(here().tier, now.richest), `. Level: ${room.level}.`);
  at("told").replaceChildren(...told());
  at("notes").replaceChildren(...notes(room));
  at("question").replaceChildren(question());
  at("wishes").replaceChildren(...wishes());
  at("remark").value = said()?.remark || "";
  showAnswer();
}

/** What the same person said of the room before, and what the designer replied. */
function told() {
  const before = under(alternative().said, kept.room);
  if (!before) return [];
  const words = [under(facts.words, before.answer), ...before.wishes].filter(Boolean).join(", ");
  const replies = before.replies.map(each => element("blockquote", {}, each));
  return [element("div", { className: "note" },
    element("p", {}, `You said before: ${words.toLowerCase() || "in your words"}.`),
    before.remark && element("blockquote", {}, before.remark),
    ...(replies.length ? [element("p", {}, `${facts.sent.who || "Your designer"} says:`), ...replies] : []))];
}

function notes(room) {
  if (!room.notes.length) return [];
  const each = note => [
    note.of && element("h3", {}, note.of),
    ...note.lines.map(line => element("p", {}, line)),
    ...note.pictures.map(place =>
      element("img", { src: address(facts.drawings[place]), alt: `Photograph of ${note.of || room.name}` })),
    note.more && element("p", { className: "soft" }, `Photographs that had no room in this page: ${note.more}.`),
  ].filter(Boolean);
  return [element("h3", {}, "What your designer notes"), ...room.notes.flatMap(each)];
}

function question() {
  const whole = element("fieldset", { className: "plain" }, element("legend", {}, "What would you have?"));
  for (const [answer, words] of Object.entries(facts.words)) {
    const why = here().ways[answer]?.why || "";
    const input = element("input", {
      type: "radio", name: "answer", value: answer, disabled: Boolean(why), checked: said()?.answer === answer,
    });
    input.addEventListener("change", () => {
      kept.say(kept.alternative, kept.room, { answer });
      showAnswer();
    });
    const reason = why ? element("span", { className: "soft" }, why) : "";
    whole.append(element("label", { className: "choice" }, input, element("span", {}, words, reason)));
  }
  return whole;
}

const wished = (wish, said) =>
  (said?.wishes || []).some(each => each.element === wish.element && each.wanted === wish.wanted);

/** Single wishes, where the designer offers any. */
function wishes() {
  const offered = here().wishes;
  if (!offered.length) return [];
  const whole = element("fieldset", { className: "plain" }, element("legend", {}, "Single wishes for this room"));
  for (const wish of offered) {
    const input = element("input", { type: "checkbox", disabled: Boolean(wish.why), checked: wished(wish, said()) });
    input.addEventListener("change", () => {
      const others = (said()?.wishes || []).filter(each => each.element !== wish.element);
      const own = input.checked ? [{ element: wish.element, wanted: wish.wanted }] : [];
      kept.say(kept.alternative, kept.room, { wishes: [...others, ...own] });
      showAnswer();
    });
    const does = wish.why || `By itself: ${wish.says || "nothing that shows"}. The trim of the whole house costs ${wish.cost}.`;
    whole.append(element("label", { className: "choice" }, input,
      element("span", {}, wish.words, element("span", { className: "soft" }, does))));
  }
  return [whole];
}

function drawn(one) {
  if (!one) return element("p", { className: "soft" }, "There was no room for this drawing in the page.");
  return drawing(facts.drawings[one.at], one);
}

/** The room as it is drawn with an answer, as it is planned where that changes nothing of it. */
function showPictures(answer) {
  const { door, walls } = here(), way = under(here().ways, answer);
  const seen = way?.door ? "with your answer" : "as planned";
  at("door").replaceChildren(drawn(way?.door || door), element("figcaption", {}, `As you see it from its door, ${seen}`));
  at("walls-head").textContent = `${kept.room}: its best wall`;
  at("sides").replaceChildren(...walls.filter(side => side.drawing || side.which === "planned").map(side => {
    const chosen = answer && under(facts.answer_of, side.which) === answer;
    const words = chosen ? [element("b", {}, "Your answer. "), side.says] : [side.says];
    return element("figure", { className: chosen ? "chosen" : "" }, drawn(side.drawing), element("figcaption", {}, ...words));
  }));
  showEveryWall(way);
}

/** All walls of the room on one sheet, when they are asked for. */
function showEveryWall(way) {
  const sheet = way?.all || here().all;
  at("every-wall").hidden = !sheet;
  at("every-wall-head").textContent = `All walls of this room with their measures, ${way?.all ? "with your answer" : "as planned"}`;
  at("all").setAttribute("aria-label", sheet ? sheet.alt : "");
  at("all").replaceChildren(...(sheet && at("every-wall").open ? [drawn(sheet)] : []));
}

/** What moves with an answer, in words. */
function movesInWords(moves) {
  const each = ([name, [before, after]]) => `${name} ${after > before ? "rises" : "falls"} from ${before} to ${after}`;
  const all = Object.entries(moves).map(each).join(", ");
  return all && `With your answer on ${kept.room}: ${all}.`;
}

/** What follows from what is said of the room that is picked. */
function showAnswer() {
  const answer = said()?.answer || "", { moves } = effect(alternative(), kept.room, answer);
  plans.forEach(each => each.show(kept.room, moves));
  courses.forEach(each => each.show(kept.room, moves));
  at("going").textContent = movesInWords(moves);
  showPictures(answer);
  at("effect").replaceChildren(...(answer ? consequences(answer) : []), walk(moves));
  showBack();
  showAnswers();
}

function showBack() {
  at("back").hidden = !said() || takesBack(said());
}

function consequences(answer) {
  const now = alternative(), { moves, cost, share } = effect(now, kept.room, answer);
  const then = said().wishes.length ? "Nothing changes but what your single wishes do." : "Nothing changes.";
  if (answer === "keep") return [element("h3", {}, "Kept as it is planned"), element("p", {}, then)];
  const change = ([name, [before, after]]) =>
    element("li", {}, `${name}: `, dots(before, now.richest), " becomes ", dots(after, now.richest));
  const others = Object.keys(moves).length - 1;
  const most = Math.max(share, 1);
  return [
    element("h3", {}, "What this answer does by itself"),
    element("ul", { id: "moves" }, ...Object.entries(moves).map(change)),
    element("p", {}, others ? "These rooms change together." : "No other room changes."),
    element("p", { id: "cost" }, `The trim of the whole house costs ${cost}.`),
    element("div", { ariaHidden: "true" }, ...bar("as planned", 1 / most), ...bar("with this answer", share / most)),
  ];
}

/** The walk from the front door to the room, how rich each room on it is, and is to become. */
function walk(moves) {
  const { tiers, richest } = alternative();
  const rows = here().walk.map(name => {
    const { tier: now } = alternative().rooms[name], [before, after] = under(moves, name) || [now, now];
    const cells = element("span", { className: "cells", ariaHidden: "true" });
    for (let tier = 1; tier <= richest; tier++) {
      const cell = element("i", {});
      if (tier <= after) cell.style.background = colour(tiers, after);
      if (tier > before && tier <= after) cell.className = "comes";
      if (tier <= before && tier > after) cell.className = "goes";
      cells.append(cell);
    }
    return element("li", {}, name, cells, before === after ? `${after} of ${richest}` : `${before} becomes ${after}`);
  });
  return element("div", {}, element("h3", {}, "On the way from the front door"),
    element("ol", { className: "walk" }, ...rows));
}

function answerLine(each) {
  const from = named(each.alternative), { moves, cost } = effect(from, each.room, each.answer);
  const others = Object.keys(moves).filter(name => name !== each.room);
  const change = others.length === 1 ? `${others[0]} changes with it` : `${others.join(", ")} change with it`;
  const does = ["more", "less"].includes(each.answer)
    ? ` By itself: the trim of the whole house costs ${cost}; ${others.length ? change : "no other room changes"}.` : "";
  const remark = each.remark.trim() ? element("blockquote", {}, each.remark) : "";
  const filed = kept.sent.includes(each.id) ? element("span", { className: "soft" }, " In a file already.") : "";
  const look = element("button", { type: "button", className: "controls" }, `Look at ${each.room}`);
  look.addEventListener("click", () => {
    kept.alternative = each.alternative;
    showAlternatives();
    showAlternative();
    pick(each.room);
    at("room").scrollIntoView();
    at("room-head").focus();
  });
  const asked = from.rooms[each.room].wishes.filter(wish => wished(wish, each)).map(wish => wish.words);
  const nothing = takesBack(each) ? "taken back" : "in your words";
  const words = [under(facts.words, each.answer), ...asked].filter(Boolean).join(", ") || nothing;
  return element("li", {}, element("b", {}, `${each.room}: ${words.toLowerCase()}.`), does, filed, " ", look, remark);
}

function showAnswers() {
  const shown = facts.alternatives.flatMap(each => {
    const those = kept.answers.filter(one => one.alternative === each.name);
    if (!those.length) return [];
    const several = those.filter(one => ["more", "less"].includes(one.answer) || one.wishes.length).length > 1;
    const note = several ? element("p", { className: "note" },
      "Each line says what that answer does by itself. Together they may do more or less than that; " +
      `${designer} looks at them together.`) : "";
    return [element("h3", {}, each.title), note, element("ul", {}, ...those.map(answerLine))].filter(Boolean);
  });
  at("said").replaceChildren(...(shown.length ? shown : [element("p", {}, "You have not said anything yet.")]));
  at("save").disabled = !kept.answers.length;
  at("copying").hidden = !kept.answers.length;
  at("where").textContent = kept.onDevice
    ? "Your answers are kept on this device until you send them; you may close the page and come back."
    : "This browser keeps nothing: save your answers before you close the page.";
}

function fileName() {
  const words = `answers ${facts.house} ${kept.name}`.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "");
  return `${words.slice(0, 100)}.json`;
}

function save() {
  const made = URL.createObjectURL(new Blob([kept.file()], { type: "application/json" }));
  const link = element("a", { href: made, download: fileName(), hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(made), 60000);
  const height = at("save").getBoundingClientRect().top;
  showAnswers();
  at("saved").textContent = `Saved as ${fileName()}. Send this file to ${designer}. If you answer more, save and send again.`;
  scrollBy(0, at("save").getBoundingClientRect().top - height); // what is told above it has grown longer
}

async function copy() {
  at("text").select();
  try {
    await navigator.clipboard.writeText(at("text").value);
    at("copied").textContent = `Copied. Paste it into a message to ${designer}.`;
  } catch {
    at("copied").textContent = "Select all of the text and copy it.";
  }
}

function begin(known = Boolean(kept.name.trim())) {
  at("ask").hidden = known;
  document.querySelector("main").hidden = !known;
  at("called").textContent = `You are ${kept.name}.`;
  if (!known) at("name").focus();
}

function listen() {
  at("ask").addEventListener("submit", event => {
    event.preventDefault();
    if (!at("name").value.trim()) return;
    kept.call(at("name").value.trim());
    showAnswer();
    begin();
    at("choose-head").focus();
  });
  at("rename").addEventListener("click", () => {
    at("name").value = kept.name;
    begin(false);
  });
  at("rooms").addEventListener("change", () => pick(at("rooms").value));
  at("before").addEventListener("click", () => step(-1));
  at("after").addEventListener("click", () => step(1));
  at("remark").addEventListener("input", () => {
    kept.say(kept.alternative, kept.room, { remark: at("remark").value });
    showBack();
    showAnswers();
  });
  at("take-back").addEventListener("click", () => {
    kept.takeBack(said());
    showRoom();
    at("room-head").focus();
  });
  at("save").addEventListener("click", save);
  at("copy").addEventListener("click", copy);
  at("every-wall").addEventListener("toggle", () => showEveryWall(under(here().ways, said()?.answer || "")));
  at("copying").addEventListener("toggle", () => {
    at("text").value = at("copying").open ? kept.file() : "";
  });
  addEventListener("storage", event => {
    if (event.key !== kept.place) return;
    kept.readAnswers();
    if (document.activeElement === at("remark")) showAnswers();
    else showRoom();
  });
  addEventListener("beforeunload", event => {
    if (!kept.onDevice && kept.waiting) event.preventDefault();
  });
}

function open() {
  at("house").textContent = facts.house;
  const ways = facts.alternatives.length > 1 ? `, shown ${facts.alternatives.length} ways` : "";
  at("from").textContent = `The trim of your house${ways}. From ${designer}, ${facts.day}.`;
  at("about").textContent = facts.about;
  at("rooms").append(...facts.walk.map(room => element("option", { value: room }, room)));
  at("name").value = facts.sent.to;
  showAlternatives();
  showAlternative();
  listen();
  begin();
}

open();
