// The form: its choices, and the wish as it stands in it.

function option(value, textContent) {
  return element("option", { value, textContent });
}

function tick(name, value) {
  const box = element("input", { type: "checkbox", name, value });
  return element("label", { className: "tick" }, box, ` ${value}`);
}

function fillForm(form, choices) {
  const { dynamic, value, beat, articulation, sort } = form.elements;
  form.querySelector("#saxophones").append(...choices.saxophones.map((name) => tick("saxophones", name)));
  form.querySelector("#evidence").append(...choices.evidence.map((kind) => tick("evidence", kind)));
  dynamic.append(option("", "any dynamic"), ...choices.dynamics.map((mark) => option(mark, mark)));
  value.append(option("", "any speed"), ...choices.values.map(({ name }) => option(name, name)));
  beat.append(...choices.beats.map(({ name }) => option(name, name)));
  articulation.append(
    option("", "however articulated"),
    ...choices.articulations.map((way) => option(way, way)),
  );
  sort.append(
    ...Object.entries(ORDERS).map(([name, { label }]) => option(name, label)),
    option("name", "name"),
  );
}

// Names note values as the reader does.
function nameValues(form, choices, names) {
  for (const [select, list] of [[form.elements.value, choices.values], [form.elements.beat, choices.beats]]) {
    for (const shown of select.options) {
      const value = list.find((one) => one.name === shown.value);
      if (value) shown.textContent = value[names];
    }
  }
}

function ticked(form, name) {
  return [...form.querySelectorAll(`input[name="${name}"]:checked`)].map((box) => box.value);
}

function wishOfForm(form, notes) {
  const chosen = form.elements;
  return {
    text: chosen.text.value,
    saxophones: ticked(form, "saxophones"),
    notes,
    anyOctave: chosen.anyOctave.checked,
    within: Number(chosen.within.value) > 0 ? Number(chosen.within.value) : NO_WISH.within,
    dynamic: chosen.dynamic.value,
    value: chosen.value.value,
    beat: chosen.beat.value,
    tempo: Math.max(0, Number(chosen.tempo.value)),
    articulation: chosen.articulation.value,
    evidence: ticked(form, "evidence"),
    knownOnly: chosen.knownOnly.checked,
    sort: chosen.sort.value,
    staff: chosen.staff.value,
    names: chosen.names.value,
  };
}

function setForm(form, wish) {
  const set = form.elements;
  for (const name of ["text", "dynamic", "value", "beat", "articulation", "sort", "staff", "names"]) {
    set[name].value = wish[name];
    if (set[name].selectedIndex === -1) set[name].value = NO_WISH[name];
  }
  set.within.value = wish.within;
  set.tempo.value = wish.tempo || "";
  set.anyOctave.checked = wish.anyOctave;
  set.knownOnly.checked = wish.knownOnly;
  for (const name of ["saxophones", "evidence"]) {
    for (const box of form.querySelectorAll(`input[name="${name}"]`)) {
      box.checked = wish[name].includes(box.value);
    }
  }
}
