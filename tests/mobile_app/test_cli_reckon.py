"""`swardwright reckon`: figures as JSON, or one clear line and status 2."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from logic.records.reckon import reckon
from mobile_app.cli import main

JOB: dict[str, Any] = {
    "format": "swardwright-job/1",
    "client": {"name": "Ada Fen", "email": "ada@example.com"},
    "sward": {"name": "Back green", "kind": "putting green"},
    "pace": {"course": "20 m", "counts": [27, 26.5, 27]},
    "outline": {"method": "rectangle", "length": "12 ± 0.02 m", "width": "5 ± 0.02 m"},
    "works": [{"operation": "topdressing", "depth": "2 mm", "bulk_density": "1600 kg/m^3"}],
}


class Said:
    """What one run of the command came to."""

    def __init__(self, capsys: pytest.CaptureFixture[str], *arguments: str) -> None:
        self.status = main(["reckon", *arguments])
        self.out, self.err = capsys.readouterr()

    @property
    def figures(self) -> Any:
        assert (self.status, self.err) == (0, "")
        return json.loads(self.out)

    @property
    def refusal(self) -> str:
        """The one line of a refusal."""
        assert (self.status, self.out) == (2, "")
        assert self.err.startswith("swardwright: ")
        assert self.err.endswith("\n")
        assert self.err.count("\n") == 1
        return self.err.removeprefix("swardwright: ").strip()


def written(folder: Path, **parts: Any) -> str:
    path = folder / "job.json"
    path.write_text(json.dumps({**JOB, **parts}), "utf-8")
    return str(path)


def test_the_figures_of_a_job_are_printed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shown = Said(capsys, written(tmp_path)).figures
    assert shown == reckon(JOB).as_json()
    assert (shown["area"]["value"], shown["area"]["unit"]) == (pytest.approx(60), "m^2")
    (work,) = shown["works"]
    by_key = {figure["key"]: figure for figure in work["figures"]}
    # 60 m² × 2 mm × 1600 kg/m³: arithmetic from the definitions
    assert (by_key["sand_mass"]["value"], by_key["sand_mass"]["unit"]) == (pytest.approx(192), "kg")
    assert by_key["sand_mass"]["plus_minus"] > 0


def test_a_job_is_read_from_standard_input(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(json.dumps(JOB).encode())))
    assert Said(capsys, "-").figures == reckon(JOB).as_json()


def test_the_words_come_out_as_utf_8_whatever_the_language_of_the_terminal(tmp_path: Path) -> None:
    run = subprocess.run(
        [sys.executable, "-m", "mobile_app.cli", "reckon", written(tmp_path)],
        env={"PYTHONIOENCODING": "ascii", "PYTHONPATH": str(Path(__file__).parents[2])},
        capture_output=True,
        check=True,
    )
    assert "m²" in run.stdout.decode("utf-8")
    assert json.loads(run.stdout) == reckon(JOB).as_json()


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("parts", "line"),
    [
        ({"format": "swardwright-job/2"}, "This job file is of a newer kind (version 2)."),
        ({"format": "other"}, "This is not a job file of Swardwright's."),
        ({"outline": None}, "This job has no outline yet: measure the green first."),
        ({"outline": {"method": "rectangle", "length": "-1 m", "width": "5 m"}}, "In outline, length: "),
        ({"outline": {"method": "triangle", "a": "9 m", "b": "2 m", "c": "3 m"}}, "In outline: "),
        ({"works": [{"operation": "topdressing", "depth": "0"}]}, "In work 1 (topdressing), depth: "),
        (
            {"works": [{"operation": "no\nsuch\nwork"}]},
            "In work 1, operation: “no such work” is not an operation",
        ),
        ({"pace": {"course": "20 m", "counts": [0]}}, "In pace, counts: "),
        ({"started": "yesterday"}, "In started: "),
        ({"confidence": 3}, "The confidence must be"),
    ],
)
def test_what_is_wrong_with_a_job_is_one_line_that_says_where(
    parts: dict[str, Any], line: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    summary = tmp_path / "summary.pdf"
    assert Said(capsys, written(tmp_path, **parts), "--pdf", str(summary)).refusal.startswith(line)
    assert not summary.exists()


def test_a_file_that_is_not_there_or_not_readable_is_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    missing, broken = tmp_path / "missing.json", tmp_path / "broken.json"
    broken.write_bytes(b'{"format": "swardwright-job/1", "outl')
    assert Said(capsys, str(missing)).refusal == f"There is no file {missing}."
    assert Said(capsys, str(tmp_path)).refusal == f"{tmp_path} is a folder; name the job file in it."
    assert Said(capsys, str(broken / "job.json")).refusal.startswith(f"{broken}/job.json can't be read: ")
    assert Said(capsys, str(broken)).refusal == "This is not a job file: it is not readable as JSON."


def test_a_file_without_end_is_not_read_to_its_end(capsys: pytest.CaptureFixture[str]) -> None:
    assert Said(capsys, "/dev/zero").refusal == "This file is too large to be a job file."


def test_the_help_has_an_example_that_works(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["reckon", "--help"])
    assert ended.value.code == 0
    text = capsys.readouterr().out
    assert "example: swardwright reckon job.json --pdf summary.pdf" in text
    (tmp_path / "job.json").write_text(text[text.index('{"format"') :], "utf-8")
    monkeypatch.chdir(tmp_path)
    assert Said(capsys, "job.json", "--pdf", "summary.pdf").figures["area"]["value"] > 50
    assert (tmp_path / "summary.pdf").read_bytes().startswith(b"%PDF-")


# --- the summary ----------------------------------------------------------------------------------


def words_of(pdf: Path) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(pdf).pages).split())


def test_the_summary_holds_the_same_numbers(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    summary = tmp_path / "summary.pdf"
    job = written(tmp_path, started="2026-09-08T23:30:00+05:00", notes='Moss <b>&" at the edge.')
    shown = Said(capsys, job, "--pdf", str(summary)).figures
    words = words_of(summary)
    assert f"{shown['area']['value']:.1f} ± {shown['area']['plus_minus']:.2f}"[:4] in words
    assert "192 kg" in words
    assert "Ada Fen" in words
    assert "Back green" in words
    assert "8 September 2026" in words
    assert 'Moss <b>&" at the edge.' in words


def test_without_a_date_the_summary_is_of_today(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = date.today()
    summary = tmp_path / "summary.pdf"
    assert Said(capsys, written(tmp_path), "--pdf", str(summary)).status == 0
    days = {f"{day.day} {day:%B %Y}" for day in (before, date.today())}
    assert any(day in words_of(summary) for day in days)


def test_a_summary_that_cannot_be_written_is_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = written(tmp_path)
    assert Said(capsys, job, "--pdf", str(tmp_path)).refusal.startswith(f"{tmp_path} can't be written: ")
    assert "can't be written" in Said(capsys, job, "--pdf", str(tmp_path / "no" / "x.pdf")).refusal
    assert "is the job file itself" in Said(capsys, job, "--pdf", job).refusal
    assert json.loads(Path(job).read_text("utf-8")) == JOB


def test_paper_is_loaded_only_when_it_is_asked_for(tmp_path: Path) -> None:
    code = (
        "import sys; from mobile_app.cli import main; status = main(sys.argv[1:]);"
        "print('reportlab' in sys.modules, 'flet' in sys.modules, file=sys.stderr); sys.exit(status)"
    )
    for more, loaded in (((), "False False"), (("--pdf", str(tmp_path / "x.pdf")), "True False")):
        run = subprocess.run(
            [sys.executable, "-c", code, "reckon", written(tmp_path), *more],
            env={"PYTHONPATH": str(Path(__file__).parents[2])},
            capture_output=True,
            text=True,
            check=True,
        )
        assert run.stderr.strip() == loaded
