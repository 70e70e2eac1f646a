"""The commands by name; each is loaded when it is asked for, and no other with it."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterator, Mapping
from importlib import import_module
from typing import Any

import typer
from typer.main import get_command

from reedchord.cli.plain_parameters import PlainCommand, PlainGroup

COMMANDS = {
    "place": "place.place_command",
    "strip": "strip.strip_command",
    "swap": "swap.swap_command",
    "plan": "plan.plan_command",
    "match": "match.match_command",
    "check": "check.check_command",
    "tuning": "tuning.tuning_command",
    "find": "find.find_command",
    "neighbours": "neighbours.neighbours_command",
    "chain": "chain.chain_command",
    "carry": "carry.carry_command",
    "show": "show.show_command",
    "footnotes": "footnotes.footnotes_command",
    "diagram": "diagram.diagram_command",
    "preview": "preview.preview_command",
    "sheet": "sheet.sheet_command",
    "browse": "browse.browse_command",
    "explore": "explore.explore_command",
    "measure": "measure.measure_command",
    "trial": "trial.trial_command",
    "follow": "follow.follow_command",
    "hear": "hear.hear_command",
    "practice": "practice.practice_command",
    "demo": "demo.demo_command",
}
COLLECTION_COMMANDS = {
    "check": "check_collections.check_collections_command",
    "import": "import_collection.import_command",
    "export": "export_collection.export_command",
    "merge": "merge_collections.merge_command",
    "new": "new_sonority.new_command",
}


class _OnDemand(Mapping[str, Any]):
    """Commands by name, each made from its module and function when it is asked for."""

    def __init__(self, table: Mapping[str, str]) -> None:
        self._table = table

    def __getitem__(self, name: str) -> Any:
        module, _, function = self._table[name].partition(".")
        single = typer.Typer(rich_markup_mode=None, add_completion=False)
        single.command(name, cls=PlainCommand)(
            getattr(import_module(f"reedchord.cli.{module}"), function)
        )
        return get_command(single)

    def __contains__(self, name: object) -> bool:
        return name in self._table  # without making the command

    def __iter__(self) -> Iterator[str]:
        return iter(self._table)

    def __len__(self) -> int:
        return len(self._table)


class Commands(PlainGroup):
    """All commands, and the group of those that work with collections."""

    def __init__(self, *, commands: dict[str, Any], **given: Any) -> None:
        super().__init__(commands={}, **given)
        self.commands: Any = ChainMap(commands, _OnDemand(COMMANDS))  # type: ignore[arg-type]


class Collections(PlainGroup):
    """What can be done with files of sonorities."""

    def __init__(self, **given: Any) -> None:
        super().__init__(**given)
        self.commands: Any = _OnDemand(COLLECTION_COMMANDS)
