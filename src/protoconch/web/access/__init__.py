"""Who may see what, who is asking, and on which device."""

from protoconch.web.access.guards import (
    ANYONE,
    Request,
    Role,
    SignedIn,
    View,
    allowed,
    to_sign_in,
)

__all__ = ["ANYONE", "Request", "Role", "SignedIn", "View", "allowed", "to_sign_in"]
