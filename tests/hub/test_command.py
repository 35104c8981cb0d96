"""The console of the hub."""

import re
from pathlib import Path

import pytest

from mobile_app.cli import main
from mobile_app.hub import devices, offices
from mobile_app.hub.database import Database

Says = pytest.CaptureFixture[str]


def run(tmp_path: Path, *words: str) -> int:
    return main(["hub", words[0], "--data", str(tmp_path), *words[1:]])


def code_in(text: str) -> str:
    found = re.search(r"\b[2-9A-Z]{4}-[2-9A-Z]{4}\b", text)
    assert found is not None, text
    return found[0]


def test_a_hub_is_made_paired_listed_renamed_and_a_phone_taken_off(tmp_path: Path, capsys: Says) -> None:
    assert run(tmp_path, "init", "--name", "Cobb & Daughter", "--address", "https://turf.example.com/") == 0
    said = capsys.readouterr().out
    code = code_in(said)
    assert f"https://turf.example.com/#pair={code}" in said
    assert "█" in said or "▄" in said  # the QR code

    database = Database(f"sqlite:///{tmp_path / 'hub' / 'hub.sqlite'}")
    device, _ = devices.pair(database, code, "Office")
    assert device.admin
    assert run(tmp_path, "pair") == 0
    second, token = devices.pair(database, code_in(capsys.readouterr().out), "Van")
    assert not second.admin
    assert run(tmp_path, "devices", "rename", second.device, "Sam's van") == 0
    assert run(tmp_path, "devices", "revoke", second.device) == 0
    capsys.readouterr()
    assert run(tmp_path, "devices") == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines] == [device.device, second.device]
    assert "runs the office" in lines[0]
    assert "Sam's van" in lines[1]
    assert "taken off" in lines[1]
    with pytest.raises(Exception, match="taken this phone off"):
        devices.known(database, token)
    database.close()
    assert (tmp_path / "hub").stat().st_mode & 0o077 == 0  # nobody else on the machine reads it


def test_what_cannot_be_is_one_clear_line_and_exit_status_2(tmp_path: Path, capsys: Says) -> None:
    assert run(tmp_path, "pair") == 2
    assert "no business yet" in capsys.readouterr().err
    run(tmp_path, "init")
    run(tmp_path, "init")
    assert run(tmp_path, "pair") == 2
    assert "--business" in capsys.readouterr().err
    for words in (
        ("pair", "--business", "x"),
        ("restore", str(tmp_path / "none.zip")),
        ("backup", str(tmp_path / "no" / "folder.zip")),
        ("pair", "--database-url", "mysql://x/y"),
        ("pair", "--database-url", "nonsense"),
        ("pair", "--database-url", "sqlite:////no/such/folder/x.sqlite"),
    ):
        assert run(tmp_path, *words) == 2, words
        assert len(capsys.readouterr().err.splitlines()) == 1, words


def test_backup_and_restore_from_the_console(tmp_path: Path, capsys: Says) -> None:
    run(tmp_path, "init")
    file = tmp_path / "hub.zip"
    assert run(tmp_path, "backup", str(file)) == 0
    assert run(tmp_path / "new", "restore", str(file)) == 0
    assert "Restored 1 businesses" in capsys.readouterr().out
    assert run(tmp_path / "new", "restore", str(file)) == 2


def test_the_mail_server_is_set_and_shown_without_its_password(tmp_path: Path, capsys: Says) -> None:
    run(tmp_path, "init")
    (tmp_path / "secret").write_text("hunter2 \n")
    given = ("--host", "mail.example.com", "--security", "tls", "--user", "o", "--sender", "o@example.com")
    assert run(tmp_path, "mail", *given, "--password-file", str(tmp_path / "secret")) == 0
    said = capsys.readouterr().out
    assert "port: 465" in said
    assert "hunter2" not in said
    database = Database(f"sqlite:///{tmp_path / 'hub' / 'hub.sqlite'}")
    business = offices.the_business(database)
    with database.tenant(business) as connection:
        assert offices.business_row(connection, business).mail["password"] == "hunter2"
    database.close()
    assert run(tmp_path, "mail", "--host", "") == 0
    assert "No mail server is set" in capsys.readouterr().out
