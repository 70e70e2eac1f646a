// One sonority as an entry of the list.

// Returns an element; text is only ever set as text.
function element(tag, properties = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, given] of Object.entries(properties)) {
    if (name in made) made[name] = given;
    else made.setAttribute(name, given);
  }
  made.append(...children.filter((child) => child !== null && child !== ""));
  return made;
}

const STAFF_SCALE = 1.1; // pixels of a unit; a staff space has ten units
const DIAGRAM_SCALE = 2.1;

// Sets ranges of dynamics with a dash that no line ends at.
function printed(words) {
  return words.replace(/\b([pmf]{1,4})-([pmf]{1,4})\b/g, "$1\u2060–\u2060$2");
}

// Draws a picture from the numbers of its elements, which were written when the page was made.
function picture(drawing, elements, className, scale, more) {
  const [width, height] = drawing.box.split(" ").slice(2).map((length) => length * scale);
  const frame = element("div", { className });
  frame.innerHTML =
    `<svg aria-hidden="true" viewBox="${drawing.box}" width="${width}" height="${height}"${more}>` +
    `${drawing.elements.map((number) => elements[number]).join("")}</svg>`;
  return frame;
}

function toneRow(sonority, index, met) {
  const tone = sonority.tones[index];
  const emphasised = sonority.emphasised === index + 1;
  const remarks = [tone.presence || "presence not known"];
  if (emphasised) remarks.unshift("emphasised");
  const note = met.get(index);
  const row = element(
    "tr",
    { className: [emphasised && "emphasised", note !== undefined && "met"].filter(Boolean).join(" ") },
    element("th", { scope: "row", textContent: index + 1 }),
    element("td", { textContent: tone.written }),
    element("td", { textContent: tone.concert }),
    element("td", { textContent: printed(remarks.join("; ")) }),
  );
  if (note !== undefined) {
    const name = note < 12 ? NOTE_NAMES[note] : noteName(note);
    row.lastChild.append(" ", element("em", { textContent: `meets ${name}` }));
  }
  return row;
}

function toneTable(sonority, met) {
  const heads = ["Tone", "Written", "Concert", "Presence"].map((textContent) =>
    element("th", { scope: "col", textContent }),
  );
  const rows = sonority.tones.map((_, index) => toneRow(sonority, index, met)).reverse();
  return element(
    "table",
    {},
    element("caption", { textContent: `Tones of ${sonority.name}, the highest first` }),
    element("thead", {}, element("tr", {}, ...heads)),
    element("tbody", {}, ...rows),
  );
}

function facts(sonority, wish) {
  const limits = sonority.limits.map((limit) => limit[wish.names]);
  const rows = [
    ["Speaks at", sonority.speaks ? sonority.speaks.words : "not known"],
    ["Fastest", limits.length ? limits.join("; ") : "not known"],
    ["Advice", sonority.advice],
    ["Evidence", sonority.evidenceWords],
    ["Source", sonority.source],
  ];
  const shown = rows.filter(([, words]) => words);
  return element(
    "dl",
    {},
    ...shown.map(([label, words]) =>
      element("div", {}, element("dt", { textContent: label }), element("dd", { textContent: printed(words) })),
    ),
  );
}

function entry({ sonority, met, unknown }, wish, data) {
  const font = ` font-family="${data.diagram.font}"`;
  const heading = element("h3", { textContent: sonority.name });
  const about = element("p", { className: "about" }, `${sonority.saxophone} saxophone`);
  if (sonority.id !== sonority.name) about.append(` · ${sonority.id}`);
  if (unknown.length) {
    about.append(element("span", { className: "unknown", textContent: `${unknown.join(" and ")} not known` }));
  }
  const fingering = picture(
    sonority.diagram,
    data.elements,
    "diagram",
    DIAGRAM_SCALE,
    `${font} stroke-width="${data.diagram.stroke}"`,
  );
  fingering.append(element("p", { textContent: sonority.fingering }));
  const staff = picture(sonority[wish.staff], data.elements, "staff", STAFF_SCALE, font);
  staff.append(element("p", { textContent: `${wish.staff} pitch` }));
  return element(
    "li",
    { className: "entry" },
    element(
      "article",
      {},
      element("header", {}, heading, about),
      staff,
      element("div", { className: "tones" }, toneTable(sonority, met)),
      fingering,
      facts(sonority, wish),
    ),
  );
}
