"""A server that is quickly up again: one process loads the program, and forks the real server.

`python -m tests.durability.killable FOLDER PORT`: for each line on standard input a server is
started, and its process number is written once it answers; the next line waits until it has died.
What is killed is a whole server over the records, with its threads and its open database; only the
loading of the program's text is saved.
"""

import json
import os
import sys
from pathlib import Path

COOKIE = "cookie.json"


def prepare(folder: Path) -> None:
    """A hatchery in the folder, without a target, and a crew member who is signed in."""
    from protoconch.operations.opening import open_records

    open_records(folder)
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore

    from protoconch.hatchery.reading import whole_demo_text
    from protoconch.operations.people.invitations import new_person
    from protoconch.operations.starting import start

    text = whole_demo_text()
    untargeted = text[: text.index("[target]")] + text[text.index("[algae_room]") :]
    site = start(untargeted, "America/Nassau", "manager", "a password of the tests").site
    crew = new_person(site, "crew A", None, "crew")
    session = SessionStore()
    session[SESSION_KEY] = str(crew.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = crew.get_session_auth_hash()
    session.create()
    (folder / COOKIE).write_text(json.dumps({"sessionid": session.session_key}))


def main(folder: str, port: str) -> None:
    """Serve, be killed, serve again."""
    from protoconch.operations.opening import open_records

    open_records(Path(folder))
    from django.db import connections
    from django.urls import get_resolver

    from protoconch.web.serving import serve

    _ = get_resolver().url_patterns  # all pages are loaded
    warm()
    connections.close_all()
    for _line in sys.stdin:
        child = os.fork()
        if child == 0:
            serve("127.0.0.1", int(port), lambda _: print(os.getpid(), flush=True))
            os._exit(0)
        os.waitpid(child, 0)


def warm() -> None:
    """Write once and take it back, so that the trade's tables are read before the first fork."""
    from datetime import UTC, datetime
    from uuid import uuid4

    from django.db import transaction

    from protoconch.operations.recording import record
    from protoconch.records.models import Person
    from protoconch.records.queries.states import forget

    now = datetime.now(UTC)
    raw = {
        "id": str(uuid4()), "kind": "read", "happened": now.isoformat(),
        "where": "large tank 1", "payload": {"quantity": "temperature", "value": 28},
    }  # fmt: skip
    with transaction.atomic():
        record(Person.objects.get(name="crew A"), [raw], now, sure=True)
        transaction.set_rollback(True)
    forget()


if __name__ == "__main__":
    if sys.argv[1] == "prepare":
        prepare(Path(sys.argv[2]))
    else:
        main(*sys.argv[1:])
