"""Tables go out: one as CSV while it is read, or all of them in one file."""

import tempfile
from collections.abc import Callable, Iterable, Iterator
from typing import IO, cast

from django.http import Http404, HttpResponse, StreamingHttpResponse
from django.utils import timezone

from protoconch.operations.exchange.everything import everything, sheet_of
from protoconch.sheets.workbook import Sheet, csv_lines, write_workbook, write_zip
from protoconch.web.access import Request, Role, allowed

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
IN_MEMORY = 8_000_000
PART = 65_536


@allowed(Role.VIEWER)
def table(request: Request, name: str) -> HttpResponse:
    """One table as CSV."""
    sheet = sheet_of(request.site, name, timezone.localdate())
    if sheet is None:
        raise Http404
    answer = StreamingHttpResponse(csv_lines(sheet), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{sheet.file}.csv"'
    return cast("HttpResponse", answer)  # a streamed one, which middleware knows


@allowed(Role.VIEWER)
def workbook(request: Request) -> HttpResponse:
    """All tables as one workbook."""
    return _file(request, write_workbook, "xlsx", XLSX)


@allowed(Role.VIEWER)
def zipped(request: Request) -> HttpResponse:
    """All tables as CSV files in one zip."""
    return _file(request, write_zip, "zip", "application/zip")


def _file(
    request: Request, write: Callable[[Iterable[Sheet], IO[bytes]], None], ending: str, media: str
) -> HttpResponse:
    today = timezone.localdate()
    sheets = everything(request.site, today, timezone.localtime())
    answer = StreamingHttpResponse(_in_parts(sheets, write), content_type=media)
    name = f"protoconch-{today.isoformat()}.{ending}"
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return cast("HttpResponse", answer)


def _in_parts(
    sheets: Iterable[Sheet], write: Callable[[Iterable[Sheet], IO[bytes]], None]
) -> Iterator[bytes]:
    """The whole file, part by part; while it is made it stands on the disk, not in the memory."""
    with tempfile.SpooledTemporaryFile(max_size=IN_MEMORY) as file:
        write(sheets, file)
        file.seek(0)
        while part := file.read(PART):
            yield part
