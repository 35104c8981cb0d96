"""Who asks: the phone behind a token."""

from collections.abc import Callable
from typing import Annotated

from fastapi import Depends, Request
from fastapi.security import HTTPAuthorizationCredentials, HTTPBearer

from mobile_app.hub.devices import Device, known
from mobile_app.hub.errors import Refused
from mobile_app.hub.hub import Hub

_BEARER = HTTPBearer(auto_error=False, description="The token that pairing gave.")
Phone = Callable[..., Device]


def phone_of(hub: Hub) -> Phone:
    """What routes depend on to know the phone that asks. It raises Refused (401)."""

    def phone(
        request: Request, given: Annotated[HTTPAuthorizationCredentials | None, Depends(_BEARER)]
    ) -> Device:
        if given is None:
            raise Refused(401, "not-paired", "This phone is not paired with the office.")
        device = known(hub.database, given.credentials)
        request.state.business = device.business
        return device

    return phone


def admin_only(device: Device) -> None:
    """Raises Refused (403) for a phone that may not run the office."""
    if not device.admin:
        raise Refused(403, "not-admin", "Only a phone that runs the office may do this.")
