"""Photos of what was seen: made small, freed of place data, and kept beside their entry."""

import hashlib
import io
from collections.abc import Mapping
from datetime import datetime
from typing import Any, NamedTuple
from uuid import UUID, uuid4

from django.db import transaction
from PIL import Image, ImageOps

from protoconch.errors import BadInput
from protoconch.operations.recording import Answer, record
from protoconch.records.models import Person, Photo
from protoconch.words import say

MOST_BYTES = 12_000_000
MOST_PIXELS = 60_000_000
LONGEST_SIDE_PX = 1600
QUALITY = 82
FORMATS = ("JPEG", "PNG", "WEBP")
NO_PHOTO = say("This is no photo that can be read here; choose a JPEG, PNG or WebP picture.")
TOO_LARGE = say("The photo is larger than 12 MB; take it again with fewer pixels.")
TOO_MANY = say("The photo has more than 60 million pixels; take it again with fewer.")
MEDIA_TYPE = "image/jpeg"


class Taken(NamedTuple):
    """What became of a photo: the answer of the log, and the picture's name where it is kept."""

    answer: Answer
    name: str = ""


class _NotTaken(Exception):
    """Undoes the keeping of a picture whose entry was not taken."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer
        super().__init__()


def freed(content: bytes) -> bytes:
    """The same picture as a JPEG of at most 1600 pixels a side, without anything written in it.

    Made anew from its pixels, so that neither place nor camera nor hidden data is left.
    Raises: BadInput, where it is too large or no picture by its content, whatever its name says.
    """
    if len(content) > MOST_BYTES:
        raise BadInput(TOO_LARGE)
    try:
        with Image.open(io.BytesIO(content), formats=FORMATS) as found:
            many = found.width * found.height > MOST_PIXELS
            made = b"" if many else _small(found)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        many = True
    except Exception as fault:  # decoders fail in any way on broken files
        raise BadInput(NO_PHOTO) from fault
    if many:
        raise BadInput(TOO_MANY)
    return made


def add_photo(
    person: Person, content: bytes, raw: Mapping[str, Any], now: datetime
) -> Taken:  # fmt: skip
    """Keep a picture and log it, both or neither.

    content: the file as it was chosen. raw: id, happened, where, task of the entry, and of its
    payload caption and of (the entry that the photo shows); what is missing is filled.
    Raises: BadInput, where it is no photo.
    """
    made = freed(content)
    name = hashlib.sha256(made).hexdigest()
    payload = {**raw.get("payload", {}), "photo": name}
    entry = {
        "id": str(uuid4()), "happened": now.isoformat(), **raw, "kind": "photo", "payload": payload,
    }  # fmt: skip
    try:
        with transaction.atomic():
            Photo.objects.get_or_create(
                site=person.site, name=name, defaults={"media_type": MEDIA_TYPE, "content": made}
            )
            return Taken(_logged(person, entry, now), name)
    except _NotTaken as refused:
        return Taken(refused.answer)


def of_entry(of: UUID, caption: str = "") -> dict[str, str]:
    """The payload of a photo that shows what an entry tells."""
    said = {"of": str(of), "caption": caption.strip()}
    return {name: part for name, part in said.items() if part}


def _logged(person: Person, entry: Mapping[str, Any], now: datetime) -> Answer:
    (answer,) = record(person, [entry], now, sure=True)
    if answer.outcome == "refused":
        raise _NotTaken(answer)
    return answer


def _small(found: Image.Image) -> bytes:
    if found.format in ("JPEG", "MPO"):
        found.draft("RGB", (LONGEST_SIDE_PX, LONGEST_SIDE_PX))  # it decodes smaller, and quicker
    upright = ImageOps.exif_transpose(found)
    upright.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    return _jpeg(upright)


def _jpeg(picture: Image.Image) -> bytes:
    """The pixels alone; what is see-through becomes white."""
    whole = picture.convert("RGBA") if "transparency" in picture.info else picture
    if whole.mode in ("RGBA", "LA", "PA"):
        whole = whole.convert("RGBA")
        plain = Image.new("RGB", whole.size, "white")
        plain.paste(whole, mask=whole.getchannel("A"))
    else:
        plain = whole.convert("RGB")
    bare = Image.frombytes("RGB", plain.size, plain.tobytes())
    written = io.BytesIO()
    bare.save(written, "JPEG", quality=QUALITY, optimize=True)
    return written.getvalue()
