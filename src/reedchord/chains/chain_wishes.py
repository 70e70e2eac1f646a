"""Read a row of wishes; every mistake is reported with its line and field."""

from __future__ import annotations

import os
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from reedchord.chains.chain_file import (
    FORMAT,
    VERSION,
    PlayerRecord,
    WishesFile,
    WishFields,
    WishRecord,
)
from reedchord.choosing.chain_request import ChainRequest, Player, RowWish
from reedchord.choosing.search_text import WishText, wish_from_text
from reedchord.choosing.search_wish import Wish
from reedchord.data_text import DataText, field_text
from reedchord.errors import (
    InputError,
    ReedchordError,
    RequestError,
    Where,
    did_you_mean,
    raise_all,
    singles,
)
from reedchord.lasting import parse_length
from reedchord.note_lengths import length_seconds, once_in, parse_tempo
from reedchord.own_file import own_record, parse_own_text, read_own_file
from reedchord.rhythm import Rate

_SOUNDING = ("concert", "written", "emphasised", "interval", "highest", "lowest", "tones")
_TYPED = (
    *_SOUNDING,
    *("pitch_class", "within", "at", "speed", "articulation", "evidence", "avoid", "avoid_within"),
)
"""Fields that are wishes of a search, by the same names."""
NOUN = "a file of wishes"
DEFAULT_TEMPO = "60"
DEFAULT_LENGTH = "whole"
_OPTIONS = {
    "each.lasts": "--each",
    "each.tempo": "--tempo",
    "each.at": "--at",
    "players": "--saxophone",
    "wishes": "--concert",
}


@dataclass(frozen=True)
class Wishes:
    """A row of wishes that was read, and the collection that its file names."""

    request: ChainRequest
    collection: Path | None


def read_wishes(path: str | os.PathLike[str]) -> Wishes:
    """Read a file of wishes; raises InputError or SeveralErrors with file, line and field."""
    file = read_own_file(WishesFile, path, NOUN)
    wishes = _wishes(file.record, file.fields, file.path)
    if wishes.collection is None:
        return wishes
    return replace(wishes, collection=Path(path).parent / wishes.collection)


def parse_wishes(text: str, name: str = "wishes.yaml") -> Wishes:
    """Read wishes from text; `name` stands in messages, and .json at its end counts."""
    file = parse_own_text(WishesFile, text, name, NOUN)
    return _wishes(file.record, file.fields, name)


def wishes_from_text(
    concert: str,
    *,
    lasts: str | None = None,
    tempo: str | None = None,
    at: str | None = None,
    saxophones: Sequence[str] = (),
) -> Wishes:
    """Return a row of harmonies in concert pitch, `F4 C5; G4 D5`, all of one length.

    Raises InputError or SeveralErrors that name the option.
    """
    each = {"lasts": lasts, "tempo": tempo, "at": at}
    data = {
        "reedchord": FORMAT,
        "version": VERSION,
        "players": list(saxophones),
        "each": {name: said for name, said in each.items() if said is not None},
        "wishes": [{"concert": harmony} for harmony in _harmonies(concert)],
    }
    document = DataText(data)
    try:
        return _wishes(own_record(WishesFile, document), document, None)
    except ReedchordError as error:
        for one in singles(error):
            one.where = Where(field=_option(one.where.field or ""))
        raise_all(list({str(one): one for one in singles(error)}.values()))
        raise


def _harmonies(concert: str) -> list[str]:
    """Return the harmonies of a row; a semicolon may stand behind the last one, too."""
    every = [harmony.strip() for harmony in concert.split(";")]
    if len(every) > 1 and not every[-1]:
        every.pop()
    if not all(every):
        raise InputError(
            "chain.no-harmony",
            f"harmony {every.index('') + 1} is empty",
            hint="Write pitches, harmonies separated by a semicolon: F4 C5; G4 D5.",
            where=Where(field="--concert"),
        )
    return every


def _option(field: str) -> str:
    """Return the option that fills a field of the file, where there is none."""
    return next((option for name, option in _OPTIONS.items() if field.startswith(name)), field)


def _wishes(file: WishesFile, document: DataText, name: str | None) -> Wishes:
    """Return the wishes of a record; raises every mistake together."""
    reading = _Reading(file, document, name)
    request = reading.request()
    raise_all(reading.errors)
    return Wishes(request, Path(file.collection) if file.collection else None)


