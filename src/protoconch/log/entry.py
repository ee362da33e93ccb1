"""An entry of the log: what was seen or done, when, where and by whom; never changed."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from protoconch.log.payloads.payload import Payload


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that somebody saw or did.

    id: made by the phone or the program that wrote it, so that sending twice adds once.
    kind: a key of `kinds.KINDS`. happened: when it was seen or done; arrived: when the log got it;
    both with a zone. who: the person, by the name in this hatchery. where: the vessel or place as
    the crew calls it ("large tank 2"), empty where there is none. payload: what the kind asks for.
    task: key of the work-list line that it settles, empty where there was none.
    unasked: it was written where nobody could be asked about it, on a phone without network: what
    speaks against it is found by the fold, beside all that happened before, and is left as a doubt.
    """

    id: UUID
    kind: str
    happened: datetime
    arrived: datetime
    who: str
    where: str
    payload: Payload
    task: str = ""
    unasked: bool = False

    @property
    def order(self) -> tuple[datetime, str]:
        """Place in the log: by when it happened, whatever the order of arrival."""
        return self.happened, str(self.id)
