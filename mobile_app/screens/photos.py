"""The photos of a visit: taken, looked at, said what they show, put side by side as before and after."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import flet as ft

from logic.errors import SwardError
from logic.records.types import Photo, Visit
from mobile_app import photos
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box

add = photos.add
_SMALL, _MIDDLE = 112, 122  # two of the larger stand beside each other at 320 px


def strip(app: App, visit: Visit, step: str = "", reading: str = "") -> ft.Control:
    """The photos of a visit in a row, or those of one step or reading, with the way to one more."""
    shown = [
        photo
        for photo in photos.photos_of(app, visit.id)
        if (not step or photo.step == step) and (not reading or photo.reading == reading)
    ]
    lines: list[ft.Control] = [look.title(_counted(shown))] if not (step or reading) else []
    if shown:
        lines.append(
            ft.Row(
                [_thumb(app, visit, photo, _SMALL) for photo in shown],
                scroll=ft.ScrollMode.AUTO,
                spacing=8,
            )
        )
    lines.append(_ways(app, visit, step, reading))
    if shown and not (step or reading):
        lines.append(
            look.plain(
                "Captions, before and after",
                lambda _: app.go(f"/visit/{visit.id}/photos"),
                ft.Icons.PHOTO_LIBRARY_OUTLINED,
            )
        )
    return look.stack(*lines) if step or reading else look.card(*lines, key="photos")


def _counted(shown: list[Photo]) -> str:
    return "Photos" if not shown else "1 photo" if len(shown) == 1 else f"{len(shown)} photos"


def _ways(app: App, visit: Visit, step: str = "", reading: str = "") -> ft.Control:
    """The two ways to one more photo."""

    def way(name: str, icon: ft.IconData, camera: bool) -> ft.Control:
        def tapped(_: object) -> None:
            app.begin(keep(app, visit, step, reading, camera))

        return look.secondary(name, tapped, icon)

    return ft.Row(
        [
            way("Take a photo", ft.Icons.PHOTO_CAMERA_OUTLINED, True),
            way("Choose photos", ft.Icons.PHOTO_OUTLINED, False),
        ],
        wrap=True,
        spacing=8,
        run_spacing=8,
    )


async def keep(app: App, visit: Visit, step: str, reading: str, camera: bool) -> None:
    """Add photos from a button, where nobody waits for the records."""
    await photos.add(app, visit, step, reading, camera)


def body(app: App, visit: Visit, _: object = None) -> list[ft.Control]:
    """All photos of the visit, before beside after."""
    shown = photos.photos_of(app, visit.id)
    rows: list[ft.Control] = [_back(app, visit, "paper", "All papers"), _ways(app, visit)]
    if not shown:
        rows.append(look.quiet("A photo before and one after, from the same spot, say more than figures."))
    for before, after in photos.couples_of(shown):
        rows.append(
            look.card(
                ft.Row(
                    [_framed(app, visit, one) for one in (before, after) if one],
                    spacing=10,
                    run_spacing=10,
                    wrap=True,
                    vertical_alignment=ft.CrossAxisAlignment.START,
                )
            )
        )

    def place_kept(_: object) -> None:
        app.edit_settings(replace(app.settings, photo_place=not app.settings.photo_place))

    rows.append(
        ft.Row(
            [
                ft.Text("Keep where a photo was taken", size=look.BODY, expand=True),
                ft.Switch(value=app.settings.photo_place, on_change=place_kept),
            ]
        )
    )
    rows.append(
        look.quiet(
            "Whatever else the camera writes into a photo is taken off. It is made smaller, and stays on "
            "this phone until you send it."
        )
    )
    return rows


def _framed(app: App, visit: Visit, photo: Photo) -> ft.Control:
    """A larger thumbnail with what is said about it."""
    words: list[ft.Control] = [_thumb(app, visit, photo, _MIDDLE)]
    said = moment_name(photo)
    if said:
        words.append(ft.Text(said, size=look.LABEL, weight=ft.FontWeight.BOLD))
    words.append(
        look.quiet(
            photo.caption or "No caption yet", width=_MIDDLE, max_lines=3, overflow=ft.TextOverflow.ELLIPSIS
        )
    )
    return ft.Column(words, spacing=4, tight=True, width=_MIDDLE, key=photo.id)


def moment_name(photo: Photo) -> str:
    """Before, after, or nothing."""
    return {"before": "Before", "after": "After"}.get(photo.moment, "")


def one(app: App, visit: Visit, photo_id: str) -> list[ft.Control]:
    """One photo as large as there is room, and what can be done with it."""
    shown = photos.photos_of(app, visit.id)
    photo = next((p for p in shown if p.id == photo_id), None)
    back = _back(app, visit, "photos", "All photos")
    if photo is None:
        return [back, look.quiet("This photo is in the bin.")]

    def said(text: str) -> None:
        if text != photo.caption:
            photos.say_soon(app, photo, caption=text)

    def moment(key: str) -> None:
        photos.say(app, photo, "photo moment", moment=key)

    def out(_: object) -> None:
        app.go(f"/visit/{visit.id}/photos")
        photos.take_out(app, photo)

    return [
        back,
        look.keyed(f"large-{photo.id}", Large, app, photo),
        text_box("Caption", photo.caption, said, key=f"caption-{photo.id}"),
        look.choices(photos.MOMENTS, photo.moment, moment),
        *_partners(app, visit, photo, shown),
        ft.Row([look.plain("Take it out", out, ft.Icons.DELETE_OUTLINE)]),
        look.quiet(_facts(photo)),
    ]


def _facts(photo: Photo) -> str:
    size = f"{round(int(photo.size or 0) / 1000)} kB" if photo.size.isdigit() else ""
    parts = [photo.taken.replace("T", ", ")[:17], f"{photo.width} × {photo.height}", size, photo.place]
    return " · ".join(part for part in parts if part)


def _partners(app: App, visit: Visit, photo: Photo, shown: list[Photo]) -> list[ft.Control]:
    """The photo that stands beside this one, or those that could."""
    partner = next((p for p in shown if p.pair and p.pair == photo.pair and p.id != photo.id), None)
    if partner:
        parted = look.plain("Part them", lambda _: photos.pair(app, photo, None), ft.Icons.LINK_OFF)
        return [
            look.title("Beside it", look.BODY),
            ft.Row([_thumb(app, visit, partner, _SMALL), parted], wrap=True, spacing=8),
        ]
    wanted = {"before": "after", "after": "before"}.get(photo.moment, "")
    free = [p for p in shown if p.id != photo.id and not p.pair and (not wanted or p.moment in ("", wanted))]
    if not free:
        return []

    def choose(other: Photo) -> Callable[..., None]:
        return lambda _: photos.pair(app, photo, other)

    name = {"before": "Which one shows it after?", "after": "Which one shows it before?"}
    return [
        look.title(name.get(photo.moment, "Which one goes beside it?"), look.BODY),
        ft.Row(
            [look.keyed(f"pair-{p.id}", Thumb, app, p, _SMALL, choose(p), "Put beside it") for p in free],
            scroll=ft.ScrollMode.AUTO,
            spacing=8,
        ),
    ]


def _back(app: App, visit: Visit, step: str, name: str) -> ft.Control:
    return ft.Row([look.plain(name, lambda _: app.go(f"/visit/{visit.id}/{step}"), ft.Icons.ARROW_BACK)])


def _thumb(app: App, visit: Visit, photo: Photo, side: float) -> ft.Control:
    def opened(_: object) -> None:
        app.go(f"/visit/{visit.id}/photo-{photo.id}")

    return look.keyed(f"thumb-{photo.id}-{photo.sha256[:8]}", Thumb, app, photo, side, opened, "Photo")


@ft.component
def Thumb(app: App, photo: Photo, side: float, tapped: Callable[..., None], name: str) -> ft.Control:
    """A photo small and square, to be tapped."""
    _, set_ready = ft.use_state(False)

    async def load() -> None:
        await app.shelf.make_small(photo.sha256)
        set_ready(True)

    ft.use_effect(load, [photo.sha256])
    data = app.shelf.small(photo.sha256)
    said = ", ".join(part for part in (name, moment_name(photo), photo.caption) if part)
    inside: ft.Control
    if data is not None:
        inside = ft.Image(src=data, width=side, height=side, fit=ft.BoxFit.COVER, gapless_playback=True)
    elif app.shelf.lost(photo.sha256):
        inside = ft.Icon(ft.Icons.BROKEN_IMAGE_OUTLINED, size=40, color=ft.Colors.TERTIARY)
        said += ", can't be shown"
    else:
        inside = ft.ProgressRing(width=24, height=24)
    return ft.Semantics(
        button=True,
        label=said,
        identifier="thumb",
        exclude_semantics=True,
        on_tap=tapped,
        content=ft.Container(
            inside,
            width=side,
            height=side,
            alignment=ft.Alignment.CENTER,
            bgcolor=ft.Colors.SURFACE_CONTAINER_HIGH,
            border=ft.Border.all(1, ft.Colors.OUTLINE_VARIANT),
            border_radius=8,
            clip_behavior=ft.ClipBehavior.HARD_EDGE,
            on_click=tapped,
        ),
    )


@ft.component
def Large(app: App, photo: Photo) -> ft.Control:
    """A photo as wide as there is room."""
    data, set_data = ft.use_state(b"")
    trouble, set_trouble = ft.use_state("")

    async def load() -> None:
        try:
            set_data(await app.shelf.read(photo.sha256))
        except SwardError as error:
            set_trouble(error.sentence)

    ft.use_effect(load, [photo.sha256])
    if trouble:
        return look.remark(trouble, serious=True)
    shown: ft.Control = ft.ProgressRing()
    if data:
        shown = ft.Image(src=data, fit=ft.BoxFit.CONTAIN, gapless_playback=True)
    # As high from the start as it will be, so that nothing moves away under a thumb.
    frame = ft.Container(shown, aspect_ratio=_shape(photo), alignment=ft.Alignment.CENTER)
    return ft.Semantics(image=True, label=photo.caption or "Photo", identifier="photo", content=frame)


def _shape(photo: Photo) -> float:
    """Width to height of a photo."""
    wide, high = (int(text) if text.isdigit() else 0 for text in (photo.width, photo.height))
    return wide / high if wide and high else 4 / 3
