"""Photos are made small, freed of place data, and judged by what they are."""

import io
import struct
import zlib
from datetime import UTC, datetime
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image
from PIL.ExifTags import GPS, IFD, Base

from protoconch.errors import BadInput
from protoconch.operations.photos import MOST_BYTES, add_photo, freed, of_entry
from protoconch.operations.recording import record, withdraw
from protoconch.records.models import Photo
from protoconch.records.queries.log import rows
from protoconch.records.queries.photos import photos, photos_of_batch

NOW = datetime(2027, 4, 20, 3, 0, tzinfo=UTC)
PLACE = "the invented place of the test"


def photo(size=(2400, 1200), kind="JPEG", colour="orange", **how):
    written = io.BytesIO()
    Image.new("RGB", size, colour).save(written, kind, **how)
    return written.getvalue()


def placed():
    """A JPEG that carries a made-up place in every way a phone writes one."""
    exif = Image.Exif()
    exif[Base.ImageDescription] = PLACE
    exif[Base.Orientation] = 6
    exif.get_ifd(IFD.GPSInfo).update({
        GPS.GPSLatitudeRef: "N", GPS.GPSLatitude: (12.0, 34.0, 56.0),
        GPS.GPSLongitudeRef: "W", GPS.GPSLongitude: (65.0, 43.0, 21.0),
    })  # fmt: skip
    xmp = f'<x:xmpmeta xmlns:x="adobe:ns:meta/"><p>{PLACE}</p></x:xmpmeta>'.encode()
    return photo(exif=exif, xmp=xmp, comment=PLACE.encode())


def opened(content):
    return Image.open(io.BytesIO(content))


def note(person):
    raw = {"id": str(uuid4()), "kind": "note", "happened": NOW.isoformat(),
           "payload": {"text": "the larvae swim at the top"}}  # fmt: skip
    return record(person, [raw], NOW)[0].entry


def test_the_place_where_it_was_taken_is_left_out():
    before = placed()
    assert PLACE.encode() in before
    assert opened(before).getexif().get_ifd(IFD.GPSInfo), "the test's own photo has a place"
    after = opened(freed(before))
    assert not after.getexif()
    assert set(after.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert PLACE.encode() not in freed(before)


def test_it_stands_upright_and_is_no_longer_than_needed():
    assert opened(freed(placed())).size == (800, 1600)
    assert opened(freed(photo((300, 200)))).size == (300, 200)


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "JPEG"])
def test_the_colours_stay(kind):
    made = opened(freed(photo((64, 64), kind, "rgb(200,120,40)"))).getpixel((32, 32))
    assert made == pytest.approx((200, 120, 40), abs=6)


def test_what_is_see_through_becomes_white():
    written = io.BytesIO()
    Image.new("RGBA", (40, 40), (0, 0, 0, 0)).save(written, "PNG")
    assert opened(freed(written.getvalue())).getpixel((9, 9)) == (255, 255, 255)


def bomb(width, height):
    """A PNG of few bytes that says it has that many pixels."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 1000)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
        for name, body in parts
    )


@pytest.mark.parametrize("size", [(8000, 8000), (10_000, 10_000), (60_000, 60_000)])
def test_a_picture_that_would_fill_the_memory_is_refused(size):
    with pytest.raises(BadInput, match="60 million pixels"):
        freed(bomb(*size))


def test_a_file_over_twelve_megabytes_is_refused():
    with pytest.raises(BadInput, match="12 MB"):
        freed(b"\xff" * (MOST_BYTES + 1))


@pytest.mark.parametrize(
    "content",
    [b"", b"GIF89a", b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"%PDF-1.7", photo()[:900],
     bomb(100, 100)],
)  # fmt: skip
def test_what_is_no_whole_photo_by_its_content_is_refused(content):
    with pytest.raises(BadInput, match="no photo that can be read"):
        freed(content)


@settings(max_examples=150, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_a_broken_photo_is_a_sentence_or_a_sound_photo(data):
    content = bytearray(photo((80, 60), data.draw(st.sampled_from(["JPEG", "PNG", "WEBP"]))))
    for _ in range(data.draw(st.integers(1, 6))):
        content[data.draw(st.integers(0, len(content) - 1))] = data.draw(st.integers(0, 255))
    try:
        made = freed(bytes(content))
    except BadInput:
        return
    assert opened(made).format == "JPEG"


@pytest.mark.django_db
def test_a_photo_is_kept_once_and_logged_beside_its_entry(crew):
    of = note(crew)
    raw = {"payload": of_entry(of.id, "swimming")}
    first = add_photo(crew, photo(), raw, NOW)
    add_photo(crew, photo(), raw, NOW)
    assert first.answer.outcome == "added"
    assert Photo.objects.filter(name=first.name).count() == 1
    found = photos(crew.site, [of.id])[of.id]
    assert [one.payload.caption for one in found] == ["swimming", "swimming"]


@pytest.mark.django_db
def test_a_photo_taken_back_is_not_shown(crew):
    of = note(crew)
    taken = add_photo(crew, photo(), {"payload": of_entry(of.id)}, NOW)
    withdraw(crew, taken.answer.entry.id, NOW)
    assert photos(crew.site, [of.id]) == {}


@pytest.mark.django_db
def test_a_viewers_photo_is_neither_kept_nor_logged(viewer, crew):
    of = note(crew)
    taken = add_photo(viewer, photo(), {"payload": of_entry(of.id)}, NOW)
    assert taken.answer.outcome == "refused"
    assert Photo.objects.count() == 0
    assert rows(crew.site, kind="photo").count() == 0


@pytest.mark.django_db
def test_a_batch_has_the_photos_of_its_entries(crew):
    raw = {"id": str(uuid4()), "kind": "stocked", "where": "large tank 1",
           "happened": NOW.isoformat(),
           "payload": {"batch": "27A", "animals": 9000, "litres": 400}}  # fmt: skip
    of = record(crew, [raw], NOW, sure=True)[0].entry
    taken = add_photo(crew, photo(), {"payload": of_entry(of.id)}, NOW)
    assert [one.id for one in photos_of_batch(crew.site, "27A")] == [taken.answer.entry.id]
    assert photos_of_batch(crew.site, "27B") == ()
