// The page: a wish from the form, the sonorities that meet it, and only as many of them drawn
// as are looked at.

const AT_ONCE = 30;

class BrowsePage {
  constructor(data) {
    this.data = data;
    this.form = document.getElementById("wish");
    this.list = document.getElementById("list");
    this.moreButton = document.getElementById("show-more");
    this.meetings = [];
    for (const sonority of data.sonorities) sonority.words = searchableWords(sonority);
    fillForm(this.form, data.choices);
    const heights = data.sonorities.flatMap(concertCents);
    this.keyboard = new Keyboard(
      document.getElementById("keyboard"),
      Math.floor(Math.min(...heightsOfEnds(heights)) / 100),
      Math.ceil(Math.max(...heightsOfEnds(heights)) / 100),
      (note) => this.toggle(note),
    );
    if (matchMedia("(max-width: 64rem)").matches) document.getElementById("more").open = false;
    this.listen();
    this.takeAddress();
  }

  listen() {
    this.form.addEventListener("submit", (event) => event.preventDefault());
    this.form.addEventListener("input", () => this.wishAnew());
    this.form.addEventListener("reset", (event) => {
      event.preventDefault();
      this.take({ ...NO_WISH });
      this.writeAddress();
    });
    document.getElementById("chosen").addEventListener("click", (event) => {
      const button = event.target.closest("button");
      if (button) this.toggle(Number(button.dataset.note));
    });
    // The address holds the wish, so the link to the results must not go there.
    document.querySelector(".skip").addEventListener("click", (event) => {
      event.preventDefault();
      document.getElementById("results").focus();
    });
    document.getElementById("print").addEventListener("click", () => window.print());
    this.moreButton.addEventListener("click", () => this.showMore(true));
    window.addEventListener("hashchange", () => this.takeAddress());
    window.addEventListener("beforeprint", () => this.showAll());
    new IntersectionObserver(
      (seen) => seen.some((one) => one.isIntersecting) && this.showMore(false),
      { rootMargin: "800px" },
    ).observe(this.moreButton);
  }

  takeAddress() {
    this.take(wishFromAddress(location.hash));
    if (this.wish.notes.length) this.keyboard.reveal(this.wish.notes[0]);
    else this.keyboard.reveal(65);
  }

  take(wish) {
    this.notes = wish.notes;
    setForm(this.form, wish);
    this.look();
  }

  wishAnew() {
    this.look();
    this.writeAddress();
  }

  writeAddress() {
    history.replaceState(null, "", `#${wishToAddress(this.wish)}`);
  }

  toggle(note) {
    const same = (other) =>
      this.form.elements.anyOctave.checked ? other % 12 === note % 12 : other === note;
    const rest = this.notes.filter((other) => !same(other));
    this.notes = rest.length < this.notes.length ? rest : [...rest, note].sort((a, b) => a - b);
    this.wishAnew();
  }

  look() {
    this.wish = wishOfForm(this.form, this.notes);
    const speed = attacksPerSecond(this.wish, this.data.choices);
    const met = this.data.sonorities.map((one) => meeting(one, this.wish, speed)).filter(Boolean);
    this.meetings = inOrder(met, this.wish);
    nameValues(this.form, this.data.choices, this.wish.names);
    this.keyboard.show(this.notes, this.wish.anyOctave);
    this.showChosen();
    this.tell();
    this.list.replaceChildren();
    this.showMore(false);
  }

  showChosen() {
    const named = this.wish.anyOctave ? [...new Set(this.notes.map((note) => note % 12))] : this.notes;
    const chips = named.map((note) => {
      const textContent = this.wish.anyOctave ? NOTE_NAMES[note] : noteName(note);
      const label = this.wish.anyOctave ? NOTE_NAMES[note] : noteWords(note);
      return element("button", { type: "button", textContent, "data-note": note, "aria-label": `Take ${label} out` });
    });
    const none = "Choose on the keyboard what shall sound.";
    document.getElementById("chosen").replaceChildren(...(chips.length ? chips : [none]));
  }

  tell() {
    const all = this.data.sonorities.length;
    const found = this.meetings.length;
    const unknown = this.meetings.filter((one) => one.unknown.length).length;
    const count = found === all ? counted(all) : `${found} of ${counted(all)}`;
    const guess = unknown ? `; of ${unknown} not all is known` : "";
    document.getElementById("count").textContent = found ? count + guess : `None of ${counted(all)}`;
    const words = wishWords(this.wish, this.data.choices);
    const advice = this.notes.length ? ". Ask for less, or allow more cents." : ". Ask for less.";
    document.getElementById("wish-words").textContent = found ? words : words + advice;
  }

  showMore(moveFocus) {
    const shown = this.list.childElementCount;
    this.append(this.meetings.slice(shown, shown + AT_ONCE));
    if (moveFocus && this.list.children[shown]) {
      this.list.children[shown].tabIndex = -1;
      this.list.children[shown].focus();
    }
  }

  showAll() {
    this.append(this.meetings.slice(this.list.childElementCount));
  }

  append(meetings) {
    this.list.append(...meetings.map((one) => entry(one, this.wish, this.data)));
    const left = this.meetings.length - this.list.childElementCount;
    this.moreButton.hidden = left === 0;
    this.moreButton.textContent = `Show more: ${left} left`;
  }
}

function counted(number) {
  return number === 1 ? "1 sonority" : `${number.toLocaleString("en")} sonorities`;
}

// Ends of the keyboard: what sounds, but at least the octaves around middle C.
function heightsOfEnds(heights) {
  return heights.reduce(([low, high], cents) => [Math.min(low, cents), Math.max(high, cents)], [4800, 8300]);
}

window.browsePage = new BrowsePage(JSON.parse(document.getElementById("data").textContent));
