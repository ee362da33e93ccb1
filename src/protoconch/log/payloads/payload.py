"""What the payloads of all kinds share, and the bounds of what a person can have meant."""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field


class Payload(BaseModel):
    """What an entry tells besides when, where and by whom; its fields carry their unit."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", allow_inf_nan=False, str_strip_whitespace=True,
    )  # fmt: skip

    note: Annotated[str, Field(max_length=2000)] = ""


Name = Annotated[str, Field(min_length=1, max_length=80)]
Words = Annotated[str, Field(max_length=400)]
Animals = Annotated[int, Field(ge=0, le=100_000_000)]
Litres = Annotated[float, Field(gt=0, le=1_000_000)]
Share = Annotated[float, Field(ge=0, le=1)]
