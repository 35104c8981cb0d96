"""The kinds of records as lists show them: name, icon, slip, filters, and what an empty list says."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import flet as ft

from logic.records.types import Client, Machine, Product, Record, Site, Supplier, Sward, Visit
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts.record_boxes import to
from mobile_app.parts.slips import slip
from mobile_app.screens import machines, products

Test = Callable[[App, Any], bool]


@dataclass(frozen=True)
class Kind:
    """A kind of record. new: the place of a new one, "" when it begins elsewhere; filters: name → test."""

    record: type[Record]
    name: str
    icon: ft.IconData
    slip: Callable[[App, Any], ft.Control]
    head: str
    teach: str
    new: Callable[[], str] = lambda: ""
    new_name: str = ""
    filters: Mapping[str, Test] = field(default_factory=dict)


def _client(app: App, client: Client) -> ft.Control:
    count = records.counted(len(app.book.swards_of(client.id)), "green")
    return slip(
        client.name or "No name yet",
        (" · ".join(filter(None, (client.phone, client.email))), client.address.replace("\n", ", ")),
        to(app, f"/client/{client.id}"),
        count,
        key=client.id,
    )


def _site(app: App, site: Site) -> ft.Control:
    owner = app.book.get(Client, site.client_id).name if app.book.has(Client, site.client_id) else ""
    told = ("Hazards noted" if site.hazards else "", "Buried services noted" if site.buried else "")
    return slip(
        site.name or site.address or "Site",
        (" · ".join(filter(None, (owner, site.address.replace("\n", ", ")))), site.access),
        to(app, f"/site/{site.id}"),
        " · ".join(filter(None, told)),
        key=site.id,
    )


def _sward(app: App, sward: Sward) -> ft.Control:
    client = app.client_of(sward)
    latest = app.book.latest_visit(sward.id)
    state = f"Last visit {latest.started.astimezone():%d %b %Y}" if latest else "No visit yet"
    said = " · ".join(filter(None, (client.name if client else "", sward.kind, sward.grass)))
    return slip(sward.name, (said, sward.address), to(app, f"/sward/{sward.id}"), state, key=sward.id)


def _visit(app: App, visit: Visit) -> ft.Control:
    sward = app.book.get(Sward, visit.sward_id) if app.book.has(Sward, visit.sward_id) else Sward()
    client = app.client_of(sward)
    said = (client.name if client else "", records.counted(len(visit.works), "work") if visit.works else "")
    where = visit.where or f"/visit/{visit.id}/measure"
    name = f"{visit.started.astimezone():%d %b %Y}, {sward.name or 'no green'}"
    return slip(name, (" · ".join(filter(None, said)), visit.notes), to(app, where), key=visit.id)


def _supplier(app: App, supplier: Supplier) -> ft.Control:
    days = f"{supplier.lead_days} days from order to delivery" if supplier.lead_days else ""
    name = supplier.name or "No name yet"
    return slip(
        name, (supplier.phone, supplier.note), to(app, f"/supplier/{supplier.id}"), days, key=supplier.id
    )


def _product(app: App, product: Product) -> ft.Control:
    place = to(app, f"/product/{product.id}")
    return slip(products.name_of(product), products.said_of(product), place, key=product.id)


def _machine(app: App, machine: Machine) -> ft.Control:
    return slip(
        machine.name or "No name yet",
        machines.said_of(machine),
        to(app, f"/machine/{machine.id}"),
        key=machine.id,
    )


def _is_kind(kind: str) -> Test:
    return lambda app, sward: sward.kind == kind


KINDS: tuple[Kind, ...] = (
    Kind(
        Client,
        "Clients",
        ft.Icons.PEOPLE_OUTLINE,
        _client,
        "No clients yet",
        "Whom you work for, with their greens and sites. Add one here, or bring in contact cards: your "
        "phone's address book shares them as .vcf files.",
        lambda: records.fresh("client"),
        "New client",
        {
            "No green": lambda app, client: not app.book.swards_of(client.id),
            "Not asked about photos": lambda app, client: not client.consent.get("photos"),
        },
    ),
    Kind(
        Sward,
        "Greens",
        ft.Icons.GRASS,
        _sward,
        "No greens yet",
        "A green, a lawn, a tee: any turf that you look after. What you measure is kept with its visits.",
        lambda: "/new",
        "New green",
        {
            "Putting greens": _is_kind("putting green"),
            "Lawns": _is_kind("lawn"),
            "No visit yet": lambda app, sward: app.book.latest_visit(sward.id) is None,
            "Not for a year": records.is_long_ago,
        },
    ),
    Kind(
        Site,
        "Sites",
        ft.Icons.PLACE_OUTLINED,
        _site,
        "No sites yet",
        "A site says how to get in, where the water is, and what is dangerous or buried. You see it again "
        "with its greens before the ground is opened.",
        lambda: records.fresh("site"),
        "New site",
        {"Something buried": lambda app, site: bool(site.buried)},
    ),
    Kind(
        Visit,
        "Visits",
        ft.Icons.EVENT_NOTE_OUTLINED,
        _visit,
        "No visits yet",
        "A visit begins on a green's page. It holds readings, works, photos and the papers of one job.",
        filters={
            "In hand": lambda app, visit: bool(visit.where),
            "No works": lambda app, visit: not visit.works,
            "Signed": lambda app, visit: bool(visit.signature),
        },
    ),
    Kind(
        Supplier,
        "Suppliers",
        ft.Icons.LOCAL_SHIPPING_OUTLINED,
        _supplier,
        "No suppliers yet",
        "Note who sells what, how many days they take, and who has the sports sand. The shopping list "
        "says by when to order.",
        lambda: records.fresh("supplier"),
        "New supplier",
    ),
    Kind(
        Product,
        "Products",
        ft.Icons.INVENTORY_2_OUTLINED,
        _product,
        "No products yet",
        "Packs that you can buy, with their price and what of them stands in your store. What stands "
        "there is used first.",
        lambda: records.fresh("product"),
        "New product",
        {"In the store": lambda app, product: bool(product.stock)},
    ),
    Kind(
        Machine,
        "Machines",
        ft.Icons.AGRICULTURE_OUTLINED,
        _machine,
        "No machines yet",
        "Your own machines with the vibration and noise that their hand-books state: the day's plan says "
        "from them how long each may be held.",
        lambda: records.fresh("machine"),
        "New machine",
    ),
)
