"use strict";
// A wish is what the filters say. It is kept in the address after "#", so that a link holds it.

const NO_WISH = Object.freeze({
  text: "",
  saxophones: [],
  notes: [], // semitones on the keyboard, middle C is 60
  anyOctave: false,
  within: 50,
  dynamic: "",
  value: "",
  beat: "quarter",
  tempo: 0,
  articulation: "",
  evidence: [],
  knownOnly: false,
  sort: "file",
  staff: "written",
  names: "american",
});

function wishToAddress(wish) {
  const parameters = new URLSearchParams();
  for (const [field, nothing] of Object.entries(NO_WISH)) {
    const chosen = wish[field];
    if (Array.isArray(nothing) ? chosen.length : chosen !== nothing) {
      parameters.set(field, Array.isArray(chosen) ? chosen.join(",") : String(chosen));
    }
  }
  return parameters.toString();
}

function wishFromAddress(address) {
  const parameters = new URLSearchParams(address.replace(/^#/, ""));
  const wish = { ...NO_WISH };
  for (const [field, nothing] of Object.entries(NO_WISH)) {
    const text = parameters.get(field);
    if (text !== null) wish[field] = fieldFromText(text, nothing);
  }
  wish.notes = wish.notes.map(Number).filter((note) => Number.isInteger(note) && note >= 0);
  return wish;
}

function fieldFromText(text, nothing) {
  if (Array.isArray(nothing)) return text.split(",").filter(Boolean);
  if (typeof nothing === "boolean") return text === "true";
  if (typeof nothing === "number") return Number(text) > 0 ? Number(text) : nothing;
  return text;
}

// The speed that is asked for in attacks a second, 0 where none is.
function attacksPerSecond(wish, choices) {
  const value = choices.values.find((one) => one.name === wish.value);
  const beat = choices.beats.find((one) => one.name === wish.beat);
  return value && beat && wish.tempo ? ((wish.tempo / 60) * beat.quarters) / value.quarters : 0;
}

const NOTE_NAMES = ["C", "C♯", "D", "E♭", "E", "F", "F♯", "G", "A♭", "A", "B♭", "B"];

function noteName(note) {
  return `${NOTE_NAMES[note % 12]}${Math.floor(note / 12) - 1}`;
}

function noteWords(note) {
  return noteName(note).replace("♯", " sharp ").replace("♭", " flat ");
}

// What is asked for, in words: one phrase a filter.
function wishWords(wish, choices) {
  const words = [];
  if (wish.notes.length) {
    const names = wish.notes.map((note) => (wish.anyOctave ? NOTE_NAMES[note % 12] : noteName(note)));
    const where = wish.anyOctave ? " in any octave" : "";
    words.push(`concert ${[...new Set(names)].join(", ")}${where} within ${wish.within} cents`);
  }
  if (wish.text.trim()) words.push(`“${wish.text.trim()}”`);
  if (wish.saxophones.length) words.push(wish.saxophones.join(" or "));
  if (wish.dynamic) words.push(`speaks at ${wish.dynamic}`);
  if (attacksPerSecond(wish, choices)) {
    const value = choices.values.find((one) => one.name === wish.value);
    const beat = choices.beats.find((one) => one.name === wish.beat);
    words.push(`${value.plural[wish.names]} at ${beat[wish.names]} = ${wish.tempo}`);
  }
  if (wish.articulation) words.push(wish.articulation);
  if (wish.evidence.length) words.push(wish.evidence.join(" or "));
  if (wish.knownOnly) words.push("only what is known");
  return words.join("; ");
}
