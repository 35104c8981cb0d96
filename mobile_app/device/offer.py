"""Hands a finished file to the person: the phone's share sheet, or a download."""

from mobile_app.device.where import in_browser


def offer_file(name: str, mime: str, data: bytes, title: str = "") -> None:
    """Shows the page's own sheet with "Share…" and "Save to this phone" for one file.

    name: what the file is to be called; the page makes it safe. title: heading of the sheet.
    Outside the browser there is no such sheet: raises RuntimeError.
    """
    if not in_browser():
        raise RuntimeError("Files are offered by the browser's page; outside it, save them instead.")
    from mobile_app.device.window import tell_window

    tell_window("offer-file", data, name=name, mime=mime, title=title)
