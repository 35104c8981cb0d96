"""The framework's own static hello world, built with its own functions and defaults: the yardstick."""

import shutil
import tarfile
from importlib import metadata
from pathlib import Path

from flet.controls.types import RouteUrlStrategy, WebRenderer
from flet_web import (
    get_package_web_dir,
    patch_font_manifest_json,
    patch_index_html,
    patch_manifest_json,
)

HELLO = "Hello, world!"
COUNTER = f'''
import flet as ft

def main(page: ft.Page):
    count = ft.Text("0")

    def add(event):
        count.value = str(int(count.value) + 1)
        page.update()

    page.add(ft.Text("{HELLO}"), count, ft.Button("Add", on_click=add))

ft.run(main)
'''
NEEDS = ("flet", "repath", "six", "msgpack")


def build_stock(out: Path, program: str = COUNTER, renderer: WebRenderer = WebRenderer.AUTO) -> None:
    """Writes the static site for `program` into `out`, as the framework publishes it, without a network."""
    shutil.copytree(get_package_web_dir(), out)
    patch_index_html(
        str(out / "index.html"),
        base_href="/",
        app_name="Hello",
        pyodide=True,
        pyodide_script_path="main.py",
        pyodide_version="as shipped",
        app_package_url="app.tar.gz",
        web_renderer=renderer,
        route_url_strategy=RouteUrlStrategy.HASH,
        no_cdn=True,
    )
    # A module worker cannot import the bare name that the function writes.
    page = (out / "index.html").read_text("utf-8")
    (out / "index.html").write_text(page.replace('"pyodide/pyodide.mjs"', '"./pyodide/pyodide.mjs"'), "utf-8")
    patch_manifest_json(str(out / "manifest.json"), app_name="Hello")
    patch_font_manifest_json(str(out / "assets" / "FontManifest.json"))
    work = out.parent / f"{out.name}-archive"
    work.mkdir()
    (work / "main.py").write_text(program, "utf-8")
    with tarfile.open(out / "app.tar.gz", "w:gz") as archive:
        archive.add(work / "main.py", "main.py")
        for name in NEEDS:
            found = metadata.distribution(name)
            for file in {str(file): file for file in found.files or ()}.values():
                if file.suffix in (".py", ".json") and ".." not in file.parts:
                    archive.add(str(found.locate_file(file)), f"__pypackages__/{file}")
