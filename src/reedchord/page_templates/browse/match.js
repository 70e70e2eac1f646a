// Which sonorities meet a wish, and in what order they stand.

// Returns null where a sonority is ruled out, else what is not known of it, and by the index of
// each tone the notes that it meets.
function meeting(sonority, wish, speed) {
  if (wish.saxophones.length && !wish.saxophones.includes(sonority.saxophone)) return null;
  if (wish.evidence.length && !wish.evidence.includes(sonority.evidence)) return null;
  if (!wordsOf(wish.text).every((word) => sonority.words.includes(word))) return null;
  const unknown = [];
  if (wish.dynamic) {
    if (!sonority.speaks) unknown.push("dynamics");
    else if (!sonority.speaks.marks.includes(wish.dynamic)) return null;
  }
  if (speed || wish.articulation) {
    const fast = isFastEnough(sonority, wish, speed);
    if (fast === null) unknown.push("speed");
    else if (!fast) return null;
  }
  if (wish.knownOnly && unknown.length) return null;
  const met = notesMet(sonority, wish);
  return met && { sonority, unknown, met };
}

// Returns whether one of the limits reaches a speed, null where none is known. Slurs are not
// articulated, so they count only where they are asked for.
function isFastEnough(sonority, wish, speed) {
  const ways = sonority.limits.filter((limit) =>
    wish.articulation ? limit.articulation === wish.articulation : limit.articulation !== "slur",
  );
  if (!ways.length) return null;
  return ways.some(
    (limit) =>
      limit.attacksPerSecond >= speed - 1e-9 &&
      (!wish.dynamic || !limit.dynamics || limit.dynamics.marks.includes(wish.dynamic)),
  );
}

function isHeard(tone, dynamic) {
  if (dynamic) return tone.presenceAt[dynamic] !== "absent";
  const presences = Object.values(tone.presenceAt);
  return !presences.length || presences.some((presence) => presence !== "absent");
}

function centsApart(tone, note, anyOctave) {
  const apart = tone.cents - 100 * note;
  return anyOctave ? Math.abs((((apart + 600) % 1200) + 1200) % 1200 - 600) : Math.abs(apart);
}

// Gives every note a tone of its own; null where that cannot be. The first way that is found
// is taken: which tone meets which note matters little beside whether all are met.
function notesMet(sonority, wish) {
  const notes = wish.anyOctave ? [...new Set(wish.notes.map((note) => note % 12))] : wish.notes;
  const noteOf = new Map();
  const near = notes.map((note) =>
    sonority.tones
      .map((tone, index) => ({ index, apart: centsApart(tone, note, wish.anyOctave), tone }))
      .filter(({ apart, tone }) => apart <= wish.within && isHeard(tone, wish.dynamic))
      .sort((one, other) => one.apart - other.apart)
      .map(({ index }) => index),
  );
  const settle = (number, tried) =>
    near[number].some((index) => {
      if (tried.has(index)) return false;
      tried.add(index);
      if (noteOf.has(index) && !settle(noteOf.get(index), tried)) return false;
      noteOf.set(index, number);
      return true;
    });
  if (!notes.every((_, number) => settle(number, new Set()))) return null;
  return new Map([...noteOf].map(([index, number]) => [index, notes[number]]));
}

function plain(text) {
  return text.normalize("NFD").replace(/\p{Mark}/gu, "").toLowerCase();
}

function wordsOf(text) {
  return plain(text).split(/\s+/).filter(Boolean);
}

function searchableWords(sonority) {
  const pitches = sonority.tones.map((tone) => `${tone.written} ${tone.concert}`);
  const { id, name, saxophone, fingering, evidence, source, advice } = sonority;
  return plain([id, name, saxophone, fingering, evidence, source, advice, ...pitches].join(" "))
    .replace(/\u00a0/g, " ");
}

const WEAKEST_FIRST = ["invented", "carried", "documented", "tried", "measured"];
const concertCents = (sonority) => sonority.tones.map((tone) => tone.cents);
const fastest = (sonority) =>
  Math.max(0, ...sonority.limits.map((limit) => limit.attacksPerSecond));

// Each order gives a number, lowest first; equals keep the order of the file.
const ORDERS = {
  file: { label: "as in the collection", key: () => 0 },
  nearest: {
    label: "nearest to the chosen pitches",
    key: ({ sonority, met }, wish) =>
      [...met].reduce(
        (sum, [index, note]) => sum + centsApart(sonority.tones[index], note, wish.anyOctave), 0,
      ),
  },
  lowest: { label: "lowest tone", key: ({ sonority }) => Math.min(...concertCents(sonority)) },
  highest: { label: "highest tone", key: ({ sonority }) => -Math.max(...concertCents(sonority)) },
  emphasised: {
    label: "emphasised tone, lowest first",
    key: ({ sonority }) =>
      sonority.emphasised ? sonority.tones[sonority.emphasised - 1].cents : Infinity,
  },
  fastest: { label: "fastest", key: ({ sonority }) => -fastest(sonority) },
  tones: { label: "fewest tones", key: ({ sonority }) => sonority.tones.length },
  evidence: {
    label: "strongest evidence",
    key: ({ sonority }) => -WEAKEST_FIRST.indexOf(sonority.evidence),
  },
};

function inOrder(meetings, wish) {
  if (wish.sort === "name") {
    const names = new Intl.Collator("en", { numeric: true });
    return [...meetings].sort((a, b) => names.compare(a.sonority.name, b.sonority.name));
  }
  const { key } = ORDERS[wish.sort] || ORDERS.file;
  return meetings
    .map((one) => ({ one, height: key(one, wish) }))
    .sort((a, b) => (a.height === b.height ? 0 : a.height - b.height))
    .map(({ one }) => one);
}
