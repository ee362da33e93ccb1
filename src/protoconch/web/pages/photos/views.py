"""A photo is added to an entry, and answered as a picture."""

from uuid import UUID, uuid4

from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from protoconch.errors import BadInput
from protoconch.log.sentences import sentence
from protoconch.operations.photos import MOST_BYTES, TOO_LARGE, add_photo, of_entry
from protoconch.records.models import Entry as Row
from protoconch.records.queries.log import entries
from protoconch.records.queries.photos import photos, picture
from protoconch.web.access import Request, Role, allowed
from protoconch.web.shell.fields import Words


class AddPhoto(forms.Form):
    """A picture and what it shows."""

    id = forms.UUIDField(widget=forms.HiddenInput, required=False)
    photo = forms.FileField(
        label=gettext_lazy("Photo"),
        help_text=gettext_lazy(
            "At most 12 MB. It is made smaller, and the place where it was taken is left out."
        ),
        widget=forms.FileInput(attrs={"accept": "image/jpeg,image/png,image/webp"}),
        error_messages={
            "required": gettext_lazy("Choose a photo, or take one with the phone."),
            "empty": gettext_lazy("The file is empty; choose the photo once more."),
        },
    )
    caption = Words(400, label=gettext_lazy("What it shows"), required=False)


@allowed(Role.CREW)
def add(request: Request, uuid: UUID) -> HttpResponse:
    """Choose a photo of what an entry tells; sent, it is kept and logged."""
    row = Row.objects.filter(site=request.site, uuid=uuid).first()
    if row is None:
        raise Http404
    sent = request.method == "POST"
    form = AddPhoto(request.POST if sent else None, request.FILES if sent else None)
    if not sent:
        form.initial["id"] = uuid4()
    elif form.is_valid() and _taken(request, form, row):
        messages.success(request, _("The photo is saved."))
        return redirect("log:entry", uuid)
    (entry,) = entries([row])
    told = {
        "form": form, "entry": entry, "sentence": sentence(entry),
        "photos": photos(request.site, [uuid]).get(uuid, ()),
    }  # fmt: skip
    return render(request, "photos/add.html", told, status=422 if sent else 200)


@allowed(Role.VIEWER)
def shown(request: Request, name: str) -> HttpResponse:
    """A picture of this hatchery."""
    found = picture(request.site, name)
    if found is None:
        raise Http404
    answer = HttpResponse(bytes(found.content), content_type=found.media_type)
    answer["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer


def _taken(request: Request, form: AddPhoto, row: Row) -> bool:
    """Whether the photo is in the log now; if not, the form says why."""
    file, said = form.cleaned_data["photo"], form.cleaned_data
    if file.size > MOST_BYTES:
        form.add_error("photo", TOO_LARGE)
        return False
    raw = {
        "id": str(said["id"] or uuid4()), "where": row.where,
        "payload": of_entry(row.uuid, said["caption"]),
    }  # fmt: skip
    try:
        taken = add_photo(request.person, file.read(), raw, timezone.now())
    except BadInput as fault:
        form.add_error("photo", str(fault))
        return False
    for why in taken.answer.sentences if taken.answer.outcome == "refused" else ():
        form.add_error(None, why)
    return taken.answer.outcome != "refused"
