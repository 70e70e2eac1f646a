// A piano keyboard as buttons: one stop for the tab key, arrow keys move, space chooses.

const BLACK = new Set([1, 3, 6, 8, 10]);

class Keyboard {
  constructor(frame, lowest, highest, onChange) {
    this.frame = frame;
    this.lowest = lowest - (lowest % 12);
    this.highest = highest + 11 - (highest % 12);
    this.onChange = onChange;
    this.buttons = new Map();
    for (let note = this.lowest; note <= this.highest; note += 1) {
      const button = this.button(note);
      this.buttons.set(note, button);
      frame.append(button);
    }
    this.setFocusStop(Math.min(Math.max(60, this.lowest), this.highest));
    frame.addEventListener("keydown", (event) => this.move(event));
    frame.addEventListener("click", (event) => {
      const note = this.noteOf(event.target.closest("button"));
      if (note !== undefined) this.onChange(note);
    });
  }

  button(note) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = BLACK.has(note % 12) ? "black" : "white";
    button.dataset.note = note;
    button.setAttribute("aria-label", noteWords(note));
    button.setAttribute("aria-pressed", "false");
    button.tabIndex = -1;
    if (note % 12 === 0) button.append(Object.assign(document.createElement("span"), {
      textContent: noteName(note),
    }));
    return button;
  }

  noteOf(button) {
    return button ? Number(button.dataset.note) : undefined;
  }

  setFocusStop(note) {
    if (this.stop !== undefined) this.buttons.get(this.stop).tabIndex = -1;
    this.stop = note;
    this.buttons.get(note).tabIndex = 0;
  }

  move(event) {
    const note = this.noteOf(event.target.closest("button"));
    const steps = {
      ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 12, PageDown: -12,
      Home: this.lowest - note, End: this.highest - note,
    };
    if (!(event.key in steps)) return;
    event.preventDefault();
    const wanted = Math.min(Math.max(note + steps[event.key], this.lowest), this.highest);
    this.setFocusStop(wanted);
    this.buttons.get(wanted).focus();
  }

  show(notes, anyOctave) {
    const classes = new Set(notes.map((note) => note % 12));
    for (const [note, button] of this.buttons) {
      const pressed = anyOctave ? classes.has(note % 12) : notes.includes(note);
      button.setAttribute("aria-pressed", String(pressed));
    }
  }

  reveal(note) {
    const button = this.buttons.get(note);
    const frame = this.frame.parentElement;
    if (button) frame.scrollLeft = button.offsetLeft - frame.clientWidth / 2;
  }
}
