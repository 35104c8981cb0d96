"""What `swardwright reckon` does: a job file's figures as JSON, and the customer summary on request."""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from logic.errors import FileError
from logic.records import jobfile
from logic.records.reckon import DEFAULT_CONFIDENCE, Reckoning, reckon

EPILOG = """\
example: swardwright reckon job.json --pdf summary.pdf

A job file looks like this ("N paces" needs the pace; without it give lengths with a unit):

  {"format": "swardwright-job/1",
   "client": {"name": "Ada Fen"}, "sward": {"name": "Back green", "kind": "putting green"},
   "pace": {"course": "20 m", "counts": [27, 26.5, 27]},
   "outline": {"method": "ellipse", "length": "16.5 paces", "width": "9 m"},
   "works": [{"operation": "overseeding", "rate": "8 g/m^2"}]}
"""


def answer(job_file: str, pdf: Path | None = None) -> str:
    """The figures of a job file as JSON text; writes the customer summary to `pdf` first when that is given.

    job_file: a path, or "-" for standard input. Raises SwardError with one sentence; then nothing is written.
    """
    job = jobfile.loads(_bytes_of(job_file))
    reckoning = reckon(job)
    text = json.dumps(reckoning.as_json(), ensure_ascii=False, indent=2, allow_nan=False)
    jobfile.started_of(job)
    if pdf is not None:
        _refuse_same(job_file, pdf)
        _write(pdf, _summary(job, reckoning))
    return text


def _bytes_of(job_file: str) -> bytes:
    most = jobfile.LARGEST + 1  # enough to see that it is too much
    if job_file == "-":
        return sys.stdin.buffer.read(most)
    try:
        with open(job_file, "rb") as file:
            return file.read(most)
    except FileNotFoundError:
        raise FileError(f"There is no file {job_file}.") from None
    except IsADirectoryError:
        raise FileError(f"{job_file} is a folder; name the job file in it.") from None
    except OSError as error:
        raise FileError(f"{job_file} can't be read: {error.strerror}.") from None


def _summary(job: Mapping[str, Any], reckoning: Reckoning) -> bytes:
    # reportlab takes its time to load, and most who reckon want no paper.
    from logic.programme.aftercare import aftercare
    from logic.report.content import Party, from_reckoning
    from logic.report.summary import summary

    data = from_reckoning(
        reckoning,
        letterhead=Party(),
        client=job.get("client") or {},
        sward=job.get("sward") or {},
        day=(jobfile.started_of(job) or datetime.now().astimezone()).date(),
        aftercare=aftercare(worked.operation.key for worked in reckoning.works),
        notes=str(job.get("notes") or ""),
        confidence=job.get("confidence", DEFAULT_CONFIDENCE),
    )
    return summary(data)


def _refuse_same(job_file: str, pdf: Path) -> None:
    if job_file != "-" and pdf.exists() and pdf.samefile(job_file):
        raise FileError(f"{pdf} is the job file itself; name another file for the summary.")


def _write(pdf: Path, data: bytes) -> None:
    try:
        pdf.write_bytes(data)
    except OSError as error:
        raise FileError(f"{pdf} can't be written: {error.strerror}.") from None