class _Reading:
    """Turns a file's records into a request, and keeps the mistakes to report them together."""

    def __init__(self, file: WishesFile, document: DataText, name: str | None) -> None:
        self._file = file
        self._document = document
        self._name = name
        self.errors: list[ReedchordError] = []

    def request(self) -> ChainRequest:
        """Return the request; it is whole where there are no errors."""
        players = self._players(self._file.players)
        forbidden = tuple(
            (name, self._where(("forbidden", index)))
            for index, name in enumerate(self._file.forbidden)
        )
        return ChainRequest(tuple(self._wishes(players)), players, forbidden)

    def _where(self, path: tuple[str | int, ...]) -> Where:
        return self._document.where(path, self._name)._replace(field=field_text(path))

    def _players(self, records: Sequence[PlayerRecord]) -> tuple[Player, ...]:
        """Return the players; those without a name get one, numbered where several share it."""
        plain = [record.name or record.part or record.saxophone.name for record in records]
        counts, seen, players = Counter(plain), Counter[str](), []
        for index, (record, name) in enumerate(zip(records, plain, strict=True)):
            seen[name] += 1
            if record.name and counts[name] > 1:
                words = f"two players are called {name}"
                where = self._where(("players", index))
                self.errors.append(InputError("wishes.player", words, where=where))
            own = f"{name} {seen[name]}" if counts[name] > 1 else name
            players.append(Player(own, record.saxophone, record.part))
        return tuple(players)

    def _wishes(self, players: Sequence[Player]) -> Iterator[RowWish]:
        begin, tempo = Fraction(0), self._file.each.tempo or DEFAULT_TEMPO
        first_at: dict[tuple[str, str], RowWish] = {}
        for index, record in enumerate(self._file.wishes):
            tempo = record.tempo or tempo
            try:
                wish, step = self._wish(index, record, tempo, begin, players)
            except ReedchordError as error:
                self.errors += [self._placed(one, index) for one in singles(error)]
            else:
                begin += step
                yield wish
                if wish.bar is not None and not self.errors:
                    first = first_at.setdefault((wish.bar, wish.beat or "1"), wish)
                    if first.begin_seconds != wish.begin_seconds:
                        self.errors.append(_at_two_times(first, wish))

    def _wish(
        self, index: int, record: WishRecord, tempo: str, begin: Fraction, players: Sequence[Player]
    ) -> tuple[RowWish, Fraction]:
        """Return a wish, and the seconds from its beginning to that of the next."""
        said = _merged(self._file.each, record)
        rate = _read("tempo", parse_tempo, tempo)
        lasts = _read("lasts", parse_length, said.get("lasts", DEFAULT_LENGTH))
        length = length_seconds(lasts, rate)
        wish = _search_wish(said, record.sonority, once_in(lasts, rate))
        row_wish = RowWish(
            number=index + 1,
            wish=wish,
            said=_said(said, record.sonority),
            lasts=lasts,
            is_length_said="lasts" in said,
            begin_seconds=begin,
            end_seconds=begin + length,
            fixed=record.sonority,
            player=None if record.player is None else _player(record.player, players),
            bar=record.bar,
            beat=record.beat,
            where=self._where(("wishes", index)),
        )
        return row_wish, length + _gap_seconds(said, length, rate)

    def _placed(self, error: ReedchordError, index: int) -> ReedchordError:
        """Return an error of a wish with its line; options are fields here."""
        option = (error.where.field or "").removeprefix("--").replace("-", "_")
        own = option == "" or getattr(self._file.wishes[index], option, None) is not None
        path = ("wishes", index, option) if own else ("each", option)
        where = self._where(tuple(key for key in path if key != ""))
        error.message = _without_dashes(error.message)
        error.hint = error.hint and _without_dashes(error.hint)
        error.where = where
        return error


def _at_two_times(first: RowWish, later: RowWish) -> ReedchordError:
    return InputError(
        "wishes.place",
        f"bar {later.bar}, beat {later.beat or 1} is where wish {first.number} stands, "
        "which begins earlier",
        hint="Give each its own bar and beat; where they begin together, let the earlier one "
        "overlap by its whole length.",
        where=later.where,
    )


def _without_dashes(text: str) -> str:
    return re.sub(r"--([a-z][a-z-]*)", lambda option: option[1].replace("-", "_"), text)


def _merged(each: WishFields, record: WishRecord) -> dict[str, Any]:
    """Return what holds for a wish: its own fields, and else those of `each`."""
    names = WishFields.model_fields
    own = {name: getattr(record, name) for name in names if getattr(record, name) is not None}
    common = {name: getattr(each, name) for name in names if getattr(each, name) is not None}
    for one, other in (("concert", "written"), ("rest", "overlap")):
        if one in own or other in own:
            common = {name: said for name, said in common.items() if name not in (one, other)}
    return common | own


def _read(field: str, parse: Any, text: str) -> Any:
    try:
        return parse(text)
    except ReedchordError as error:
        raise error.at(Where(field=field)) from None


def _gap_seconds(said: dict[str, Any], length: Fraction, tempo: Rate) -> Fraction:
    """Return the silence that follows, negative where the next one begins earlier."""
    if "rest" in said and "overlap" in said:
        raise InputError(
            "wishes.rest",
            "a wish is followed by a rest or by an overlap, not by both",
            where=Where(field="overlap"),
        )
    if "rest" in said:
        return length_seconds(_read("rest", parse_length, said["rest"]), tempo)
    if "overlap" not in said:
        return Fraction(0)
    over = length_seconds(_read("overlap", parse_length, said["overlap"]), tempo)
    if over > length:
        raise InputError(
            "wishes.overlap",
            f"the overlap, {said['overlap']}, is longer than what overlaps",
            hint="Wishes stand in the order in which they begin.",
            where=Where(field="overlap"),
        )
    return -over


def _search_wish(said: dict[str, Any], fixed: str | None, repeated: Rate) -> Wish:
    if fixed is None and not any(name in said for name in _SOUNDING):
        raise RequestError(
            "wishes.nothing",
            "nothing is wished here",
            hint=f"Say one of {', '.join(_SOUNDING)}, or the sonority.",
        )
    typed: dict[str, Any] = {name: said[name] for name in _TYPED if name in said}
    wish = wish_from_text(WishText(**typed))
    return wish if wish.speed else replace(wish, speed=repeated)


def _player(name: str, players: Sequence[Player]) -> int:
    names = [player.name for player in players]
    if name not in names:
        raise RequestError(
            "wishes.no-such-player",
            f"there is no player {name!r}",
            hint=did_you_mean(name, names),
            where=Where(field="player"),
        )
    return names.index(name)


_SAID = {
    "concert": "{}",
    "written": "written {}",
    "emphasised": "{} brought out",
    "interval": "{} semitones",
    "highest": "{} on top",
    "lowest": "{} at the bottom",
    "tones": "{} tones",
    "at": "at {}",
    "articulation": "{}",
}


def _said(said: dict[str, Any], fixed: str | None) -> str:
    words = [shape.format(said[name]) for name, shape in _SAID.items() if name in said]
    return ", ".join([fixed, *words] if fixed else words)
