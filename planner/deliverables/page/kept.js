// What the client has said: kept in memory and, where the browser allows it, on the device, so that a page that is
// loaded again has it all.

/** Text that is text: halves of characters are replaced. */
function wellFormed(text) {
  return new TextDecoder().decode(new TextEncoder().encode(text));
}

function newId() {
  return hex(crypto.getRandomValues(new Uint8Array(16)));
}

/** Whether an answer says nothing, and so takes back what was said of the room before. */
function takesBack(said) {
  return !(said.answer || said.remark.trim() || said.wishes.length);
}

/** What an answer is about, as one text. */
function about(said) {
  return JSON.stringify([said.alternative, said.room]);
}

class Kept {
  constructor(facts) {
    this.facts = facts;
    this.place = `answers to ${facts.sent.id}`;
    this.onDevice = true;
    this.name = this.room = this.alternative = "";
    this.answers = [];
    this.sent = [];
    this.filed = [];
    this.read();
  }

  /** What is on the device; nothing where the browser keeps nothing. */
  onTheDevice() {
    try {
      return JSON.parse(localStorage.getItem(this.place)) || {};
    } catch {
      this.onDevice = false;
      return {};
    }
  }

  /** Where the client was, and what was said; what is not of this page is passed over. */
  read() {
    const found = this.onTheDevice();
    this.name = String(found.name || "");
    this.alternative = this.isShown(found.alternative) ? found.alternative : this.facts.alternatives[0].name;
    this.room = this.facts.walk.includes(found.room) ? found.room : this.facts.walk[0];
    this.readAnswers();
  }

  /** What was said, in another window too. */
  readAnswers() {
    const { answers, sent, filed } = this.onTheDevice();
    const isAnswer = said => said && this.isShown(said.alternative) && this.facts.walk.includes(said.room) &&
      [said.id, said.time, said.answer, said.remark].every(each => typeof each === "string") &&
      Array.isArray(said.wishes) && said.wishes.every(each => each && typeof each.element === "string");
    this.answers = Array.isArray(answers) ? answers.filter(isAnswer) : [];
    this.sent = Array.isArray(sent) ? sent : [];
    this.filed = Array.isArray(filed) ? filed : [];
  }

  isShown(alternative) {
    return this.facts.alternatives.some(each => each.name === alternative);
  }

  write() {
    const { name, alternative, room, answers, sent, filed } = this;
    try {
      localStorage.setItem(this.place, JSON.stringify({ name, alternative, room, answers, sent, filed }));
      this.onDevice = true;
    } catch {
      this.onDevice = false;
    }
  }

  /** Whether something was said that is in no file yet. */
  get waiting() {
    return this.answers.some(said => !this.sent.includes(said.id));
  }

  said(alternative, room) {
    return this.answers.find(each => each.alternative === alternative && each.room === room);
  }

  /** Take a name. Under another one everything is said anew, and is in no file yet. */
  call(name) {
    if (name !== this.name) {
      this.answers = this.answers.filter(said => !takesBack(said)).map(said => ({ ...said, id: newId() }));
      this.filed = [];
    }
    this.name = name;
    this.write();
  }

  /** Say something of a room; what is in a file already stays as it was said, and this comes beside it. Nothing at all is
   * said only where a file says otherwise: it takes that back. */
  say(alternative, room, change) {
    const before = this.said(alternative, room);
    const { fingerprint } = this.facts.alternatives.find(each => each.name === alternative);
    const blank = { answer: "", remark: "", wishes: [] };
    const id = before && !this.sent.includes(before.id) ? before.id : newId();
    const time = new Date().toISOString();
    const now = { ...blank, ...before, ...change, id, time, alternative, fingerprint, room };
    this.answers = this.answers.filter(each => each !== before);
    if (!takesBack(now) || this.filed.includes(about(now))) this.answers.push(now);
    this.write();
  }

  takeBack({ alternative, room }) {
    this.say(alternative, room, { answer: "", remark: "", wishes: [] });
  }

  /** The answer file, as it is read by whoever sent the page. */
  file() {
    const answers = this.answers.map(said => ({ ...said, remark: wellFormed(said.remark) }));
    const { id: sent, house, secret } = this.facts.sent;
    this.sent = [...new Set([...this.sent, ...answers.map(said => said.id)])];
    this.filed = [...new Set([...this.filed, ...answers.map(about)])];
    this.write();
    const content = { format: 1, house, sent, id: newId(), who: wellFormed(this.name), answers };
    return JSON.stringify(sealed(content, secret), null, 1);
  }
}
