"""The record of a sonority: one multiphonic as one source gives it."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from reedchord.record_fields import record_error
from reedchord.sonority_fields import SonorityFields
from reedchord.sonority_rules import first_contradiction


class Sonority(SonorityFields):
    """One multiphonic: one saxophone, one fingering, its tones, and how well it is known."""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        error = first_contradiction(self)
        if error is not None:
            raise record_error(error)
        return self
