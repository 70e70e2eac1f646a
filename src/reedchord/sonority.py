"""The record of a sonority: one multiphonic as one source gives it."""

from typing import Self

from pydantic import ValidationError, model_validator
from pydantic_core import InitErrorDetails

from reedchord.record_fields import record_error
from reedchord.sonority_fields import SonorityFields


class Sonority(SonorityFields):
    """One multiphonic: one saxophone, one fingering, its tones, and how well it is known."""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        from reedchord.sonority_rules import contradictions

        found = contradictions(self)
        if found:
            lines = [
                InitErrorDetails(type=record_error(one.error), loc=one.field, input=self.id)
                for one in found
            ]
            raise ValidationError.from_exception_data("Sonority", lines)
        return self
