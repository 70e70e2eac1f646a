"""Changes to one `<note>` that keep every byte of it that they do not concern."""

from __future__ import annotations

from reedchord.musicxml import markup
from reedchord.musicxml.child_order import insertion_index
from reedchord.musicxml.fragment import Node
from reedchord.musicxml.splice import Edit


def space_before(text: str, position: int) -> str:
    """Return the white space that ends at `position`, such as a line end and indentation."""
    start = position
    while start > 0 and text[start - 1] in " \t\r\n":
        start -= 1
    return text[start:position]


class NoteEditor:
    """Collects the changes to one note and hands them out as edits of its text."""

    def __init__(self, text: str, note: Node) -> None:
        self._text = text
        self._note = note
        self._children = list(note.children)
        first = note.children[0] if note.children else None
        self._gap = space_before(text, first.start) if first else ""
        self._replaced: list[tuple[Node, str]] = []
        self._removed: list[Node] = []
        self._added: list[tuple[int, str, str]] = []
        self._id: str | None = None
        self._untied: list[Node] = []
        self._openings: list[Edit] = []

    def replace_one_of(self, tags: tuple[str, ...], new: str) -> None:
        """Put `new` where the first child with one of these tags stands."""
        child = next(child for child in self._children if child.tag in tags)
        self._replaced.append((child, new))

    def replace_start_of(self, tag: str, *, without: str) -> None:
        """Take an attribute out of the start tag of the first child of this name."""
        child = next(child for child in self._children if child.tag == tag)
        if child.get(without) is None:
            return
        attributes = {n.replace("-", "_"): a for n, a in child.attributes.items() if n != without}
        new = markup.element(tag, **attributes)
        if not child.self_closing:
            new = f"{new.removesuffix('/>')}>"
        self._openings.append(Edit(child.start, child.open_end, new))

    def remove(self, *tags: str) -> None:
        """Take out every child with one of these tags."""
        self._removed += [child for child in self._children if child.tag in tags]
        self._children = [child for child in self._children if child.tag not in tags]

    def add(self, tag: str, new: str) -> None:
        """Add a child at the place that the schema gives it, after those already added."""
        kept = self._children
        index = insertion_index("note", tag, [child.tag for child in kept])
        point = kept[index - 1].end if index else self._note.open_end
        self._added.append((point, tag, self._gap + new))

    def remove_ties(self) -> None:
        """Take out the note's ties, and its notations where they hold nothing else."""
        self.remove("tie")
        for notations in [child for child in self._children if child.tag == "notations"]:
            tied = notations.find_all("tied")
            if len(tied) == len(notations.children):
                self._removed.append(notations)
                self._children.remove(notations)
            else:
                self._removed += tied
                self._untied.append(notations)

    def ensure_tie(self, way: str) -> None:
        """See that the note has a `<tie>` and a `<tied>` of this type."""
        ties = [child for child in self._children if child.tag == "tie"]
        if all(tie.get("type") != way for tie in ties):
            self.add("tie", markup.element("tie", type=way))
        tied = [
            node.get("type")
            for notations in self._children
            if notations.tag == "notations" and notations not in self._untied
            for node in notations.find_all("tied")
        ]
        if way not in tied:
            self._add_notation("tied", markup.element("tied", type=way))

    def add_fingering(self, text: str) -> None:
        """Add a fingering to the note's technical marks."""
        new = markup.fingering(text)
        notations = next((c for c in self._children if c.tag == "notations"), None)
        technical = notations.find("technical") if notations else None
        if technical is None or technical.self_closing:
            self._add_notation("technical", markup.element("technical", new))
        else:
            self._added.append((technical.close_start, "technical", new))

    def add_notation(self, new: str) -> None:
        """Add a notation, such as a slur or an articulation, to those that the note has."""
        self._add_notation("technical", new)

    def _add_notation(self, tag: str, new: str) -> None:
        notations = next(
            (c for c in self._children if c.tag == "notations" and not c.self_closing), None
        )
        if notations is not None:
            self._added.append((notations.close_start, tag, new))
            return
        waiting = [i for i, (_, added, _) in enumerate(self._added) if added == "notations"]
        if waiting:
            point, added, text = self._added[waiting[0]]
            inside = text.removesuffix("</notations>")
            self._added[waiting[0]] = (point, added, f"{inside}{new}</notations>")
        else:
            self.add("notations", markup.element("notations", new))

    def set_id(self, note_id: str) -> None:
        """Give the note an id; one that it has already is kept."""
        if self._note.get("id") is None:
            self._id = note_id

    def edits(self) -> list[Edit]:
        """Return the changes as edits of the text that the note was read from."""
        edits = [Edit(node.start, node.end, new) for node, new in self._replaced]
        edits += self._openings
        edits += [
            Edit(node.start - len(space_before(self._text, node.start)), node.end, "")
            for node in self._removed
        ]
        if self._id:
            end_of_tag = self._note.open_end - 1
            edits.append(Edit(end_of_tag, end_of_tag, f' id="{self._id}"'))
        order = {tag: index for index, tag in enumerate(_ADDED_ORDER)}
        for point, _, new in sorted(self._added, key=lambda added: order[added[1]]):
            edits.append(Edit(point, point, new))
        return edits


_ADDED_ORDER = (
    "tie",
    "footnote",
    "type",
    "dot",
    "accidental",
    "time-modification",
    "notehead",
    "tied",
    "technical",
    "notations",
    "lyric",
)
"""What may be added, in the schema's order: several additions may share one point."""
