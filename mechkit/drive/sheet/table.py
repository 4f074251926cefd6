"""What every table of the bench sheet is made of."""

from pydantic import BaseModel, ConfigDict, Field


class Table(BaseModel):
    """A table of the sheet: no unknown keys, no text read as a number, no later changes."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, populate_by_name=True)


def key(words, **more):
    """A key with the words that explain it."""
    return Field(description=words, **more)
