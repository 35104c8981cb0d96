"""An app for one journey: runs the tests of the logic in the browser's Python, and prints what came of them.

Runs in place of mobile_app/main.py. The route names folders and files of tests: "logic/works,checks".
"""

import asyncio
import gc
import json
import os

import flet as ft
import hypothesis
import pyodide_js
import pytest

from mobile_app.device.window import tell_window

FEW = 5  # examples of a property: its law was tried on many elsewhere; here it is Python that is tried


class FewExamples(hypothesis.settings):
    """Settings that never ask for more than a few examples, always the same."""

    def __init__(self, parent: hypothesis.settings | None = None, **wanted: object) -> None:
        most = min(wanted.pop("max_examples", FEW), FEW)
        fixed = {"max_examples": most, "deadline": None, "database": None, "derandomize": True}
        super().__init__(parent, **(wanted | fixed))


class Tally:
    """What pytest found."""

    def __init__(self) -> None:
        self.passed = 0
        self.failed: list[str] = []
        self.heap = 0

    def pytest_runtest_logfinish(self) -> None:
        # This Python's collector is in no hurry, and a browser's memory never shrinks again.
        size = int(pyodide_js._module.HEAPU8.length)
        if size > self.heap:
            gc.collect()
            self.heap = size

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.failed.append(f"{report.nodeid}: {report.longreprtext[-600:]}")

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.when == "call" and report.passed:
            self.passed += 1
        elif not report.passed:  # a skipped one too: nothing is passed over here
            self.failed.append(f"{report.nodeid}: {report.longreprtext[-600:]}")


def tried(what: str) -> dict[str, object]:
    """Run the tests of folders and files below tests."""
    hypothesis.settings = FewExamples
    hypothesis.settings.register_profile("few", FewExamples())
    hypothesis.settings.load_profile("few")
    os.chdir("/app")
    tally = Tally()
    fixed = ["-c", "/dev/null", "--rootdir=/app", "--import-mode=importlib", "-p", "no:cacheprovider"]
    pytest.main([*fixed, "-q", "--tb=short", *(f"tests/{name}" for name in what.split(","))], plugins=[tally])
    return {"passed": tally.passed, "failed": tally.failed}


async def show(page: ft.Page) -> None:
    """Do what the route says."""
    page.add(ft.Text("logic"))
    tell_window("shown")
    await asyncio.sleep(0.5)
    print(f"logic: {json.dumps(tried(page.route.strip('/')))}")


def start() -> None:
    ft.run(show)
